"""The record of a planned case: everything that the drawings, the sheet and the referee read.

`lay.json` is this record. Lengths are whole numbers of 1/160 mm, areas of their square;
keys stand in a fixed order and no date is kept, so that the same plan gives the same bytes.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from marker.cloth import Price
from marker.errors import BadInput
from marker.lay import Lay
from marker.signs import harmless
from marker.units import CM, METRE, MM, Units

FORMAT = 1
LARGEST = 20_000_000
"""Bytes; the record of a company's 164 pieces has 91,000, so a larger file is something else."""


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
    """A finished length to sew and check by, and what it is of."""

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


class Method(StrEnum):
    """How a top is drawn up: by rows of running stitches, or in pleats that are pressed."""

    GAUGED = "gauged"
    STROKE = "stroke gathered"
    KNIFE = "knife pleated"
    BOX = "box pleated"
    INVERTED = "inverted pleated"

    @property
    def stitched(self) -> bool:
        """Whether running stitches draw it up; else every pleat is folded and pressed."""
        return self in (Method.GAUGED, Method.STROKE)


class Direction(StrEnum):
    """Which way knife pleats turn, as the wearer's outside is looked at."""

    RIGHT = "right"
    LEFT = "left"
    FRONT = "to the front"
    """Both halves turn to the middle of the front, where two pleats meet."""
    BACK = "to the back"


@dataclass(frozen=True)
class Swatch:
    """A practice swatch as it came out: a strip of `cloth`, drawn as close as it goes.

    `stitch` is the one it was sewn with. Lengths in units.
    """

    cloth: int
    drawn: int
    stitch: int


@dataclass(frozen=True)
class Pleating:
    """How the top of a garment is drawn up; `marker.gauging` reckons all else from it.

    Of a stitched top: the `stitch` wanted, as long as the space after it, the number of
    `rows`, the `spacing` between them, how far the `first` lies below the fold (without a
    turn-down, below the cut edge), and by how much the lowest row stays longer than the top
    one (`ease`). `thickness` is that of one layer where the cloth's own doesn't hold, `measured`
    a practice swatch that stands in place of either. Of a pressed top: the number of `pleats`
    in the round, a whole number in every panel, and for box pleats the width of a `face`.
    A box pleat and an inverted pleat have two folds of the depth, a knife pleat one.

    `opening_at` says where the opening is worn ("front", "side", "back"), empty where there is
    none; `underlap` is the band's, `seam` the allowance at either side of a panel. What does
    not apply is nought.
    """

    method: Method
    stitch: int = 0
    rows: int = 0
    spacing: int = 0
    first: int = 0
    ease: int = 0
    thickness: int = 0
    measured: Swatch | None = None
    pleats: int = 0
    face: int = 0
    direction: Direction = Direction.RIGHT
    opening_at: str = ""
    underlap: int = 0
    seam: int = 0


class Counter(StrEnum):
    """The counters of the shop, in the order in which a list names them."""

    CLOTH = "cloth"
    THREAD = "thread"
    TAPE = "tape and binding"
    CLOSURES = "closures"
    STIFFENING = "interfacing"
    OTHER = "other"


@dataclass(frozen=True)
class Notion:
    """Something to buy besides cloth by the bolt: so much of it by length, or so many of it.

    `length` is what is used up, in units, and nought where it is counted. `step` is the step
    that it is sold in, nought where it is sold to the length. `width` is the width to ask for,
    `ask` says what else to. `grams` is the mass of all of it, where that is known.
    """

    name: str
    length: int = 0
    counter: Counter = Counter.TAPE
    count: int = 0
    width: int = 0
    ask: str = ""
    step: int = 0
    price: Price | None = None
    grams: Decimal | None = None


class Stitch(StrEnum):
    """The stitches of hand sewing that thread and time are reckoned for."""

    RUNNING = "running stitch"
    BACK = "backstitch"
    HEMMING = "hemming"
    WHIP = "whip stitch"


@dataclass(frozen=True)
class Sewn:
    """Something that is sewn: along what, by which stitch, how far, and what it takes.

    `stitches` counts times down and up again; `thread` is the length that lies in them. A row of
    gauging has the thread for sewing it flat and drawing it up once, tails counted, and
    `pushed` for pushing the cloth along as it is sewn; of all else `pushed` is nought.
    """

    stage: Stage
    what: str
    stitch: Stitch
    length: int
    stitches: int
    thread: int
    pushed: int = 0


@dataclass(frozen=True)
class Thread:
    """The sewing thread of a case. Lengths in units.

    `tex` is its mass in grams per km (ISO 1144, from memory), `spool` what one spool holds,
    `arm` what is threaded at a time. A row keeps a `tail` at either end, and a needleful loses
    one; a row that is pushed along has `slack` to work with. `stitch` is the length of a seam's
    stitch, and `seams` the stitch that seams are sewn by. Where rows are `flat`, thread is
    bought for rows sewn flat and drawn up once.
    """

    spool: int = 100 * METRE
    arm: int = 60 * CM
    tail: int = 10 * CM
    slack: int = 15 * CM
    stitch: int = 3 * MM
    name: str = "sewing thread"
    tex: Decimal = Decimal(40)
    seams: Stitch = Stitch.BACK
    flat: bool = True
    waxed: bool = True
    ask: str = ""
    price: Price | None = None


@dataclass(frozen=True)
class BiasJoins:
    """The joins of a facing cut on the bias out of one rectangle: how many, and how long each."""

    count: int
    length: int


@dataclass(frozen=True)
class Garment:
    """What the sheet tells of one garment.

    `round_hem` is the finished width of the tube, `drawn` the length it is drawn into; what
    does not apply, as no opening to an apron, is nought. `turn_downs` is empty where nothing
    is turned down; `figures` are further finished lengths to sew and check by, such as the
    waist curve of a circle; `advice` holds whole sentences. `pleating` tells how it is drawn
    up; a string in a casing draws up no pleats, and has none. `work` is the whole order of
    work, from the marking to the last press.
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
    notions: tuple[Notion, ...] = ()
    advice: tuple[str, ...] = ()
    figures: tuple[Item, ...] = ()
    work: tuple[Task, ...] = ()
    pleating: Pleating | None = None
    sewing: tuple[Sewn, ...] = ()
    """All that is sewn, in the order of work, but for closings and the user's own pieces."""
    bias_joins: BiasJoins | None = None
    """Joins of its facing that no edge of a piece shows, since it comes out of one rectangle."""

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
    units: Units
    garments: tuple[Garment, ...]
    lays: tuple[Lay, ...]
    choices: tuple[str, ...] = ()
    alone: tuple[Alone, ...] = ()
    format: int = FORMAT
    notions: tuple[Notion, ...] = ()
    """What the case asks for besides that is for no garment in particular."""
    thread: Thread | None = None
    pace: int = 0
    """Stitches a minute, where an estimate of time is wanted."""


_ADAPTER: TypeAdapter[Record] = TypeAdapter(Record)


def dump(record: Record) -> str:
    """The record as JSON text: one key a line, keys in the order of the classes."""
    return (
        json.dumps(_ADAPTER.dump_python(record, mode="json"), indent=1, ensure_ascii=False) + "\n"
    )


def load(path: Path) -> Record:
    """Read a record from disk. Raises `BadInput` naming the file and the key at fault."""
    name = harmless(str(path))
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except (OSError, ValueError) as error:  # ValueError: a null byte in the path
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        raise BadInput(f"{name} can't be read ({reason}); give the path of a lay.json") from None
    if len(data) > LARGEST:
        raise BadInput(f"{name} is over 20 MB, too large for a record; check the path")
    try:
        return parse(data.decode("utf-8-sig"), name)
    except UnicodeDecodeError:
        raise BadInput(f"{name} is not text in UTF-8; plan the case again") from None


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
