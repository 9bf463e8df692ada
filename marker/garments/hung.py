"""Breadths sewn into a tube that hangs from the waist: what skirts and petticoats share."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from pydantic import Field

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.closing import Closed
from marker.garments.gauged import Gauging
from marker.garments.hips import hips
from marker.garments.lengths import Levels
from marker.garments.lower import (
    ON,
    Below,
    Finish,
    Lower,
    below,
    finished,
    finishes,
    lower_edge,
    lower_marks,
)
from marker.garments.made import Made
from marker.garments.matching import matching, matching_advice
from marker.garments.numbers import left_out, none_left, way_of
from marker.garments.opening import LENGTH, Opening, opening_marks, placket_pieces
from marker.garments.order import SEAM, Draft, Flex, Order, Spec
from marker.garments.panel import Panels, Tube, panel_pieces
from marker.garments.panel_cloths import common, panel_cloths
from marker.garments.pleats import Pleats
from marker.garments.told import garment_told
from marker.garments.tubes import tubes
from marker.garments.words import Size
from marker.garments.work.breadths import breadths_worked
from marker.garments.work.chalk import quarter_marks
from marker.garments.work.job import in_order
from marker.piece import Mark, Piece
from marker.record import Notion, Pleating


class Hung(Spec, Lower, Closed):
    """The keys of a garment of breadths; `panels` alone must be given."""

    several: ClassVar[bool] = True
    panels: Panels = Field(description='a table of panels, such as count = 3 and width = "full"')
    seam: Size | None = Field(default=None, description='the seam allowance, such as "1 cm"')
    gauging: Gauging | None = Field(
        default=None, description="a table of the stitches it is drawn up by, such as stitch"
    )
    pleats: Pleats | None = Field(
        default=None, description="a table of the pleats it is folded into, such as width"
    )
    selvedge_shows: bool = Field(
        default=False, description="true where kept selvedges are wanted as finished edges"
    )


@dataclass(frozen=True)
class Top:
    """What the breadths hang from: they are drawn into `drawn`, and their top takes `takes`.

    `turned` where the top is turned down, so that the sheet tells how deep. `opening` is none
    where there is none. `marks` draws the top of a panel, `advice` says what to mind, and
    `pleating` how a tube is drawn up, none where a string does it. `line` is what is chalked at
    the top of the panels, and `worked` tells how it is made up, from the panels as they are cut.
    """

    takes: int
    drawn: int
    turned: bool
    opening: Opening | None
    marks: Callable[[Tube, Levels], Sequence[Mark]]
    advice: Callable[[Tube, Levels], Sequence[str]]
    pleating: Callable[[Tube], Pleating | None]
    line: str
    worked: Callable[[Tube, Levels, Sequence[Piece]], Made]
    pieces: tuple[Piece, ...] = ()
    notions: tuple[Notion, ...] = ()
    passes: int = 0


PLAIN = Finish("", None, ())
HEM_LINES = {"hem": "hem line", ON: ON}
"""What the line above the lower edge is called."""


@dataclass(frozen=True)
class _Made:
    """What holds at every width of the panels; `bar` is why they can't be railroaded.

    `numbered` where their number is open too.
    """

    order: Order
    spec: Hung
    top: Top
    cloths: tuple[Cloth, ...]
    seam: int
    below: Below
    slit: int
    numbered: bool
    bar: str = ""
    finish: Finish = PLAIN


def hung(order: Order, spec: Hung, top: Top) -> tuple[Draft, ...]:
    """One draft for each number of panels, each way they may lie and each finish of the hem.

    Numbers of panels that can't be had are left out. Raises `BadInput` naming file and key.
    """
    seam = order.usual(spec.seam, SEAM)
    slit = order.usual(top.opening.length, LENGTH) if top.opening else 0
    cloths = panel_cloths(order, spec.panels)
    found = below(order, spec, seam, top.takes, slit)
    numbered = isinstance(spec.panels.count, range)
    made = _Made(order, spec, top, cloths, seam, found, slit, numbered)
    drafts: list[Draft] = []
    faults: dict[tuple[int, str], BadInput] = {}
    seen: set[Tube] = set()
    if not numbered:
        return tuple(_each(made, seen))
    # Each way they may lie by itself, so that what bars one of them is told of every number.
    for count, lie, panels in spec.panels.each:
        try:
            drafts += _each(replace(made, spec=spec.model_copy(update={"panels": panels})), seen)
        except BadInput as fault:
            faults[count, lie] = fault
    if not drafts:
        raise none_left(faults)
    return left_out(order, drafts, faults)


def _each(made: _Made, seen: set[Tube]) -> list[Draft]:
    """The drafts of one number of panels, but for tubes that were `seen` with another."""
    cloth = common(made.cloths, made.spec.panels.torn)
    every, bar = tubes(made.order, made.spec.panels, cloth, made.below.levels, made.seam)
    fresh = [tube for tube in every if tube not in seen]
    drafts = [
        _drafted(replace(made, bar=bar, finish=finish), tube)
        for tube in fresh
        for finish in finishes(made.spec, made.below)
    ]
    seen.update(fresh)
    return drafts


def _drafted(made: _Made, tube: Tube) -> Draft:
    """The draft of one tube; where its width is open, at the least, and able to flex.

    The widest is drafted too, so that what can't be drafted is refused before any search.
    """
    draft = _at_width(made, tube)
    if not tube.most:
        return draft

    def at(width: int) -> Draft:
        return _at_width(made, replace(tube, width=width))

    at(tube.most)
    return replace(draft, flex=Flex(tube.width, tube.most, made.order.grid, at))


def _at_width(made: _Made, tube: Tube) -> Draft:
    """The whole garment at the tube's width: all that follows the round hem follows it."""
    order, spec, top, levels = made.order, made.spec, made.top, made.below.levels
    if tube.round < top.drawn:
        raise order.fault(
            f"panels go {order.spell(tube.round)} round, less than the "
            f"{order.spell(top.drawn)} they are drawn into; give more panels or wider ones"
        )
    if tube.round < top.passes:
        raise order.fault(
            f"opening is missing, and the top is {order.spell(tube.round)} round, which doesn't "
            f"pass over hips of {order.spell(top.passes)}; give an opening, or wider panels"
        )
    cut = tuple(_panels(made, tube))
    hemmed = finished(order, spec, made.below, tube, made.finish, cut)
    panels = Made(
        cut,
        top.notions,
        advice=(
            *_hips_advice(order, tube),
            *top.advice(tube, levels),
            *_lie_advice(spec, made.bar),
            *matching_advice(order, spec.panels, tube, made.cloths[0]),
        ),
    )
    placket = placket_pieces(order, top.opening, made.seam) if top.opening else ()
    lines = top.line, HEM_LINES.get(lower_edge(spec), "") if levels.take_up else ""
    worked = breadths_worked(order, cut, levels, lines, top.opening, made.slit, placket)
    whole = panels + worked + hemmed + Made((*top.pieces, *placket))
    whole += top.worked(tube, levels, cut)
    if not spec.selvedge_shows:
        selvedges_fit(order, whole.pieces, made.seam, "selvedge_shows = true")
    told = garment_told(
        order,
        whole,
        panels=tube.panels,
        cut_length=levels.cut_length,
        round_hem=tube.round,
        drawn=top.drawn,
        opening=made.slit,
        turn_downs=levels.table() if top.turned else (),
        pleating=top.pleating(tube),
    )
    way = way_of(spec.panels, tube, numbered=made.numbered)
    said = ", ".join((way, *made.finish.way))
    return Draft(whole.pieces, told, said, work=in_order(whole.work), sewn=whole.sewn)


def _hips_advice(order: Order, tube: Tube) -> tuple[str, ...]:
    """Say where the cloth goes less far round than the wearer's hips."""
    hip = hips(order)
    if tube.round >= hip:
        return ()
    return (
        f"The panels go {order.spell(tube.round)} round, less than hips of {order.spell(hip)}: "
        "it can't be worn so; give more panels or wider ones.",
    )


def _lie_advice(spec: Hung, bar: str) -> tuple[str, ...]:
    asked = spec.panels.lie == "either"
    return (f"The panels can't be railroaded: {bar}.",) if asked and bar else ()


def _panels(made: _Made, tube: Tube) -> list[Piece]:
    order, spec, top, levels = made.order, made.spec, made.top, made.below.levels
    pieces = panel_pieces(
        order,
        spec.panels,
        tube,
        made.cloths,
        levels,
        (*top.marks(tube, levels), *lower_marks(spec, made.below, tube)),
        opening_marks(order, top.opening, tube, levels) if top.opening else None,
        _quarter_marks(tube, levels, top.pleating(tube)),
        matching(order, spec.panels, tube, made.cloths[0], levels.cut_length),
    )
    end = lower_edge(spec)
    return [replace(piece, edges=replace(piece.edges, end=end)) for piece in pieces]


def _quarter_marks(
    tube: Tube, levels: Levels, pleating: Pleating | None
) -> tuple[tuple[int, Mark], ...]:
    """The quarter points of a stitched top; pressed pleats have theirs once they are folded."""
    if pleating is None or not (pleating.opening_at and pleating.method.stitched):
        return ()
    deepest = max(levels.depth(place) for place in levels.finished)
    return quarter_marks(tube.panels, tube.pitch, tube.seam, deepest)


def selvedges_fit(order: Order, pieces: Sequence[Piece], seam: int, *more: str) -> None:
    """Kept selvedges must vanish in the seams; `more` are further remedies where they don't."""
    ways = ("a wider seam", 'selvedges = "trimmed"', *more)
    for key in dict.fromkeys(key for piece in pieces for key in (piece.cloth, *piece.also)):
        cloth = order.cloths[key]
        if cloth.keep_selvedges and cloth.selvedge > seam:
            raise order.fault(
                f"seam is {order.spell(seam)}, but the cloth {cloth.key!r} keeps selvedges of "
                f"{order.spell(cloth.selvedge)}, which would show; give "
                f"{', '.join(ways[:-1])}, or {ways[-1]}"
            )
