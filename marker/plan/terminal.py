"""The terminal that results are told on, whatever its width, and whoever listens."""

from __future__ import annotations

import errno
import os
from collections.abc import Sequence
from pathlib import Path

from rich.console import Console
from rich.text import Text

from marker.signs import harmless


class _Teller(Console):
    """A console that leaves it to the command line what to do where nobody listens any more."""

    def on_broken_pipe(self) -> None:
        raise BrokenPipeError(errno.EPIPE, os.strerror(errno.EPIPE))


def terminal(*, stderr: bool = False) -> Console:
    """The terminal for results, or for talk (`stderr`); figures are not coloured."""
    return _Teller(highlight=False, stderr=stderr)


def files_written(paths: Sequence[Path]) -> Text:
    """The line that names the files written."""
    return Text("written: " + ", ".join(harmless(str(path)) for path in paths))
