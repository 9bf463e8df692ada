"""What is chalked on breadths and bands before anything is sewn, read off the pieces as cut.

Pieces may have been torn larger than they were drafted, so every distance is taken from the marks
of the piece itself, and holds from its real edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from marker.garments.opening import WORN
from marker.garments.order import Order
from marker.garments.work.job import Job, listed
from marker.piece import Mark, MarkKind, Piece
from marker.record import Stage
from marker.units import nearest

QUARTER = "quarter point"
OTHERS = {
    "front": "the sides and the middle of the back",
    "side": "the back, the other side and the front",
    "back": "the sides and the middle of the front",
}
"""Where the other three quarter points come to lie, by where the opening is worn."""


def quarters(panels: int, pitch: int) -> tuple[tuple[int, Fraction], ...]:
    """The three quarter points of a tube's top, counted from the opening in one of its seams.

    Each is the number of its panel, from 1, and how far it lies from that panel's first seam
    line; nought where it falls on the seam itself.
    """
    places = (Fraction(panels * k, 4) for k in (1, 2, 3))
    return tuple((int(place) + 1, pitch * (place % 1)) for place in places)


def quarter_marks(panels: int, pitch: int, seam: int, deep: int) -> tuple[tuple[int, Mark], ...]:
    """The quarter points that fall inside a panel, with its number: lines down from the top."""
    found = []
    for number, off in quarters(panels, pitch):
        if off:
            v = seam + nearest(off)
            name = f"{QUARTER} (panel {number})" if panels > 1 else QUARTER
            found.append((number, Mark(MarkKind.CHALK, name, 0, v, deep, v)))
    return tuple(found)


def inset(piece: Piece, edge: str, name: str = "") -> int:
    """How far the outermost line of a name runs inside an edge: "start", "end", "low" or "high".

    Any name does where none is given; nought where there is no such line.
    """
    along, far = {
        "start": (True, False), "end": (True, True), "low": (False, False), "high": (False, True),
    }[edge]  # fmt: skip
    found = [
        (piece.length - mark.u0 if far else mark.u0)
        if along
        else (piece.breadth - mark.v0 if far else mark.v0)
        for mark in piece.marks
        if mark.kind is not MarkKind.CHALK
        and mark.kind is not MarkKind.NOTCH
        and mark.name.startswith(name)
        and (mark.u0 == mark.u1 if along else mark.v0 == mark.v1)
    ]
    return min(found, default=0)


def panels_marked(order: Order, panels: Sequence[Piece], top: str, *, hem: str) -> Iterator[Job]:
    """The lines chalked on breadths: that of the `top`, where it is level, and the `hem`'s."""
    piece, names = panels[0], tuple(piece.name for piece in panels)
    seam, low = inset(piece, "low", "seam"), inset(piece, "end", hem) if hem else 0
    lines = []
    if top:
        lines.append(f"the {top} {order.spell(inset(piece, 'start', top))} below the top edge")
    if low:
        lines.append(f"the {hem} {order.spell(low)} above the lower edge")
    lines.append(f"the seam lines {order.spell(seam)} inside the sides")
    yield Job(
        Stage.MARK, f"Chalk on the wrong side of every panel: {listed(lines)}.", names
    )  # fmt: skip


def opening_ends(panels: Sequence[Piece]) -> dict[str, int]:
    """How far below the cut top edge the opening ends, by the names of the breadths beside it."""
    return {
        piece.name: mark.u0
        for piece in panels
        for mark in piece.marks
        if mark.kind is MarkKind.NOTCH and mark.name.startswith("opening ends")
    }


def opening_marked(order: Order, panels: Sequence[Piece], opening: int) -> Iterator[Job]:
    """Where the opening ends, from the cut top edge."""
    if ends := opening_ends(panels):
        down = order.spell(next(iter(ends.values())))
        yield Job(
            Stage.MARK,
            f"Chalk where the opening ends, {down} below the top edge, on both edges of the seam "
            f"that stays open; finished it is {order.spell(opening)} long.",
            tuple(ends),
        )


def quarters_marked(order: Order, panels: Sequence[Piece], count: int, at: str) -> Iterator[Job]:
    """Where the quarter points of the top lie, counted from the opening, which is worn `at`."""
    names = tuple(piece.name for piece in panels)
    marks = [mark for piece in panels for mark in piece.marks if mark.name.startswith(QUARTER)]
    inside = {mark.name: order.spell(mark.v0) for mark in marks}
    worn = f"They are {OTHERS[at]}, since the opening is worn {WORN[at]}."
    if count == 1:
        where = f"{listed([order.spell(mark.v0) for mark in marks])} from one side edge"
    elif not inside:
        where = f"which are seams, counted from the opening: {listed([*_places(inside, count)])}"
    else:
        where = (
            "counting the panels round from the opening, and measuring from the side edge of each "
            "that comes first: "
            f"{'; '.join(_places(inside, count))}"
        )
    yield Job(Stage.MARK, f"Chalk the quarter points of the top, {where}. {worn}", names)


def _places(inside: dict[str, str], count: int) -> Iterator[str]:
    for number, off in quarters(count, 1):
        if off:
            yield f"panel {number}, {inside[f'{QUARTER} (panel {number})']}"
        else:
            yield f"the seam of panels {number - 1} and {number}"
