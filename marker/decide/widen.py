"""After the shortest length, the greatest round hem: panels that flex are let out.

Narrower panels never take more cloth, so the widest that still lie within the length in
hand are found by halving. Nothing wider exists where the next step was refuted. Several
garments are let out alike, each by the same part of what it may be.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import log2

from marker.decide.desk import Desk, Laid
from marker.decide.ways import Way
from marker.garments.order import Flex
from marker.lay import Proof
from marker.solver.stop import asked
from marker.units import Units, format_length


def widest(desk: Desk, laid: Laid, system: Units) -> tuple[Laid, tuple[str, ...]]:
    """Let out all panels whose width is open; the lays, and a sentence for each garment."""
    open_widths = {at: chosen.flex for at, chosen in enumerate(laid.way) if chosen.flex}
    if not open_widths:
        return laid, ()
    steps = max(_steps(flex) for flex in open_widths.values())
    left = desk.kept_back + max(0.0, min(desk.left[lay.cloth.key] for lay in laid.lays))
    share = left / (log2(steps + 1) + 2)
    fits, fails, refuted = 0, steps + 1, True
    at = steps
    while fails - fits > 1:
        if asked():
            refuted = False
            break
        found, proved = desk.within(_let_out(laid.way, open_widths, at, steps), laid, share)
        if found is None:
            fails, refuted = at, proved
        else:
            laid, fits = found, at
        at = (fits + fails) // 2
    return laid, tuple(_told(laid, open_widths, fits, steps, refuted, system))


def _steps(flex: Flex) -> int:
    """How many steps a width may be let out by; the last may be a short one."""
    return -(-(flex.high - flex.low) // flex.step)


def _width(flex: Flex, at: int, steps: int) -> int:
    """The width after `at` of `steps` that the widest range has, in steps of its own."""
    own = _steps(flex) * at // steps if steps else 0
    return min(flex.low + own * flex.step, flex.high)


def _let_out(way: Way, open_widths: dict[int, Flex], at: int, steps: int) -> Way:
    return tuple(
        open_widths[index].at(_width(open_widths[index], at, steps))
        if index in open_widths
        else chosen
        for index, chosen in enumerate(way)
    )


def _told(
    laid: Laid, open_widths: dict[int, Flex], at: int, steps: int, refuted: bool, system: Units
) -> Iterator[str]:
    """What the panels of each garment were let out to, and what is proved of it."""
    alike = ", all let out alike" if len(open_widths) > 1 else ""
    proved = all(lay.proof is Proof.LENGTH for lay in laid.lays)
    within = "the shortest length" if proved else "the length that is used"
    for index, flex in open_widths.items():
        garment, width = laid.way[index].garment, _width(flex, at, steps)
        low, high, found, around = (
            format_length(length, system)
            for length in (flex.low, flex.high, width, garment.round_hem)
        )
        how = "proved to be the widest" if refuted else "the widest found"
        yield (
            f"The panels of {garment.name} for {garment.wearer} may be {low} to {high} wide: "
            + (f"the full {found} fit" if width == flex.high else f"{found} are {how}")
            + f" within {within}{alike}, {around} round the hem."
        )
