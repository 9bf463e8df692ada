"""`marker plan`: the shortest length to buy, the plan, the sheet and the record."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES

if TYPE_CHECKING:
    from marker.record import Record


@click.command(epilog=EXIT_CODES)
@options.CASE
@options.OUT
@options.seconds(10.0, "one cloth")
@options.ITERATIONS
@options.SEED
@options.MODE
@options.PAPER
@options.AS_JSON
def plan(
    case: Path,
    out: Path | None,
    seconds: float,
    iterations: int | None,
    seed: int,
    mode: str | None,
    paper: str,
    as_json: bool,
) -> None:
    """Find the shortest length to buy for CASE and write the plan, the sheet and the record."""
    from marker import casefile, decide
    from marker.lay import Mode
    from marker.plan import files, table
    from marker.plan.drawing.page import Paper
    from marker.solver.stop import asked, listening

    read = casefile.read(case)
    if mode is not None:
        read = read.parted(tears=mode == "tear")
    with table.progress(enabled=not as_json) as told, listening():
        record = decide.plan(
            read,
            seconds=seconds,
            iterations=iterations,
            seed=seed,
            progress=told,
            mode=None if mode is None else Mode(mode),
        )
        stopped = asked()
    if stopped:
        click.echo("marker: stopped early; these are the best lays found so far", err=True)
    written = files.write(record, options.folder(out, case), Paper(paper))
    _tell(record, written, as_json=as_json)


def _tell(record: Record, written: tuple[Path, ...], *, as_json: bool) -> None:
    from marker.plan import table

    if as_json:
        click.echo(json.dumps(table.summary(record, written), indent=1, ensure_ascii=False))
    else:
        table.show(record, written)
