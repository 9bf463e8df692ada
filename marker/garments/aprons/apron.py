"""The apron: one breadth or more, gathered into a band with ties, with a pocket or a bib."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field

from marker.cloth import Cloth
from marker.garments.allowance import full_breadth
from marker.garments.aprons.bib import Bib, bib_pieces
from marker.garments.aprons.panels import Breadths, apron_panels
from marker.garments.aprons.pocket import Pocket, pocket_piece
from marker.garments.aprons.ties import BAND, TIE, Band, Ties, tied
from marker.garments.binding import Binding, binding_made
from marker.garments.hung import selvedges_fit
from marker.garments.lengths import finished_lengths
from marker.garments.made import Made
from marker.garments.order import SEAM, Draft, Order, Spec, Usual
from marker.garments.registry import garment
from marker.garments.told import garment_told
from marker.garments.tucks import Tucks, tucked, tucks_made
from marker.garments.waist import WAIST
from marker.garments.words import Length, Size, Strict, Width
from marker.garments.work.aprons import (
    Breadth,
    Tied,
    bib_worked,
    breadths_worked,
    pockets_worked,
    tied_worked,
)
from marker.garments.work.chalk import inset
from marker.garments.work.hems import Rim
from marker.garments.work.job import Sewn, in_order
from marker.piece import Piece
from marker.record import Item
from marker.units import ceil_to

HEM = Usual("5 cm", "2 in")
NARROW = Usual("1.5 cm", "5/8 in")
RADIUS = Usual("12 cm", "5 in")
MOST = 20


class Panels(Strict):
    """The keys of an apron's breadths; all have a usual value."""

    count: int = Field(default=1, ge=1, le=MOST, description=f"how many, from 1 to {MOST}")
    width: Width = Field(
        default="full", description='the cut width of one, such as "80 cm", or "full"'
    )
    torn: bool = Field(default=True, description="false where no edge of them may be torn")


@garment("apron")
class Apron(Spec):
    """The keys of an apron; all have a usual value."""

    panels: Panels = Field(default=Panels(), description="a table for the breadths")
    length: Size | None = Field(
        default=None, description='the finished length below the band, such as "70 cm"'
    )
    shorter: Length | None = Field(
        default=None, description="how much shorter than the wearer's lengths it is"
    )
    drawn: Size | None = Field(
        default=None, description='what it is gathered into, such as "40 cm"'
    )
    seam: Size | None = Field(default=None, description='the seam allowance, such as "1 cm"')
    take_up: Length | None = Field(
        default=None, description='what the hem takes of the length, such as "5 cm"'
    )
    sides: Length | None = Field(
        default=None, description='what the hem at either side takes, such as "1.5 cm"'
    )
    corners: Literal["square", "round"] = Field(
        default="square", description="the shape of its lower corners"
    )
    radius: Size | None = Field(
        default=None, description='the radius of round corners, such as "12 cm"'
    )
    tucks: Tucks | None = Field(default=None, description="a table for tucks above the hem")
    binding: Binding | None = Field(
        default=None, description="a table for a binding of the sides and the hem"
    )
    band: Band = Field(default=Band(), description="a table for the band")
    ties: Ties = Field(default=Ties(), description="a table for the ties")
    pocket: Pocket | None = Field(default=None, description="a table for a pocket")
    bib: Bib | None = Field(default=None, description="a table for a bib")

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """One draft for each way its binding may be cut; raises `BadInput` naming the key."""
        _agree(self, order)
        bindings = self.binding.each() if self.binding else (None,)
        return tuple(_drafted(self, order, binding) for binding in bindings)


def _agree(spec: Apron, order: Order) -> None:
    """Refuse keys that contradict each other."""
    if spec.length is not None and spec.shorter is not None:
        raise order.fault("length and shorter are both given; take one out")
    rounded = spec.corners == "round"
    if not rounded and spec.radius is not None:
        raise order.fault('radius is for round corners; write corners = "round", or take it out')
    if rounded and spec.tucks:
        raise order.fault(
            "tucks are given, and would run into the round corners; write "
            'corners = "square", or take them out'
        )
    if rounded and (spec.take_up or 0) >= order.usual(spec.radius, RADIUS):
        raise order.fault(
            f"take_up is {order.spell(spec.take_up or 0)}, as much as the radius of the corners; "
            "give a narrower hem, or a greater radius"
        )
    if rounded and spec.sides is not None and spec.sides != spec.take_up:
        raise order.fault(
            f"sides is {order.spell(spec.sides)}, but one hem goes round the corners; take it "
            "out, and give take_up for all of it"
        )
    for key in ("take_up", "sides"):
        if spec.binding and getattr(spec, key):
            raise order.fault(f"{key} is given, but a binding covers the edge; take one out")


def _sizes(spec: Apron, order: Order, cloth: Cloth) -> Breadths:
    """The breadths' sizes; raises `BadInput` where the cloth is too narrow for them."""
    full = full_breadth(cloth, spec.panels.torn)
    width = full if spec.panels.width == "full" else int(spec.panels.width)
    if width > full:
        raise order.fault(
            f"panels.width is {order.spell(width)}, wider than the {order.spell(full)} that the "
            f'cloth {cloth.key!r} gives; give a smaller width, or "full"'
        )
    length = spec.length or max(finished_lengths(order, spec.shorter or 0).values())
    rounded, whole = spec.corners == "round", width == full and cloth.keep_selvedges
    take_up = order.usual(spec.take_up, NARROW if rounded else HEM)
    if rounded:
        sides = take_up
    else:
        sides = 0 if whole and spec.sides is None else order.usual(spec.sides, NARROW)
    bound = spec.binding is not None
    return Breadths(
        length=length,
        width=width,
        count=spec.panels.count,
        seam=order.usual(spec.seam, SEAM),
        take_up=0 if bound else take_up,
        sides=0 if bound else sides,
        tucked=tucked(order, "tucks", spec.tucks, length),
        radius=order.usual(spec.radius, RADIUS) if rounded else 0,
        torn=spec.panels.torn,
    )


def _drafted(spec: Apron, order: Order, binding: Binding | None) -> Draft:
    sizes = _sizes(spec, order, order.cloth("cloth", None))
    half = ceil_to(-(-order.measure(*WAIST) // 2), order.grid) if spec.drawn is None else 0
    drawn = spec.drawn or half
    if sizes.across < drawn:
        raise order.fault(
            f"panels are {order.spell(max(sizes.across, 0))} wide when they are hemmed, less than "
            f"the {order.spell(drawn)} they are drawn into; give more or wider ones, or a smaller "
            "drawn"
        )
    made = _made(spec, order, sizes, drawn)
    if binding:
        panels = [piece for piece in made.pieces if piece.edges.end == "hem"]
        rim = Rim(tuple(piece.name for piece in panels), "hem")
        made += binding_made(order, binding, sizes.edge, rim, ring=False)
        sides = (piece.name for piece in panels if "side" in piece.edges.named)
        made += Made(sewn=tuple(Sewn(name, "side", "the binding, going up it") for name in sides))
    if sizes.count > 1:
        selvedges_fit(order, made.pieces, sizes.seam)
    told = garment_told(
        order,
        made,
        panels=sizes.count,
        cut_length=sizes.cut_length,
        round_hem=sizes.across,
        drawn=drawn,
    )
    several = spec.binding is not None and spec.binding.open
    way = binding.words("binding") if binding and several else ""
    return Draft(made.pieces, told, way, work=in_order(made.work), sewn=made.sewn)


def _made(spec: Apron, order: Order, sizes: Breadths, drawn: int) -> Made:
    """All its parts but the binding, in the order of the sheet."""
    panels = apron_panels(order, sizes, order.cloth("cloth", None))
    names = tuple(piece.name for piece in panels)
    made = Made(
        panels,
        figures=(Item("finished length below the band", sizes.length),),
        advice=_eased(order, sizes),
    )
    made += tucks_made(order, "the panels", sizes.tucked, names)
    made += breadths_worked(order, panels, _hems(spec, panels[0]))
    band = tied(order, spec.band, spec.ties, drawn, sizes.seam)
    made += band + tied_worked(order, _tied(spec, order, band, drawn), panels, sizes.across)
    if spec.bib:
        bib, *strap = bib_pieces(order, spec.bib, drawn, sizes.seam)
        made += Made((bib, *strap))
        made += bib_worked(order, bib, strap[0] if strap else None, band.pieces[0].name)
    if spec.pocket:
        pocket = pocket_piece(order, spec.pocket, sizes.seam)
        made += Made((pocket,)) + pockets_worked(order, pocket, names)
    return made


def _hems(spec: Apron, panel: Piece) -> Breadth:
    """What a breadth's hems and seam take, from the edges that it is cut with."""
    sides, take_up = inset(panel, "low", "hem line"), inset(panel, "end", "hem line")
    ring, covered = spec.corners == "round", spec.binding is not None
    return Breadth(sides, take_up, inset(panel, "high", "seam"), ring, covered)


def _tied(spec: Apron, order: Order, made: Made, drawn: int) -> Tied:
    """The band and the ties as the order of work needs them."""
    band, *ties = made.pieces
    return Tied(
        band,
        ties[0] if ties else None,
        spec.ties.cut == "tape",
        drawn,
        order.usual(spec.band.width, BAND),
        order.usual(spec.ties.length, TIE),
        inset(band, "low", "seam"),
    )


def _eased(order: Order, sizes: Breadths) -> tuple[str, ...]:
    """How much longer the cut edge round both corners is than the place its hem is sewn to.

    At each quarter circle they lie a hem's depth outside and inside the hem line.
    """
    surplus = math.ceil(2 * math.pi * sizes.take_up) if sizes.radius else 0
    if surplus < order.grid:
        return ()
    return (
        f"Round the two corners the cut edge is {order.spell(surplus)} longer than the place its "
        "hem is sewn to; draw it up on a thread and press it before it is sewn down.",
    )
