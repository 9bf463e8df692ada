"""The apron's work: breadths side by side, hemmed on three sides, gathered into a tied band."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from marker.garments.made import Made
from marker.garments.order import Order
from marker.garments.work.chalk import inset
from marker.garments.work.finish import last
from marker.garments.work.hems import Rim
from marker.garments.work.job import Job, Sewn, listed, many
from marker.garments.work.seams import PRESS
from marker.garments.work.tops import gathered_flat
from marker.piece import FACE, Piece
from marker.record import Method, Stage


@dataclass(frozen=True)
class Breadth:
    """What an apron's breadths are sewn by: the hems at the sides and below, and the seam.

    `ring` where one hem goes round the corners; `bound` where a binding covers the edges.
    """

    sides: int
    take_up: int
    seam: int
    ring: bool
    bound: bool


def breadths_worked(order: Order, panels: Sequence[Piece], sizes: Breadth) -> Made:
    """Breadths marked, joined and hemmed."""
    names = tuple(piece.name for piece in panels)
    jobs = [*_marked(order, panels, sizes), *_joined(order, panels, sizes.seam)]
    if not sizes.bound:
        jobs += _hemmed(order, names, sizes)
    return Made(work=tuple(jobs), sewn=(*_sides_met(panels), *_hems_met(order, panels, sizes)))


def _marked(order: Order, panels: Sequence[Piece], sizes: Breadth) -> Iterator[Job]:
    lines = [f"the gathering line {order.spell(_top(panels[0]))} below the top edge"]
    if sizes.take_up:
        lines.append(f"the hem line {order.spell(sizes.take_up)} inside the lower edge")
    if sizes.sides:
        lines.append(f"that of the sides {order.spell(sizes.sides)} inside them")
    names = tuple(piece.name for piece in panels)
    yield Job(Stage.MARK, f"Chalk on the wrong side of the apron: {listed(lines)}.", names)


def _top(panel: Piece) -> int:
    """How far the gathering line lies below the cut top edge."""
    return inset(panel, "start", "gathering line")


def _joined(order: Order, panels: Sequence[Piece], seam: int) -> Iterator[Job]:
    count = sum(piece.count for piece in panels)
    if count == 1:
        return
    names = tuple(piece.name for piece in panels)
    where = ", the round corners outermost" if panels[0].outline else ""
    yield Job(
        Stage.JOIN,
        f"Lay the breadths side by side in their order{where}, right sides together, and sew "
        f"{many(count - 1, 'seam')}, {order.spell(seam)} from the edge.",
        names,
    )
    yield Job(Stage.JOIN, PRESS, names)


def _hemmed(order: Order, names: tuple[str, ...], sizes: Breadth) -> Iterator[Job]:
    if sizes.ring:
        if sizes.take_up:
            yield Job(
                Stage.HEM,
                f"Turn up one hem of {order.spell(sizes.take_up)} down a side, along the lower "
                "edge and up the other side, its raw edge turned under. Round the corners draw "
                "the edge up on a thread. Press, and hem it down.",
                names,
            )
        return
    for deep, what in ((sizes.sides, "sides"), (sizes.take_up, "lower edge")):
        if deep:
            yield Job(
                Stage.HEM,
                f"Turn in {order.spell(deep)} at the {what}, the raw edge turned under; press, "
                "pin, and hem it down. Take out every pin.",
                names,
            )


def _sides_met(panels: Sequence[Piece]) -> Iterator[Sewn]:
    """Breadths meet side by side, in the order right, middle, left."""
    if len(panels) == 1:
        (piece,) = panels
        if "seam" in piece.edges.named:
            what = "the other panel's seam"
            yield Sewn(piece.name, "seam", what, piece.name, "seam", what)
        return
    for piece in panels[1:-1]:
        if piece.count > 1:
            yield Sewn(piece.name, "seam", "the next middle panel's seam")
    shaped = panels[0].outline is not None
    pairs = [(panels[0], panels[1])] if shaped else list(pairwise(panels))
    for one, other in pairs:
        yield Sewn(
            one.name, "seam", f"the {other.name}'s seam", other.name, "seam",
            f"the {one.name}'s seam",
        )  # fmt: skip
    if shaped and panels[1].count > 1:
        yield Sewn(panels[1].name, "seam", "the next middle panel's seam")


def _hems_met(order: Order, panels: Sequence[Piece], sizes: Breadth) -> Iterator[Sewn]:
    if sizes.bound:
        return
    for piece in panels:
        yield Sewn(piece.name, "hem", _in(order, sizes.take_up))
        if "side" in piece.edges.named:
            yield Sewn(piece.name, "side", _in(order, sizes.sides))


def _in(order: Order, deep: int) -> str:
    return f"itself, a hem of {order.spell(deep)}" if deep else "nothing; it stays as it is"


def pockets_worked(order: Order, pocket: Piece, panels: Sequence[str]) -> Made:
    """Patch pockets, hemmed above and stitched on while the apron lies flat."""
    several = pocket.count > 1
    what = "each pocket" if several else "the pocket"
    hem = inset(pocket, "start", "fold of the hem")
    top = f"Turn the top of {what} in {order.spell(hem)} and hem it. " if hem else ""
    seam = order.spell(inset(pocket, "end", "seam"))
    jobs = (
        Job(
            Stage.HEM,
            f"{top}Press its other edges under by {seam}"
            f"{', round the corners over a card' if pocket.outline else ''}.",
            (pocket.name,),
        ),
        Job(
            Stage.HEM,
            f"Hold the apron up and pin {what} where the hand falls. Stitch it on close to its "
            "sides and lower edge, and sew over both upper corners twice.",
            (pocket.name, *panels),
        ),
    )
    sewn = [Sewn(pocket.name, "top", f"itself, a hem of {order.spell(hem)}" if hem else "nothing")]
    for panel in panels:
        for edge in ("side", "bottom"):
            what = "the apron, right side up, where the hand falls"
            sewn.append(Sewn(panel, FACE, f"the {pocket.name}", pocket.name, edge, what))
    return Made(work=jobs, sewn=tuple(sewn))


@dataclass(frozen=True)
class Tied:
    """The band of an apron, `drawn` long, `width` wide, and what ties it.

    `ties` are the ties cut as strips; without them they are `tape`, or cut with the band, `tie`
    being the length of one. `seam` is the allowance of band and ties.
    """

    band: Piece
    ties: Piece | None
    tape: bool
    drawn: int
    width: int
    tie: int
    seam: int

    @property
    def in_one(self) -> bool:
        """Whether band and ties are one strip."""
        return self.ties is None and not self.tape


def tied_worked(order: Order, tied: Tied, panels: Sequence[Piece], across: int) -> Made:
    """The top, `across` wide between its finished sides, gathered, and the band sewn on with the
    ties."""
    names = tuple(piece.name for piece in panels)
    rim = Rim(names, "band")
    jobs = (
        *_band_marked(order, tied),
        Job(
            Stage.GAUGE,
            "Fold the top in half, its finished sides together, and in half again; chalk the folds "
            f"as its quarter points, {order.spell(across // 4)} apart.",
            names,
        ),
        *gathered_flat(order, names, _top(panels[0]), tied.drawn),
        *_ties_made(order, tied),
        *_band_sewn(order, tied, names),
        *last("the hems, the band and the ties", Method.STROKE),
    )
    return Made(work=jobs, sewn=tuple(_tied_met(tied, rim)))


def _band_marked(order: Order, tied: Tied) -> Iterator[Job]:
    band = tied.band
    if tied.in_one:
        if band.count == 1 and band.pieced is None:
            first, quarter = inset(band, "start") + tied.tie, order.spell(tied.drawn // 4)
            yield Job(
                Stage.MARK,
                f"Chalk the band {order.spell(first)} from either end, where the ties begin, and "
                f"between them its quarter points, {quarter} apart.",
                (band.name,),
            )
        return
    start = inset(band, "start")
    places = [order.spell(start + tied.drawn * k // 4) for k in (1, 2, 3)]
    yield Job(
        Stage.MARK,
        f"Chalk the quarter points of the band, {listed(places)} from one end.",
        (band.name,),
    )


def _ties_made(order: Order, tied: Tied) -> Iterator[Job]:
    seam = order.spell(tied.seam)
    if tied.ties is not None:
        yield Job(
            Stage.BAND,
            "Fold each tie lengthwise, right sides together, and sew its long edge and one end, "
            f"{seam} from the edge. Clip the corners, turn it, and press.",
            (tied.ties.name,),
        )
    if tied.in_one and (tied.band.count > 1 or tied.band.pieced):
        quarter, tie = order.spell(tied.drawn // 4), order.spell(tied.tie)
        yield Job(
            Stage.BAND,
            f"Join the strips end to end, right sides together, {seam} from the edge, and cut the "
            f"band {order.spell(tied.drawn + 2 * tied.tie + 2 * tied.seam)} long. Chalk {tie} from "
            f"the seam line at either end, and between them quarter points {quarter} apart.",
            (tied.band.name,),
        )


def _band_sewn(order: Order, tied: Tied, names: tuple[str, ...]) -> Iterator[Job]:
    seam, band = order.spell(tied.seam), tied.band.name
    between = ", between the ties" if tied.in_one else ""
    yield Job(
        Stage.BAND,
        f"Pin the band to the top{between}, right sides together, quarter points to quarter "
        f"points, and spread the gathers. Sew it on, {seam} from its edge, and press it up.",
        (band, *names),
    )
    if tied.in_one:
        yield Job(
            Stage.BAND,
            "Fold either tie on its fold, right sides together, and sew its end and its edges up "
            f"to the apron, {seam} from the edge. Clip the corners and turn them out.",
            (band,),
        )
    else:
        tie = "tape" if tied.ties is None else "tie"
        yield Job(
            Stage.BAND,
            f"Turn in both ends of the band {seam} and fold it on its fold, wrong sides together. "
            f"Put the raw end of a {tie} into each end, as deep as the seam, and stitch it fast "
            "twice over.",
            (band, *((tied.ties.name,) if tied.ties else ())),
        )
    yield Job(
        Stage.BAND,
        f"Turn the band's inside edge under {seam} and fell it down over the seam.",
        (band,),
    )


def _tied_met(tied: Tied, rim: Rim) -> Iterator[Sewn]:
    band = tied.band
    top = "the gathered top, quarter points to quarter points"
    for name in rim.pieces:
        meets = "the band, quarter points to quarter points"
        yield Sewn(name, rim.edge, meets, band.name, "apron", top)
    yield Sewn(band.name, "inside", "the seam inside, felled down")
    if tied.in_one:
        joins = band.count > 1 or band.pieced
        more = "the next strip's end; the last ones are sewn across" if joins else ""
        yield Sewn(band.name, "end", more or "itself, folded double and sewn across")
    elif tied.ties is not None:
        tie = tied.ties.name
        yield Sewn(band.name, "tie", "a tie", tie, "band", "an end of the band")
        yield Sewn(tie, "seam", "itself, folded double")
        yield Sewn(tie, "end", "itself, folded double and sewn across")
    else:
        yield Sewn(band.name, "tie", "the tape of a tie")


def bib_worked(order: Order, bib: Piece, strap: Piece | None, band: str) -> Made:
    """The bib, hemmed, its strap, and how both are held."""
    sides, top = inset(bib, "low", "hem line"), inset(bib, "start", "fold of the hem")
    seam = inset(bib, "end", "seam")
    folds = [f"{order.spell(deep)} at {what}"
             for deep, what in ((sides, "either side"), (top, "the top")) if deep]  # fmt: skip
    jobs = []
    if folds:
        jobs.append(
            Job(
                Stage.HEM,
                f"Hem the bib: {listed(folds)}, raw edges turned under, the sides first.",
                (bib.name,),
            )
        )
    if strap is not None:
        inner = order.spell(inset(strap, "low", "seam"))
        jobs.append(
            Job(
                Stage.BAND,
                f"Fold the strap lengthwise, right sides together, sew its long edge {inner} from "
                "the edge, turn it and press. Turn its ends in and sew one to either upper corner "
                "of the bib, twice over. Try the length on before the second end.",
                (strap.name, bib.name),
            )
        )
    jobs.append(
        Job(
            Stage.BAND,
            "Pin the bib behind the band, middle to middle, its lower edge "
            f"{order.spell(seam)} below the band's fold, and stitch it on along the fold and again "
            "along the raw edge.",
            (bib.name, band),
        )
    )
    sewn = [
        Sewn(bib.name, "band", "the back of the band's fold, middle to middle", band, FACE,
             "the bib, along the fold, middle to middle"),
        Sewn(bib.name, "side", _in(order, sides)),
        Sewn(bib.name, "top", _in(order, top)),
    ]  # fmt: skip
    if strap is not None:
        corner = "an upper corner of the bib"
        sewn.append(Sewn(bib.name, "top", "the strap, at both corners", strap.name, "bib", corner))
        sewn.append(Sewn(strap.name, "seam", "itself, folded double"))
    return Made(work=tuple(jobs), sewn=tuple(sewn))
