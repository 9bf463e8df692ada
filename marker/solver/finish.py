"""From what a search found to the finished lay: tears or leftovers, proof and goals."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.geometry import Polygon, Rect
from marker.lay import USEFUL, Lay, Mode, Part, Placement, leaves, prove, tears
from marker.piece import Piece
from marker.solver.empty import empty_rectangles
from marker.solver.goals import goals, kept
from marker.solver.threads import mark_cuts
from marker.units import Rounding, format_length

NAMED = 6
"""So many rectangles among curved pieces are named at most; between them lies but waste."""


def torn(
    cloth: Cloth, pieces: Sequence[Piece], tree: Part, length: int, bound: int, bound_by: str
) -> Lay:
    """The lay of a cut tree over the whole cloth in hand.

    Raises `CannotLay` where a remnant is too short for it.
    """
    ends = leaves(tree)
    placements = tuple(leaf.placed for leaf in ends if leaf.placed)
    lay = _begun(cloth, pieces, placements, length, bound, bound_by)
    lay = replace(
        lay,
        tears=mark_cuts(cloth, pieces, placements, tears(tree)),
        offcuts=kept(cloth, [leaf.rect for leaf in ends if leaf.placed is None]),
    )
    return replace(lay, goals=goals(lay, 0, 0))


def cut(
    cloth: Cloth,
    pieces: Sequence[Piece],
    placements: Sequence[Placement],
    bound: int,
    bound_by: str,
    spoilt: Sequence[Polygon] = (),
) -> Lay:
    """The lay of pieces cut out with shears. Raises `CannotLay` where a remnant is too short.

    What is `spoilt`, rectangles, is cut through too, and so is not left over.
    """
    from marker.solver.shears.cuts import least_cuts, leftovers, straight_cuts

    known = {piece.letter: piece for piece in pieces}
    taken = [spot.rect(known[spot.letter]) for spot in placements]
    length = max(rect.x1 for rect in taken)
    lay = _begun(cloth, pieces, placements, length, bound, bound_by)
    bolt, gone = lay.bolt, [outline.box for outline in spoilt]
    left = leftovers(bolt, [*taken, *gone], cloth.usable)
    lay = replace(lay, offcuts=kept(cloth, left), mode=Mode.SHEARS)
    # The squaring strip is a part of its own, and one cut right across takes it off.
    parts = [*taken, Rect(bolt.x0, 0, 0, bolt.y1)] if bolt.x0 < 0 else taken
    return replace(lay, goals=goals(lay, straight_cuts(bolt, parts), least_cuts(len(parts))))


def cut_out(
    cloth: Cloth,
    pieces: Sequence[Piece],
    placements: Sequence[Placement],
    bound: int,
    bound_by: str,
    spoilt: Sequence[Polygon] = (),
) -> Lay:
    """The lay of pieces of any outline, all cut out with shears.

    What is `spoilt` is cut through too, and so is not left over. Raises `CannotLay` where a
    remnant is too short.
    """
    known = {piece.letter: piece for piece in pieces}
    outlines = [spot.polygon(known[spot.letter]) for spot in placements]
    length = max(outline.box.x1 for outline in outlines)
    lay = _begun(cloth, pieces, placements, length, bound, bound_by)
    zone = Rect(0, cloth.usable.y0, lay.bolt.x1, cloth.usable.y1)
    left = empty_rectangles(zone, [*outlines, *spoilt], USEFUL, NAMED)
    lay = replace(lay, offcuts=kept(cloth, left), mode=Mode.SHEARS)
    return replace(lay, goals=goals(lay, len(placements), len(placements)))


def parted(
    cloth: Cloth,
    pieces: Sequence[Piece],
    tree: Part,
    cut_from: Sequence[Placement],
    regions: Sequence[Rect],
    bound: int,
    bound_by: str,
) -> Lay:
    """The lay of a cut tree in which placed leaves of `regions`' rectangles stand for regions.

    The pieces `cut_from` them lie within. Raises `CannotLay` where a remnant is too short.
    """
    known = {piece.letter: piece for piece in pieces}
    tree = _with_regions(tree, frozenset(regions))
    ends = leaves(tree)
    placements = (*(leaf.placed for leaf in ends if leaf.placed), *cut_from)
    outlines = [spot.polygon(known[spot.letter]) for spot in cut_from]
    boxes = [spot.rect(known[spot.letter]) for spot in placements]
    length = max(box.x1 for box in boxes)
    lay = _begun(cloth, pieces, placements, length, bound, bound_by)
    left = [leaf.rect for leaf in ends if leaf.placed is None and not leaf.region]
    among: list[Rect] = []
    for region in regions:
        inside = [outline for outline in outlines if region.holds(outline.box)]
        among += empty_rectangles(region, inside, USEFUL, NAMED)
    left += sorted(among, key=lambda rect: -rect.area)[:NAMED]
    lay = replace(
        lay,
        tears=mark_cuts(cloth, pieces, placements, tears(tree)),
        offcuts=kept(cloth, sorted(left, key=lambda rect: (-rect.area, rect))),
        regions=tuple(leaf.rect for leaf in ends if leaf.region),
    )
    return replace(lay, goals=goals(lay, len(cut_from), 0))


def _begun(
    cloth: Cloth,
    pieces: Sequence[Piece],
    placements: Sequence[Placement],
    length: int,
    bound: int,
    bound_by: str,
) -> Lay:
    """What every lay has, however it is parted; tears, leftovers and goals are still to come."""
    in_hand(cloth, length, bound)
    return Lay(
        cloth=cloth,
        pieces=tuple(pieces),
        length=length,
        bolt=cloth.bolt(length),
        placements=tuple(placements),
        tears=(),
        offcuts=(),
        bound=bound,
        bound_by=bound_by,
        proof=prove(cloth, length, bound),
    )


def _with_regions(tree: Part, regions: frozenset[Rect]) -> Part:
    if tree.placed and tree.rect in regions:
        return Part(tree.rect, region=True)
    parts = tuple(_with_regions(part, regions) for part in tree.parts)
    return replace(tree, parts=parts) if parts else tree


def bounded(lay: Lay, bound: int, bound_by: str) -> Lay:
    """The same lay under a bound known from elsewhere, where that is the better one."""
    if bound <= lay.bound:
        return lay
    proof = prove(lay.cloth, lay.length, bound)
    raised = replace(lay, bound=bound, bound_by=bound_by, proof=proof)
    tears = lay.goals[-1]
    return replace(raised, goals=goals(raised, tears.value - len(lay.tears), tears.bound))


def in_hand(cloth: Cloth, length: int, bound: int) -> None:
    """Raise `CannotLay` where the best lay found is longer than a remnant gives."""
    if not cloth.length or length <= cloth.longest_lay(cloth.length):
        return
    there = cloth.longest_lay(cloth.length)
    system = cloth.system
    has = format_length(there, system)
    if bound > there:
        raise CannotLay(
            f"cloth {cloth.key!r}: the pieces need {format_length(bound, system, Rounding.UP)} "
            f"of it at least, and the remnant gives {has}; "
            "take pieces off it, or let some come from another cloth",
            proved=True,
        )
    raise CannotLay(
        f"cloth {cloth.key!r}: no lay was found within the {has} that the remnant gives; the "
        f"shortest found takes {format_length(length, system, Rounding.UP)}, though none under "
        f"{format_length(bound, system)} exists; allow more time, or take pieces off it"
    )
