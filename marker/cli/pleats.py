"""`marker pleats`: how the tops of a case are drawn up, before anything is laid or cut."""

from __future__ import annotations

from pathlib import Path

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES, telling


@click.command(epilog=EXIT_CODES)
@options.CASE
@options.OUT
@options.PAPER
@options.AS_JSON
def pleats(case: Path, out: Path | None, paper: str, as_json: bool) -> None:
    """Plan the pleats of CASE alone: stitches, rows, folds, quarter points, a practice swatch.

    Nothing is laid, so it takes no time; the page is written beside the plan of the case.
    """
    from marker import casefile
    from marker.errors import BadInput
    from marker.plan.drawing.page import Paper
    from marker.plan.pleats import page, table
    from marker.plan.pleats.case import of_case
    from marker.plan.putting import put

    read = casefile.read(case)
    plans, others = of_case(read)
    if not plans:
        raise BadInput(
            f"{case}: no garment in it has pleats to plan; straight skirts and petticoats on a "
            "band have them"
        )
    folder = out if out is not None else options.usual_folder(case)
    written = put(folder, page.pleats_files(read.title, plans, read.units, Paper(paper)))
    with telling():
        if as_json:
            options.print_json(table.summary(read.title, plans, others, written))
        else:
            table.show(read.title, plans, others, written)
