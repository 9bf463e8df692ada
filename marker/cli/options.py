"""Options that several commands share."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypedDict

import click

from marker.cli.group import telling

if TYPE_CHECKING:
    from marker.casefile import Case

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


@dataclass(frozen=True)
class Asked:
    """What all commands that plan a case are asked alike."""

    case: Path
    out: Path | None
    seconds: float
    iterations: int | None
    seed: int
    paper: str
    as_json: bool

    @property
    def effort(self) -> Effort:
        """How long to search, and from which seed."""
        return {"seconds": self.seconds, "iterations": self.iterations, "seed": self.seed}

    @property
    def folder(self) -> Path:
        """The folder to write to: the one asked for, or the case's own."""
        return self.out if self.out is not None else usual_folder(self.case)

    def read(self, command: str = "plan") -> Case:
        """Read the case, once it is seen that what is made of it can be written.

        Where what the command asks of it is larger than what was tried, stderr says so. Raises
        `BadInput`, and `CannotWrite` before anything is searched for in vain.
        """
        from marker import casefile
        from marker.decide.measured import beyond
        from marker.plan.putting import check_place

        read = casefile.read(self.case)
        check_place(self.folder)
        for sentence in beyond(read, command):
            click.echo(f"marker: {sentence}", err=True)
        return read

    def tell(self, summary: Callable[[], dict[str, Any]], show: Callable[[], None]) -> None:
        """Print the whole as JSON and nothing else where that is asked for, else show it."""
        with telling():
            if self.as_json:
                print_json(summary())
            else:
                show()


def usual_folder(case: Path) -> Path:
    """The folder for what is made of a case; one whose name is but dots gets no folder above."""
    return Path("out") / (case.stem if case.stem.strip(".") else "case")


def print_json(data: dict[str, Any]) -> None:
    """Print plain data; what the terminal has no letters for is escaped, and nothing is lost."""
    text = json.dumps(data, indent=1, ensure_ascii=False)
    try:
        text.encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, AttributeError):
        text = json.dumps(data, indent=1)
    click.echo(text)


class Effort(TypedDict):
    """Bounds of a search, as every way of planning takes them."""

    seconds: float
    iterations: int | None
    seed: int


def of_a_case(usual: float, longest: str) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """A command's CASE and the options that all such commands share, handed on as `Asked`.

    `usual` are the seconds if none are given, `longest` says what for.
    """
    seconds = click.option(
        "--seconds",
        type=click.FloatRange(0.1, 86_400),
        default=usual,
        show_default=True,
        help=longest,
    )

    def dressed(command: Callable[..., None]) -> Callable[..., None]:
        @wraps(command)
        def run(
            case: Path,
            out: Path | None,
            seconds: float,
            iterations: int | None,
            seed: int,
            paper: str,
            as_json: bool,
            **own: Any,
        ) -> None:
            command(Asked(case, out, seconds, iterations, seed, paper, as_json), **own)

        for option in (AS_JSON, PAPER, SEED, ITERATIONS, seconds, OUT, CASE):
            run = option(run)
        return run

    return dressed


def in_all(what: str) -> str:
    """What `--seconds` bounds where one limit is shared out over `what`."""
    return (
        f"Longest time to search in all, shared out over {what}; what is not reached when it is "
        "out is told. Most cases take far less."
    )
