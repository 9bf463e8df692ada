"""A lay on folded cloth: what lies in the upper layer, and what is cut with it underneath.

The plan shows the cloth unfolded. Its near half is the layer that is chalked; the far half
lies under it, right sides together, each copy beneath its mirror image.
"""

from __future__ import annotations

from collections.abc import Sequence

from marker.geometry import Rect
from marker.lay import Lay, Placement
from marker.plan.words import phrases as words
from marker.plan.words.drops import Laid, copies


def folding(lay: Lay) -> str:
    """How the cloth is folded, behind the verb."""
    side = words.side(lay)
    return (
        f"the cloth lengthwise, right sides together, {side} on {side}, and pin it: the plan "
        "shows it unfolded, and what lies beyond the fold line lies underneath"
    )


def fold_at(lay: Lay) -> int:
    """Where the fold lies across the cloth, twice over, so that it is whole."""
    return lay.cloth.laid_width


def on_fold(lay: Lay, spot: Placement) -> bool:
    """Whether a copy lies across the fold."""
    box = spot.rect(lay.piece(spot.letter))
    return lay.cloth.folded and 2 * box.y0 < fold_at(lay) < 2 * box.y1


def lies_below(lay: Lay, spot: Placement) -> bool:
    """Whether a copy lies in the lower layer of folded cloth."""
    return lay.cloth.folded and 2 * spot.rect(lay.piece(spot.letter)).y0 >= fold_at(lay)


def upper(lay: Lay, held: Sequence[Laid]) -> tuple[Laid, ...]:
    """What is chalked, of some copies: those of the upper layer, and those on the fold.

    A copy that lies alone in the lower layer is chalked above its place.
    """
    if not lay.cloth.folded:
        return tuple(held)
    beneath = under(lay)
    told = []
    for spot, box in held:
        if spot.id in beneath:
            continue
        if lies_below(lay, spot):
            box = _image(lay, box)
        told.append((spot, box))
    return tuple(told)


def under(lay: Lay) -> dict[str, str]:
    """For each copy in the lower layer, the copy that it is cut with."""
    if not lay.cloth.folded:
        return {}
    near: dict[tuple[str, Rect], str] = {}
    far: list[Laid] = []
    for spot, box in copies(lay):
        if 2 * box.y1 <= fold_at(lay):
            near[spot.letter, box] = spot.id
        elif 2 * box.y0 >= fold_at(lay):
            far.append((spot, box))
    found = {}
    for spot, box in far:
        image = _image(lay, box)
        if (spot.letter, image) in near:
            found[spot.id] = near[spot.letter, image]
    return found


def _image(lay: Lay, box: Rect) -> Rect:
    """A box as it lies in the other layer."""
    return Rect(box.x0, fold_at(lay) - box.y1, box.x1, fold_at(lay) - box.y0)
