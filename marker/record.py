"""The record of a planned case: everything that the drawings, the sheet and the referee read.

`lay.json` is this record. Lengths are whole numbers of 1/160 mm, areas of their square;
keys stand in a fixed order and no date is kept, so that the same plan gives the same bytes.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from marker.errors import BadInput
from marker.lay import Lay
from marker.units import System

FORMAT = 1


@dataclass(frozen=True)
class TurnDown:
    """The depth to turn down at one place of the waist, and the finished length there."""

    place: str
    finished: int
    depth: int


WITH_FLOUNCES = "longest finished length, flounces included"
"""The figure of a garment whose lengths at the waist end where its flounce begins."""


@dataclass(frozen=True)
class Item:
    """Something to buy or cut besides cloth by the bolt: binding, tape, ties."""

    name: str
    length: int


class Stage(StrEnum):
    """Where in the order of work a task stands, once everything is torn or cut."""

    MARK = "mark"
    JOIN = "join"
    HEM = "hem"
    GAUGE = "gauge"
    BAND = "band"
    FINISH = "finish"


@dataclass(frozen=True)
class Task:
    """One step of the work, with its figures spelled out, to be ticked off when it is done.

    `letters` are those of the pieces in hand; a task that is not about single pieces has none.
    """

    stage: Stage
    text: str
    letters: tuple[str, ...] = ()


@dataclass(frozen=True)
class Garment:
    """What the sheet tells of one garment.

    `round_hem` is the finished width of the tube, `drawn` the length it is drawn into; what
    does not apply, as no opening to an apron, is nought. `turn_downs` is empty where nothing
    is turned down; `figures` are further finished lengths to sew and check by, such as the
    waist curve of a circle; `advice` holds whole sentences. `stitch` is the running stitch
    wanted for drawing it up, as long as the space after it, or nought. `work` is the whole
    order of work, from the marking to the last press.
    """

    key: str
    name: str
    wearer: str
    panels: int = 0
    cut_length: int = 0
    round_hem: int = 0
    drawn: int = 0
    opening: int = 0
    turn_downs: tuple[TurnDown, ...] = ()
    notions: tuple[Item, ...] = ()
    advice: tuple[str, ...] = ()
    figures: tuple[Item, ...] = ()
    stitch: int = 0
    work: tuple[Task, ...] = ()

    @property
    def fulness(self) -> float:
        """Cloth in the round divided by the length it is drawn into; nought if not drawn up."""
        return self.round_hem / self.drawn if self.drawn else 0.0


@dataclass(frozen=True)
class Alone:
    """What one wearer's pieces take of a cloth where they are laid alone, to know what is saved.

    `letter` is the wearer's. `bound` is a length that no such lay undercuts, `buy` what would
    be bought for the lay: nothing of a remnant.
    """

    letter: str
    cloth: str
    length: int
    bound: int
    buy: int


@dataclass(frozen=True)
class Record:
    """A planned case. `choices` says in whole sentences what was chosen and why.

    `alone` tells, where several wearers share cloth, what each would take by herself.
    """

    title: str
    units: System
    garments: tuple[Garment, ...]
    lays: tuple[Lay, ...]
    choices: tuple[str, ...] = ()
    alone: tuple[Alone, ...] = ()
    format: int = FORMAT


_ADAPTER: TypeAdapter[Record] = TypeAdapter(Record)


def dump(record: Record) -> str:
    """The record as JSON text: one key a line, keys in the order of the classes."""
    return (
        json.dumps(_ADAPTER.dump_python(record, mode="json"), indent=1, ensure_ascii=False) + "\n"
    )


def load(path: Path) -> Record:
    """Read a record from disk. Raises `BadInput` naming the file and the key at fault."""
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise BadInput(f"{path}: can't be read ({error}); give the path of a lay.json") from None
    return parse(text, str(path))


def parse(text: str, name: str) -> Record:
    """Read a record from JSON text; `name` is the file named in messages."""
    try:
        record = _ADAPTER.validate_json(text)
    except ValidationError as error:
        first = error.errors()[0]
        key = ".".join(str(part) for part in first["loc"]) or "the file"
        raise BadInput(f"{name}: {key}: {first['msg']}; plan the case again") from None
    if record.format != FORMAT:
        raise BadInput(f"{name}: format {record.format} is not {FORMAT}; plan the case again")
    return record
