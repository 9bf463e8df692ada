"""The command line: plan a case, check a record, start a new case file.

Results go to stdout, talk to stderr. Exit codes: 0 all is well; 1 stopped by the user or an
unexpected fault; 2 bad input; 3 no lay exists; 4 refused by the referee; 5 can't be written.
A command stands in a file of its own and loads what it works with only when it is run.
"""

from __future__ import annotations

import click

from marker.cli.chart import chart
from marker.cli.check import check
from marker.cli.compare import compare
from marker.cli.group import EXIT_CODES, OneSentence
from marker.cli.new import new
from marker.cli.plan import plan
from marker.cli.pleats import pleats
from marker.cli.reach import reach
from marker.cli.templates import templates


@click.group(cls=OneSentence, epilog=EXIT_CODES)
@click.version_option(package_name="marker", message="marker %(version)s")
def main() -> None:
    """Plan how to tear or cut dress from flat cloth: what to buy, every tear, a sheet to print."""


for command in (plan, compare, chart, reach, templates, pleats, check, new):
    main.add_command(command)
