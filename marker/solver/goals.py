"""What a lay reaches of the four goals, and the bounds that stand against each.

The bounds of the first two come from the search. For the remnant and the tears they follow
from simple facts, argued below, and hold for every lay of the same length.
"""

from __future__ import annotations

from collections.abc import Sequence

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import USEFUL, Aim, Goal, Lay, Mode, Offcut

LEFT = "all that the pieces leave of the usable cloth"
BESIDE = "cloth behind all pieces, or beside the narrowest"
PARTS = "one tear fewer than the parts there must be in the end"
LINES = "so many straight cuts at least part cloth into so many pieces"
EACH = "every piece takes a tear or a cut of its own"
LAYERS = "so many pieces are cut out, though two layers are cut at once"


def useful(cloth: Cloth, rect: Rect) -> int:
    """Area of the largest rectangle of an offcut that holds no selvedge, squaring or flaw.

    Nought where no such rectangle is worth keeping.
    """
    usable = cloth.usable
    held = Rect(max(rect.x0, 0), max(rect.y0, usable.y0), rect.x1, min(rect.y1, usable.y1))
    if min(held.along, held.across) < USEFUL:
        return 0
    clear = held.clear_of(cloth.flaws, USEFUL) if cloth.flaws else held
    return clear.area if clear else 0


def largest(cloth: Cloth, offcuts: Sequence[Offcut]) -> int:
    """Area of the largest useful offcut."""
    return max((useful(cloth, cut.rect) for cut in offcuts), default=0)


def goals(lay: Lay, cuts: int, least_cuts: int) -> tuple[Goal, Goal, Goal, Goal]:
    """The four goals of a lay in their order.

    `cuts` counts the cuts of a lay for shears, straight ones where it has no outlines, and
    `least_cuts` bounds them; a torn lay's tears are counted and bounded here, and the `cuts`
    in its regions come to them.
    """
    cloth = lay.cloth
    remnant, by = _most_left(lay)
    torn = lay.mode is Mode.TEAR
    by_line = LAYERS if cloth.folded else EACH if lay.shaped else PARTS if torn else LINES
    return (
        Goal(Aim.BUY, lay.buy, cloth.buy(lay.bound), lay.bound_by),
        Goal(Aim.LENGTH, lay.length, lay.bound, lay.bound_by),
        Goal(Aim.REMNANT, largest(cloth, lay.offcuts), remnant, by),
        Goal(
            Aim.TEARS,
            len(lay.tears) + cuts if torn else cuts,
            least_tears(lay) if torn else least_cuts,
            by_line,
        ),
    )


def _most_left(lay: Lay) -> tuple[int, str]:
    """The largest rectangle that any lay within this bolt can leave.

    It holds no piece, so its area is at most what all pieces leave. Where pieces may be pushed
    together, a rectangle that no piece stands beside leaves the others all their length, at
    least the bound; any other has the narrowest piece beside it, and no more than the length
    of the bolt. Flaws and a lengthwise repeat may bar the pushing, and of an outline a mere
    tip may stand beside.
    """
    cloth = lay.cloth
    width, end = cloth.usable.across, lay.bolt.x1
    left = end * width - lay.used
    matched = cloth.repeat.along and any(piece.matches for piece in lay.pieces)
    if lay.shaped or cloth.flaws or matched:
        return left, LEFT
    narrowest = min(min(piece.length, piece.breadth) for piece in lay.pieces)
    beside = max((end - lay.bound) * width, end * (width - narrowest))
    return (left, LEFT) if left <= beside else (beside, BESIDE)


def least_tears(lay: Lay) -> int:
    """The fewest tears that free all pieces: each tear makes one part more.

    In the end every piece is a part, so is the squaring strip, and so is a trimmed selvedge
    at either side: no part holds cloth of both sides, since it would have to run across
    every piece between. Where no selvedge comes off, any waste is at least one part. A piece
    that is cut from a region counts for its cut instead; the region itself is a part too.
    """
    cloth = lay.cloth
    parts = sum(piece.count for piece in lay.pieces)
    if lay.bolt.x0 < 0:
        parts += 1
    if lay.regions:
        parts += 1
    if cloth.usable.across < cloth.laid_width:
        parts += 2
    elif not lay.regions and lay.bolt.x1 * cloth.usable.across > lay.used:
        parts += 1
    return parts - 1


def kept(cloth: Cloth, rects: Sequence[Rect]) -> tuple[Offcut, ...]:
    """Offcuts of these rectangles, in their order, the useful ones to be kept."""
    return tuple(Offcut(rect, keep=useful(cloth, rect) > 0) for rect in rects)
