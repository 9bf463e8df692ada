"""`marker templates`: curved pieces at full size, and strips of dots for rows of gauging."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES
from marker.plan.templates import MOST_PAGES

if TYPE_CHECKING:
    from marker.record import Record


@click.command(epilog=EXIT_CODES)
@options.of_a_case(10.0, "Longest time to search one cloth; most cases take far less.")
@click.option(
    "--most-pages",
    type=click.IntRange(1, 2000),
    default=MOST_PAGES,
    show_default=True,
    help="Most pages to tape one piece from; what needs more is on the large sheet alone.",
)
def templates(asked: options.Asked, most_pages: int) -> None:
    """Print the curved pieces of CASE at full size, on pages to tape and on one large sheet.

    CASE is a case file, which is planned first, or a lay.json, whose very pieces are printed.
    Gauged tops get a strip of dots. Straight pieces get nothing: a tape measure is better.
    """
    from marker.plan.drawing.page import Paper
    from marker.plan.templates import making
    from marker.signs import harmless

    record, paper = _record(asked), Paper(asked.paper)
    folder = asked.case.parent if _is_record(asked) and asked.out is None else asked.folder
    written, made = making.write(record, folder, paper, most=most_pages, name=str(asked.case))
    other = "" if _is_record(asked) else making.other_plan(record, folder)
    warned = (*made.warned, *((other,) if other else ()))
    for line in warned:
        click.echo(f"marker: {harmless(line)}", err=True)
    paths = [str(path) for path in written]
    asked.tell(
        lambda: {"templates": made.told, "warnings": warned, "files": paths},
        lambda: click.echo("\n".join((*made.told, "written: " + harmless(", ".join(paths))))),
    )


def _is_record(asked: options.Asked) -> bool:
    return asked.case.suffix == ".json"


def _record(asked: options.Asked) -> Record:
    """The record of a plan: read, or made now from a case file."""
    if _is_record(asked):
        from marker.record import load

        return load(asked.case)
    from marker import decide
    from marker.plan import table
    from marker.solver import stop

    read = asked.read()
    with table.progress(enabled=not asked.as_json) as told, stop.listening():
        record = decide.plan(read, progress=told, **asked.effort)
        stopped = stop.asked()
    if stopped:
        click.echo("marker: stopped early; the pieces are those of the best lays so far", err=True)
    return record
