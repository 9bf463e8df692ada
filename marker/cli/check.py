"""`marker check`: the referee judges a record and the plans beside it."""

from __future__ import annotations

from pathlib import Path

import click

from marker.cli.group import EXIT_CODES, telling


@click.command(epilog=EXIT_CODES)
@click.argument("record", type=click.Path(path_type=Path))
def check(record: Path) -> None:
    """Have the referee judge RECORD, a lay.json, and the plans that lie beside it."""
    from marker import referee
    from marker.errors import Refused
    from marker.plan.files import plan_name
    from marker.record import load
    from marker.signs import harmless

    read = load(record)
    findings = list(referee.check_record(read))
    drawn = 0
    for lay in read.lays:
        drawing = record.parent / plan_name(lay)
        if not drawing.exists():
            continue
        drawn += 1
        text = drawing.read_text(encoding="utf-8", errors="replace")
        findings += [f"{drawing.name}: {found}" for found in referee.check_drawing(text, lay)]
    if findings:
        raise Refused(str(record), tuple(findings))
    lays = "lay" if len(read.lays) == 1 else "lays"
    plans = "plan" if drawn == 1 else "plans"
    name = harmless(str(record))
    with telling():
        click.echo(f"{name}: no faults in {len(read.lays)} {lays} and {drawn} {plans} beside it")
