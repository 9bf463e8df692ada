"""Joining panels: which seams in which order, which of them stays open and how far."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marker.garments.curved.shape import Shape
from marker.garments.order import Order
from marker.garments.work.job import Job, Sewn, many
from marker.piece import Piece
from marker.record import Stage

PRESS = (
    "Press every seam flat as it was sewn, then open. Try the iron on a scrap first, keep fingers "
    "out of the steam, and stand it up when you let go of it."
)
ALIKE = "the next panel's seam"


@dataclass(frozen=True)
class Round:
    """Panels sewn side to side into a tube, or open at two edges where it is not `closed`.

    `names` are those of their pieces, in the order of sewing where there are several; `count` is
    how many panels there are, `seam` how far from the edge they are sewn, and `down` how far
    below the cut top edge the opening ends, nought where there is none. `curved` where seams are
    sewn notch to notch, `matched` where a pattern is pinned to itself.
    """

    names: tuple[str, ...]
    count: int
    seam: int
    down: int = 0
    closed: bool = True
    curved: bool = False
    matched: bool = False


def joined(order: Order, tube: Round) -> Iterator[Job]:
    """All seams but one, then that one up to the opening; pressed."""
    seam = order.spell(tube.seam)
    pin = " Pin the pattern line on line as you go." if tube.matched else ""
    if tube.count > 1:
        turn = " in the order of their numbers" if len(tube.names) > 1 and not tube.curved else ""
        notches = ", notch to notch" if tube.curved else ""
        yield Job(
            Stage.JOIN,
            f"Lay the panels side to side{turn}, right sides together{notches}, all hems the same "
            f"way. Sew {many(tube.count - 1, 'seam')}, {seam} from the edge, from the hem up.{pin}",
            tube.names,
        )
    elif tube.closed:
        yield Job(
            Stage.JOIN,
            "Fold the panel right sides together, side edge on side edge: it has one seam, "
            f"{seam} from the edge.{pin}",
            tube.names,
        )
    if tube.closed:
        yield closing(order, tube.names, "last" if tube.count > 1 else "one", tube.down)
    if tube.closed or tube.count > 1:
        yield Job(Stage.JOIN, PRESS, tube.names)


def closing(order: Order, names: tuple[str, ...], which: str, down: int) -> Job:
    """The seam that closes the tube, and how much of it stays open."""
    if not down:
        return Job(Stage.JOIN, f"Sew the {which} seam to close the tube.", names)
    return Job(
        Stage.JOIN,
        f"Sew the {which} seam from the hem up to the mark where the opening ends: the upper "
        f"{order.spell(down)}, counted from the cut edge, stay open. Sew back over the last "
        "stitches, so that it can't tear.",
        names,
    )


def sides_met(panels: Sequence[Piece | Shape]) -> Iterator[Sewn]:
    """The sides of panels that are all alike, or numbered: each meets the next, all round."""
    if len(panels) == 1:
        (piece,) = panels
        what = ALIKE if piece.count > 1 else "its own other side"
        yield Sewn(piece.name, "seam", what, piece.name, "seam", what)
        return
    for piece, after in zip(panels, (*panels[1:], panels[0]), strict=True):
        high, low = piece.edges.high, after.edges.low
        yield Sewn(
            piece.name, high, _side(after.name, low), after.name, low, _side(piece.name, high)
        )


def _side(name: str, edge: str) -> str:
    return f"{name}, left open above" if edge == "opening" else f"the like edge of {name}"
