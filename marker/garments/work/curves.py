"""The work of curved garments: gores and parts of circles, from first mark to last press."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from marker.garments.made import Made
from marker.garments.order import Order
from marker.garments.work.bands import Held, band_marked, band_met, band_sewn, tape_met, tape_sewn
from marker.garments.work.chalk import quarters
from marker.garments.work.finish import closed, last
from marker.garments.work.hems import Rim
from marker.garments.work.job import Job, Sewn, listed
from marker.garments.work.tops import gathered_flat
from marker.piece import Piece
from marker.record import Method, Stage

LITTLE = 50
"""A top longer than its band by less than one part in so many is eased in (common practice, no
source)."""


@dataclass(frozen=True)
class Curved:
    """What curved panels are sewn by.

    `names` are those of the panels' pieces, `top` what their upper edge is called, "waist" or
    "neck". It measures `long` before it is gathered into `drawn`; `seam` is the allowance at the
    sides, `above` that at the top, which is `turned` down or sewn into a band.
    """

    names: tuple[str, ...]
    top: str
    long: int
    drawn: int
    seam: int
    above: int
    take_up: int
    turned: bool = False

    @property
    def method(self) -> Method | None:
        """How it is drawn up, if it is."""
        if not self.gathered:
            return None
        return Method.GAUGED if self.turned else Method.STROKE

    @property
    def edges(self) -> tuple[str, ...]:
        """The finished edges that are pressed last."""
        return ("the hem",) if self.top == "waist" else ("the hem", "the fronts")

    @property
    def rim(self) -> Rim:
        """The edge that the band is sewn to."""
        return Rim(self.names, self.top)

    @property
    def gathered(self) -> bool:
        """Whether it is so much longer than its band that it is drawn up, and not only eased."""
        return LITTLE * (self.long - self.drawn) > self.drawn

    @property
    def whose(self) -> str:
        """What lies at the top once it is ready for the band."""
        return "gathered top" if self.gathered else "top"


def curves_marked(order: Order, curved: Curved) -> Iterator[Job]:
    """Lines and notches of curved panels, and the curve kept from stretching."""
    low = [f"the hem line {order.spell(curved.take_up)} inside the hem"] if curved.take_up else []
    lines = [
        f"the seam lines {order.spell(curved.seam)} inside the sides",
        f"the {'fold' if curved.turned else 'seam line'} of the {curved.top} "
        f"{order.spell(curved.above)} below the cut edge",
        *low,
    ]
    yield Job(
        Stage.MARK,
        f"Chalk on the wrong side of every panel {listed(lines)}, and every notch.",
        curved.names,
    )
    yield Job(
        Stage.JOIN,
        f"Run small stitches just above the {curved.top}'s line of every panel, so that the curve "
        "can't stretch while you sew.",
        curved.names,
    )


def hung_out(order: Order, curved: Curved, long: str) -> Job:
    """Cloth on the bias drops, so the hem waits."""
    return Job(
        Stage.HEM,
        f"Tack the {curved.top} to a tape {order.spell(curved.long)} long and hang the skirt up "
        f"by it for {long}. Then level the hem, all round at one height from the floor, and chalk "
        "its line anew where it has dropped; trim the edge to match.",
        curved.names,
    )


def notched_quarters(order: Order, curved: Curved, count: int) -> Job:
    """The quarter points of a top of alike panels, all of which fall on notches or seams."""
    told = listed([*_notches(count)])
    apart = order.spell(curved.long // 4)
    return Job(
        Stage.MARK,
        f"The quarter points of the {curved.top}, {apart} apart from the opening on, are {told}. "
        "Chalk them.",
        curved.names,
    )


def _notches(count: int) -> Iterator[str]:
    for number, off in quarters(count, 1):
        panel = f"panel {number}" if count > 1 else "the panel"
        if not off:
            yield f"the seam of panels {number - 1} and {number}"
        elif off == Fraction(1, 2):
            yield f"the middle notch of {panel}"
        else:
            yield f"the {'first' if off < 0.5 else 'last'} quarter notch of {panel}"


def quartered(order: Order, curved: Curved, ends: str = "the edges of the opening") -> Job:
    """The quarter points of a top whose panels differ, found by folding between its `ends`."""
    return Job(
        Stage.GAUGE if curved.gathered or curved.turned else Stage.BAND,
        f"Fold the joined top in half, {ends} together, and in half again; chalk the folds as its "
        f"quarter points, {order.spell(curved.long // 4)} apart along its line.",
        curved.names,
    )


def fronts_turned(order: Order, names: tuple[str, ...], front: int) -> Iterator[Job]:
    """The front edges of a cape."""
    if front:
        yield Job(
            Stage.HEM,
            f"Turn in {order.spell(front)} at either front edge, the raw edge turned under; press, "
            "pin, and hem it down. Take out every pin.",
            names,
        )


def drawn_up(order: Order, curved: Curved) -> Iterator[Job]:
    """A top that is turned down, or gathered, or lies flat."""
    if curved.turned:
        yield Job(
            Stage.GAUGE,
            f"Turn the top down to the inside, {order.spell(curved.above)} deep all round. Let the "
            "turned edge out at the seams, or snip it where it pulls; press, and tack it flat.",
            curved.names,
        )
    if curved.gathered:
        line = 0 if curved.turned else curved.above
        yield from gathered_flat(order, curved.names, line, curved.drawn)


def into_band(order: Order, curved: Curved, held: Held) -> Made:
    """The top made ready, sewn to its band, and finished."""
    return Made(
        work=(
            *band_marked(order, held),
            *drawn_up(order, curved),
            *_eased_in(order, curved),
            *band_sewn(order, held),
            *closed(order, held.notions, (held.drawn, held.underlap), held.names),
            *last(listed([*curved.edges, "the band"]), curved.method),
        ),
        sewn=tuple(band_met(held)),
    )


def onto_tape(order: Order, curved: Curved, tie: int) -> Made:
    """The top made ready and sewn to a tape that ties."""
    return Made(
        work=(
            *drawn_up(order, curved),
            *tape_sewn(order, curved.rim, (curved.drawn, tie), "seam line", whipped=curved.turned),
            *last(listed(curved.edges), curved.method),
        ),
        sewn=tuple(tape_met(curved.rim)),
    )


def _eased_in(order: Order, curved: Curved) -> Iterator[Job]:
    if curved.gathered:
        return
    over = curved.long - curved.drawn
    if over > 0:
        told = f", {order.spell(over)} longer than the band between its marks: ease it in"
    else:
        told = ", as long as the band between its marks"
    snip = "" if curved.turned else " Snip its allowance to the stay stitches, so that it opens."
    yield Job(
        Stage.BAND,
        f"Nothing is gathered: the top is {order.spell(curved.long)} along its line{told}.{snip}",
        curved.names,
    )


def facing_joined(order: Order, pieces: Sequence[Piece], seam: int) -> Iterator[Job]:
    """The pieces of a shaped facing sewn to each other as the panels are."""
    if sum(piece.count for piece in pieces) > 1:
        yield Job(
            Stage.HEM,
            "Join the pieces of the facing at their sides, in the order of the panels that they "
            f"lie under, right sides together, {order.spell(seam)} from the edge. Press the seams "
            "open.",
            tuple(piece.name for piece in pieces),
        )


def facing_sides(sides: Sequence[Sewn]) -> Iterator[Sewn]:
    """What the sides of a shaped facing meet: the facings of what the panels meet."""
    for seam in sides:
        if seam.other:
            yield Sewn(
                f"{seam.piece} facing", seam.edge, "the next piece of the facing",
                f"{seam.other} facing", seam.other_edge, "the next piece of the facing",
            )  # fmt: skip
        else:
            yield Sewn(f"{seam.piece} facing", seam.edge, "itself, turned in")
