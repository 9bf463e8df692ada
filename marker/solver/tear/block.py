"""Blocks: rectangles of pieces put together edge to edge, and so torn apart again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from marker.lay import Direction


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle a by b (scaled): one piece of a kind, or parts that tears part again.

    Parts stand low to high, along the bolt where `direction` is ACROSS (the tears that part
    them run across), side by side where it is ALONG. A part smaller than the block on the
    other axis leaves waste on its high side.
    """

    a: int
    b: int
    kind: int = -1
    direction: Direction | None = None
    parts: tuple[Block, ...] = ()

    def leaves(self) -> Iterator[Block]:
        """The single pieces, low to high."""
        if not self.parts:
            yield self
        for part in self.parts:
            yield from part.leaves()

    def counts(self) -> Counter[int]:
        """How many pieces of each kind it holds."""
        return Counter(leaf.kind for leaf in self.leaves())


def piece(a: int, b: int, kind: int) -> Block:
    """A block of a single piece."""
    return Block(a, b, kind)


def stack(*parts: Block) -> Block:
    """Parts one behind the other along the bolt; tears across part them."""
    return _join(Direction.ACROSS, parts)


def beside(*parts: Block) -> Block:
    """Parts side by side across the bolt; tears along part them."""
    return _join(Direction.ALONG, parts)


def _join(direction: Direction, parts: tuple[Block, ...]) -> Block:
    flat: list[Block] = []
    for part in parts:
        flat += part.parts if part.direction is direction else (part,)
    if len(flat) == 1:
        return flat[0]
    if direction is Direction.ACROSS:
        a, b = sum(part.a for part in flat), max(part.b for part in flat)
    else:
        a, b = max(part.a for part in flat), sum(part.b for part in flat)
    return Block(a, b, -1, direction, tuple(flat))


def rows_across(block: Block) -> Iterator[list[Block]]:
    """Every different row of pieces that a line across the block meets, from its low end up."""
    spans: list[tuple[int, Block]] = []

    def place(part: Block, x: int) -> None:
        if not part.parts:
            spans.append((x, part))
        for inner in part.parts:
            place(inner, x)
            x += inner.a if part.direction is Direction.ACROSS else 0

    place(block, 0)
    for at in sorted({x for x, _ in spans}):
        yield [part for x, part in spans if x <= at < x + part.a]
