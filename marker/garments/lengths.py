"""From the waist to the hem: the cut length of every panel and how deep its top is turned in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marker.garments.order import Order
from marker.record import TurnDown

PLACES = ("front", "side", "back")
HOW = 'the length from the waist to the hem, such as "100 cm" (or front, side and back)'


@dataclass(frozen=True)
class Levels:
    """Where waist and hem lie on a panel: all panels are cut alike, to the longest place.

    `finished` holds the finished length at each place. `top` is what is taken in above the
    waist where the skirt is longest, `take_up` what is taken in below the hem, and `tucked`
    what all tucks between them take.
    """

    finished: Mapping[str, int]
    top: int
    take_up: int
    tucked: int = 0

    @property
    def cut_length(self) -> int:
        """Longest finished length + what is taken in at the top, by the hem and by tucks."""
        return self.longest + self.top + self.take_up + self.tucked

    @property
    def longest(self) -> int:
        """The finished length at the longest place."""
        return max(self.finished.values())

    @property
    def level(self) -> bool:
        """Whether the skirt is as long at the front, the side and the back."""
        return len(set(self.finished.values())) == 1

    def depth(self, place: str) -> int:
        """What is taken in above the waist at a place: more, where the wearer is shorter.

        Drawn-up skirts are levelled at the waist, so that the hem stays on the thread.
        """
        return self.top + self.longest - self.finished[place]

    def table(self) -> tuple[TurnDown, ...]:
        """The turn-down at front, side and back, or one row where all are alike."""
        if self.level:
            return (TurnDown("all round", self.longest, self.top),)
        return tuple(TurnDown(p, self.finished[p], self.depth(p)) for p in PLACES)


def finished_lengths(order: Order, shorter: int, longer: int = 0) -> dict[str, int]:
    """The finished length at each place, from the wearer's measures, less `shorter`.

    A place without a measure of its own takes `length`. Raises `BadInput` where neither is
    given, where `shorter` leaves nothing, or where it is to be `longer` as well.
    """
    if shorter and longer:
        raise order.fault("shorter and longer are both given; take one out")
    measures = order.wearer.measures
    lengths = {
        place: measures[place] if place in measures else order.measure("length", HOW)
        for place in PLACES
    }
    if min(lengths.values()) <= shorter:
        raise order.fault(
            f"shorter is {order.spell(shorter)}, which leaves nothing of a length of "
            f"{order.spell(min(lengths.values()))}; give a smaller figure"
        )
    return {place: length - shorter + longer for place, length in lengths.items()}
