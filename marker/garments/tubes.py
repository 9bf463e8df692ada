"""From the keys of the panels to the tube they are sewn into: every tube the file leaves open."""

from __future__ import annotations

from dataclasses import replace

from marker import units
from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.allowance import full_breadth
from marker.garments.lengths import Levels
from marker.garments.order import Order
from marker.garments.panel import MOST, Panels, Tube
from marker.units import ceil_to


def tubes(
    order: Order, panels: Panels, cloth: Cloth, levels: Levels, seam: int
) -> tuple[tuple[Tube, ...], str]:
    """All tubes the file leaves open, the plain way first, and what bars a railroaded one.

    Raises `BadInput` naming the key where no tube can be made.
    """
    _agree(order, panels)
    _selvedges_agree(order, panels, cloth)
    bar = _bar(order, panels, cloth, levels)
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


def _agree(order: Order, panels: Panels) -> None:
    """Refuse widths and rounds that contradict each other, or are too few."""
    ranged = isinstance(panels.width, tuple)
    if panels.width is not None and panels.round is not None and not ranged:
        raise order.fault(
            "panels has both width and round, and one follows from the other; take one out"
        )
    if panels.count is None and panels.round is None:
        raise order.fault(
            "panels.count is missing; give how many panels the skirt has, "
            "or panels.round, the round hem wanted"
        )
    if panels.most_round is None:
        return
    if not ranged and panels.round is None:
        raise order.fault(
            "panels.most_round is for panels whose width is left open; write panels.width = "
            '["66 cm", "74 cm"], from the least to the greatest, or take it out'
        )
    if panels.round is not None and panels.most_round < panels.round:
        raise order.fault(
            f"panels.most_round is {order.spell(panels.most_round)}, less than the "
            f"{order.spell(panels.round)} of panels.round; give a greater one"
        )


def _selvedges_agree(order: Order, panels: Panels, cloth: Cloth) -> None:
    """Refuse edges at a selvedge that the cloth, or the panels' lie, can't give."""
    if panels.selvedge and not cloth.keep_selvedges:
        raise order.fault(
            f"panels.selvedge is {panels.selvedge!r}, but the cloth {cloth.key!r} has its "
            'selvedges trimmed; write selvedges = "kept" for it, or take panels.selvedge out'
        )
    if panels.border is not None and panels.lie != "across":
        raise order.fault(
            "panels.border is for panels with their hem along a selvedge; write "
            'panels.lie = "across", or take it out'
        )


def _bar(order: Order, panels: Panels, cloth: Cloth, levels: Levels) -> str:
    """Why the panels can't lie across the cloth; empty where they can."""
    widest = full_breadth(cloth, panels.torn)
    if cloth.one_way:
        return f"the cloth {cloth.key!r} has an up and a down along the bolt"
    if panels.match:
        return "their pattern is to match from panel to panel"
    if panels.selvedge:
        return "their side edges are to lie at a selvedge"
    if levels.cut_length > widest:
        return (
            f"the cut length of {order.spell(levels.cut_length)} is more than the "
            f"{order.spell(widest)} that the cloth {cloth.key!r} gives"
        )
    return ""


def _along(order: Order, panels: Panels, cloth: Cloth, seam: int) -> Tube:
    """Panels whose length lies along the bolt, each a breadth of the cloth or less."""
    widest = full_breadth(cloth, panels.torn)
    if widest <= 2 * seam:
        raise order.fault(
            f"seam takes {order.spell(2 * seam)} of a breadth, all that the cloth "
            f"{cloth.key!r} gives; give a narrower seam"
        )
    low, high = _bounds(order, panels, widest, seam)
    if high > widest:
        raise order.fault(
            f"panels.width {_is(panels, 'goes up to')} {order.spell(high)}, wider than the "
            f"{order.spell(widest)} that the cloth {cloth.key!r} gives; give a smaller width, "
            'or "full"'
        )
    count = _count(order, panels, high - 2 * seam)
    tube = _within(order, panels, Tube(count, low, seam, most=high))
    if panels.selvedge == "both" and tube.width != widest:
        raise order.fault(
            'panels.selvedge is "both", which takes full breadths; write panels.width = "full", '
            'or panels.selvedge = "one"'
        )
    return tube


def _railroaded(order: Order, panels: Panels, cloth: Cloth, seam: int) -> Tube:
    """One piece with its length across the bolt, closed by one seam.

    A width is that of the breadths it takes the place of: it goes as far round as they would.
    """
    if panels.width is None and panels.round is not None:
        low, high = 0, (panels.most_round or units.LONGEST) + 2 * seam
    else:
        breadths = _bounds(order, panels, full_breadth(cloth, panels.torn), seam)
        count = _count(order, panels, breadths[1] - 2 * seam)
        low, high = (count * (width - 2 * seam) + 2 * seam for width in breadths)
    return _within(order, panels, Tube(1, low, seam, railroaded=True, most=high))


def _bounds(order: Order, panels: Panels, widest: int, seam: int) -> tuple[int, int]:
    """The least and the greatest cut width of a breadth, before the round hem is asked."""
    width = panels.width
    if width is None and panels.round is not None:
        return 0, widest
    least, most = width if isinstance(width, tuple) else (width, width)
    low, high = (widest if side in (None, "full") else int(side or 0) for side in (least, most))
    if low <= 2 * seam:
        raise order.fault(
            f"panels.width {_is(panels, 'begins at')} {order.spell(low)}, and two seams of "
            f"{order.spell(seam)} leave nothing of it; give a greater width"
        )
    if low > high:
        raise order.fault(
            f"panels.width begins at {order.spell(low)}, wider than the {order.spell(high)} "
            "of a full breadth; give a smaller width"
        )
    return low, high


def _is(panels: Panels, ranged: str) -> str:
    return ranged if isinstance(panels.width, tuple) else "is"


def _count(order: Order, panels: Panels, most: int) -> int:
    """How many panels there are: as given, or the fewest that reach the round hem wanted."""
    count = panels.count if isinstance(panels.count, int) else -(-(panels.round or 0) // most)
    if count > MOST:
        raise order.fault(f"panels.round takes {count} panels; {MOST} are the most")
    return count


def _within(order: Order, panels: Panels, tube: Tube) -> Tube:
    """The tube between `width` and `most` that keeps to the round hems wanted.

    Its least width reaches `panels.round`, rounded up to a size that can be measured, and
    its greatest keeps within `panels.most_round`. Where the file leaves the width open
    between the two, so does the tube.
    """
    low, high = tube.width, tube.most
    wanted = -(-(panels.round or 0) // tube.panels) + 2 * tube.seam
    if wanted > high:
        raise order.fault(_not_reached(order, panels, tube))
    allowed = high
    if panels.most_round is not None:
        allowed = panels.most_round // tube.panels + 2 * tube.seam
        if allowed < max(low, wanted):
            raise order.fault(_over(order, panels, tube))
    if panels.round is not None:
        low = max(low, min(ceil_to(wanted, order.grid), high, allowed))
    if allowed < high:
        high = max(low, allowed - allowed % order.grid)
    open_to = isinstance(panels.width, tuple) or panels.most_round is not None
    return replace(tube, width=low, most=high if open_to and high > low else 0)


def _not_reached(order: Order, panels: Panels, tube: Tube) -> str:
    """Why the widest panels don't go round as far as is wanted."""
    kind = "panels of the greatest width" if isinstance(panels.width, tuple) else "full breadths"
    if panels.count == 1:
        kind = kind.replace("panels", "panel").replace("breadths", "breadth")
    return (
        f"panels.count is {panels.count}, and {panels.count} {kind} "
        f"{'goes' if panels.count == 1 else 'go'} only "
        f"{order.spell(tube.widest.round)} round, not {order.spell(panels.round or 0)}; "
        "give more panels"
    )


def _over(order: Order, panels: Panels, tube: Tube) -> str:
    """Why even the narrowest panels go further round than they may."""
    most = order.spell(panels.most_round or 0)
    if tube.round <= (panels.most_round or 0):
        return (
            f"panels.most_round is {most}, and so near to panels.round that no width of "
            f"{tube.panels} panels goes between them; give a greater one"
        )
    return (
        f"panels.most_round is {most}, but {tube.panels} of the narrowest panels, "
        f"{order.spell(tube.width)} wide, go {order.spell(tube.round)} round; give a greater "
        "one, or fewer or narrower panels"
    )
