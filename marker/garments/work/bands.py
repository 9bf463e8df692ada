"""What the top is sewn to: a band, folded or lined, or a tape that ties."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from marker.garments.order import Order
from marker.garments.work.chalk import inset
from marker.garments.work.hems import Rim
from marker.garments.work.job import Job, Sewn, listed
from marker.piece import Piece
from marker.record import Counter, Notion, Stage


@dataclass(frozen=True)
class Held:
    """A band and the top that it holds: `drawn` long, with an `underlap` beyond it.

    `seam` is the band's allowance, `width` what it is finished. `whipped` where the top has a
    fold of its own, so that the finished band is whipped to it; else the top's raw edge, its
    line `line` below it, is sewn between the two layers of the band. `whose` says what is at
    the top: "gauged top". `notions` are what is bought for the band: what closes and stiffens it.
    """

    rim: Rim
    bands: tuple[Piece, ...]
    drawn: int
    underlap: int
    seam: int
    width: int
    whipped: bool
    whose: str
    opening: bool = True
    notions: tuple[Notion, ...] = ()

    @property
    def lined(self) -> bool:
        """Whether there is a lining beside the band itself."""
        return len(self.bands) > 1

    @property
    def joined(self) -> bool:
        """Whether the band comes in strips."""
        return self.bands[0].count > 1 or self.bands[0].pieced is not None

    @property
    def names(self) -> tuple[str, ...]:
        """The pieces of the band."""
        return tuple(piece.name for piece in self.bands)


def band_marked(order: Order, held: Held) -> Iterator[Job]:
    """The quarter points of a band that is cut in one; joined strips are marked later."""
    if held.joined:
        return
    (band, *_) = held.bands
    start = inset(band, "start")
    places = [order.spell(start + held.drawn * k // 4) for k in (1, 2, 3)]
    last = order.spell(start + held.drawn)
    end = f"; the underlap begins at {last}" if held.underlap else ""
    yield Job(
        Stage.MARK,
        f"Chalk the quarter points of the band, {listed(places)} from one end{end}.",
        held.names,
    )


def band_sewn(order: Order, held: Held) -> Iterator[Job]:
    """The band joined, sewn to the top, and closed over it."""
    yield from _joined(order, held)
    yield from _stiffened(order, held)
    yield from _whipped(order, held) if held.whipped else _folded_over(order, held)


def _joined(order: Order, held: Held) -> Iterator[Job]:
    if not held.joined:
        return
    seam, sewn = order.spell(held.seam), held.drawn + held.underlap
    quarter = order.spell(held.drawn // 4)
    rest = f", the last {order.spell(held.underlap)} being the underlap" if held.underlap else ""
    for piece in held.bands:
        what = "the band" if piece is held.bands[0] else "its lining"
        yield Job(
            Stage.BAND,
            f"Join the strips of {what} end to end, right sides together, {seam} from the edge; "
            f"press the joins open, and cut it {order.spell(sewn + 2 * held.seam)} long.",
            (piece.name,),
        )
    yield Job(
        Stage.BAND,
        f"Chalk its quarter points, {quarter} apart, from the seam line at one end{rest}.",
        held.names,
    )


def _stiffened(order: Order, held: Held) -> Iterator[Job]:
    """Interfacing laid into the band before it is folded."""
    for notion in held.notions:
        if notion.counter is Counter.STIFFENING:
            size = " by ".join(
                order.spell(side) for side in (held.drawn + held.underlap, held.width)
            )
            yield Job(
                Stage.BAND,
                f"Tack the {notion.name}, {size}, to the wrong side of the band, inside its seam "
                "lines and along its fold, on the half that will lie outside.",
                held.names[:1],
            )


def _whipped(order: Order, held: Held) -> Iterator[Job]:
    """A band finished by itself first, and whipped to every pleat."""
    seam, size = order.spell(held.seam), (held.width, held.drawn + held.underlap)
    told = " by ".join(order.spell(side) for side in size)
    if held.lined:
        first = (
            f"Sew the band and its lining together along the upper edge and both ends, right sides "
            f"in, {seam} from the edge; clip the corners, turn, and press. Turn in both lower "
            f"edges {seam} and overhand them together"
        )
    else:
        first = (
            f"Turn in all edges of the band {seam}, fold it lengthwise, wrong sides together, and "
            "overhand its ends and its open edge"
        )
    yield Job(Stage.BAND, f"{first}. Finished it is {told}.", held.names)
    names = (*held.names, *held.rim.pieces)
    yield Job(
        Stage.BAND,
        "Lay the band on the top, right sides together, its lower edge on the fold. Pin quarter "
        f"points to quarter points.{_beyond(order, held)}",
        names,
    )
    yield Job(
        Stage.BAND,
        "With strong thread whip the fold of every pleat to the band's edge, a firm stitch "
        "to each, the same number of pleats between quarter points. Turn the band up.",
        names,
    )


def _folded_over(order: Order, held: Held) -> Iterator[Job]:
    """A band sewn to the raw edge, folded over it, and felled inside."""
    seam, names = order.spell(held.seam), (*held.names, *held.rim.pieces)
    if held.lined:
        yield Job(
            Stage.BAND,
            f"Sew the band and its lining together along the upper edge, right sides in, {seam} "
            "from the edge. Press the seam open.",
            held.names,
        )
    points = "quarter points to quarter points"
    spread = ", and spread the gathers" if "gathered" in held.whose else ""
    yield Job(
        Stage.BAND,
        f"Pin the band to the top, right sides together, {points}{spread}.{_beyond(order, held)} "
        f"Sew from one edge to the other, {seam} from the band's edge.",
        names,
    )
    fold = "along its upper seam" if held.lined else "on its fold"
    lap = " At the underlap sew its lower edges too, up to the skirt." if held.underlap else ""
    yield Job(
        Stage.BAND,
        f"Turn the band up. Fold either end right sides together {fold} and sew across it, {seam} "
        f"from the end.{lap} Turn the ends out.",
        held.names,
    )
    inside = "lining's lower edge" if held.lined else "band's inside edge"
    yield Job(
        Stage.BAND,
        f"Turn the {inside} under {seam} and fell it down over the seam. Finished the band is "
        f"{order.spell(held.width)} by {order.spell(held.drawn + held.underlap)}.",
        names,
    )


def _beyond(order: Order, held: Held) -> str:
    if not held.underlap:
        return " Its ends meet the two edges of the opening." if held.opening else ""
    return (
        f" One end is even with an edge of the opening; the underlap, "
        f"{order.spell(held.underlap)}, goes beyond the other."
    )


def band_met(held: Held) -> Iterator[Sewn]:
    """The band's lower edge meets the top, its other edges each other."""
    band = held.bands[0].name
    top = f"the {held.whose}, quarter points to quarter points"
    for name in held.rim.pieces:
        fold = ": turned down, its fold is whipped to the band's edge" if held.whipped else ""
        meets = f"the band{fold}, quarter points to quarter points"
        yield Sewn(name, held.rim.edge, meets, band, "skirt", top)
    ends = [edge for edge in ("end", "underlap") if edge in held.bands[0].edges.named]
    if held.lined:
        lining = held.bands[1].name
        yield Sewn(band, "upper edge", "the lining's upper edge", lining, "upper edge",
                   "the band's upper edge")  # fmt: skip
        for edge in ends:
            yield Sewn(band, edge, "the same end of the lining", lining, edge,
                       "the same end of the band")  # fmt: skip
        inside = "the band's lower edge" if held.whipped else "the seam inside, felled down"
        yield Sewn(lining, "skirt", inside, band, "skirt", "the lining's lower edge")
    else:
        inside = "its own lower edge" if held.whipped else "the seam inside, felled down"
        yield Sewn(band, "inside", inside)
        for edge in ends:
            yield Sewn(band, edge, "itself, folded double and sewn across")
    if held.joined:
        for name in held.names:
            yield Sewn(name, "join", "the next strip's join; at the ends nothing, sewn across")


def tape_sewn(
    order: Order, rim: Rim, lengths: tuple[int, int], line: str, *, whipped: bool
) -> Iterator[Job]:
    """A tape in place of a band; its ends tie.

    `lengths` are the drawn one and that of a tie; `line` is what the top is sewn on.
    """
    drawn, tie = lengths
    quarters = order.spell(drawn // 4)
    yield Job(
        Stage.BAND,
        f"On the tape mark {order.spell(tie)} from one end, and from there four times {quarters}; "
        f"the {order.spell(tie)} that are left are the other tie. Hem both ends.",
    )
    if whipped:
        yield Job(
            Stage.BAND,
            "Lay the tape on the top, right sides together, its edge on the fold, its first and "
            "last marks at the edges of the opening, the others at the quarter points. Whip the "
            "fold of every pleat to it, a firm stitch to each, and turn it up.",
            rim.pieces,
        )
        return
    yield Job(
        Stage.BAND,
        f"Pin the tape to the right side of the top, its lower edge on the {line}, its "
        "first and last marks at the two ends of the top, the others at the quarter points. "
        "Stitch it on along that edge, fold it over the raw edge, and fell it down inside.",
        rim.pieces,
    )


def tape_met(rim: Rim) -> Iterator[Sewn]:
    """A top on a tape."""
    for name in rim.pieces:
        yield Sewn(name, rim.edge, "the tape, quarter points to its marks")
