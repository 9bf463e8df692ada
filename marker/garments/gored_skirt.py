"""The gored skirt: panels narrower at the waist than at the hem, front, side and back or alike."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from pydantic import Field

from marker.garments.curved_hem import SEAM, Finish, finishes, hemmed
from marker.garments.gore_shapes import Top, gore_shapes
from marker.garments.gores import PLACES, Gore, Gores, Kind, Waistline, half, kinds
from marker.garments.lengths import finished_lengths
from marker.garments.made import Made
from marker.garments.order import Draft, Order, Usual
from marker.garments.registry import garment
from marker.garments.shape import Shape
from marker.garments.words import Size
from marker.garments.worn import (
    Skirted,
    drafted,
    opened,
    opening_made,
    top_figures,
    top_made,
    waist_of,
)
from marker.geometry.shapes import INNER, facing
from marker.record import Item, TurnDown

HIPS = Usual("20 cm", "8 in")
"""How far below the waist the hips are greatest (common practice, no source)."""

STEEPEST = 0.5
"""A waist that slopes more than this, one in two, is a slip in the measures."""


@garment("gored skirt")
class GoredSkirt(Skirted):
    """The keys of a gored skirt; `gores` or the tables of its kinds of gores must be given."""

    gores: Gores = Field(default=Gores(), description="a table for all gores together")
    front: Gore | None = Field(default=None, description="a table for the front gores")
    side: Gore | None = Field(default=None, description="a table for the side gores")
    back: Gore | None = Field(default=None, description="a table for the back gores")
    turn_down: Size | None = Field(
        default=None, description='what is turned down at the waist, such as "3 cm"'
    )

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """One draft for each way to finish the hem; raises `BadInput` naming file and key."""
        return tuple(_draft(self, order, finish) for finish in finishes(order, self))


def _draft(spec: GoredSkirt, order: Order, finish: Finish) -> Draft:
    seam = order.usual(spec.seam, SEAM)
    waist = waist_of(order)
    top = waist + spec.ease + spec.gores.gathers
    tables = {"front": spec.front, "side": spec.side, "back": spec.back}
    found = kinds(order, spec.gores, tables, top)
    lengths = finished_lengths(order, spec.shorter)
    waistline = _waistline(order, lengths, top)
    opening = opened(order, spec, min(lengths.values()))
    at_top = Top(spec.turn_down or seam, bool(spec.turn_down), opening, spec.opening.at)
    gores = gore_shapes(order, half(found), waistline, seam, at_top)
    shapes = [hemmed(shape, finish) for shape in gores]
    rest = top_made(order, spec, waist, seam) + opening_made(order, spec, seam)
    rest += Made(
        figures=(
            *top_figures("waist", waist + spec.ease, top),
            *_figures(order, found, lengths),
        ),
        advice=(
            *_advice(order, shapes, _hips(order, found, lengths)),
            *_snipped(order, shapes, spec.turn_down or 0),
        ),
    )
    return drafted(
        order,
        spec,
        finish,
        "gores",
        shapes,
        rest,
        longest=max(lengths.values()),
        opening=opening,
        turn_downs=_turned(spec, lengths),
    )


def _waistline(order: Order, lengths: dict[str, int], top: int) -> Waistline:
    """The waist over the wearer's lengths, unless it would slope too steeply to be cut."""
    waistline = Waistline(**lengths)
    if waistline.steepest(top) > STEEPEST:
        told = ", ".join(order.spell(lengths[place]) for place in PLACES)
        raise order.fault(
            f"gores: the wearer's lengths of {told} at front, side and back are too far apart "
            f"for a waist of {order.spell(top)}; give lengths nearer to each other"
        )
    return waistline


def _turned(spec: GoredSkirt, lengths: dict[str, int]) -> tuple[TurnDown, ...]:
    """The turn-down, which is as deep all round: the waist itself slopes where lengths differ."""
    if not spec.turn_down:
        return ()
    if len(set(lengths.values())) == 1:
        return (TurnDown("all round", lengths["front"], spec.turn_down),)
    return tuple(TurnDown(place, lengths[place], spec.turn_down) for place in PLACES)


def _figures(order: Order, found: list[Kind], lengths: dict[str, int]) -> Iterator[Item]:
    """What the gores measure sewn, and all of them at the hips."""
    for kind in found:
        name = kind.name if kind.name == "gore" else f"{kind.name} gore"
        yield Item(f"{name} at the waist", round(kind.top))
        yield Item(f"{name} at the hem", round(kind.hem))
    depth = HIPS.of(order.system)
    yield Item(f"round, {order.spell(depth)} below the waist", _hips(order, found, lengths))


def _hips(order: Order, found: list[Kind], lengths: dict[str, int]) -> int:
    """What all gores measure at the hips, rounded down: a gore widens evenly from top to hem."""
    part = Fraction(min(HIPS.of(order.system), min(lengths.values())), max(lengths.values()))
    return int(sum(kind.count * (kind.top + (kind.hem - kind.top) * part) for kind in found))


def _advice(order: Order, shapes: list[Shape], hips: int) -> Iterator[str]:
    wearer = order.wearer.measures.get("hip", 0)
    if hips < wearer:
        yield (
            f"The skirt measures {order.spell(hips)} round at the hips, less than the wearer's "
            f"{order.spell(wearer)}; give it a wider hem, or gathers at the waist."
        )
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
