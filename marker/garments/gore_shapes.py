"""The gores of a skirt as they are cut: which are the same, which are pairs, and their notches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from marker.errors import BadInput
from marker.garments.gore_shape import gore_outline
from marker.garments.gores import PLACES, Waistline, Worn, seams
from marker.garments.order import Order
from marker.garments.shape import SKIRT, Shape
from marker.piece import Edges, MarkKind

SIDED = Edges(start="waist", end="hem", low="towards the front", high="towards the back")


@dataclass(frozen=True)
class Top:
    """What is done at the top of all gores: what is added there, and how it is opened.

    `turned` where it is turned down, else it is a seam; the opening is `opening` long and in the
    seam nearest to `opening_at`.
    """

    added: int
    turned: bool
    opening: int
    opening_at: str


def gore_shapes(
    order: Order, worn: Sequence[Worn], waistline: Waistline, seam: int, top: Top
) -> list[Shape]:
    """The gores of both halves of a skirt, from those `worn` on one half in their order.

    One shape stands for all gores that are the same; those of one kind that differ are numbered.
    """
    opening = _opening_notches(top, worn, waistline)
    found: dict[object, Shape] = {}
    for index, gore in enumerate(worn):
        lengths = _lengths(gore, waistline)
        key = (gore.kind, lengths)
        if key in found:
            known = found[key]
            marks = tuple(dict.fromkeys((*known.notches, *opening[index])))
            count = known.count + (1 if gore.middle else 2)
            found[key] = replace(known, count=count, notches=marks)
        else:
            found[key] = _gore(order, gore, lengths, seam, top).notched(*opening[index])
    return list(_numbered(list(found.values())))


def _gore(
    order: Order, gore: Worn, lengths: tuple[float, float, float], seam: int, top: Top
) -> Shape:
    """One gore, in the middle of the front or the back, or one on either half."""
    wide, hem = float(gore.kind.top), float(gore.kind.hem)
    low, _, high = lengths
    even = low == high
    name = gore.kind.name if gore.kind.name == "gore" else f"{gore.kind.name} gore"
    try:
        outline = gore_outline(wide, hem, *lengths)
    except BadInput as fault:
        raise order.fault(f"gores: the {name} can't be drawn: {fault}") from None
    return Shape(
        name,
        outline,
        count=1 if gore.middle else 2,
        mirrored=0 if even else 1,
        folds=even,
        added={"low": seam, "high": seam, "start": top.added},
        edges=SKIRT if even else SIDED,
        lines={"start": (MarkKind.FOLD, "fold of the turn-down")} if top.turned else {},
        notches=(
            ("start", wide / 2, "middle"),
            ("end", hem / 2, "middle"),
            ("low", low / 2, "match"),
            ("high", high / 2, "match"),
        ),
    )


def _lengths(gore: Worn, waistline: Waistline) -> tuple[float, float, float]:
    """From waist to hem along the seam towards the front, down the middle, and along the other."""
    begins, ends = (waistline.at(place) for place in (gore.begins, gore.ends))
    if not gore.middle:
        return begins, waistline.at((gore.begins + gore.ends) / 2), ends
    return (ends, begins, ends) if gore.begins == PLACES["front"] else (begins, ends, begins)


def _numbered(shapes: list[Shape]) -> Iterator[Shape]:
    names = [shape.name for shape in shapes]
    for index, shape in enumerate(shapes):
        alike = names.count(shape.name) > 1
        number = f" {names[: index + 1].count(shape.name)}"
        yield replace(shape, name=shape.name + number) if alike else shape


def _opening_notches(
    top: Top, worn: Sequence[Worn], waistline: Waistline
) -> dict[int, list[tuple[str, float, str]]]:
    """For each gore of the half the notches where the opening ends, in the seam nearest to it."""
    wanted = PLACES[top.opening_at]
    place, *sides = min(seams(worn), key=lambda seam: abs(seam[0] - wanted))
    long = waistline.at(place)
    notches: dict[int, list[tuple[str, float, str]]] = {index: [] for index in range(len(worn))}
    for index, side in dict.fromkeys(sides):
        # The low side runs from the waist down, the high side up to it.
        at = top.opening if side == "low" else long - top.opening
        notches[index].append((side, at, "opening ends (in one seam)"))
    return notches
