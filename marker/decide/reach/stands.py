"""What stands in a case: its remnants, and each garment with its figures as drafted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from marker.casefile import Case
from marker.casefile.changes import Changes, Key, changed
from marker.cloth import Cloth
from marker.decide import draft
from marker.decide.reach.effort import drafts
from marker.errors import BadInput
from marker.garments.order import Draft, Order
from marker.piece import Piece
from marker.units import System, Units, format_exact, format_length, is_rounded, print_step

WIDER = (2, 4, 8)
"""Times as wide as the remnants are, to draft what is too wide for them."""


@dataclass(frozen=True)
class Stand:
    """One garment table of the case: its orders, a wearer each, and their usual drafts."""

    table: str
    orders: tuple[Order, ...]
    drafts: tuple[Draft, ...]
    system: System
    cloths: Mapping[str, Cloth]
    """All cloths of the case, as wide as they are."""

    @property
    def remnants(self) -> Mapping[str, Cloth]:
        """Those that are there."""
        return {key: cloth for key, cloth in self.cloths.items() if cloth.length}

    @property
    def order(self) -> Order:
        """The first of its orders."""
        return self.orders[0]

    @property
    def draft(self) -> Draft:
        """The draft of the first of its orders."""
        return self.drafts[0]

    @property
    def name(self) -> str:
        """What the file calls the garment."""
        return self.order.name

    @property
    def grid(self) -> int:
        """The step of figures that are sought."""
        return grid(self.system)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The pieces of all its orders."""
        return tuple(piece for each in self.drafts for piece in each.pieces)

    @property
    def in_hand(self) -> bool:
        """Whether any of it may come from a remnant."""
        return any({piece.cloth, *piece.also} & self.remnants.keys() for piece in self.pieces)

    def key(self, *way: str) -> Key:
        """Where a value of the garment stands in the file."""
        return ("garment", self.table, *way)

    def spelled(self, length: int) -> str:
        """A length as the file may say it, exactly."""
        return spelled(length, self.system)


def stands(case: Case) -> tuple[Stand, ...]:
    """The garments of a case in its order; drafted on wider cloth where they are too wide.

    Raises the `BadInput` of drafting where the cloth's width isn't what is wrong.
    """
    roomy = changed(case, room_for(case))
    found: dict[str, list[tuple[Order, Draft]]] = {}
    for order, options in zip(roomy.orders, draft(roomy), strict=True):
        if order.table in case.tables.get("garment", {}):
            found.setdefault(order.table, []).append((order, options[0]))
    return tuple(
        Stand(
            table,
            tuple(order for order, _ in each),
            tuple(drafted for _, drafted in each),
            case.units.lead,
            case.cloths,
        )
        for table, each in found.items()
    )


def room_for(case: Case) -> Changes:
    """Nothing, or remnants so much wider that all can be drafted."""
    try:
        draft(case)
    except BadInput:
        for times in WIDER:
            wider = widths(case, lambda cloth, times=times: cloth.width * times)  # type: ignore[misc]
            if drafts(case, wider):
                return wider
        raise
    return {}


def widths(case: Case, width: Callable[[Cloth], int]) -> Changes:
    """Remnants of other widths."""
    return {
        ("cloth", key, "width"): spelled(width(cloth), case.units)
        for key, cloth in case.cloths.items()
        if cloth.length
    }


def endless(case: Case) -> Changes:
    """Remnants sold by the length, so that they hold anything, in steps of the grid."""
    step = spelled(grid(case.units), case.units)
    found: dict[Key, str | None] = {}
    for key, cloth in case.cloths.items():
        if cloth.length:
            found[("cloth", key, "length")] = None
            found[("cloth", key, "step")] = step
    return found


def grid(units: Units) -> int:
    """The step of figures that are sought: 1 mm, or 1/8 in."""
    return print_step(units.lead)


def spelled(length: int, units: Units) -> str:
    """A length as a file may say it, so that it is read back exactly."""
    if is_rounded(length, units.lead):
        return format_exact(length)
    return format_length(length, units.lead)
