"""An estimate of the time that the sewing takes, from stitches a minute. Off unless asked for."""

from __future__ import annotations

from dataclasses import dataclass

from marker.record import Garment, Stage

QUARTER = 15
"""Minutes; every stage is rounded up to quarters of an hour."""
STAGES = {
    Stage.JOIN: "seams and flounces",
    Stage.HEM: "hem",
    Stage.GAUGE: "rows of the pleats",
    Stage.BAND: "band",
    Stage.FINISH: "finishing",
}


@dataclass(frozen=True)
class Hours:
    """A stage of the work: how many stitches it has, and how many quarters of an hour they take."""

    stage: str
    stitches: int
    quarters: int


def hours(garment: Garment, pace: int) -> tuple[Hours, ...]:
    """The stages of a garment's sewing at `pace` stitches a minute; none without a pace.

    Only stitches are counted: no marking, cutting, pressing, drawing up or threading.
    """
    if not pace:
        return ()
    found = []
    for stage, name in STAGES.items():
        stitches = sum(one.stitches for one in garment.sewing if one.stage is stage)
        if stitches:
            found.append(Hours(name, stitches, -(-stitches // (pace * QUARTER))))
    return tuple(found)
