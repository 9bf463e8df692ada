"""`marker compare`: every sensible way to make a case, weighed and drawn side by side."""

from __future__ import annotations

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES


@click.command(epilog=EXIT_CODES)
@options.of_a_case(60.0, options.in_all("the options"))
@click.option(
    "--order",
    metavar="KEYS",
    help="What to rank by, such as cost,buy or round,cost.  [default: as the case says, or "
    "cost,buy,length,remnant,tears]",
)
def compare(asked: options.Asked, order: str | None) -> None:
    """Weigh the ways to make CASE: panels, cloths, how they lie, facings; all lays at one scale."""
    from marker.decide import comparison
    from marker.plan.compare import table as compare_table
    from marker.plan.counting import counting
    from marker.plan.drawing.page import Paper
    from marker.plan.pages import write_pages
    from marker.solver import stop

    read = asked.read("compare")
    keys = None if order is None else [word.strip() for word in order.split(",") if word.strip()]
    with counting("options laid", enabled=not asked.as_json) as told, stop.listening():
        found = comparison.compare(read, order=keys, told=told, **asked.effort)
        stopped = stop.asked()
    if stopped:
        click.echo("marker: stopped early; what was laid so far is compared", err=True)
    written = write_pages(found, asked.folder, Paper(asked.paper))
    asked.tell(
        lambda: compare_table.summary(found, written), lambda: compare_table.show(found, written)
    )
