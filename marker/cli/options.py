"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

F = TypeVar("F", bound=Callable[..., Any])

CASE = click.argument("case", type=click.Path(path_type=Path))
OUT = click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="Folder to write to.  [default: out/<name of the case file>]",
)
PAPER = click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="Paper to print on.",
)
ITERATIONS = click.option(
    "--iterations",
    type=click.IntRange(1, 1_000_000),
    help="Search by count instead of by the clock: the same plan on every machine.",
)
SEED = click.option(
    "--seed",
    type=click.IntRange(0, 2**31 - 1),
    default=0,
    show_default=True,
    help="Another seed may find another lay, where none is proved.",
)
MODE = click.option(
    "--mode",
    type=click.Choice(["tear", "shears"]),
    help="Tear every cloth, or cut every cloth with shears.  [default: as the case says]",
)
AS_JSON = click.option(
    "--json", "as_json", is_flag=True, help="Print the table as JSON, nothing else."
)


def seconds(usual: float, what: str) -> Callable[[F], F]:
    """How long to search; `what` tells what the time is for."""
    return click.option(
        "--seconds",
        type=click.FloatRange(0.1, 86_400),
        default=usual,
        show_default=True,
        help=f"Longest time to search {what}; most cases take far less.",
    )


def folder(out: Path | None, case: Path) -> Path:
    """The folder to write to: the one asked for, or the case's own."""
    return out if out is not None else Path("out") / case.stem
