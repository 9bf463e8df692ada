"""Several lays of one cloth joined end to end: each as it was laid, one behind the other.

The cloth is squared once. Where shears part all of it they keep their margin between the lays
too. If some were torn and others cut, each of the latter becomes a region that is torn free.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from marker.cloth import Cloth
from marker.geometry import Polygon, Rect
from marker.lay import Lay, Mode, Placement
from marker.piece import Piece
from marker.solver.finish import cut, cut_out, parted, torn
from marker.solver.separate import tear_apart

AREA = "the area of the pieces"
PART = "what some of the pieces take alone"


def joined(cloth: Cloth, lays: Sequence[Lay]) -> Lay:
    """The lays in their order on one piece of cloth; no two of them share a letter.

    What bounds it is the area of all, or what one of them alone can't undercut. Raises
    `CannotLay` where a remnant is too short for it.
    """
    chain = _Chain(cloth, tuple(lays))
    bound, bound_by = chain.bound()
    if chain.mode is Mode.SHEARS:
        finish = cut_out if chain.shaped else cut
        spots = [spot for lay in chain.moved() for spot in lay.placements]
        return finish(cloth, chain.pieces, spots, bound, bound_by, list(chain.empty(spots)))
    return chain.torn(bound, bound_by)


@dataclass(frozen=True)
class _Chain:
    cloth: Cloth
    lays: tuple[Lay, ...]

    @property
    def pieces(self) -> tuple[Piece, ...]:
        return tuple(piece for lay in self.lays for piece in lay.pieces)

    @property
    def shaped(self) -> bool:
        return any(lay.shaped for lay in self.lays)

    @property
    def mode(self) -> Mode:
        shears = all(lay.mode is Mode.SHEARS for lay in self.lays)
        return Mode.SHEARS if shears else Mode.TEAR

    def bound(self) -> tuple[int, str]:
        area = sum(piece.area2 * piece.count for piece in self.pieces)
        least = -(-area // (2 * self.cloth.usable.across))
        most = max(self.lays, key=lambda lay: lay.bound)
        return (most.bound, PART) if most.bound > least else (least, AREA)

    def moved(self) -> Iterator[Lay]:
        """Every lay where it stands in the row; only what is moved holds of them."""
        x, gap = 0, self.cloth.margin if self.mode is Mode.SHEARS else 0
        for lay in self.lays:
            yield replace(
                lay,
                placements=tuple(replace(spot, x=spot.x + x) for spot in lay.placements),
                regions=tuple(self._regions(lay, x)),
            )
            x += lay.length + gap

    def _regions(self, lay: Lay, x: int) -> Iterator[Rect]:
        """The regions of a lay that is torn; one that is cut is a region as it is."""
        if lay.mode is Mode.SHEARS:
            usable = self.cloth.usable
            yield Rect(x, usable.y0, x + lay.length, usable.y1)
        for region in lay.regions:
            yield Rect(region.x0 + x, region.y0, region.x1 + x, region.y1)

    def empty(self, spots: Sequence[Placement]) -> Iterator[Polygon]:
        """On folded cloth the image of every copy, since one that lacks it spoils its place."""
        if not self.cloth.folded:
            return
        known, width = {piece.letter: piece for piece in self.pieces}, self.cloth.laid_width
        for spot in spots:
            points = spot.polygon(known[spot.letter]).points
            image = Polygon(tuple((x, width - y) for x, y in reversed(points)))
            if 2 * image.box.y0 >= width or 2 * image.box.y1 <= width:
                yield image

    def torn(self, bound: int, bound_by: str) -> Lay:
        whole: list[Placement] = []
        cut_from: list[Placement] = []
        regions: list[Rect] = []
        known = {piece.letter: piece for piece in self.pieces}
        for lay in self.moved():
            regions += lay.regions
            for spot in lay.placements:
                held = any(region.holds(spot.rect(known[spot.letter])) for region in lay.regions)
                (cut_from if held else whole).append(spot)
        # To the tears a region is a piece like any other; no piece has a letter with a space.
        stands = [Piece(f"region {at}", "region", rect.along, rect.across, 1, self.cloth.key)
                  for at, rect in enumerate(regions)]  # fmt: skip
        places = [Placement(one.letter, 1, rect.x0, rect.y0, 0)
                  for one, rect in zip(stands, regions, strict=True)]  # fmt: skip
        tree = tear_apart(self.cloth, [*self.pieces, *stands], [*whole, *places])
        if regions:
            return parted(self.cloth, self.pieces, tree, cut_from, regions, bound, bound_by)
        length = max(spot.rect(known[spot.letter]).x1 for spot in whole)
        return torn(self.cloth, self.pieces, tree, length, bound, bound_by)
