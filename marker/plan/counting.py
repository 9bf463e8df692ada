"""A progress bar on the terminal while many plans are made."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import (
    BarColumn,
    MofNCompleteColumn,
    Progress,
    ProgressColumn,
    TextColumn,
    TimeElapsedColumn,
)

from marker.plan.terminal import terminal

TIME, BAR, ALL, WORDS = 40, 50, 80, 62
"""Columns of a terminal from which on the time, a bar and what Ctrl-C does are told too; and what
is taken up besides the bar."""

Counted = Callable[[int, int], None]
"""Called with how many are done, and how many there are."""


@contextmanager
def counting(
    what: str, *, enabled: bool = True, console: Console | None = None
) -> Iterator[Counted]:
    """Show on stderr how many of `what` are done; nothing where stderr is no terminal."""
    console = console or terminal(stderr=True)
    # The count is never left out: where the terminal is narrow, all else is.
    columns: list[ProgressColumn] = [TextColumn(what), MofNCompleteColumn()]
    if console.width >= BAR:
        columns.insert(1, BarColumn(max(10, min(40, console.width - WORDS))))
    if console.width >= TIME:
        columns.append(TimeElapsedColumn())
    if console.width >= ALL:
        columns.append(TextColumn("Ctrl-C keeps what is done"))
    bar = Progress(
        *columns,
        console=console,
        transient=True,
        disable=not (enabled and console.is_terminal),
    )
    with bar:
        task = bar.add_task(what, total=None)
        yield lambda done, whole: bar.update(task, completed=done, total=whole)
