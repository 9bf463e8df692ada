"""Bias strips cut out and joined, before they are sewn to an edge."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from marker.garments.order import Order
from marker.garments.work.job import Job
from marker.piece import Piece
from marker.record import Stage

STRETCHES = "Press without pulling: bias stretches."


def bias_joined(
    order: Order,
    name: str,
    piece: Piece,
    joint: tuple[int, int],
    *,
    ring: bool,
    cut: Literal["", "rectangle", "round"] = "",
) -> Iterator[Job]:
    """One strip made of many; `joint` says how many there are and the seam of their joins.

    `cut` is "rectangle" where they are first cut out along its bias lines, "round" where one strip
    is cut round and round by the continuous method.
    """
    count, seam = joint
    said = f"right sides together and square to one another, {order.fine(seam)} from the edge"
    close = "close the whole into a ring" if ring else ""
    if cut == "rectangle":
        yield Job(
            Stage.HEM,
            f"Cut the cloth for the {name} along its bias lines into "
            f"{f'{count} strips' if count > 1 else 'one strip'}; mind the blades.",
            (piece.name,),
        )
    if cut == "round":
        yield Job(
            Stage.HEM,
            f"Make the cloth for the {name} into one strip by the continuous method: cut the "
            "triangle off on the bias, sew it on again at the other end, sew the tube one row "
            "out of step, and cut round and round. Mind the blades.",
            (piece.name,),
        )
    if count > 1:
        then = f", and {close}" if close else ""
        text = f"Join the {count} strips of the {name} on the straight thread, {said}{then}."
    elif close:
        text = f"Sew the ends of the {name} together on the straight thread, {said}."
    else:
        return
    yield Job(Stage.HEM, f"{text} {STRETCHES}", (piece.name,))
