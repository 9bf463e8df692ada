"""Flounces: strips or panels joined into a ring, hemmed, drawn up and sewn on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from marker.garments.order import Order
from marker.garments.work.chalk import inset
from marker.garments.work.hems import Rim
from marker.garments.work.job import Job, Sewn
from marker.piece import FACE, Piece
from marker.record import Stage

NEXT = "seam of the next flounce"
"""What the lower edge of a flounce is called that carries another."""


@dataclass(frozen=True)
class Hung:
    """A flounce and what it hangs on: its ring goes `edge` round and is drawn into `top`.

    `seam` is what it is sewn on with, `hem` its own hem, nought where the next flounce is sewn to
    its lower edge. `over` where it lies over the panels.
    """

    name: str
    piece: Piece
    rim: Rim
    edge: int
    top: int
    seam: int
    hem: int
    over: bool


def strips_worked(order: Order, hung: Hung, tucks: tuple[Job, ...]) -> Iterator[Job]:
    """A gathered flounce; `tucks` are the jobs of those in it."""
    names, seam = (hung.piece.name,), order.spell(inset(hung.piece, "start", "join"))
    count = hung.piece.count
    strips = "all strips" if hung.piece.pieced else f"the {count} strips"
    first = (
        f"Join {strips} of the {hung.name} end to end"
        if count > 1 or hung.piece.pieced
        else f"Sew the ends of the {hung.name} together"
    )
    yield Job(
        Stage.HEM,
        f"{first}, right sides together, {seam} from the edge, into a ring that goes "
        f"{order.spell(hung.edge)} round. Press the joins open.",
        names,
    )
    yield from (Job(Stage.HEM, job.text, job.pieces) for job in tucks)
    yield from _hem(order, hung, "")
    line = order.spell(inset(hung.piece, "high", "gathering line"))
    yield Job(
        Stage.HEM,
        f"Sew two rows of running stitches along the upper edge of the {hung.name}, on either "
        f"side of its gathering line {line} from the edge, with new thread for every quarter. "
        "Leave no needle in it.",
        names,
    )
    yield Job(
        Stage.HEM,
        f"Pin the {hung.name} {_where(hung)}, right sides together, quarter to quarter. "
        f"Draw every {order.spell(hung.edge // 4)} of it into {order.spell(hung.top // 4)}, "
        f"spread the gathers, and sew it on, {line} from its edge.{_down(hung)}",
        (*names, *hung.rim.pieces),
    )


def ring_worked(order: Order, hung: Hung, *, eased: bool) -> Iterator[Job]:
    """A flounce that flares without gathers; `eased` where its hem's edge is longer."""
    names, count = (hung.piece.name,), hung.piece.count
    first = (
        f"Join the {count} panels of the {hung.name} side to side into a ring"
        if count > 1
        else f"Sew the sides of the {hung.name} together into a ring"
    )
    yield Job(
        Stage.HEM,
        f"{first}, right sides together, {order.spell(hung.seam)} from the edge. Press the seams "
        "open.",
        names,
    )
    yield from _hem(order, hung, " Ease in what its edge is longer." if eased else "")
    yield Job(
        Stage.HEM,
        f"Pin the {hung.name} {_where(hung)}, right sides together, quarter to quarter: "
        f"its upper edge goes {order.spell(hung.top)} round as sewn. Snip that edge where it "
        f"pulls, and sew it on, {order.spell(hung.seam)} from its edge.{_down(hung)}",
        (*names, *hung.rim.pieces),
    )


def _hem(order: Order, hung: Hung, ease: str) -> Iterator[Job]:
    if hung.hem:
        yield Job(
            Stage.HEM,
            f"Turn its lower edge up {order.spell(hung.hem)}, the raw edge turned under, and hem "
            f"it down.{ease}",
            (hung.piece.name,),
        )


def _where(hung: Hung) -> str:
    if hung.over:
        return "upside down to the panels, its seam line on the line where it goes on"
    of = " of the flounce above" if hung.rim.edge == NEXT else ""
    return f"to the lower edge{of}, edges even"


def _down(hung: Hung) -> str:
    if hung.over:
        return " Turn it down over the seam and press."
    return " Press the seam upwards."


def flounce_met(hung: Hung, lower: str, upper: str, joins: str) -> Iterator[Sewn]:
    """A flounce meets what it hangs on, and itself; `lower`, `upper` and `joins` are its edges."""
    name = hung.piece.name
    how = "gathered, quarter to quarter" if upper == "gathered" else "quarter to quarter"
    for other in hung.rim.pieces:
        edge = FACE if hung.over else hung.rim.edge
        yield Sewn(
            other, edge, f"the upper edge of the {hung.name}, {how}",
            name, upper,
            "the panels, on the line where it goes on" if hung.over
            else f"the edge above it, {how}",
        )  # fmt: skip
    yield Sewn(name, joins, "its like, all the way round")
    if hung.hem:
        yield Sewn(name, lower, "itself, turned up")
