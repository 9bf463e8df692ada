"""The opening: how its edges are finished before the top is drawn up, and what closes it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.garments.made import Made
from marker.garments.order import Order
from marker.garments.work.chalk import inset
from marker.garments.work.job import Job, Sewn
from marker.piece import Piece
from marker.record import Stage


def opening_finished(
    order: Order, where: Sequence[tuple[str, str]], strips: Sequence[Piece]
) -> Made:
    """How the open edges of a seam are finished: turned in, or bound by a strip of cloth.

    `where` names the pieces beside the opening, and their edges.
    """
    panels = tuple(dict.fromkeys(name for name, _ in where))
    if not strips:
        return Made(work=(_turned(panels),))
    (strip,) = strips
    seam = order.spell(inset(strip, "low", "seam"))
    jobs = (
        Job(
            Stage.JOIN,
            "Open the opening out into a straight line. Pin the placket strip to it, right sides "
            f"together, down the one side and up the other in one, and sew {seam} from the strip's "
            "edge, but only a thread or two from the end of the slit.",
            (strip.name, *panels),
        ),
        Job(
            Stage.JOIN,
            f"Turn the strip's other edge under {seam}, fold the strip over the raw edges and "
            "fell it down on the inside. Let it stand out on the side that laps under, turn it in "
            "on the other, and sew across its fold at the lower end.",
            (strip.name,),
        ),
    )
    return Made(work=jobs, sewn=tuple(_strip_met(strip.name, where)))


def _strip_met(strip: str, where: Sequence[tuple[str, str]]) -> Iterator[Sewn]:
    for name, edge in where:
        yield Sewn(
            name, edge, "the placket strip, along the opening",
            strip, "skirt", "both edges of the opening, in one",
        )  # fmt: skip
    yield Sewn(strip, "inside", "its own seam on the inside, felled down")
    yield Sewn(strip, "waist", "nothing by itself; it goes into the top with the panels")


def _turned(panels: tuple[str, ...]) -> Job:
    return Job(
        Stage.JOIN,
        "Along the opening turn the raw edges of the seam allowances under and fell them down. "
        "Sew a bar of a few stitches across its lower end.",
        panels,
    )
