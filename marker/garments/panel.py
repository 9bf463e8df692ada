"""The panels of a straight skirt: the keys they are ordered by, and the pieces they become."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator
from pydantic_core import PydanticKnownError

from marker.cloth import Cloth
from marker.garments.allowance import grow
from marker.garments.lengths import Levels
from marker.garments.order import Order
from marker.garments.words import Breadth, Length, Size, Strict, refuse, shown
from marker.piece import AtSelvedge, Edges, Grain, Mark, MarkKind, Match, Piece, Side
from marker.record import Method

MOST = 1000
"""More panels than any skirt has: a larger figure is a slip."""

MOST_NUMBERS = 8
"""So many numbers of panels may be left open; each of them is laid."""


def _number(value: Any) -> int | range:
    """How many panels, or from how many to how many."""
    if isinstance(value, list):
        return _numbers(value)
    if isinstance(value, bool) or not isinstance(value, int):
        raise PydanticKnownError("int_type")
    if value < 1:
        raise PydanticKnownError("greater_than_equal", {"ge": 1})
    if value > MOST:
        raise PydanticKnownError("less_than_equal", {"le": MOST})
    return value


def _numbers(value: list[Any]) -> range:
    such = "such as [2, 4]"
    if len(value) != 2:
        told = "is empty" if not value else "doesn't hold two numbers"
        refuse(f"{shown(value)} {told}; write the fewest and the most panels, {such}")
    for number in value:
        if isinstance(number, bool) or not isinstance(number, int) or not 1 <= number <= MOST:
            refuse(
                f"{shown(number)} is not a number of panels; write whole numbers from 1 to "
                f"{MOST}, {such}"
            )
    fewest, most = value
    if fewest > most:
        refuse(f"{shown(value)} runs backwards; write the smaller number first, {such}")
    if most - fewest >= MOST_NUMBERS:
        refuse(
            f"{shown(value)} leaves {most - fewest + 1} numbers open, and {MOST_NUMBERS} are the "
            "most; write numbers that lie closer"
        )
    return range(fewest, most + 1)


Number = Annotated[int | range, PlainValidator(_number)]
"""A number of panels; or a list of the fewest and the most, which leaves it open."""


class Panels(Strict):
    """The keys of a garment's panels: `count` of a `width`, or the `round` hem wanted.

    A width from a least to a greatest leaves it open, and `round` and `most_round` bound it. So
    does a `count` from the fewest to the most.
    """

    count: Number | None = Field(
        default=None,
        description=f"how many breadths the skirt has, from 1 to {MOST}, or the fewest and the "
        "most of them, such as [2, 4]",
    )
    width: Breadth | None = Field(
        default=None, description='the cut width of one panel, such as "110 cm", or "full"'
    )
    round: Size | None = Field(
        default=None, description='the least width of the finished round hem, such as "3.20 m"'
    )
    most_round: Size | None = Field(
        default=None, description='the greatest width of the round hem, such as "3.60 m"'
    )
    lie: Literal["along", "across", "either"] = Field(
        default="along", description="which way the panels' length lies on the cloth"
    )
    match: Literal["lengthwise", "crosswise", "both"] | None = Field(
        default=None, description="which way the pattern matches from panel to panel"
    )
    selvedge: Literal["one", "both"] | None = Field(
        default=None, description="whether one side edge lies at a selvedge, or both"
    )
    border: Length | None = Field(
        default=None, description='how near to a selvedge the hem edge lies, such as "2 cm"'
    )
    torn: bool = Field(default=True, description="false where no edge of them may be torn")

    @property
    def each(self) -> Iterator[tuple[int, str, Panels]]:
        """A number and a lie of the panels, and the keys for them, for all that is left open."""
        for count in self.count if isinstance(self.count, range) else ():
            for lie in ("along", "across") if self.lie == "either" else (self.lie,):
                yield count, lie, self.model_copy(update={"count": count, "lie": lie})


@dataclass(frozen=True)
class Tube:
    """`panels` of cut `width`, sewn into a closed tube of as many seams.

    `most` is the greatest cut width where the width is left open, else nought. Torn edges
    are given their allowance besides.
    """

    panels: int
    width: int
    seam: int
    railroaded: bool = False
    most: int = 0

    @property
    def round(self) -> int:
        """The finished round: every panel gives up a seam allowance at either side."""
        return self.panels * self.pitch

    @property
    def pitch(self) -> int:
        """From one seam to the next."""
        return self.width - 2 * self.seam

    @property
    def widest(self) -> Tube:
        """The tube at its greatest width."""
        return replace(self, width=self.most) if self.most else self


def panel_pieces(
    order: Order,
    panels: Panels,
    tube: Tube,
    cloths: Sequence[Cloth],
    levels: Levels,
    marks: tuple[Mark, ...],
    opening: tuple[Mark, Mark] | None,
    points: tuple[tuple[int, Mark], ...],
    matches: tuple[tuple[Match, ...], ...],
) -> list[Piece]:
    """The panels with their seam lines and the marks given; u runs from the waist to the hem.

    `points` are marks of one panel, by its number from the opening.

    One piece stands for all panels where `matches` has one entry. Where it has one for each
    panel, they are numbered in the order of sewing, and the opening, if there is one, lies
    between the last and the first.
    """
    seams = tuple(
        Mark(MarkKind.SEAM, "seam", 0, v, levels.cut_length, v)
        for v in (tube.seam, tube.width - tube.seam)
    )
    panel = Piece(
        letter="",
        name="panel",
        length=levels.cut_length,
        breadth=tube.width,
        count=tube.panels,
        cloth=cloths[0].key,
        grain=Grain.ACROSS if tube.railroaded else Grain.ALONG,
        up="length",
        edges=Edges(start="waist", end="hem", low="seam", high="seam"),
        marks=(*seams, *marks),
        garment=order.key,
        wearer=order.wearer.name,
        torn=panels.torn,
        selvedges=_selvedges(panels),
        also=tuple(cloth.key for cloth in cloths[1:]),
    )
    if len(matches) == 1:
        own = (mark for _, mark in points)
        found = [replace(panel, marks=(*panel.marks, *(opening or ()), *own), matches=matches[0])]
    else:
        found = [
            replace(_numbered(panel, number, tube.panels, opening, points), matches=match)
            for number, match in enumerate(matches, 1)
        ]
    return [grow(piece, cloths) for piece in found]


def _selvedges(panels: Panels) -> tuple[AtSelvedge, ...]:
    if panels.border is not None:
        return (AtSelvedge(Side.END, panels.border),)
    sides = {"one": (Side.EITHER_SIDE,), "both": (Side.LOW, Side.HIGH)}
    return tuple(AtSelvedge(side) for side in sides.get(panels.selvedge or "", ()))


def _numbered(
    panel: Piece,
    number: int,
    last: int,
    opening: tuple[Mark, Mark] | None,
    points: tuple[tuple[int, Mark], ...],
) -> Piece:
    """One of several panels that are sewn in a certain order, its sides named for it."""
    first_low, last_high = ("opening",) * 2 if opening else (f"to panel {last}", "to panel 1")
    low = f"to panel {number - 1}" if number > 1 else first_low
    high = f"to panel {number + 1}" if number < last else last_high
    ends = [
        mark for mark, side in zip(opening or (), (low, high), strict=False) if side == "opening"
    ]
    return replace(
        panel,
        name=f"panel {number}",
        count=1,
        edges=replace(panel.edges, low=low, high=high),
        marks=(
            *panel.marks,
            *(replace(mark, name="opening ends") for mark in ends),
            *(mark for of, mark in points if of == number),
        ),
    )


PLEATING_LINE = MarkKind.SEAM, "pleating line"
TOP_LINES = {
    Method.GAUGED: (MarkKind.FOLD, "fold of the turn-down"),
    Method.STROKE: (MarkKind.SEAM, "gathering line"),
}


def line_of(method: Method) -> str:
    """What the line at the top is called."""
    return TOP_LINES.get(method, PLEATING_LINE)[1]


def top_marks(tube: Tube, levels: Levels, method: Method) -> Iterator[Mark]:
    """The line at the waist: one where the skirt is level, else one for each depth."""
    kind, name = TOP_LINES.get(method, PLEATING_LINE)
    places: dict[int, list[str]] = {}
    for place in levels.finished:
        places.setdefault(levels.depth(place), []).append(place)
    for depth, names in places.items():
        at = "" if levels.level else f" ({', '.join(names)})"
        yield Mark(kind, name + at, depth, 0, depth, tube.width)


def hem_mark(tube: Tube, levels: Levels) -> Iterator[Mark]:
    """The line of the finished hem, where anything is taken in below it."""
    if levels.take_up:
        u = levels.cut_length - levels.take_up
        yield Mark(MarkKind.HEM, "hem line", u, 0, u, tube.width)
