"""The panels of a straight skirt: how many, how wide, and which way they lie."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from pydantic import Field

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.lengths import Levels
from marker.garments.order import Order
from marker.garments.words import Breadth, Size, Strict
from marker.piece import Edges, Grain, Mark, MarkKind, Piece
from marker.units import ceil_to

MOST = 1000
"""More panels than any skirt has: a larger figure is a slip."""


class Panels(Strict):
    """The keys of a garment's panels: `count` of a `width`, or the `round` hem wanted."""

    count: int | None = Field(
        default=None,
        ge=1,
        le=MOST,
        description=f"how many breadths the skirt has, from 1 to {MOST}",
    )
    width: Breadth | None = Field(
        default=None, description='the cut width of one panel, such as "110 cm", or "full"'
    )
    round: Size | None = Field(
        default=None, description='the least width of the finished round hem, such as "3.20 m"'
    )
    lie: Literal["along", "across", "either"] = Field(
        default="along", description="which way the panels' length lies on the cloth"
    )


@dataclass(frozen=True)
class Tube:
    """`panels` of cut `width`, sewn into a closed tube of as many seams."""

    panels: int
    width: int
    seam: int
    railroaded: bool = False

    @property
    def round(self) -> int:
        """The finished round: every panel gives up a seam allowance at either side."""
        return self.panels * (self.width - 2 * self.seam)


def tubes(
    order: Order, panels: Panels, cloth: Cloth, levels: Levels, seam: int
) -> tuple[tuple[Tube, ...], str]:
    """All tubes the file leaves open, the plain way first, and what bars a railroaded one.

    Raises `BadInput` naming the key where no tube can be made.
    """
    if panels.width is not None and panels.round is not None:
        raise order.fault(
            "panels has both width and round, and one follows from the other; take one out"
        )
    if panels.count is None and panels.round is None:
        raise order.fault(
            "panels.count is missing; give how many panels the skirt has, "
            "or panels.round, the round hem wanted"
        )
    bar = _bar(order, cloth, levels)
    if panels.lie == "across" and bar:
        raise order.fault(f'panels.lie can\'t be across: {bar}; write "along"')
    across = () if bar or panels.lie == "along" else (_railroaded(order, panels, cloth, seam),)
    if panels.lie == "across":
        return across, ""
    try:
        return (_along(order, panels, cloth, seam), *across), bar
    except BadInput:
        if not across:
            raise
        return across, ""


def _bar(order: Order, cloth: Cloth, levels: Levels) -> str:
    """Why the panels can't lie across the cloth; empty where they can."""
    usable = cloth.usable.across
    if cloth.one_way:
        return f"the cloth {cloth.key!r} has an up and a down along the bolt"
    if levels.cut_length > usable:
        return (
            f"the cut length of {order.spell(levels.cut_length)} is more than the "
            f"{order.spell(usable)} that the cloth {cloth.key!r} gives"
        )
    return ""


def _along(order: Order, panels: Panels, cloth: Cloth, seam: int) -> Tube:
    """Panels whose length lies along the bolt, each a breadth of the cloth or less."""
    usable = cloth.usable.across
    if usable <= 2 * seam:
        raise order.fault(
            f"seam takes {order.spell(2 * seam)} of a breadth, all that the cloth "
            f"{cloth.key!r} gives; give a narrower seam"
        )
    if panels.round is not None:
        return _to_reach(order, panels.round, panels.count, usable, seam)
    count = panels.count or 1
    width = usable if panels.width in (None, "full") else int(panels.width or 0)
    if width > usable:
        raise order.fault(
            f"panels.width is {order.spell(width)}, wider than the {order.spell(usable)} that "
            f'the cloth {cloth.key!r} gives; give a smaller width, or "full"'
        )
    if width <= 2 * seam:
        raise order.fault(
            f"panels.width is {order.spell(width)}, and two seams of {order.spell(seam)} leave "
            "nothing of it; give a greater width"
        )
    return Tube(count, width, seam)


def _to_reach(order: Order, wanted: int, count: int | None, usable: int, seam: int) -> Tube:
    """The fewest equal panels that go round as far as is wanted, rounded up to cut."""
    most = usable - 2 * seam
    count = count or -(-wanted // most)
    if count > MOST:
        raise order.fault(f"panels.round takes {count} panels; {MOST} are the most")
    share = -(-wanted // count)
    if share > most:
        raise order.fault(
            f"panels.count is {count}, and {count} full breadths go only "
            f"{order.spell(count * most)} round, not {order.spell(wanted)}; give more panels"
        )
    return Tube(count, min(ceil_to(share + 2 * seam, order.grid), usable), seam)


def _railroaded(order: Order, panels: Panels, cloth: Cloth, seam: int) -> Tube:
    """One piece with its length across the bolt, closed by one seam."""
    usable = cloth.usable.across
    if panels.round is not None:
        return Tube(1, panels.round + 2 * seam, seam, railroaded=True)
    width = usable if panels.width in (None, "full") else int(panels.width or 0)
    around = Tube(panels.count or 1, width, seam).round
    if around <= 0:
        raise order.fault(
            f"panels.width is {order.spell(width)}, and two seams leave nothing of it; "
            "give a greater width"
        )
    return Tube(1, around + 2 * seam, seam, railroaded=True)


def panel_piece(
    order: Order, tube: Tube, cloth: Cloth, levels: Levels, marks: tuple[Mark, ...]
) -> Piece:
    """The panel with its seam lines and the marks given; u runs from the waist to the hem."""
    seams = tuple(
        Mark(MarkKind.SEAM, "seam", 0, v, levels.cut_length, v)
        for v in (tube.seam, tube.width - tube.seam)
    )
    return Piece(
        letter="",
        name="panel",
        length=levels.cut_length,
        breadth=tube.width,
        count=tube.panels,
        cloth=cloth.key,
        grain=Grain.ACROSS if tube.railroaded else Grain.ALONG,
        up="length",
        edges=Edges(start="waist", end="hem", low="seam", high="seam"),
        marks=seams + marks,
        garment=order.key,
        wearer=order.wearer.name,
    )


def top_marks(tube: Tube, levels: Levels, turned: bool) -> Iterator[Mark]:
    """The line at the waist: one where the skirt is level, else one for each depth."""
    kind = MarkKind.FOLD if turned else MarkKind.SEAM
    name = "fold of the turn-down" if turned else "gathering line"
    places: dict[int, list[str]] = {}
    for place in levels.finished:
        places.setdefault(levels.depth(place), []).append(place)
    for depth, names in places.items():
        at = "" if levels.level else f" ({', '.join(names)})"
        yield Mark(kind, name + at, depth, 0, depth, tube.width)


def hem_mark(tube: Tube, levels: Levels) -> Iterator[Mark]:
    """The line of the finished hem, where anything is taken in below it."""
    if levels.take_up:
        u = levels.cut_length - levels.take_up
        yield Mark(MarkKind.HEM, "hem line", u, 0, u, tube.width)
