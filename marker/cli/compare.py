"""`marker compare`: every sensible way to make a case, weighed and drawn side by side."""

from __future__ import annotations

import json
from pathlib import Path

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES


@click.command(epilog=EXIT_CODES)
@options.CASE
@options.OUT
@click.option(
    "--order",
    metavar="KEYS",
    help="What to rank by, such as cost,buy or round,cost.  [default: as the case says, or "
    "cost,buy,length,remnant,tears]",
)
@options.seconds(5.0, "one cloth of one option")
@options.ITERATIONS
@options.SEED
@options.PAPER
@options.AS_JSON
def compare(
    case: Path,
    out: Path | None,
    order: str | None,
    seconds: float,
    iterations: int | None,
    seed: int,
    paper: str,
    as_json: bool,
) -> None:
    """Weigh the ways to make CASE: panels, cloths, how they lie, facings; all lays at one scale."""
    from marker import casefile, decide
    from marker.decide import comparison
    from marker.plan import files
    from marker.plan.compare import page as compare_page
    from marker.plan.compare import table as compare_table
    from marker.plan.counting import counting
    from marker.plan.drawing.page import Paper
    from marker.solver.stop import asked, listening

    read = casefile.read(case)
    keys = None if order is None else [word.strip() for word in order.split(",") if word.strip()]
    with counting("options laid", enabled=not as_json) as told, listening():
        found = comparison.compare(
            read,
            lambda option: decide.plan(option, seconds=seconds, seed=seed, iterations=iterations),
            order=keys,
            told=told,
        )
        stopped = asked()
    if stopped:
        click.echo("marker: stopped early; what was laid so far is compared", err=True)
    drawn = compare_page.draw(found, Paper(paper))
    written = files.put(options.folder(out, case), drawn)
    if as_json:
        click.echo(json.dumps(compare_table.summary(found, written), indent=1, ensure_ascii=False))
    else:
        compare_table.show(found, written)
