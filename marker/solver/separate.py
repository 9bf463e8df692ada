"""Can placed rectangles be torn apart edge to edge, and by which tears?

A tear that hits no piece never spoils what can be torn: any part of a set that can be torn
apart can be torn apart. So tearing wherever a line runs free, until none does, decides the
question, and what is then left whole is a knot: pieces that hold one another fast.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Direction, Part, Placement, leaves, tears
from marker.piece import Piece
from marker.solver.goals import useful

Pair = tuple[int, int]
Placed = tuple[Rect, Placement]


@dataclass(frozen=True)
class Knot:
    """Rectangles, by their index, that hold one another fast, and no fewer of them do.

    The pairs of `along` overlap in x and join all of them, those of `across` do so in y: while
    they all do, no tear can run between any of the rectangles.
    """

    members: tuple[int, ...]
    along: tuple[Pair, ...]
    across: tuple[Pair, ...]


def knots(rects: Sequence[Rect]) -> tuple[Knot, ...]:
    """The knots of a lay, one for each part that no tear divides; none where it can be torn."""
    found = (_smallest(rects, stuck) for stuck in _stuck(rects, range(len(rects))))
    return tuple(Knot(core, _joins(rects, core, 0), _joins(rects, core, 1)) for core in found)


def _ends(rect: Rect, axis: int) -> Pair:
    return (rect.x0, rect.x1) if axis == 0 else (rect.y0, rect.y1)


def clusters(rects: Sequence[Rect], members: Sequence[int], axis: int) -> list[list[int]]:
    """The members in groups, low to high, between which a line runs free; axis 0 is along."""
    groups: list[list[int]] = []
    reached: int | None = None
    for index in sorted(members, key=lambda index: _ends(rects[index], axis)):
        low, high = _ends(rects[index], axis)
        if reached is None or low >= reached:
            groups.append([])
        groups[-1].append(index)
        reached = high if reached is None else max(reached, high)
    return groups


def _stuck(rects: Sequence[Rect], members: Sequence[int]) -> Iterator[Sequence[int]]:
    """Groups of two or more that no tear divides."""
    if len(members) < 2:
        return
    for axis in (0, 1):
        groups = clusters(rects, members, axis)
        if len(groups) > 1:
            for group in groups:
                yield from _stuck(rects, group)
            return
    yield members


def _smallest(rects: Sequence[Rect], stuck: Sequence[int]) -> tuple[int, ...]:
    """Leave out members as long as the rest can't be torn apart; the larger go first."""
    core = list(stuck)
    for index in sorted(stuck, key=lambda index: -rects[index].area):
        rest = [member for member in core if member != index]
        if any(True for _ in _stuck(rects, rest)):
            core = rest
    return tuple(core)


def _joins(rects: Sequence[Rect], core: Sequence[int], axis: int) -> tuple[Pair, ...]:
    """Pairs that overlap on an axis and join all of the core: a spanning tree."""
    joined, waiting, pairs = [core[0]], list(core[1:]), []
    while waiting:
        one, two = next(
            (one, two)
            for one in joined
            for two in waiting
            if _overlap(rects[one], rects[two], axis)
        )
        pairs.append((one, two))
        joined.append(two)
        waiting.remove(two)
    return tuple(pairs)


def _overlap(one: Rect, two: Rect, axis: int) -> bool:
    (low, high), (other_low, other_high) = _ends(one, axis), _ends(two, axis)
    return low < other_high and other_low < high


def tear_apart(cloth: Cloth, pieces: Sequence[Piece], placements: Sequence[Placement]) -> Part:
    """The cut tree over the whole bolt of a lay that can be torn: see `knots`.

    Of a few trees the one with the largest useful remnant, then with the fewest tears.
    """
    by_letter = {piece.letter: piece for piece in pieces}
    placed = [(spot.rect(by_letter[spot.letter]), spot) for spot in placements]
    trees = [
        _Cutter(cloth, placed, order).bolt(keep_end)
        for order in (_by_tears, _by_remnant)
        for keep_end in (False, True)
    ]
    return max(trees, key=lambda tree: (_largest(cloth, tree), -len(tears(tree))))


def _largest(cloth: Cloth, tree: Part) -> int:
    return max((useful(cloth, leaf.rect) for leaf in leaves(tree) if not leaf.placed), default=0)


def _by_tears(cloth: Cloth, tree: Part) -> tuple[int, ...]:
    return len(tears(tree)), -_largest(cloth, tree)


def _by_remnant(cloth: Cloth, tree: Part) -> tuple[int, ...]:
    return -_largest(cloth, tree), len(tears(tree))


@dataclass
class _Cutter:
    """Builds the cut tree of placed pieces; `rank` says which of two trees of a part is better."""

    cloth: Cloth
    placed: Sequence[Placed]
    rank: Callable[[Cloth, Part], tuple[int, ...]]
    known: dict[Rect, Part] = field(default_factory=dict)

    def bolt(self, keep_end: bool) -> Part:
        """The whole bolt: torn across wherever it overhangs the pieces.

        With `keep_end` the shop's end stays on the last band, if another tear comes before.
        """
        length = max(rect.x1 for rect, _ in self.placed)
        bolt = self.cloth.bolt(length)
        members = range(len(self.placed))
        bands = self._split(Rect(0, bolt.y0, bolt.x1, bolt.y1), members, 0)
        if bolt.x0 < 0:
            bands.insert(0, Rect(bolt.x0, bolt.y0, 0, bolt.y1))
        if keep_end and len(bands) > 2 and bolt.x1 > length:
            end = bands.pop()
            bands[-1] = Rect(bands[-1].x0, bolt.y0, end.x1, bolt.y1)
        if len(bands) == 1:
            return self._part(bolt)
        return Part(bolt, Direction.ACROSS, tuple(self._part(band) for band in bands))

    def _within(self, rect: Rect) -> list[int]:
        return [index for index, (piece, _) in enumerate(self.placed) if rect.holds(piece)]

    def _part(self, rect: Rect) -> Part:
        if rect not in self.known:
            self.known[rect] = self._cut(rect)
        return self.known[rect]

    def _cut(self, rect: Rect) -> Part:
        """The better of tearing a part across or along first."""
        members = self._within(rect)
        if not members:
            return Part(rect)
        if len(members) == 1 and self.placed[members[0]][0] == rect:
            return Part(rect, placed=self.placed[members[0]][1])
        ways = []
        for axis, direction in enumerate((Direction.ACROSS, Direction.ALONG)):
            parts = self._split(rect, members, axis)
            if len(parts) > 1:
                ways.append(Part(rect, direction, tuple(self._part(part) for part in parts)))
        return min(ways, key=lambda way: self.rank(self.cloth, way))

    def _split(self, rect: Rect, members: Sequence[int], axis: int) -> list[Rect]:
        """A part torn on one axis at every free line: groups of pieces, and waste between."""
        rects = [piece for piece, _ in self.placed]
        low, high = _ends(rect, axis)
        cuts = [low]
        for group in clusters(rects, members, axis):
            cuts.append(min(_ends(rects[index], axis)[0] for index in group))
            cuts.append(max(_ends(rects[index], axis)[1] for index in group))
        cuts.append(high)
        spans = [(a, b) for a, b in pairwise(cuts) if a < b]
        if axis == 0:
            return [Rect(a, rect.y0, b, rect.y1) for a, b in spans]
        return [Rect(rect.x0, a, rect.x1, b) for a, b in spans]
