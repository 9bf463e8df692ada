"""What can go wrong, as one small family. Only the command line catches it."""

from __future__ import annotations

TOLD = 50
"""Faults told one by one in a message; the rest are only counted."""


class MarkerError(Exception):
    """Root of every error the tool raises on purpose; its text is one clear sentence."""

    exit_code = 1


class BadInput(MarkerError):
    """The user's file, option or measure can't be used; the sentence names the remedy."""

    exit_code = 2


class CannotLay(MarkerError):
    """No lay of these pieces on this cloth exists, or none was found in the time given.

    `proved` says that none exists.
    """

    exit_code = 3

    def __init__(self, text: str, *, proved: bool = False) -> None:
        self.proved = proved
        super().__init__(text)


class Refused(MarkerError):
    """The referee found faults in a lay, a record or a drawing.

    `findings` holds one sentence a fault.
    """

    exit_code = 4

    def __init__(self, what: str, findings: tuple[str, ...]) -> None:
        self.findings = findings
        self.what = what
        more = len(findings) - TOLD
        rest = (f"There are {more} more.",) if more > 0 else ()
        super().__init__(f"{what}: refused by the referee. " + " ".join(findings[:TOLD] + rest))

    def __reduce__(self) -> tuple[type[Refused], tuple[str, tuple[str, ...]]]:
        # So that it can be handed from one process to another.
        return Refused, (self.what, self.findings)


class CannotWrite(MarkerError):
    """The output could not be written; what stood there before is untouched."""

    exit_code = 5


class CannotTell(CannotWrite):
    """What was found can't be printed; the files that were asked for stand all the same."""
