"""What an option comes to: everything by which one way of making a case is weighed against others.

All figures are read off the record of its plan, so a row of a comparison says what
`marker plan` says of the same file.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from marker import buying
from marker.buying.weight import cut_grams
from marker.casefile import Case
from marker.cloth import Cloth
from marker.decide.edges import SIDES, edge_length, is_seam
from marker.garments.aprons.apron import Apron
from marker.gauging import Gauging, Pressed, advised, gauging, pressed
from marker.lay import Lay, Proof
from marker.record import Garment, Record
from marker.units import CM, INCH, Rounding, System, Units, format_length, nearest


@dataclass(frozen=True)
class Joins:
    """The joins in a facing; `meet` where every one of them lies on a seam of the garment."""

    count: int
    meet: bool


@dataclass(frozen=True)
class Worn:
    """What an option gives one garment; lengths in units, what does not apply is nought."""

    garment: Garment
    pleats: Gauging | Pressed | None
    joins: Joins | None
    advice: tuple[str, ...]
    flat: bool = False
    """Whether it goes round nothing, as an apron: its hem is a lower edge."""

    def pleats_per(self, system: System) -> float | None:
        """Pleats on 10 cm, or on an inch, of the band."""
        length = 10 * CM if system is System.CM else INCH
        return float(self.pleats.per(length)) if self.pleats else None


@dataclass(frozen=True)
class Worth:
    """The figures of one option.

    `cost` is none where any cloth bought has no price, or currencies differ. `grams` is the
    mass of the cut pieces, none where a cloth's weight isn't told. `seams` counts what is sewn
    to join pieces, `sewn` is their length together. `area` is that of the cloth bought, and
    `remnant` that of the largest useful rectangle left, in square units. `waste` is the part of
    the cloths that becomes neither a piece nor a remnant to keep, as the plan tells it.
    """

    record: Record
    worn: tuple[Worn, ...]
    buy: int
    area: int
    cost: Decimal | None
    length: int
    seams: int
    sewn: int
    grams: int | None
    waste: Fraction
    remnant: int
    tears: int

    @property
    def joins(self) -> int:
        """The joins in all facings."""
        return sum(one.joins.count for one in self.worn if one.joins)

    @property
    def rounds(self) -> tuple[int, ...]:
        """The round hem of every garment, or the lower edge of a flat one, in the case's order."""
        return tuple(one.garment.round_hem for one in self.worn)

    @property
    def around(self) -> int:
        """All round hems together, or all lower edges where nothing goes round."""
        some = not all(one.flat for one in self.worn)
        return sum(one.garment.round_hem for one in self.worn if not (some and one.flat))

    @property
    def fulness(self) -> Fraction:
        """All fulness together; an apron's counts only where nothing goes round."""
        some = not all(one.flat for one in self.worn)
        return sum(
            (
                Fraction(one.garment.round_hem, one.garment.drawn)
                for one in self.worn
                if one.garment.drawn and not (some and one.flat)
            ),
            Fraction(0),
        )

    @property
    def gap(self) -> Fraction:
        """How far the lays may be above the shortest, over all cloths; nought where proved."""
        bound = sum(lay.bound for lay in self.record.lays)
        return Fraction(self.length - bound, bound) if bound else Fraction(0)

    @property
    def proof(self) -> Proof:
        """The least that is proved of any of its lays."""
        proofs = [lay.proof for lay in self.record.lays]
        return next((p for p in (Proof.OPEN, Proof.STEP) if p in proofs), Proof.LENGTH)


def flat(case: Case) -> frozenset[str]:
    """The keys of the garments whose hem goes round nothing."""
    return frozenset(order.key for order in case.orders if isinstance(order.spec, Apron))


def worth(record: Record, flat: Container[str] = ()) -> Worth:
    """Reckon all figures of a planned option; garments that are `flat` have no round hem."""
    lays = record.lays
    over = sum(lay.bolt.area for lay in lays)
    ends = [edge for lay in lays for edge in _edges(lay)]
    # A join has two edges; those within a rectangle of bias are no edges of a piece.
    hidden = [garment.bias_joins for garment in record.garments if garment.bias_joins]
    ends += [(2 * joins.count, joins.length) for joins in hidden]
    return Worth(
        record=record,
        worn=tuple(
            replace(_worn(record, garment), flat=garment.key in flat) for garment in record.garments
        ),
        buy=sum(lay.buy for lay in lays),
        area=sum(lay.buy * lay.cloth.width for lay in lays),
        cost=_cost(lays),
        length=sum(lay.length for lay in lays),
        seams=-(-sum(count for count, _ in ends) // 2),
        sewn=-(-sum(count * length for count, length in ends) // 2),
        grams=_grams(lays),
        waste=Fraction(sum(lay.wasted for lay in lays), over) if over else Fraction(0),
        remnant=max((rect.area for lay in lays for rect in lay.remnants), default=0),
        tears=sum(lay.goals[-1].value if lay.goals else len(lay.tears) for lay in lays),
    )


def priced(lays: tuple[Lay, ...]) -> tuple[set[str], set[str]]:
    """The currencies of the cloths that are bought, and the keys of those without a price."""
    bought = [lay.cloth for lay in lays if not lay.cloth.length]
    return (
        {cloth.price.currency for cloth in bought if cloth.price},
        {cloth.key for cloth in bought if not cloth.price},
    )


def _cost(lays: tuple[Lay, ...]) -> Decimal | None:
    currencies, unpriced = priced(lays)
    if unpriced or len(currencies) > 1:
        return None
    return sum((buying.cost(lay) or Decimal(0) for lay in lays), Decimal(0))


def _grams(lays: tuple[Lay, ...]) -> int | None:
    total = Fraction(0)
    for lay in lays:
        cut = cut_grams(lay)
        if cut is None:
            return None
        total += cut
    return nearest(total)


def _edges(lay: Lay) -> Iterator[tuple[int, int]]:
    """Every edge that is sewn to another piece of its kind: how often it is cut, how long it is."""
    for piece in lay.pieces:
        for side in SIDES:
            if is_seam(getattr(piece.edges, side)):
                yield piece.count, edge_length(piece, side)


def _worn(record: Record, garment: Garment) -> Worn:
    pleats: Gauging | Pressed | None = None
    if cloth := _panel_cloth(record, garment):
        pleats = gauging(garment, cloth) or pressed(garment, cloth)
    joins = _facing_joins(record, garment)
    said = (*_pleats_advice(pleats, record.units), *_joins_advice(garment, joins))
    return Worn(garment, pleats, joins, (*garment.advice, *said))


def _panel_cloth(record: Record, garment: Garment) -> Cloth | None:
    """What the panels of a garment are cut from: its first piece's cloth, as recipes begin."""
    own = [
        (piece.letter, lay.cloth)
        for lay in record.lays
        for piece in lay.pieces
        if piece.garment == garment.key
    ]
    return min(own, key=lambda each: (len(each[0]), each[0]))[1] if own else None


def _facing_joins(record: Record, garment: Garment) -> Joins | None:
    """How many pieces go round a facing, and so how many joins close it; none without a facing.

    Equal straight strips meet seams where each of them faces a whole number of panels, free
    ones where they were asked to, shaped ones always, bias ones as chance has it. A single join
    is laid on a seam.
    """
    if garment.bias_joins:
        count = garment.bias_joins.count
        return Joins(count, count <= 1) if count else None
    pieces = [
        piece
        for lay in record.lays
        for piece in lay.pieces
        if piece.garment == garment.key and "facing" in piece.name
    ]
    ends = sum(
        piece.count for piece in pieces for side in SIDES if is_seam(getattr(piece.edges, side))
    )
    if not ends:
        return None
    count = -(-ends // 2)
    shaped = not any(is_seam(piece.edges.start) or is_seam(piece.edges.end) for piece in pieces)
    free = [piece.pieced for piece in pieces if piece.pieced]
    equal = not free and all(piece.outline is None for piece in pieces)
    if free:
        meet = all(each.pitch for each in free)
    else:
        meet = shaped or (equal and garment.panels > 0 and garment.panels % count == 0)
    return Joins(count, meet or count == 1)


def _joins_advice(garment: Garment, joins: Joins | None) -> Iterator[str]:
    told = any(sentence.startswith("The facing's") for sentence in garment.advice)
    if joins and not joins.meet and not told:
        yield (
            f"The facing's {joins.count} joins do not all meet seams; press them open so that "
            "they lie flat."
        )


def _pleats_advice(pleats: Gauging | Pressed | None, units: Units) -> Iterator[str]:
    """What to do about stitched pleats that take more room than there is."""
    if not isinstance(pleats, Gauging) or pleats.closes:
        return
    least, drawn, stitch = (
        format_length(length, units, Rounding.UP, fine=True)
        for length in (
            int(-(-pleats.least_drawn // 1)),
            pleats.drawn,
            advised(pleats, units.lead) or int(-(-pleats.least_stitch // 1)),
        )
    )
    yield (
        f"The pleats can't close up: {pleats.pleats} of them, {pleats.layers} layers each, take "
        f"{least}, and the band gives {drawn}; take stitches of at least {stitch}, or less cloth "
        "round the hem."
    )
