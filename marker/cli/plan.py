"""`marker plan`: the shortest length to buy, the plan, the sheet and the record."""

from __future__ import annotations

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES


@click.command(epilog=EXIT_CODES)
@options.of_a_case(10.0, "Longest time to search one cloth; most cases take far less.")
@options.MODE
def plan(asked: options.Asked, mode: str | None) -> None:
    """Find the shortest length to buy for CASE and write the plan, the sheet and the record."""
    from marker import decide
    from marker.lay import Mode
    from marker.plan import files, table
    from marker.plan.drawing.page import Paper
    from marker.solver import stop

    read = asked.read()
    if mode is not None:
        read = read.parted(tears=mode == "tear")
    with table.progress(enabled=not asked.as_json) as told, stop.listening():
        record = decide.plan(
            read, progress=told, mode=None if mode is None else Mode(mode), **asked.effort
        )
        stopped = stop.asked()
    if stopped:
        click.echo("marker: stopped early; these are the best lays found so far", err=True)
    written = files.write(record, asked.folder, Paper(asked.paper))
    asked.tell(lambda: table.summary(record, written), lambda: table.show(record, written))
