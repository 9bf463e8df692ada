"""`marker chart`: what to buy for every size at every width of the cloth."""

from __future__ import annotations

import click

from marker.cli import options
from marker.cli.group import EXIT_CODES


@click.command(epilog=EXIT_CODES)
@options.of_a_case(60.0, options.in_all("the cells"))
def chart(asked: options.Asked) -> None:
    """Make a yardage chart of CASE: sizes down, cloth widths across, as its [chart] asks."""
    from marker.decide import chart as charts
    from marker.plan.chart import table as chart_table
    from marker.plan.chart.words import chart_words
    from marker.plan.counting import counting
    from marker.plan.drawing.page import Paper
    from marker.plan.pages import write_pages
    from marker.solver import stop

    read = asked.read("chart")
    with counting("cells", enabled=not asked.as_json) as told, stop.listening():
        made = charts.chart(read, told=told, **asked.effort)
        stopped = stop.asked()
    if stopped:
        click.echo("marker: stopped early; cells that were not reached are left out", err=True)
    words = chart_words(made)
    written = write_pages(made, asked.folder, Paper(asked.paper))
    asked.tell(
        lambda: chart_table.summary(made, words, written),
        lambda: chart_table.show(words, written),
    )
