"""The gores of a skirt as they are cut: which are the same, which are pairs, and their notches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from marker.errors import BadInput
from marker.garments.curved.shape import SKIRT, Shape
from marker.garments.gored.gores import PLACES, Waistline, Worn, opening_seam
from marker.garments.gored.outline import gore_outline
from marker.garments.opening import OPENING_ENDS
from marker.garments.order import Order
from marker.geometry.offset import with_allowance
from marker.piece import Edges, MarkKind

SIDED = Edges(start="waist", end="hem", low="towards the front", high="towards the back")
BOTH = ("low", "high")


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


@dataclass(frozen=True)
class GoreShapes:
    """The shapes that all gores are cut as, and the name of the shape of each `Worn` of a half."""

    shapes: tuple[Shape, ...]
    names: tuple[str, ...]

    @property
    def alike(self) -> bool:
        """Whether any gore may be sewn to any other, either way round."""
        return len(self.shapes) == 1 and self.shapes[0].edges == SKIRT


@dataclass
class _Same:
    """Gores of one kind and of the same lengths, and which of their sides hold the opening."""

    gore: Worn
    lengths: tuple[float, float, float]
    count: int = 0
    pairs: int = 0
    sides: tuple[str, ...] = ()

    @property
    def even(self) -> bool:
        return self.lengths[0] == self.lengths[2]

    @property
    def straight(self) -> bool:
        return self.gore.kind.hem == self.gore.kind.top and len(set(self.lengths)) == 1


def gore_shapes(
    order: Order, worn: Sequence[Worn], waistline: Waistline, seam: int, top: Top
) -> GoreShapes:
    """The gores of both halves of a skirt, from those `worn` on one half in their order.

    One shape stands for all gores that are the same; those of one kind that differ are numbered.
    Raises `BadInput` naming the key.
    """
    keys = [(gore.kind, _lengths(gore, waistline)) for gore in worn]
    found = {key: _Same(gore, key[1]) for key, gore in zip(keys, worn, strict=True)}
    for key, gore in zip(keys, worn, strict=True):
        found[key].count += 1 if gore.middle else 2
        found[key].pairs += 0 if gore.middle else 1
    for index, side in opening_seam(worn, top.opening_at)[1]:
        same = found[keys[index]]
        same.sides = tuple(dict.fromkeys((*same.sides, side)))
    alone = len(found) == 1
    shapes = tuple(_numbered([_gore(order, same, alone, seam, top) for same in found.values()]))
    names = dict(zip(found, (shape.name for shape in shapes), strict=True))
    return GoreShapes(shapes, tuple(names[key] for key in keys))


def _gore(order: Order, same: _Same, alone: bool, seam: int, top: Top) -> Shape:
    """The shape of gores that are the same; `alone` where there are no others.

    One that is even lies either way round. Where one of its sides alone holds the opening it is
    cut in pairs, lest the notch come to lie in another seam.
    """
    kind = same.gore.kind
    wide, hem = float(kind.top), float(kind.hem)
    low, _, high = same.lengths
    name = kind.name if kind.name == "gore" else f"{kind.name} gore"
    try:
        outline = gore_outline(wide, hem, *same.lengths)
    except BadInput as fault:
        raise order.fault(f"gores: the {name} can't be drawn: {fault}") from None
    either = same.even and (alone or same.straight)
    sides = BOTH if either and same.sides else same.sides
    sided = not same.even or (len(sides) == 1 and same.pairs > 0)
    shape = Shape(
        name,
        outline,
        count=same.count,
        mirrored=same.pairs if sided else 0,
        folds=not sided,
        added={"low": seam, "high": seam, "start": top.added},
        edges=SIDED if sided and same.count == 2 * same.pairs else SKIRT,
        lines={"start": (MarkKind.FOLD, "fold of the turn-down")} if top.turned else {},
        notches=(
            ("start", wide / 2, "middle"),
            ("end", hem / 2, "middle"),
            ("low", low / 2, "match"),
            ("high", high / 2, "match"),
            *(_opening_notch(same, side, top.opening) for side in sides),
        ),
    )
    if top.turned:
        _turns_down(order, shape, top.added)
    return shape


def _opening_notch(same: _Same, side: str, long: int) -> tuple[str, float, str]:
    """Where the opening ends: the low side runs from the waist down, the high side up to it."""
    return side, long if side == "low" else same.lengths[2] - long, OPENING_ENDS


def _turns_down(order: Order, shape: Shape, depth: int) -> None:
    """Refuse a turn-down that can't be cut above the waist of a gore."""
    try:
        with_allowance(shape.outline, {name: float(by) for name, by in shape.added.items()})
    except BadInput:
        raise order.fault(
            f"turn_down is {order.spell(depth)}, too deep to be cut above the {shape.name}, where "
            "the waist is narrow or slopes; give less, or take turn_down out and have a seam there"
        ) from None


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
