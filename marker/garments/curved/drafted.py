"""What every curved garment is made up with: a top, an opening, and the draft of it all."""

from __future__ import annotations

import math
from collections.abc import Sequence

from pydantic import Field

from marker.garments.closing import Closed, band_notions, no_band
from marker.garments.curved.hem import Finish, Hemmed, hem_finish
from marker.garments.curved.match import curves_matched, unmatched
from marker.garments.curved.shape import Shape, shape_piece
from marker.garments.hips import tight_opening
from marker.garments.made import Made
from marker.garments.opening import LENGTH, Opening, placket_pieces, short_opening
from marker.garments.order import Draft, Order
from marker.garments.told import garment_told
from marker.garments.waist import TIE, UNDERLAP, Band, Tape, band_pieces, held_by, tape_item
from marker.garments.words import Length
from marker.garments.work.curves import Curved, into_band, onto_tape
from marker.garments.work.job import in_order
from marker.garments.work.openings import opening_finished
from marker.record import Item, TurnDown

NOTHING = Made()
FINISHED = ("start", "end", "low", "high")


class Topped(Hemmed, Closed):
    """The keys of a garment with a curved hem that is held by a band or a tape."""

    band: Band | None = Field(default=None, description="a table for the band")
    tape: Tape | None = Field(default=None, description="a table for the tape")

    @property
    def ease(self) -> int:
        """What is added to the measure of the waist or the neck."""
        return self.tape.ease if self.tape else (self.band or Band()).ease


class Skirted(Topped):
    """The keys of a skirt with a curved hem, beside its own."""

    shorter: Length = Field(
        default=0, description="how much shorter than the wearer's lengths it is"
    )
    longer: Length = Field(default=0, description="how much longer than the wearer's lengths it is")
    opening: Opening = Field(default=Opening(), description="a table for the opening")


def top_made(order: Order, spec: Topped, girth: int, seam: int, curved: Curved) -> Made:
    """The band round a measure, or the tape that is bought in its place, and how it is sewn."""
    if spec.band and spec.tape:
        raise order.fault("band and tape are both given, and one holds it; take one out")
    if spec.tape:
        no_band(order, spec, "tape")
        tape = Made(notions=(tape_item(order, spec.tape, girth + spec.tape.ease),))
        return tape + onto_tape(order, curved, order.usual(spec.tape.tie, TIE))
    band = spec.band or Band()
    made = Made(
        band_pieces(order, band, girth, seam),
        band_notions(order, spec, band, girth),
    )
    held = held_by(
        order,
        band,
        made.pieces,
        curved.rim,
        curved.drawn,
        curved.whose,
        whipped=curved.turned,
        opening=curved.top == "waist",
        notions=made.notions,
    )
    return made + into_band(order, curved, held)


def top_figures(where: str, girth: int, top: int) -> tuple[Item, ...]:
    """What the garment measures round the waist or the neck, and the top that is gathered to it.

    The sheet's fulness compares the hem with what it is drawn into, which a flared garment isn't.
    """
    found = (Item(f"round the {where}", girth),)
    return (*found, Item("top, gathered into it", top)) if top > girth else found


def opening_made(
    order: Order, spec: Skirted, waist: int, seam: int, where: Sequence[tuple[str, str]]
) -> Made:
    """The placket of the opening, and what to mind about its length.

    `where` names the pieces beside the opening, and their edges.
    """
    pieces = placket_pieces(order, spec.opening, seam)
    lap = 0 if spec.tape else order.usual((spec.band or Band()).underlap, UNDERLAP)
    long = order.usual(spec.opening.length, LENGTH)
    tight = tight_opening(order, waist + spec.ease + lap, long)
    made = Made(pieces, advice=(*short_opening(order, spec.opening), *tight))
    return made + opening_finished(order, where, pieces)


def drafted(
    order: Order,
    spec: Hemmed,
    finish: Finish,
    part: str,
    shapes: Sequence[Shape],
    rest: Made,
    longest: int,
    way: Sequence[str] = (),
    opening: int = 0,
    turn_downs: tuple[TurnDown, ...] = (),
    before: Made = NOTHING,
) -> Draft:
    """The draft of a garment of shapes, `rest` and the finish of its hem.

    `before` holds the work that comes before the hem, and what the sides of the shapes meet.

    `part` is the table that the shapes come from, for messages; `longest` is the finished
    length where it is greatest, `way` says how this draft differs from others beside its hem,
    and the rest goes to the sheet.
    """
    cloth = order.cloth("cloth", None)
    matched = curves_matched(order, spec.match, shapes, cloth)
    panels = tuple(shape_piece(order, part, shape, (cloth,)) for shape in matched)
    made = Made(panels) + before + hem_finish(order, finish, shapes, before.sewn) + rest
    least = min(shape.added.get(edge, 0) for shape in shapes for edge in FINISHED)
    for piece in made.pieces:
        for key in (piece.cloth, *piece.also):
            _no_selvedge(order, key, least)
    made += Made(advice=tuple(unmatched(order, spec.match, part, shapes, cloth)))
    told = garment_told(
        order,
        made,
        panels=sum(shape.count for shape in shapes),
        cut_length=longest + max(s.added["start"] + s.added["end"] for s in shapes),
        round_hem=round(math.fsum(shape.measure("end") for shape in shapes)),
        opening=opening,
        turn_downs=turn_downs,
    )
    said = ", ".join(filter(None, (*way, finish.way)))
    return Draft(made.pieces, told, said, work=in_order(made.work), sewn=made.sewn)


def _no_selvedge(order: Order, key: str, least: int) -> None:
    """Refuse kept selvedges that could come to lie further in than the narrowest allowance."""
    cloth = order.cloths[key]
    if cloth.keep_selvedges and cloth.selvedge > least:
        raise order.fault(
            f"cloth {key!r} keeps selvedges of {order.spell(cloth.selvedge)}, which could show "
            f"in a piece whose edges have {order.spell(least)} to spare; write selvedges = "
            '"trimmed"'
        )
