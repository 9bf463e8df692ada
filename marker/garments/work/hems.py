"""The lower edge: turned up by itself, faced, or bound."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marker.garments.made import Made
from marker.garments.order import Order
from marker.garments.work.chalk import inset
from marker.garments.work.job import Job, Sewn
from marker.piece import FACE, Piece
from marker.record import Stage


@dataclass(frozen=True)
class Rim:
    """An edge that something is sewn to: the pieces that it runs over, and its name."""

    pieces: tuple[str, ...]
    edge: str


def hemmed(order: Order, rim: Rim, take_up: int, *, eased: bool = False) -> Made:
    """A hem turned up by itself, or an edge left as it is; `eased` where its edge is longer."""
    told = f"itself, turned up {order.spell(take_up)}" if take_up else "nothing; it stays as it is"
    return Made(
        work=tuple(_turned_up(order, rim, take_up, eased)) if take_up else (),
        sewn=tuple(Sewn(name, rim.edge, told) for name in rim.pieces),
    )


def _turned_up(order: Order, rim: Rim, take_up: int, eased: bool) -> Iterator[Job]:
    ease = " Ease in what the edge is longer, a little everywhere." if eased else ""
    yield Job(
        Stage.HEM,
        f"Turn the lower edge up to the inside along the hem line, {order.spell(take_up)} deep; "
        f"turn its raw edge under, pin, and hem it down.{ease}",
        rim.pieces,
    )
    yield Job(Stage.HEM, "Take out every pin, and press the hem from the inside.", rim.pieces)


def straight_joined(order: Order, strip: Piece, around: int) -> Iterator[Job]:
    """Straight strips of a facing joined into a ring that goes `around`."""
    seam = inset(strip, "start", "join")
    over = ""
    if strip.pieced:
        first = "Join all strips of the facing end to end"
        over = "; cut off what is over"
    elif strip.count == 1:
        first = "Sew the ends of the facing strip together"
    else:
        first = f"Join the {strip.count} strips of the facing end to end"
        left = strip.count * (strip.length - 2 * seam) - around
        if left >= order.grid:
            over = f"; take the {order.spell(left)} that are over into the last join"
    yield Job(
        Stage.HEM,
        f"{first}, right sides together, {order.spell(seam)} from the edge, into a ring that goes "
        f"{order.spell(around)} round{over}. Press the joins open.",
        (strip.name,),
    )


def faced(
    order: Order, strips: Sequence[Piece], rim: Rim, sizes: tuple[int, int], top: int
) -> Made:
    """A facing that is joined already: sewn to the edge, turned inside and felled down.

    `sizes` are its finished depth, and how far the hem line lies inside the panels' edge. A
    facing torn from another cloth may have its own line further in, or less far. `top` is what its
    upper edge takes to finish, nought where it is finished as it is.
    """
    return Made(
        work=tuple(_faced(order, strips, rim, sizes, top)),
        sewn=tuple(_facing_met(order, strips, rim, sizes[0])),
    )


def _faced(
    order: Order, strips: Sequence[Piece], rim: Rim, sizes: tuple[int, int], top: int
) -> Iterator[Job]:
    depth, line = sizes
    names = tuple(piece.name for piece in strips)
    strip = strips[0]
    own = inset(strip, "low", "hem seam") if strip.edges.low == "hem" else line
    if own == line:
        how = f"right sides together and edges even, and sew it on, {order.spell(line)} from them"
    else:
        how = (
            f"right sides together, its line {order.spell(own)} from its edge on the hem line "
            f"{order.spell(line)} from that of the panels, and sew it on along both"
        )
    upper = "Turn the facing's upper edge under and fell it" if top else "Fell its upper edge"
    yield Job(
        Stage.HEM,
        f"Pin the facing to the lower edge, {how}.",
        (*names, *rim.pieces),
    )
    yield Job(
        Stage.HEM,
        "Press the seam towards the facing. Turn the facing to the inside, so that the seam lies "
        "just within the fold, and press again.",
        names,
    )
    yield Job(
        Stage.HEM,
        f"{upper} down {order.spell(depth)} above the hem, through a thread or two of the "
        "outside, so that nothing shows. Take out every pin.",
        names,
    )


def _facing_met(order: Order, strips: Sequence[Piece], rim: Rim, depth: int) -> Iterator[Sewn]:
    """A facing meets the lower edge, the inside of the panels, and itself at its joins."""
    above = f"{order.spell(depth)} above the hem"
    for piece in strips:
        named = piece.edges.named
        if not named:  # cloth that the facing is cut from
            for name in rim.pieces:
                yield Sewn(
                    name, rim.edge, "the bias facing's lower edge",
                    piece.name, FACE, "the hem of the panels, once it is cut into bias strips",
                )  # fmt: skip
            continue
        for name in rim.pieces:
            if piece.name.endswith(" facing") and piece.name != f"{name} facing":
                continue  # a shaped facing lies under the panel that it is named for
            yield Sewn(
                name, rim.edge, "the facing's lower edge",
                piece.name, "hem", "the hem of the panels",
            )  # fmt: skip
            yield Sewn(
                name, FACE, f"the facing's upper edge, felled inside {above}",
                piece.name, "top", f"the inside of the panels, {above}",
            )  # fmt: skip
        if "join" in named:
            yield Sewn(piece.name, "join", "the next join of the facing, all the way round")


def bound(
    order: Order, strips: Sequence[Piece], rim: Rim, lap: int, fold: int, *, ring: bool
) -> Made:
    """An edge bound: by bought binding, or by `strips` of bias whose first fold lies at `fold`."""
    edge = "the lower edge" if ring else "the edge"
    names = (*(piece.name for piece in strips), *rim.pieces)
    ends = "Begin at a seam" if ring else "Let it stand over at either end, and turn the ends in"
    if not strips:
        lapped = f", and lap the ends {order.spell(lap)}, the upper one turned in" if ring else ""
        text = (
            f"Fold the binding over {edge}, half of it on either side, and sew it down through "
            f"both. {ends}{lapped}."
        )
        sewn = [Sewn(name, rim.edge, "the binding") for name in rim.pieces]
        return Made(work=(Job(Stage.HEM, text, names),), sewn=tuple(sewn))
    jobs = (
        Job(
            Stage.HEM,
            f"Lay the binding on {edge}, right sides together and edges even, and sew it on in "
            f"its first fold, {order.fine(fold)} from the edge, without pulling it.",
            names,
        ),
        Job(
            Stage.HEM,
            "Turn the binding over the edge, turn its other edge under, and fell it down on the "
            f"seam inside.{'' if ring else ' Turn its ends in.'}",
            names,
        ),
    )
    return Made(work=jobs, sewn=tuple(_binding_met(strips, rim)))


def _binding_met(strips: Sequence[Piece], rim: Rim) -> Iterator[Sewn]:
    for piece in strips:
        for name in rim.pieces:
            if not piece.edges.named:
                yield Sewn(
                    name, rim.edge, "the binding",
                    piece.name, FACE, "the edge that it binds, once it is cut into bias strips",
                )  # fmt: skip
                continue
            yield Sewn(name, rim.edge, "the binding", piece.name, "hem", "the edge that it binds")
        if piece.edges.named:
            yield Sewn(piece.name, "top", "its own seam on the inside, felled down")
            yield Sewn(piece.name, "join", "the next strip's join, on the straight thread")
