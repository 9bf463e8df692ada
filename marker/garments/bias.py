"""True bias strips for a hem: cut singly, from a rectangle, or by the continuous method.

Strips join on the straight thread, so each join takes 2 x seam x sqrt 2 of their length; how
many there are comes from how they lie at 45 degrees, never from the area of the cloth.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.allowance import full_breadth
from marker.garments.bias_keys import CONTINUOUS, RECTANGLE, STRIPS
from marker.garments.made import Made
from marker.garments.order import Order, Usual
from marker.garments.strips import strip
from marker.garments.words import MOST_STRIPS
from marker.garments.work.bias import bias_joined
from marker.garments.work.job import Job
from marker.geometry.bias import (
    ROOT2,
    BiasLayout,
    along_selvedge,
    cloth_for,
    continuous,
    join_takes,
    layout,
)
from marker.geometry.outline import TOLERANCE
from marker.geometry.shapes import bias_strip
from marker.piece import Edges, Grain, Mark, MarkKind, Piece
from marker.record import BiasJoins, Item
from marker.units import Rounding, ceil_to, format_length

SHORTEST = Usual("10 cm", "4 in")
SLENDER = 2
"""A rectangle longer than so many times its breadth has more joins than it needs."""
EDGES = Edges(start="join", end="join", low="hem", high="top")


@dataclass(frozen=True)
class Bias:
    """A bias strip that is wanted: `joined` long, cut `width` wide, joined with `seam`.

    `part` is the table that asks for it, `name` what it is called, such as "bias facing"; a
    `ring` is closed by a join of its own, which `joined` does not hold yet. `strips` and
    `shortest` are as the file says, `across` is how broad a rectangle to cut them from is.
    `lines` are kinds, names and distances from the edge that is sewn to the hem.
    """

    part: str
    name: str
    joined: int
    width: int
    seam: int
    ring: bool = True
    strips: int | None = None
    shortest: int | None = None
    across: int | None = None
    torn: bool = True
    lines: tuple[tuple[MarkKind, str, int], ...] = ()

    @property
    def needed(self) -> float:
        """What the strips must come to once joined, the ring's own join still open."""
        return self.joined + (join_takes(self.seam) if self.ring else 0.0)


def facing_lines(seam: int, depth: int, top: int) -> tuple[tuple[MarkKind, str, int], ...]:
    """The lines of a hem facing `depth` deep: the hem's seam, and what the upper edge takes."""
    hem = (MarkKind.HEM, "hem seam", seam)
    return (hem, (MarkKind.FOLD, "upper edge", seam + depth)) if top else (hem,)


def bias(order: Order, wanted: Bias, cut: str, keys: Sequence[str] | None) -> Made:
    """The pieces that a bias strip is cut as, in one of the ways of `CUTS`.

    `keys` are the cloths named for it. Raises `BadInput` naming the key.
    """
    cloths = order.cloths_of(f"{wanted.part}.cloth", keys)
    if cut == STRIPS:
        return _singly(order, wanted, cloths)
    make = _from_rectangle if cut == RECTANGLE else _continuous
    return make(order, wanted, cloths)


def _singly(order: Order, wanted: Bias, cloths: Sequence[Cloth]) -> Made:
    """Equal strips, the fewest that lie across the cloth at 45 degrees, or as many as asked.

    Their ends lie along the bolt, so that a strip as long as U x sqrt 2 lies within U.
    """
    takes = join_takes(wanted.seam)
    # Strips all lean one way, so that several come only from cloth that lies open.
    cloths = [cloth for cloth in cloths if not cloth.folded] or cloths
    room = min(_single(cloth) for cloth in cloths) - 2 * TOLERANCE
    limit = math.floor(room * ROOT2)
    if limit <= takes:
        raise order.fault(
            f"{wanted.part}: bias strips of {order.spell(max(limit, 0))} are all seam; give a "
            "wider cloth or a narrower seam"
        )
    count = wanted.strips or max(1, math.ceil((wanted.needed - takes) / (limit - takes)))
    if count > 1 and cloths[0].folded:
        raise order.fault(
            f"{wanted.part}.cut is {STRIPS!r}, and the {count} strips must lean one way, but of "
            f"the two layers of the cloth {cloths[0].key!r}, which is folded, one gives strips "
            f'that lean the other way; write {wanted.part}.cut = "{RECTANGLE}" or "{CONTINUOUS}", '
            f"or name a cloth that lies open as {wanted.part}.cloth"
        )
    if count > MOST_STRIPS:
        raise order.fault(f"{wanted.part} takes {count} bias strips; {MOST_STRIPS} are the most")
    exact = math.ceil((wanted.needed + (count - 1) * takes) / count)
    if exact > limit:
        raise order.fault(
            f"{wanted.part}.strips is {count}, and each would be {order.spell(exact)} long on the "
            f"bias, where the cloth gives {order.spell(limit)}; give more strips"
        )
    length = min(ceil_to(exact, order.grid), limit)
    least = order.usual(wanted.shortest, SHORTEST)
    if count > 1 and length < least:
        raise order.fault(
            f"{wanted.part}.strips is {count}, and each would be {order.spell(length)} long, "
            f"shorter than {order.spell(least)}; give fewer strips, or a smaller shortest"
        )
    # Leaning this way, a strip takes the least of the width at the first turn that bias allows.
    names = {"start": "end", "end": "start"}
    outline = bias_strip(length, wanted.width).mirrored().renamed(names).at_nought()
    piece = Piece.shaped(
        "",
        f"{wanted.name} strip",
        outline,
        count,
        cloths[0].key,
        grain=Grain.BIAS,
        up="breadth",
        edges=EDGES,
        marks=tuple(_strip_marks(wanted, length)),
        garment=order.key,
        wearer=order.wearer.name,
        torn=wanted.torn,
        also=tuple(cloth.key for cloth in cloths[1:]),
    )
    joined = count * length - (count - 1) * takes
    how = f"{order.spell(length)} long, cut singly"
    how = how if count == 1 else f"each {how}"
    made = _told(order, wanted, (piece,), _joins(wanted, count), joined, how)
    return made + Made(work=_work(order, wanted, piece, count))


def _work(
    order: Order,
    wanted: Bias,
    piece: Piece,
    count: int,
    cut: Literal["", "rectangle", "round"] = "",
) -> tuple[Job, ...]:
    joint = count, wanted.seam
    return tuple(bias_joined(order, wanted.name, piece, joint, ring=wanted.ring, cut=cut))


def _single(cloth: Cloth) -> int:
    """How much of the width a strip may take: of folded cloth, from the selvedge to the fold."""
    return cloth.laid_width // 2 - cloth.usable.y0 if cloth.folded else cloth.usable.across


def _strip_marks(wanted: Bias, length: int) -> Iterator[Mark]:
    """The joins along the thread, and the lines that run with the strip."""
    width, slant = wanted.width, round(wanted.seam * ROOT2)
    for u in (slant, length - slant):
        yield Mark(MarkKind.SEAM, "join", u + width, 0, u, width)
    for kind, name, v in wanted.lines:
        yield Mark(kind, name, width - v, v, width - v + length, v)


def _from_rectangle(order: Order, wanted: Bias, cloths: Sequence[Cloth]) -> Made:
    """The shortest rectangle whose strips at 45 degrees join to what is needed."""
    across = _across(order, wanted, cloths)
    least = order.usual(wanted.shortest, SHORTEST)

    longest = math.floor(across * ROOT2)
    if least > longest:
        raise order.fault(
            f"{wanted.part}.shortest is {order.spell(least)}, and a rectangle "
            f"{order.spell(across)} across gives no bias strip over {order.spell(longest)}; give "
            "a smaller length, or a broader rectangle"
        )

    def laid(along: int) -> BiasLayout:
        return layout(along, across, wanted.width, wanted.seam, least)

    try:
        along = cloth_for(wanted.needed, across, wanted.width, wanted.seam, least).along
        found = laid(ceil_to(math.ceil(along), order.grid))
    except BadInput as fault:
        raise order.fault(f"{wanted.part}: {fault}") from None
    piece = _rectangle(order, wanted, cloths, round(found.along), across, _bias_lines(found))
    count = len(found.strips)
    made = _told(
        order, wanted, (piece,), _joins(wanted, count), found.joined, _size_of(order, piece)
    )
    work = _work(order, wanted, piece, count, "rectangle")
    return made + Made(work=work, bias_joins=_counted(wanted, count if wanted.ring else count - 1))


def _continuous(order: Order, wanted: Bias, cloths: Sequence[Cloth]) -> Made:
    """The shortest rectangle that gives the strip by the continuous method."""
    across = _across(order, wanted, cloths)

    def reaches(along: int) -> bool:
        try:
            return continuous(along, across, wanted.width, wanted.seam)[1] >= wanted.needed
        except BadInput:
            return False

    low, high = 0, ceil_to(math.ceil(along_selvedge(wanted.width) + 2 * wanted.seam), order.grid)
    while not reaches(high):
        low, high = high, 2 * high
        if high > 1e4 * (wanted.needed + across):
            raise order.fault(
                f"{wanted.part}: a rectangle {order.spell(across)} across is too narrow for "
                "continuous bias; give a broader one"
            )
    steps = (low // order.grid, high // order.grid)
    while steps[1] - steps[0] > 1:
        middle = sum(steps) // 2
        steps = (steps[0], middle) if reaches(middle * order.grid) else (middle, steps[1])
    along = steps[1] * order.grid
    rows, joined = continuous(along, across, wanted.width, wanted.seam)
    side = min(along, across)
    diagonal = Mark(MarkKind.SEAM, "bias line", 0, 0, side, side)
    piece = _rectangle(order, wanted, cloths, along, across, (diagonal,))
    how = (
        f"{_size_of(order, piece)}, by the continuous method: cut a triangle off on the bias from "
        f"one corner, sew it to the opposite end, rule {rows} rows along the bias edges, sew the "
        "straight edges into a tube one row out of step, and cut round and round"
    )
    apart = side * ROOT2 - join_takes(wanted.seam)
    first = _at_triangle(max(along, across) - 2 * wanted.seam, side, wanted.width, rows)
    count = rows - 1 + first + wanted.ring
    where = [
        *([f"{rows - 1} at the tube's seam, {order.spell(round(apart))} apart"] * (rows > 1)),
        *([f"{first} at the triangle's"] * (first > 0)),
        *(["the one that closes it"] * wanted.ring),
    ]
    listed = " and ".join(filter(None, (", ".join(where[:-1]), *where[-1:])))
    joins = f"about {count} joins on the straight thread ({listed})"
    told = _told(order, wanted, (piece,), (1, joins), joined, how)
    far = Item(f"{wanted.name}, about {count} joins, mostly apart", math.floor(apart))
    squarer = (
        f"With a smaller {wanted.part}.across the rectangle for the {wanted.name} is nearer to a "
        "square, and the joins are fewer.",
    )
    told += Made(figures=(far,) * (rows > 1), advice=squarer * (across > SLENDER * along))
    work = _work(order, wanted, piece, 1, "round")
    return told + Made(work=work, bias_joins=_counted(wanted, count))


def _at_triangle(ruled: float, side: float, width: float, rows: int) -> int:
    """How many rows cross the seam that sews on the triangle.

    It goes straight over the parallelogram where its bias edge ends, so that it crosses as many
    rows as lie within the shorter side, the last ones of all.
    """
    return max(0, rows - max(0, math.floor((ruled - side) / along_selvedge(width))))


def _across(order: Order, wanted: Bias, cloths: Sequence[Cloth]) -> int:
    """How broad the rectangle is: as asked, or a whole breadth of the narrowest cloth."""
    cloth = min(cloths, key=lambda cloth: full_breadth(cloth, wanted.torn))
    widest = full_breadth(cloth, wanted.torn)
    across = wanted.across or widest
    if across > widest:
        raise order.fault(
            f"{wanted.part}.across is {order.spell(across)}, wider than the "
            f"{order.spell(widest)} that the cloth {cloth.key!r} gives; give a smaller figure"
        )
    return across


def _rectangle(
    order: Order,
    wanted: Bias,
    cloths: Sequence[Cloth],
    along: int,
    across: int,
    marks: tuple[Mark, ...],
) -> Piece:
    return strip(
        order,
        wanted.part,
        cloths,
        "either",
        (along, across),
        name=f"cloth for the {wanted.name}",
        edges=Edges(),
        marks=marks,
        up="length",
        torn=wanted.torn,
    )


def _bias_lines(found: BiasLayout) -> tuple[Mark, ...]:
    """The lines at 45 degrees to cut along, from edge to edge of the rectangle."""
    pitch = along_selvedge(found.width)
    offsets = sorted({round(cut.offset + k * pitch) for cut in found.strips for k in (0, 1)})
    # Two strips share the line between them, though each rounds it for itself.
    apart = offsets[:1] + [o for before, o in pairwise(offsets) if o - before > 1]
    lines = []
    for offset in apart:
        low, high = max(0, offset), min(round(found.along), round(found.across) + offset)
        if high > low:
            lines.append(Mark(MarkKind.SEAM, "bias line", low, low - offset, high, high - offset))
    return tuple(lines)


def _size_of(order: Order, piece: Piece) -> str:
    size = " by ".join(order.spell(side) for side in (piece.length, piece.breadth))
    return f"from a rectangle of {size}"


def _joins(wanted: Bias, count: int) -> tuple[int, str]:
    """How many strips there are, and how many joins make one of them."""
    joins = count if wanted.ring else count - 1
    closes = ", the one that closes it among them" if wanted.ring and joins > 1 else ""
    said = f"{joins} {'joins' if joins > 1 else 'join'} on the straight thread{closes}"
    return count, said if joins else ""


def _counted(wanted: Bias, joins: int) -> BiasJoins | None:
    """The joins of a facing, for what tells one way of facing a hem from another."""
    if wanted.part != "facing":
        return None
    return BiasJoins(joins, math.ceil(along_selvedge(wanted.width)))


def _told(
    order: Order,
    wanted: Bias,
    pieces: tuple[Piece, ...],
    joins: tuple[int, str],
    joined: float,
    how: str,
) -> Made:
    """The figures of a joined strip, and how it is cut and joined.

    `joins` are how many strips it is of, and what is said of its joins.
    """
    count, joints = joins
    slant = math.ceil(along_selvedge(wanted.width))
    marked = format_length(slant, order.units, Rounding.UP)
    said = (
        f"The {wanted.name} is {count} {'strips' if count > 1 else 'strip'} of true bias "
        f"{order.spell(wanted.width)} wide, {how}; mark {marked} along the selvedge "
        "and as much along a thread across for the width."
    )
    if joints:
        said += (
            f" It has {joints}: right sides together and square to one another, edges crossing on "
            "the seam line."
        )
    figures = (
        Item(f"{wanted.name}, joined", math.floor(joined)),
        Item(f"{wanted.name}, width along the selvedge", ceil_to(slant, order.grid)),
    )
    return Made(pieces, figures=figures, advice=(said,))
