"""`marker reach`: what can be had from cloth that is there."""

from __future__ import annotations

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES
from marker.errors import BadInput, CannotLay


@click.command(epilog=EXIT_CODES)
@options.of_a_case(60.0, options.in_all("the questions asked of the cloth"))
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
def reach(asked: options.Asked, most: str | None, have: tuple[str, ...]) -> None:
    """Say whether the cloth that is there is enough for CASE, what would fit, and the most.

    Cloth that is there has a length in the case file. Ends with 0 whether it fits or not, and
    with 3 only where no lay at all was found.
    """
    from marker.decide import reach as reaching
    from marker.plan.counting import counting
    from marker.plan.drawing.page import Paper
    from marker.plan.pages import write_pages
    from marker.plan.reach import table as reach_table
    from marker.solver import stop

    read = asked.read()
    if have:
        read = reaching.having(read, _lengths(have))
    with counting("questions", enabled=not asked.as_json) as told, stop.listening():
        found = reaching.reach(read, most=most, told=told, **asked.effort)
    if found.stopped:
        click.echo("marker: stopped early; this is what was found so far", err=True)
    if not found.anything:
        raise CannotLay(
            f"{asked.case}: no lay was found, with no change tried; give more time, or more cloth"
        )
    folder = asked.folder if asked.out is not None else asked.folder / "reach"
    written = write_pages(found, folder, Paper(asked.paper))
    asked.tell(
        lambda: reach_table.summary(found, written), lambda: reach_table.show(found, written)
    )


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
