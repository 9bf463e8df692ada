"""The words on a card's drawing: its edges, its lines and notches, and the grain."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from marker.piece import MarkKind
from marker.plan.cards.axis import Axis
from marker.plan.cards.seen import Line, Seen
from marker.plan.drawing import style
from marker.plan.drawing.arrows import arrow
from marker.plan.drawing.lettering import clean, height, width
from marker.plan.drawing.page import Box
from marker.plan.drawing.verbs import Drawing, Words

OFF = 130
"""From the outline to the name of an edge, and from a line to its name."""
PAD = 120
ASIDE, BREAK = 62, 25
"""Where in the widest gap of a broken piece the words of a line stand, and the break, per cent."""
LEAST_GRAIN, MOST_GRAIN = 900, 2200


def name_edges(drawing: Drawing, piece: Seen, x: Axis, y: Axis, size: int) -> None:
    """The name of every edge outside it, clear of the lines that run out to the tape."""
    middle = sum(x.widest) // 2, sum(y.widest) // 2
    up, down = size * 2 // 3, size
    for text, at in (
        (piece.top, (middle[0], -OFF)),
        (piece.bottom, (middle[0], y.long + OFF + up)),
    ):
        _put(drawing, at, text, size)
    for text, at in (
        (piece.left, (-OFF, middle[1])),
        (piece.right, (x.long + OFF + down * 2 // 3, middle[1])),
    ):
        _put(drawing, at, text, size, turned=True)


def _put(
    drawing: Drawing, at: tuple[int, int], text: str, size: int, *, turned: bool = False
) -> None:
    """An edge's name with its middle at a place, where it isn't longer than the drawing."""
    if text := clean(text):
        box = Words(at, text, size, anchor="middle", angle=90 if turned else 0).box
        # A long name stands across the thin lines that run out to the tape.
        drawing.field(box.grown(20), style.PAPER)
        drawing.words(at, text, size, anchor="middle", turned=turned, colour=style.SOFT)
        drawing.label("edge", text, box)


def name_lines(drawing: Drawing, piece: Seen, x: Axis, y: Axis, size: int, *, broken: bool) -> None:
    """The name of each line and notch inside the piece, and the grain where there is room."""
    low, high = x.widest
    middle = low + (high - low) * (ASIDE if broken else 50) // 100
    whole = Box(0, 0, x.long, y.long)
    taken: list[Box] = []
    edges = {piece.top, piece.bottom, piece.left, piece.right, "seam", "join"}
    known: set[str] = set()
    for line in piece.lines:
        if line.name and line.name not in edges and line.name not in known:
            known.add(line.name)
            _name(drawing, (x, y), middle, line, size, (whole, taken))
    _grain(drawing, piece, (x, y), middle, size, taken)


def short(name: str) -> str:
    """A line's name as it stands on it: "turn-down (back)" for "fold of the turn-down (back)"."""
    return clean(name).removeprefix("fold of the ")


def _name(
    drawing: Drawing,
    axes: tuple[Axis, Axis],
    centre: int,
    line: Line,
    size: int,
    paper: tuple[Box, list[Box]],
) -> None:
    """A name by its line, in the first of its places that is free."""
    text = short(line.name)
    for said in dict.fromkeys((text, text.partition(" (")[0])):
        for at, anchor in _places(axes, centre, line, size):
            words = drawing_box(at, said, size, anchor)
            whole, taken = paper
            if whole.grown(-PAD // 2).holds(words) and not any(words.hits(one) for one in taken):
                drawing.words(at, said, size, anchor=anchor, colour=style.SOFT)
                drawing.label("mark", said, words)
                taken.append(words)
                return


def drawing_box(at: tuple[int, int], text: str, size: int, anchor: str) -> Box:
    """The paper that level words take."""
    long = width(text, size)
    left = at[0] - {"start": 0, "middle": long // 2, "end": long}[anchor]
    return Box(left, at[1] - size * 3 // 4, left + long, at[1] + size // 4)


def _places(
    axes: tuple[Axis, Axis], centre: int, line: Line, size: int
) -> Iterable[tuple[tuple[int, int], str]]:
    """Where a name may stand: over the middle of a level line, beside a notch, by an upright."""
    x, y = axes
    (x0, x1), (y0, y1) = (
        sorted((x.at(line.x0), x.at(line.x1))),
        sorted((y.at(line.y0), y.at(line.y1))),
    )
    middle = size // 3
    if line.kind in (MarkKind.NOTCH, MarkKind.CHALK) and x1 - x0 < x.long:
        if line.level:
            yield (x1 + PAD, y0 + middle), "start"
            yield (x0 - PAD, y0 + middle), "end"
        for at_y in (y0 - PAD, y1 + PAD + 2 * middle):
            for anchor, to in (("middle", 0), ("start", -PAD), ("end", PAD)):
                yield (x0 + to, at_y), anchor
        return
    if line.level:
        yield (centre, y0 - PAD // 2), "middle"
        yield (centre, y0 + PAD // 2 + 2 * middle), "middle"
        return
    for low, high in sorted(pairwise(y.places), key=lambda gap: gap[0] - gap[1]):
        yield (x1 + PAD, (low + high) // 2 + middle), "start"
        yield (x0 - PAD, (low + high) // 2 + middle), "end"


def _grain(
    drawing: Drawing,
    piece: Seen,
    axes: tuple[Axis, Axis],
    centre: int,
    size: int,
    taken: list[Box],
) -> None:
    """An arrow along the warp in the widest gap between the lines, and its word."""
    (left, right), (top, bottom) = axes[0].widest, axes[1].widest
    up, word = piece.warp == "up", width("grain", size)
    tall = height(size)
    if not piece.warp:
        return
    long = min(((bottom - top) if up else (right - left)) * 6 // 10, MOST_GRAIN)
    if long < LEAST_GRAIN:
        return
    for part in (50, 70, 30, 85, 15):
        x, y = left + (right - left) * part // 100, top + (bottom - top) * part // 100
        if up:
            y = (top + bottom) // 2
            box = Box(x - tall, y - long // 2, x + 100, y + long // 2)
            ends = (x, y - long // 2), (x, y + long // 2)
            at = x - 90, y
        else:
            x = centre
            box = Box(x - max(long, word) // 2, y - tall, x + max(long, word) // 2, y + 100)
            ends = (x - long // 2, y), (x + long // 2, y)
            at = x, y - 90
        inside = Box(left, top, right, bottom).grown(-PAD // 2)
        if inside.holds(box) and not any(box.hits(one) for one in taken):
            arrow(drawing, *ends, weight=style.GRAIN)
            drawing.words(at, "grain", size, anchor="middle", turned=up, colour=style.SOFT)
            drawing.label("grain", "grain", box)
            taken.append(box)
            return
