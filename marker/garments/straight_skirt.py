"""The straight skirt: breadths of cloth sewn into a tube and drawn up at the waist."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from pydantic import Field

from marker.cloth import Cloth
from marker.garments.advice import rounding_advice, skirt_advice
from marker.garments.allowance import allowance_advice
from marker.garments.facing import Facing, facing_advice, facing_piece
from marker.garments.lengths import Levels, finished_lengths
from marker.garments.matching import matching, matching_advice
from marker.garments.opening import LENGTH, Opening, opening_marks, placket_pieces
from marker.garments.order import Draft, Flex, Order, Spec, Usual
from marker.garments.panel import Panels, Tube, hem_mark, panel_pieces, top_marks
from marker.garments.registry import garment
from marker.garments.tubes import tubes
from marker.garments.waist import Band, Tape, band_pieces, tape_item
from marker.garments.words import Length, Size, Strict
from marker.piece import Piece
from marker.record import Garment, Item

SEAM = Usual("1 cm", "1/2 in")
TURN_DOWN = Usual("6 cm", "2 1/2 in")
OWN_HEM = Usual("5 cm", "2 in")
LAP = Usual("2 cm", "1 in")


class Binding(Strict):
    """The keys of a binding that covers the hem edge, bought by length."""

    lap: Length | None = Field(default=None, description='how far its ends lap, such as "2 cm"')
    width: Size | None = Field(default=None, description='the width to ask for, such as "2 cm"')


@garment("straight skirt")
class StraightSkirt(Spec):
    """The keys of a straight skirt; `panels` alone must be given."""

    panels: Panels = Field(description='a table of panels, such as count = 3 and width = "full"')
    top: Literal["gauged", "stroke gathered"] = Field(
        default="gauged", description="how the top is drawn up"
    )
    turn_down: Size | None = Field(
        default=None, description='the turn-down where the skirt is longest, such as "6 cm"'
    )
    seam: Size | None = Field(default=None, description='the seam allowance, such as "1 cm"')
    shorter: Length = Field(
        default=0, description="how much shorter than the wearer's lengths it is"
    )
    hem: Literal["own hem", "facing", "none"] | None = Field(
        default=None, description="how the hem is finished"
    )
    take_up: Length | None = Field(
        default=None, description='what the hem takes of the length, such as "5 cm"'
    )
    selvedge_shows: bool = Field(
        default=False, description="true where kept selvedges are wanted as finished edges"
    )
    facing: Facing | None = Field(default=None, description="a table for the facing")
    band: Band | None = Field(default=None, description="a table for the waistband")
    tape: Tape | None = Field(default=None, description="a table for the waist tape")
    opening: Opening = Field(default=Opening(), description="a table for the opening")
    binding: Binding | None = Field(default=None, description="a table for the hem's binding")

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """One draft for each way the panels may lie; raises `BadInput` naming file and key."""
        _agree(self, order)
        skirt = _measure(self, order)
        found, bar = tubes(order, self.panels, skirt.cloth, skirt.levels, skirt.seam)
        return tuple(_drafted(self, order, skirt, tube, bar) for tube in found)


@dataclass(frozen=True)
class _Skirt:
    """What holds for every way of cutting it: cloth, drawn length, levels and seam allowance."""

    cloth: Cloth
    waist: int
    drawn: int
    levels: Levels
    seam: int
    facing: Facing | None


def _agree(spec: StraightSkirt, order: Order) -> None:
    """Refuse keys that contradict each other."""
    if spec.band and spec.tape:
        raise order.fault("band and tape are both given, and a skirt has one; take one out")
    if spec.facing and spec.hem not in (None, "facing"):
        raise order.fault(f'hem is "{spec.hem}", but there is a facing too; take one out')
    if spec.top == "stroke gathered" and spec.turn_down is not None:
        raise order.fault("turn_down is given, but a stroke gathered top has none; take it out")
    if spec.hem == "none" and spec.take_up:
        raise order.fault('take_up is given, but hem is "none"; take one out')


def _measure(spec: StraightSkirt, order: Order) -> _Skirt:
    seam = order.usual(spec.seam, SEAM)
    waist = order.measure("waist", 'the girth at the waist, such as "70 cm"')
    facing = spec.facing or (Facing() if spec.hem == "facing" else None)
    if facing:
        take_up = seam if spec.take_up is None else spec.take_up
    else:
        take_up = 0 if spec.hem == "none" else order.usual(spec.take_up, OWN_HEM)
    top = order.usual(spec.turn_down, TURN_DOWN) if spec.top == "gauged" else seam
    levels = Levels(finished_lengths(order, spec.shorter), top, take_up)
    ease = spec.tape.ease if spec.tape else (spec.band or Band()).ease
    cloth = order.cloth("cloth", spec.cloth)
    return _Skirt(cloth, waist, waist + ease, levels, seam, facing)


def _drafted(spec: StraightSkirt, order: Order, skirt: _Skirt, tube: Tube, bar: str) -> Draft:
    """The draft of one tube; where its width is open, at the least, and able to flex.

    The widest is drafted too, so that what can't be drafted is refused before any search.
    """
    draft = _at_width(spec, order, skirt, tube, bar)
    if not tube.most:
        return draft

    def at(width: int) -> Draft:
        return _at_width(spec, order, skirt, replace(tube, width=width), bar)

    at(tube.most)
    return replace(draft, flex=Flex(tube.width, tube.most, order.grid, at))


def _at_width(spec: StraightSkirt, order: Order, skirt: _Skirt, tube: Tube, bar: str) -> Draft:
    """The whole garment at the tube's width: all that follows the round hem follows it."""
    if tube.round < skirt.drawn:
        raise order.fault(
            f"panels go {order.spell(tube.round)} round, less than the "
            f"{order.spell(skirt.drawn)} they are drawn into; give more panels or wider ones"
        )
    pieces = _panels(spec, order, skirt, tube)
    asked = spec.panels.lie == "either"
    advice = [f"The panels can't be railroaded: {bar}."] if asked and bar else []
    advice += matching_advice(order, spec.panels, tube, skirt.cloth)
    if skirt.facing:
        facing = facing_piece(order, skirt.facing, tube, skirt.levels.cut_length)
        pieces.append(facing)
        advice += facing_advice(order, skirt.facing, facing, tube)
    if not spec.tape:
        pieces += band_pieces(order, spec.band or Band(), skirt.waist, skirt.seam)
    pieces += placket_pieces(order, spec.opening, skirt.seam)
    for piece in pieces:
        for key in (piece.cloth, *piece.also):
            _selvedges_fit(order, order.cloths[key], skirt.seam, spec.selvedge_shows)
    told = Garment(
        key=order.key,
        name=order.name,
        wearer=order.wearer.name,
        panels=tube.panels,
        cut_length=skirt.levels.cut_length,
        round_hem=tube.round,
        drawn=skirt.drawn,
        opening=order.usual(spec.opening.length, LENGTH),
        turn_downs=skirt.levels.table() if spec.top == "gauged" else (),
        notions=_notions(spec, order, skirt, tube),
        advice=(
            *skirt_advice(order, spec.opening, skirt.levels, tube, spec.top == "gauged"),
            *advice,
            *allowance_advice(order, pieces),
            *rounding_advice(order, pieces),
        ),
    )
    way = "panels railroaded" if tube.railroaded else "panels along the bolt"
    return Draft(tuple(pieces), told, way)


def _panels(spec: StraightSkirt, order: Order, skirt: _Skirt, tube: Tube) -> list[Piece]:
    levels, cloth = skirt.levels, skirt.cloth
    return panel_pieces(
        order,
        spec.panels,
        tube,
        cloth,
        levels,
        (*top_marks(tube, levels, spec.top == "gauged"), *hem_mark(tube, levels)),
        opening_marks(order, spec.opening, tube, levels),
        matching(order, spec.panels, tube, cloth, levels.cut_length),
    )


def _notions(spec: StraightSkirt, order: Order, skirt: _Skirt, tube: Tube) -> tuple[Item, ...]:
    """Binding = C + lap; tape = drawn length + 2 x tie."""
    items = []
    if spec.tape:
        items.append(tape_item(order, spec.tape, skirt.drawn))
    if spec.binding:
        width = f", {order.spell(spec.binding.width)} wide" if spec.binding.width else ""
        lap = order.usual(spec.binding.lap, LAP)
        items.append(Item(f"hem binding{width}", tube.round + lap))
    return tuple(items)


def _selvedges_fit(order: Order, cloth: Cloth, seam: int, shows: bool) -> None:
    """Kept selvedges must vanish in the seams, unless they are wanted as finished edges."""
    if cloth.keep_selvedges and cloth.selvedge > seam and not shows:
        raise order.fault(
            f"seam is {order.spell(seam)}, but the cloth {cloth.key!r} keeps selvedges of "
            f"{order.spell(cloth.selvedge)}, which would show; give a wider seam, "
            f'selvedges = "trimmed", or selvedge_shows = true'
        )
