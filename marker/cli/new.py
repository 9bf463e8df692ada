"""`marker new`: a case file from a handful of questions."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import click

from marker.cli.group import EXIT_CODES, telling
from marker.errors import BadInput, CannotWrite
from marker.signs import harmless

if TYPE_CHECKING:
    from marker.newcase import Question

MEASURES = click.Choice(["cm", "in", "both", "in and cm"])
"""What may be asked and printed in; of both, centimetres lead unless inches are named first."""


@click.command(epilog=EXIT_CODES)
@click.argument("name")
@click.option("--title", help="Title of the case.  [default: NAME]")
@click.option("--units", type=MEASURES, help="Measure to ask and print in.")
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
    from marker.units import SPELLED

    file = out if out is not None else Path(f"{name}.toml")
    if file.exists():
        raise BadInput(f"{file}: stands already; give another name, or --out another file")
    answers = _given(given)
    if units is None:
        units = "cm" if defaults else click.prompt("Measure", type=MEASURES, default="cm", err=True)
    if not defaults:
        for question in newcase.QUESTIONS:
            if question.key not in answers:
                answers[question.key] = _ask(question, question.usual(SPELLED[units].lead))
    text = newcase.compose(title or Path(name).name, units, answers)
    _write_new(file, text)
    shown = harmless(str(file))
    with telling():
        click.echo(f"written: {shown}; now: marker plan {shown}")


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
