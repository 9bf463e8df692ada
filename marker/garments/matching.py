"""Stripes and checks that match: where in the repeat the panels of a skirt fall."""

from __future__ import annotations

from marker.cloth import Cloth
from marker.garments.order import Order
from marker.garments.panel import Panels, Tube
from marker.piece import Match, Wise
from marker.units import Rounding, format_length

WISE = {
    "lengthwise": (Wise.LENGTHWISE,),
    "crosswise": (Wise.CROSSWISE,),
    "both": (Wise.LENGTHWISE, Wise.CROSSWISE),
}


def matching(
    order: Order, panels: Panels, tube: Tube, cloth: Cloth, hem: int
) -> tuple[tuple[Match, ...], ...]:
    """What each panel must match: one entry for all where they are alike, else one a panel.

    Lengthwise, all hem edges (u = `hem`) fall in one place of the repeat. Crosswise, the low
    seam line of each panel goes on where the high seam line of the one before it ended: from
    seam to seam the pattern moves on by the pitch, so that the match points of panels whose
    pitch is not a whole number of repeats fall behind by it, one after another. Raises
    `BadInput` where the cloth has no such repeat, or the width is left open.
    """
    wanted = WISE.get(panels.match or "", ())
    for wise in wanted:
        _can_match(order, panels, tube, cloth, wise)
    along = tuple(
        Match(f"{order.key}/hem", wise, hem, 0) for wise in wanted if wise is Wise.LENGTHWISE
    )
    if Wise.CROSSWISE not in wanted:
        return (along,)
    step = tube.pitch % cloth.repeat.across
    return tuple(
        (*along, Match(f"{order.key}/seams", Wise.CROSSWISE, 0, tube.seam - behind))
        for behind in (
            [i * step % cloth.repeat.across for i in range(tube.panels)] if step else [0]
        )
    )


def _can_match(order: Order, panels: Panels, tube: Tube, cloth: Cloth, wise: Wise) -> None:
    if lacking := no_repeat(cloth, wise):
        raise order.fault(
            f"panels.match is {panels.match!r}, but {lacking}, or take panels.match out"
        )
    if wise is Wise.CROSSWISE and tube.most:
        raise order.fault(
            f"panels.match is {panels.match!r}, and where the stripes fall in the seams hangs on "
            "the panels' width, which is left open; give one width, or match lengthwise only"
        )


def no_repeat(cloth: Cloth, wise: Wise) -> str:
    """What a cloth lacks to be matched in one way, and what to give; empty if it lacks nothing."""
    repeat, key = {
        Wise.LENGTHWISE: (cloth.repeat.along, "along"),
        Wise.CROSSWISE: (cloth.repeat.across, "across"),
    }[wise]
    if repeat:
        return ""
    return (
        f'the cloth {cloth.key!r} has no {wise} repeat; give repeat = {{ {key} = "12 cm" }} for it'
    )


def matching_advice(order: Order, panels: Panels, tube: Tube, cloth: Cloth) -> tuple[str, ...]:
    """How far the pattern goes on round the skirt, and that numbered panels keep their order."""
    if Wise.CROSSWISE not in WISE.get(panels.match or "", ()):
        return ()
    repeat = cloth.repeat.across
    ahead = tube.round % repeat
    if not ahead:
        going = "The pattern goes on over every seam, all the way round."
    else:
        out = format_length(min(ahead, repeat - ahead), order.units, Rounding.UP)
        going = (
            "The pattern goes on over every seam but the one with the opening, "
            f"where it is {out} out."
        )
    if tube.pitch % repeat == 0 or tube.panels == 1:
        return (going,)
    return (f"{going} Sew the panels in the order of their numbers.",)
