"""The frame of a nest: pieces, cloth and rules, read once for the search and for its bounds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.errors import CannotLay
from marker.geometry import Polygon, Rect
from marker.solver.nest.ground import Ground, reach_across
from marker.solver.nest.kinds import NestKind, ShapeRule
from marker.solver.nest.nearest import Band


@dataclass(frozen=True)
class Frame:
    """Kinds of piece, the cloth, and every outline that has a place across it."""

    kinds: tuple[NestKind, ...]
    width: int
    margin: int
    flaws: tuple[Rect, ...]
    outlines: tuple[Polygon, ...]
    origins: tuple[tuple[int, int], ...]
    """Kind and shape of each outline."""
    ground: Ground

    @classmethod
    def framed(
        cls,
        kinds: Sequence[NestKind],
        width: int,
        margin: int = 0,
        flaws: Sequence[Rect] = (),
        repeat: tuple[int, int] = (0, 0),
    ) -> Frame:
        """Read it; raises `CannotLay` where a piece has no place across the cloth."""
        origins, outlines = _ways(kinds, width)
        ground = Ground.of(kinds, origins, outlines, width, repeat)
        if ground.phases() is None:
            raise CannotLay("no place in the repeat is one in which all matched pieces can lie")
        return Frame(tuple(kinds), width, margin, tuple(flaws), outlines, origins, ground)

    @property
    def copies(self) -> int:
        """How many copies there are of all kinds."""
        return sum(kind.count for kind in self.kinds)

    def ways(self, k: int) -> list[int]:
        """The outlines of a kind."""
        return [s for s, (owner, _) in enumerate(self.origins) if owner == k]

    def band(self, s: int) -> Band:
        """The heights at which an outline can lie."""
        k, shape = self.origins[s]
        return Band(*reach_across(self.kinds[k], shape, self.width))


def _no_way(kind: NestKind, width: int) -> str:
    if all(shape.box.across > width for shape in kind.shapes):
        return "a piece is wider than the cloth in every way in which it may lie"
    return "a piece has no place across the cloth where it must lie"


def _ways(
    kinds: Sequence[NestKind], width: int
) -> tuple[tuple[tuple[int, int], ...], tuple[Polygon, ...]]:
    """Outlines that fit across the cloth, each once a kind, and the kind and shape of each."""
    found: list[tuple[tuple[int, int], Polygon]] = []
    for k, kind in enumerate(kinds):
        seen: set[tuple[frozenset[tuple[int, int]], ShapeRule]] = set()
        for s, shape in enumerate(kind.shapes):
            way = frozenset(shape.points), kind.rule(s)
            least, greatest = reach_across(kind, s, width)
            if least <= greatest and way not in seen:
                found.append(((k, s), shape))
                seen.add(way)
        if not seen:
            raise CannotLay(_no_way(kind, width), proved=True)
    origins, outlines = zip(*found, strict=True) if found else ((), ())
    return origins, outlines
