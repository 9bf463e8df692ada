"""`marker reach`: what can be had from cloth that is there."""

from __future__ import annotations

import json
from pathlib import Path

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES
from marker.errors import BadInput, CannotLay


@click.command(epilog=EXIT_CODES)
@options.CASE
@click.option(
    "--most",
    type=click.Choice(["round", "length", "facing"]),
    help="Make most of the round hem, the skirt's length or the facing's depth.",
)
@click.option(
    "--have",
    multiple=True,
    metavar="KEY=LENGTH",
    help="Take a cloth of the case as a remnant of this length; may stand again.",
)
@options.OUT
@options.seconds(10.0, "for the answer to one question")
@options.ITERATIONS
@options.SEED
@options.PAPER
@options.AS_JSON
def reach(
    case: Path,
    most: str | None,
    have: tuple[str, ...],
    out: Path | None,
    seconds: float,
    iterations: int | None,
    seed: int,
    paper: str,
    as_json: bool,
) -> None:
    """Say whether the cloth that is there is enough for CASE, what would fit, and the most.

    Cloth that is there has a length in the case file. Ends with 0 whether it fits or not, and
    with 3 only where no lay at all was found.
    """
    from marker import casefile
    from marker.decide import reach as reaching
    from marker.plan import files
    from marker.plan.counting import counting
    from marker.plan.drawing.page import Paper
    from marker.plan.reach import page as reach_page
    from marker.plan.reach import table as reach_table
    from marker.solver.stop import listening

    read = casefile.read(case)
    if have:
        read = reaching.having(read, _lengths(have))
    with counting("questions", enabled=not as_json) as told, listening():
        found = reaching.reach(
            read, most=most, seconds=seconds, iterations=iterations, seed=seed, told=told
        )
    if found.stopped:
        click.echo("marker: stopped early; this is what was found so far", err=True)
    if not found.anything:
        raise CannotLay(
            f"{case}: no lay was found, with no change tried; give more time, or more cloth"
        )
    folder = out if out is not None else options.folder(None, case) / "reach"
    drawn = reach_page.reach_files(found, Paper(paper))
    best = found.most.record if found.most else found.record
    written = files.write(best, folder, Paper(paper), drawn)
    if as_json:
        told_all = reach_table.summary(found, written)
        click.echo(json.dumps(told_all, indent=1, ensure_ascii=False))
    else:
        reach_table.show(found, written)


def _lengths(pairs: tuple[str, ...]) -> dict[str, str]:
    """Split the KEY=LENGTH of remnants."""
    found: dict[str, str] = {}
    for pair in pairs:
        key, sign, length = (part.strip() for part in pair.partition("="))
        if not sign:
            raise BadInput(f"--have {pair!r} has no '='; write it as --have main='1.50 m'")
        if key in found:
            raise BadInput(f"--have gives {key!r} twice; give each cloth one length")
        found[key] = length
    return found
