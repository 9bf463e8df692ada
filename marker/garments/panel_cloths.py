"""Panels that several cloths may give: which of them are wide enough, and what they share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.cloth import Cloth
from marker.garments.allowance import torn_edge
from marker.garments.order import Order
from marker.garments.panel import Panels


def panel_cloths(order: Order, panels: Panels) -> tuple[Cloth, ...]:
    """The cloths that the panels may come from, the first named first.

    Where a width is given only those that are wide enough; whole breadths are those of the
    narrowest. Raises `BadInput` where the panels ask what several cloths can't give alike.
    """
    cloths = order.cloths_of("cloth", None)
    if len(cloths) == 1:
        return cloths
    for key in ("match", "selvedge", "border"):
        if getattr(panels, key) is not None:
            raise order.fault(
                f"panels.{key} is given, but cloth names {len(cloths)} cloths, and no two lie "
                "alike; name one cloth, or take it out"
            )
    widest = max(_room(cloth, cloths, panels.torn) for cloth in cloths)
    asked = panels.width[0] if isinstance(panels.width, tuple) else panels.width
    least = min(asked, widest) if isinstance(asked, int) and panels.lie == "along" else 0
    return tuple(cloth for cloth in cloths if _room(cloth, cloths, panels.torn) >= least)


def common(cloths: Sequence[Cloth], torn: bool) -> Cloth:
    """A cloth that gives no more than any of these: the narrowest, one way if any of them is."""
    if len(cloths) == 1:
        return cloths[0]
    narrowest = min(cloths, key=lambda cloth: _room(cloth, cloths, torn))
    return replace(
        narrowest,
        selvedge=0 if narrowest.keep_selvedges else narrowest.selvedge,
        keep_selvedges=False,
        one_way=any(cloth.one_way for cloth in cloths),
        tears=any(cloth.tears for cloth in cloths),
        torn_edge=torn_edge(cloths, torn),
    )


def _room(cloth: Cloth, cloths: Sequence[Cloth], torn: bool) -> int:
    """The widest panel that lies along a cloth."""
    return cloth.usable.across - 2 * torn_edge(cloths, torn)
