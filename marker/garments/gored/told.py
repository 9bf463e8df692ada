"""What the sheet tells of a gored skirt: finished measures, and what to mind."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from marker.garments.curved.shape import Shape
from marker.garments.gored.gores import Kind
from marker.garments.hips import DEPTH, scant_at_hips
from marker.garments.order import Order
from marker.geometry.shapes import INNER, facing
from marker.record import Item


def gore_advice(
    order: Order,
    found: list[Kind],
    shapes: list[Shape],
    lengths: dict[str, int],
    turn_down: int,
) -> Iterator[str]:
    """What to mind about its hips, the order of its gores and its turn-down."""
    yield from _sewn(order, shapes, _hips(order, found, lengths))
    if turn_down and len(set(lengths.values())) > 1:
        yield f"The waist slopes as it is cut: turn down {order.spell(turn_down)} all round."
    yield from _snipped(order, shapes, turn_down)


def gore_figures(order: Order, found: list[Kind], lengths: dict[str, int]) -> Iterator[Item]:
    """What the gores measure sewn, and all of them at the hips."""
    for kind in found:
        name = kind.name if kind.name == "gore" else f"{kind.name} gore"
        yield Item(f"{name} at the waist", round(kind.top))
        yield Item(f"{name} at the hem", round(kind.hem))
    depth = DEPTH.of(order.system)
    yield Item(f"round, {order.spell(depth)} below the waist", _hips(order, found, lengths))


def _hips(order: Order, found: list[Kind], lengths: dict[str, int]) -> int:
    """What all gores measure at the hips, rounded down: a gore widens evenly from top to hem."""
    part = Fraction(min(DEPTH.of(order.system), min(lengths.values())), max(lengths.values()))
    return int(sum(kind.count * (kind.top + (kind.hem - kind.top) * part) for kind in found))


def _sewn(order: Order, shapes: list[Shape], hips: int) -> Iterator[str]:
    yield from scant_at_hips(order, hips, "give it a wider hem, or gathers at the waist")
    if any(shape.name[-1].isdigit() for shape in shapes):
        yield (
            "Sew gores of one kind in the order of their numbers, from the front to the back, and "
            "each mirrored one on the other side."
        )


def _snipped(order: Order, shapes: list[Shape], depth: int) -> Iterator[str]:
    """How much shorter the edge of a turn-down is than the place that it is turned down to.

    Gores widen downwards, so it lies as far below the fold as it was cut above it.
    """
    if not depth:
        return
    below = sum(s.count * facing(s.outline, "start", depth).edge(INNER).length for s in shapes)
    short = math.ceil(2 * (below - sum(shape.measure("start") for shape in shapes)))
    if short >= order.grid:
        yield (
            f"The edge of the turn-down is {order.spell(short)} shorter than the place it lies on; "
            "let it out at the seams, or snip it."
        )
