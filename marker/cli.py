"""The command line: plan a case, check a record, start a new case file.

Results go to stdout, talk to stderr. Exit codes: 0 all is well; 1 stopped by the user or an
unexpected fault; 2 bad input; 3 no lay exists; 4 refused by the referee; 5 can't be written.
"""

from __future__ import annotations

import json
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from marker.errors import BadInput, CannotWrite, MarkerError

if TYPE_CHECKING:
    from marker.newcase import Question
    from marker.record import Record

EXIT_CODES = """\b
Exit codes: 0 all is well; 1 stopped, or an unexpected fault; 2 bad input;
3 no lay exists; 4 refused by the referee; 5 can't be written."""


class OneSentence(click.Group):
    """A group of commands that tells every expected error in one sentence on stderr."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; turn the project's own errors into a sentence and an exit code."""
        try:
            return super().invoke(ctx)
        except MarkerError as error:
            click.echo(f"marker: {error}", err=True)
            ctx.exit(error.exit_code)
        except KeyboardInterrupt:
            click.echo("marker: stopped; nothing was written", err=True)
            ctx.exit(1)


@click.group(cls=OneSentence, epilog=EXIT_CODES)
@click.version_option(package_name="marker", message="marker %(version)s")
def main() -> None:
    """Plan how to tear or cut dress from flat cloth: what to buy, every tear, a sheet to print."""


@main.command(epilog=EXIT_CODES)
@click.argument("case", type=click.Path(path_type=Path))
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="Folder to write to.  [default: out/<name of the case file>]",
)
@click.option(
    "--seconds",
    type=click.FloatRange(0.1, 86_400),
    default=10.0,
    show_default=True,
    help="Longest time to search one cloth; most cases take far less.",
)
@click.option(
    "--iterations",
    type=click.IntRange(1, 1_000_000),
    help="Search by count instead of by the clock: the same plan on every machine.",
)
@click.option(
    "--seed",
    type=click.IntRange(0, 2**31 - 1),
    default=0,
    show_default=True,
    help="Another seed may find another lay, where none is proved.",
)
@click.option(
    "--mode",
    type=click.Choice(["tear", "shears"]),
    help="Tear every cloth, or cut every cloth with shears.  [default: as the case says]",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="Paper to print on.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the table as JSON, nothing else.")
def plan(
    case: Path,
    out: Path | None,
    seconds: float,
    iterations: int | None,
    seed: int,
    mode: str | None,
    paper: str,
    as_json: bool,
) -> None:
    """Find the shortest length to buy for CASE and write the plan, the sheet and the record."""
    from marker import casefile, decide
    from marker.lay import Mode
    from marker.plan import files, table
    from marker.plan.page import Paper
    from marker.solver.stop import asked, listening

    folder = out if out is not None else Path("out") / case.stem
    read = casefile.read(case)
    if mode is not None:
        read = read.parted(tears=mode == "tear")
    with table.progress(enabled=not as_json) as told, listening():
        record = decide.plan(
            read,
            seconds=seconds,
            iterations=iterations,
            seed=seed,
            progress=told,
            mode=None if mode is None else Mode(mode),
        )
        stopped = asked()
    if stopped:
        click.echo("marker: stopped early; these are the best lays found so far", err=True)
    written = files.write(record, folder, Paper(paper))
    _tell(record, written, as_json=as_json)


def _tell(record: Record, written: tuple[Path, ...], *, as_json: bool) -> None:
    from marker.plan import table

    if as_json:
        click.echo(json.dumps(table.summary(record, written), indent=1, ensure_ascii=False))
    else:
        table.show(record, written)


@main.command(epilog=EXIT_CODES)
@click.argument("record", type=click.Path(path_type=Path))
def check(record: Path) -> None:
    """Have the referee judge RECORD, a lay.json, and the plans that lie beside it."""
    from marker import referee
    from marker.errors import Refused
    from marker.plan.files import plan_name
    from marker.record import load

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
    click.echo(f"{record}: no faults in {len(read.lays)} {lays} and {drawn} {plans} beside it")


@main.command(epilog=EXIT_CODES)
@click.argument("name")
@click.option("--title", help="Title of the case.  [default: NAME]")
@click.option("--units", type=click.Choice(["cm", "in"]), help="Measure to ask and print in.")
@click.option(
    "--answer",
    "given",
    multiple=True,
    metavar="KEY=VALUE",
    help="Answer a question beforehand, as in --answer waist='72 cm'; may stand again.",
)
@click.option("--defaults", is_flag=True, help="Take the usual answer wherever none is given.")
@click.option("--out", type=click.Path(path_type=Path), help="File to write.  [default: NAME.toml]")
def new(
    name: str,
    title: str | None,
    units: str | None,
    given: tuple[str, ...],
    defaults: bool,
    out: Path | None,
) -> None:
    """Ask a handful of questions and write a case file, NAME.toml, that plans at once."""
    from marker import newcase
    from marker.units import System

    file = out if out is not None else Path(f"{name}.toml")
    if file.exists():
        raise BadInput(f"{file}: stands already; give another name, or --out another file")
    answers = _given(given)
    if units is None:
        ask = click.Choice(["cm", "in"])
        units = "cm" if defaults else click.prompt("Measure", type=ask, default="cm", err=True)
    if not defaults:
        for question in newcase.QUESTIONS:
            if question.key not in answers:
                answers[question.key] = _ask(question, question.usual(System(units)))
    text = newcase.compose(title or Path(name).name, System(units), answers)
    _write_new(file, text)
    click.echo(f"written: {file}; now: marker plan {file}")


def _given(pairs: tuple[str, ...]) -> dict[str, str]:
    """Split the KEY=VALUE answers."""
    answers = {}
    for pair in pairs:
        key, sign, value = pair.partition("=")
        if not sign:
            raise BadInput(f"--answer {pair!r} has no '='; write it as --answer waist='72 cm'")
        answers[key.strip()] = value.strip()
    return answers


def _ask(question: Question, usual: str) -> str:
    """Put one question until its answer can be used."""

    def checked(text: str) -> str:
        try:
            return question.check(text)
        except BadInput as error:
            raise click.BadParameter(str(error)) from None

    answer: str = click.prompt(question.prompt, default=usual, value_proc=checked, err=True)
    return answer


def _write_new(file: Path, text: str) -> None:
    """Write a case file that did not stand before: whole, or not at all."""
    part = file.with_name(f".{file.name}.part")
    try:
        part.write_text(text, encoding="utf-8")
        part.replace(file)
    except (OSError, ValueError) as error:
        with suppress(OSError, ValueError):
            part.unlink(missing_ok=True)
        raise CannotWrite(
            f"{file}: can't be written ({_reason(error)}); give --out a file in a folder of yours"
        ) from None


def _reason(error: Exception) -> str:
    return (getattr(error, "strerror", None) or str(error)).lower()
