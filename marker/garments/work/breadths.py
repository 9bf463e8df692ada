"""The whole order of work of breadths that hang from the waist, stage by stage."""

from __future__ import annotations

from collections.abc import Sequence

from marker.garments.lengths import Levels
from marker.garments.made import Made
from marker.garments.opening import Opening
from marker.garments.order import Order
from marker.garments.panel import line_of
from marker.garments.work.bands import Held, band_marked, band_met, band_sewn, tape_met, tape_sewn
from marker.garments.work.chalk import (
    inset,
    opening_ends,
    opening_marked,
    panels_marked,
    quarters_marked,
)
from marker.garments.work.finish import closed, last
from marker.garments.work.hems import Rim
from marker.garments.work.job import Job, Sewn
from marker.garments.work.openings import opening_finished
from marker.garments.work.seams import Round, joined, sides_met
from marker.garments.work.tops import cased, pleated, stitched, turned_down, uneven
from marker.piece import Piece
from marker.record import Method, Pleating

STITCHED = ("fold of the turn-down", "gathering line")
"""The lines of tops whose quarter points lie a quarter of the cloth apart."""


def breadths_worked(
    order: Order,
    panels: Sequence[Piece],
    levels: Levels,
    lines: tuple[str, str],
    opening: Opening | None,
    long: int,
    placket: tuple[Piece, ...],
) -> Made:
    """Breadths marked and joined, their opening `long` and finished.

    `lines` are what is chalked at the top and at the lower edge.
    """
    top, hem = lines
    count = sum(piece.count for piece in panels)
    jobs = [*panels_marked(order, panels, top if levels.level else "", hem=hem)]
    if opening:
        jobs += [*opening_marked(order, panels, long)]
    if opening and top in STITCHED:
        jobs += [*quarters_marked(order, panels, count, opening.at)]
    names = tuple(piece.name for piece in panels)
    tube = Round(
        names,
        count,
        inset(panels[0], "low", "seam"),
        next(iter(opening_ends(panels).values()), 0),
        matched=any(piece.matches for piece in panels),
    )
    jobs += joined(order, tube)
    made = Made(work=tuple(jobs), sewn=tuple(sides_met(panels)))
    return made + opening_finished(order, _beside(panels), placket) if opening else made


def _beside(panels: Sequence[Piece]) -> list[tuple[str, str]]:
    """The pieces and edges beside the opening: of alike panels any seam may be it."""
    if len(panels) == 1:
        return [(panels[0].name, "seam")]
    return [(piece.name, "opening") for piece in panels if "opening" in piece.edges.named]


def drawn_into_band(
    order: Order, panels: Sequence[Piece], levels: Levels, pleating: Pleating, held: Held
) -> Made:
    """The top drawn up, sewn to its band, and finished."""
    return Made(
        work=(
            *band_marked(order, held),
            *_drawn(order, panels, levels, pleating, held.drawn),
            *band_sewn(order, held),
            *closed(order, held.notions, (held.drawn, held.underlap), held.names),
            *last("the hem and the band", pleating.method),
        ),
        sewn=tuple(band_met(held)),
    )


def cased_top(
    order: Order,
    panels: Sequence[Piece],
    levels: Levels,
    sizes: tuple[int, int],
    string: tuple[int, int],
    *,
    opening: bool,
) -> Made:
    """A top on a string; `sizes` are the casing's depth and what is turned in above it, `string`
    the string's length and what the top is drawn into."""
    return Made(
        work=(
            *cased(order, panels, levels, sizes, string, opening=opening),
            *last("the hem and the seams"),
        ),
        sewn=tuple(
            Sewn(piece.name, "waist", f"itself, turned down as a casing of {order.spell(sizes[0])}")
            for piece in panels
        ),
    )


def drawn_on_tape(
    order: Order,
    panels: Sequence[Piece],
    levels: Levels,
    pleating: Pleating,
    lengths: tuple[int, int],
) -> Made:
    """The top drawn up and sewn to a tape; `lengths` are the drawn one and that of a tie."""
    rim = Rim(tuple(piece.name for piece in panels), "waist")
    whipped = pleating.method is Method.GAUGED
    return Made(
        work=(
            *_drawn(order, panels, levels, pleating, lengths[0]),
            *tape_sewn(order, rim, lengths, line_of(pleating.method), whipped=whipped),
            *last("the hem", pleating.method),
        ),
        sewn=tuple(tape_met(rim)),
    )


def _drawn(
    order: Order, panels: Sequence[Piece], levels: Levels, pleating: Pleating, drawn: int
) -> tuple[Job, ...]:
    names = tuple(piece.name for piece in panels)
    method = pleating.method
    if method is Method.GAUGED:
        first = turned_down(order, panels, levels)
    else:
        first = uneven(order, panels, levels, line_of(method), levels.top)
    if method.stitched:
        return (*first, *stitched(order, names, pleating, drawn))
    count = sum(piece.count for piece in panels)
    around = sum(
        piece.count * (piece.breadth - 2 * inset(piece, "low", "seam")) for piece in panels
    )
    return (*first, *pleated(order, names, pleating, (around, drawn, count)))
