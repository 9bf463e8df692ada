"""The group that all commands stand in: every expected error is told once, in one sentence."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

import click

from marker.errors import CannotTell, MarkerError
from marker.signs import harmless

EXIT_CODES = """\b
Exit codes: 0 all is well; 1 stopped, or an unexpected fault; 2 bad input;
3 no lay exists; 4 refused by the referee; 5 can't be written."""


class OneSentence(click.Group):
    """A group of commands that tells every expected error in one sentence on stderr."""

    def main(self, *args: Any, **kept: Any) -> Any:
        """Run a command line; letters that a terminal doesn't know become question marks."""
        for stream in (sys.stdout, sys.stderr):
            if reconfigure := getattr(stream, "reconfigure", None):
                reconfigure(errors="replace")
        try:
            return super().main(*args, **kept)
        except OSError as error:  # help can't be printed, or the system refuses what it never does
            told = f"the system refuses to go on ({_reason(error)})"
            with suppress(OSError):
                click.echo(f"marker: {harmless(told)}", err=True)
            _say_no_more()
            sys.exit(CannotTell.exit_code)

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; turn the project's own errors into a sentence and an exit code."""
        try:
            return super().invoke(ctx)
        except MarkerError as error:
            click.echo(f"marker: {harmless(str(error))}", err=True)
            ctx.exit(error.exit_code)
        except KeyboardInterrupt:
            click.echo("marker: stopped; nothing was written", err=True)
            ctx.exit(1)


@contextmanager
def telling() -> Iterator[None]:
    """While results are printed: who reads may leave early, but a full disk is told.

    Raises `CannotTell` where they can't be printed.
    """
    try:
        yield
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:  # as `head` does: it has seen enough, and what was asked for is done
        _say_no_more()
    except OSError as error:
        _say_no_more()
        raise CannotTell(
            f"what was found can't be printed ({_reason(error)}); the files were written all the "
            "same"
        ) from None


def _say_no_more() -> None:
    """Let nothing that is still to be printed fail once more, at the latest when Python ends."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _reason(error: OSError) -> str:
    reason = (error.strerror or str(error)).lower()
    return f"{reason}: {error.filename}" if error.filename else reason
