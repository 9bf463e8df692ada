"""After the shortest length, the greatest round hem: panels that flex are let out.

Narrower panels never take more cloth, so the widest that still lie within the length in
hand are found by halving. Nothing wider exists where the next step was refuted.
"""

from __future__ import annotations

from math import log2

from marker.decide.desk import Desk, Laid
from marker.garments.order import Flex
from marker.units import System, format_length


def widest(desk: Desk, laid: Laid, system: System, seconds: float) -> tuple[Laid, tuple[str, ...]]:
    """Let out the panels of each garment in turn; the lays, and a sentence for each."""
    said = []
    for index, chosen in enumerate(laid.way):
        if chosen.flex is not None:
            laid, sentence = _let_out(desk, laid, index, chosen.flex, system, seconds)
            said.append(sentence)
    return laid, tuple(said)


def _let_out(
    desk: Desk, laid: Laid, index: int, flex: Flex, system: System, seconds: float
) -> tuple[Laid, str]:
    widths = [*range(flex.low, flex.high, flex.step), flex.high]
    share = seconds / (log2(len(widths)) + 2)
    fits, fails, refuted = 0, len(widths), True
    at = len(widths) - 1
    while fails - fits > 1:
        draft = flex.at(widths[at])
        way = (*laid.way[:index], draft, *laid.way[index + 1 :])
        found, proved = desk.within(way, laid, share)
        if found is None:
            fails, refuted = at, proved
        else:
            laid, fits = found, at
        at = (fits + fails) // 2
    return laid, _told(laid, index, flex, widths[fits], refuted, system)


def _told(laid: Laid, index: int, flex: Flex, width: int, refuted: bool, system: System) -> str:
    """What the panels were let out to, and what is proved of it."""
    garment = laid.way[index].garment
    low, high, found, around = (
        format_length(length, system) for length in (flex.low, flex.high, width, garment.round_hem)
    )
    begin = f"The panels of {garment.name} for {garment.wearer} may be {low} to {high} wide: "
    if width == flex.high:
        return begin + f"the full {found} fit within the shortest length, {around} round the hem."
    how = "proved to be the widest" if refuted else "the widest found"
    return begin + f"{found} are {how} within the shortest length, {around} round the hem."
