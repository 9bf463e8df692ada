"""`marker chart`: what to buy for every size at every width of the cloth."""

from __future__ import annotations

import json
from pathlib import Path

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES


@click.command(epilog=EXIT_CODES)
@options.CASE
@options.OUT
@options.seconds(5.0, "one cell on one cloth")
@options.ITERATIONS
@options.SEED
@options.PAPER
@options.AS_JSON
def chart(
    case: Path,
    out: Path | None,
    seconds: float,
    iterations: int | None,
    seed: int,
    paper: str,
    as_json: bool,
) -> None:
    """Make a yardage chart of CASE: sizes down, cloth widths across, as its [chart] asks."""
    from marker import casefile
    from marker.decide import chart as charts
    from marker.plan import files
    from marker.plan.chart import page as chart_page
    from marker.plan.chart import table as chart_table
    from marker.plan.chart.words import chart_words
    from marker.plan.counting import counting
    from marker.plan.drawing.page import Paper
    from marker.solver.stop import asked, listening

    read = casefile.read(case)
    with counting("cells", enabled=not as_json) as told, listening():
        made = charts.chart(read, seconds=seconds, iterations=iterations, seed=seed, told=told)
        stopped = asked()
    if stopped:
        click.echo("marker: stopped early; cells that were not reached are left out", err=True)
    words = chart_words(made)
    written = files.put(options.folder(out, case), chart_page.chart_files(words, Paper(paper)))
    if as_json:
        told_all = chart_table.summary(made, words, written)
        click.echo(json.dumps(told_all, indent=1, ensure_ascii=False))
    else:
        chart_table.show(words, written)
