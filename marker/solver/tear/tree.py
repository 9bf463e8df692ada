"""From a row of bands to the cut tree over the whole cloth bought.

The root is the bolt, torn across: the squaring first, then band after band, and last the
shop's end. Within a band the tears run along: the near selvedge comes off, then part after
part, and what is left at the far side comes off with the far selvedge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Direction, Part, Placement
from marker.piece import Piece
from marker.solver.problem import Shape, shapes_of
from marker.solver.tear.block import Block, beside

ACROSS, ALONG = Direction.ACROSS, Direction.ALONG


@dataclass
class Copies:
    """Hands out copies of pieces by the size they cover, in the order of asking."""

    waiting: dict[Shape, list[tuple[str, int, int]]] = field(default_factory=dict)
    given: set[tuple[str, int]] = field(default_factory=set)

    @classmethod
    def of(cls, cloth: Cloth, pieces: Sequence[Piece]) -> Copies:
        """All copies, each filed under every size in which it may lie.

        Those that may lie in one size only stand first: else one that may turn could take their
        place, and be missing where only it can lie.
        """
        copies = cls()
        ways = [(piece, shapes_of(piece, cloth)) for piece in pieces]
        for piece, shapes in sorted(ways, key=lambda way: len(way[1])):
            for shape, turn in shapes.items():
                line = copies.waiting.setdefault(shape, [])
                line += [(piece.letter, copy, turn) for copy in range(1, piece.count + 1)]
        return copies

    def take(self, rect: Rect) -> Placement:
        """The next copy that covers this rectangle."""
        line = self.waiting[rect.along, rect.across]
        while True:
            letter, copy, turn = line.pop(0)
            if (letter, copy) not in self.given:
                self.given.add((letter, copy))
                return Placement(letter, copy, rect.x0, rect.y0, turn)


class Blank:
    """Stands in for copies where only the shape of a cut tree is asked for."""

    def take(self, rect: Rect) -> Placement:
        """A copy of no piece."""
        return Placement("", 0, rect.x0, rect.y0, 0)


@dataclass
class Cutter:
    """Cuts blocks, in true units, out of rectangles of cloth."""

    cloth: Cloth
    copies: Copies | Blank

    def part(self, block: Block, rect: Rect) -> Part:
        """The cut tree of a block in the low corner of a rectangle that may be larger.

        Where it is larger on both axes, the first tear leaves the larger waste whole.
        """
        long, wide = rect.along - block.a, rect.across - block.b
        if not long and not wide and not block.parts:
            return Part(rect, placed=self.copies.take(rect))
        if long and wide:
            across = long * rect.across >= rect.along * wide
        else:
            across = bool(long) or (not wide and block.direction is ACROSS)
        direction = ACROSS if across else ALONG
        return Part(rect, direction, tuple(self.cut(block, rect, direction)))

    def cut(self, block: Block, rect: Rect, direction: Direction) -> Iterator[Part]:
        """The parts that tears in one direction free, low to high; waste comes last."""
        x, y = rect.x0, rect.y0
        for part in _rank(block, direction):
            if direction is ACROSS:
                yield self.part(part, Rect(x, rect.y0, x + part.a, rect.y1))
                x += part.a
            else:
                yield self.part(part, Rect(rect.x0, y, rect.x1, y + part.b))
                y += part.b
        left = Rect(x, y, rect.x1, rect.y1)
        if left.along and left.across:
            yield Part(left)

    def band(self, block: Block, rect: Rect) -> Part:
        """A band from edge to edge of the cloth: trims, parts, and what is left beside them."""
        usable = self.cloth.usable
        inner = Rect(rect.x0, usable.y0, rect.x1, usable.y1)
        if inner == rect and block.b == rect.across and block.direction is not ALONG:
            return self.part(block, rect)
        parts = list(self.cut(block, inner, ALONG))
        if usable.y0:
            parts.insert(0, Part(Rect(rect.x0, 0, rect.x1, usable.y0)))
        if usable.y1 < rect.y1:
            # Waste beside the pieces comes off together with the selvedge.
            low = usable.y1 if parts[-1].parts or parts[-1].placed else parts.pop().rect.y0
            parts.append(Part(Rect(rect.x0, low, rect.x1, rect.y1)))
        return Part(rect, ALONG, tuple(parts))

    def end(self, block: Block, split: int, rect: Rect) -> Part:
        """The last band with the shop's end still on it, parted along beside `split` parts.

        The shorter parts on the far side come off with all the cloth behind and beside them,
        so that the waste at their ends and the shop's end are left in one.
        """
        usable = self.cloth.usable
        ranked = _rank(block, ALONG)
        near, far = beside(*ranked[:split]), ranked[split:]
        at = usable.y0 + near.b
        parts = [self.part(near, Rect(rect.x0, usable.y0, rect.x1, at))]
        rest = Rect(rect.x0, at, rect.x1, rect.y1)
        if far:
            parts.append(self.part(beside(*far), rest))
        elif rest.across:
            parts.append(Part(rest))
        if usable.y0:
            parts.insert(0, Part(Rect(rect.x0, 0, rect.x1, usable.y0)))
        return parts[0] if len(parts) == 1 else Part(rect, ALONG, tuple(parts))


def _rank(block: Block, direction: Direction) -> Sequence[Block]:
    """Parts in the order to tear them: large ones first, so that waste gathers at one end."""
    if block.direction is not direction:
        return (block,)
    if direction is ACROSS:
        return sorted(block.parts, key=lambda part: (-part.b, -part.a))
    return sorted(block.parts, key=lambda part: (-part.a, -part.b))


def last_parts(cutter: Cutter, band: Block, split: int, x: int, bolt: Rect) -> list[Part]:
    """The last band from `x` on, and what is left of the bolt behind it.

    `split` is 0 where the shop's end is torn off across; else the band keeps it, and is
    parted along beside its first `split` parts (see `Cutter.end`).
    """
    if split:
        return [cutter.end(band, split, Rect(x, 0, bolt.x1, bolt.y1))]
    end = x + band.a
    parts = [cutter.band(band, Rect(x, 0, end, bolt.y1))]
    if end < bolt.x1:
        parts.append(Part(Rect(end, 0, bolt.x1, bolt.y1)))
    return parts


def build(cloth: Cloth, pieces: Sequence[Piece], bands: Sequence[Block], split: int) -> Part:
    """The cut tree of a row of bands (true units) over the whole cloth in hand.

    `split` parts the last band, see `last_parts`.
    """
    bolt = cloth.bolt(sum(band.a for band in bands))
    cutter = Cutter(cloth, Copies.of(cloth, pieces))
    parts = [Part(Rect(bolt.x0, 0, 0, bolt.y1))] if bolt.x0 < 0 else []
    x = 0
    for band in bands[:-1]:
        parts.append(cutter.band(band, Rect(x, 0, x + band.a, bolt.y1)))
        x += band.a
    parts += last_parts(cutter, bands[-1], split, x, bolt)
    return parts[0] if len(parts) == 1 else Part(bolt, ACROSS, tuple(parts))
