"""How gores are joined: what each side meets, in which order, and which seam stays open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.garments.gored.gores import Worn, opening_seam, seams
from marker.garments.gored.seams import MIDDLES, opening_advice
from marker.garments.gored.shapes import GoreShapes, Top
from marker.garments.order import Order
from marker.garments.work.job import Job, Sewn, listed
from marker.garments.work.seams import PRESS, Round, joined, sides_met
from marker.record import Stage


def gores_joined(
    order: Order, worn: Sequence[Worn], gores: GoreShapes, top: Top, seam: int
) -> Iterator[Job]:
    """Gores sewn side by side, the seam with the opening last."""
    names = tuple(shape.name for shape in gores.shapes)
    down = top.opening + top.added
    if gores.alike:
        (shape,) = gores.shapes
        yield from joined(order, Round(names, shape.count, seam, down, curved=True))
        return
    pairs = [
        f"the {gores.names[before]} to the {gores.names[after]}"
        for place, (before, _), (after, _) in seams(worn)
        if place not in MIDDLES
    ]
    opened = opening_seam(worn, top.opening_at)[0]
    middles = [MIDDLES[place] for place, *_ in seams(worn) if place in MIDDLES and place != opened]
    then = f" Then sew the seam {listed(middles)}." if middles else ""
    yield Job(
        Stage.JOIN,
        f"Join the gores from the front to the back, right sides together, notch to notch, "
        f"{order.spell(seam)} from the edge, from the hem up: {listed(pairs)}, and the same on "
        f"the other half.{then} Leave the seam with the opening for the last.",
        names,
    )
    yield Job(
        Stage.JOIN,
        f"{opening_advice(order, worn, gores, top)} Sew that seam from the hem up to its notch: "
        f"the upper {order.spell(down)}, counted from the cut edge, stay open. Sew back over the "
        "last stitches, so that it can't tear.",
        tuple(dict.fromkeys(name for name, _ in beside_opening(worn, gores, top.opening_at))),
    )
    yield Job(Stage.JOIN, PRESS, names)


def beside_opening(worn: Sequence[Worn], gores: GoreShapes, at: str) -> tuple[tuple[str, str], ...]:
    """The gores beside the opening by name, and the edges that it lies in."""
    if gores.alike:
        return ((gores.shapes[0].name, "seam"),)
    sides = opening_seam(worn, at)[1]
    return tuple((gores.names[index], _edge(gores, index, side)) for index, side in sides)


def gores_met(worn: Sequence[Worn], gores: GoreShapes) -> Iterator[Sewn]:
    """What every side of a gore is sewn to."""
    if gores.alike:
        yield from sides_met(gores.shapes)
        return
    for place, (before, side), (after, other) in seams(worn):
        one, two = gores.names[before], gores.names[after]
        edge, far = _edge(gores, before, side), _edge(gores, after, other)
        if place in MIDDLES:
            alike = f"its like on the other half, {MIDDLES[place]}, notch to notch"
            yield Sewn(one, edge, alike, two, far, alike)
        else:
            yield Sewn(
                one, edge, f"the {two}, notch to notch", two, far, f"the {one}, notch to notch"
            )


def _edge(gores: GoreShapes, index: int, side: str) -> str:
    (shape,) = (shape for shape in gores.shapes if shape.name == gores.names[index])
    edges = shape.edges
    return edges.low if side == "low" else edges.high
