"""A progress bar on the terminal while many plans are made."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

Counted = Callable[[int, int], None]
"""Called with how many are done, and how many there are."""


@contextmanager
def counting(
    what: str, *, enabled: bool = True, console: Console | None = None
) -> Iterator[Counted]:
    """Show on stderr how many of `what` are done; nothing where stderr is no terminal."""
    console = console or Console(stderr=True, highlight=False)
    bar = Progress(
        TextColumn(what),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
        TextColumn("Ctrl-C keeps what is done"),
        console=console,
        transient=True,
        disable=not (enabled and console.is_terminal),
    )
    with bar:
        task = bar.add_task(what, total=None)
        yield lambda done, whole: bar.update(task, completed=done, total=whole)
