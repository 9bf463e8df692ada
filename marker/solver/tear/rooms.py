"""Rooms in a row of bands: the part of a lay that is taken apart, and how it is put back.

A room is the rectangle that some parts of one block take up together with what is left open
beside them: bands of the row, or parts that lie within a band. Parts of one block may stand in
any order, so those chosen need not be neighbours.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import sqrt
from random import Random

from marker.lay import Direction
from marker.solver.tear.block import Block, beside, stack

FAIR = 2.0
"""Weight of a part that wastes nothing, where one that wastes as much as others weighs 1 more."""
FEW = 3
"""Pieces that a block must hold to be worth looking into."""


@dataclass(frozen=True)
class Room:
    """A rectangle a by b of the lay, and the parts in it: `chosen` of the block at `path`."""

    path: tuple[int, ...]
    chosen: frozenset[int]
    blocks: tuple[Block, ...]
    a: int
    b: int


@dataclass
class Figures:
    """Area, value and number of the pieces of blocks, each worked out once."""

    areas: Sequence[int]
    values: Sequence[int]
    known: dict[int, tuple[Block, tuple[int, int, int]]] = field(default_factory=dict)

    def of(self, block: Block) -> tuple[int, int, int]:
        """Area, value and number of its pieces."""
        if not block.parts:
            return self.areas[block.kind], self.values[block.kind], 1
        found = self.known.get(id(block))
        if found is None:
            if len(self.known) > 100_000:
                self.known.clear()
            area, value, number = map(sum, zip(*map(self.of, block.parts), strict=True))
            # The block is kept beside its figures: an id is its own only while it lives.
            found = self.known[id(block)] = block, (area, value, number)
        return found[1]

    def waste(self, block: Block) -> int:
        """What lies open within a block."""
        return block.a * block.b - self.of(block)[0]


def choose_room(
    row: Sequence[Block], a: int, b: int, most: int, figures: Figures, random: Random
) -> Room:
    """Pick a room in a row of bands that has `a` by `b` of cloth; wasteful parts are likelier.

    From the row the way leads down into blocks by chance, the more pieces the likelier, and
    further down where a block has more than `most` parts. The parts chosen have that many
    parts themselves, or fewer.
    """
    path: list[int] = []
    parts, direction = tuple(row), Direction.ACROSS
    while True:
        if not parts:
            return Room((), frozenset(), (), a, b)
        chosen = _choose(parts, 0 if path else b, most, figures, random, bool(path))
        inside = sum(len(parts[at].parts or parts[at : at + 1]) for at in chosen)
        if inside > most:
            at = next(iter(chosen))
        elif random.random() >= (0.4 if path else 0.6):
            sizes = [figures.of(part)[2] for part in parts]
            deep = [at for at, size in enumerate(sizes) if size >= FEW]
            if not deep:
                break
            at = random.choices(deep, [sizes[at] for at in deep])[0]
        else:
            break
        block = parts[at]
        a, b = (block.a, b) if direction is Direction.ACROSS else (a, block.b)
        path.append(at)
        parts, direction = block.parts, block.direction or Direction.ACROSS
    others = [part for at, part in enumerate(parts) if at not in chosen]
    if direction is Direction.ACROSS:
        a -= sum(part.a for part in others)
    else:
        b -= sum(part.b for part in others)
    return Room(tuple(path), chosen, tuple(parts[at] for at in sorted(chosen)), a, b)


def _choose(
    parts: Sequence[Block], breadth: int, most: int, figures: Figures, random: Random, inner: bool
) -> frozenset[int]:
    """Some of the parts, with `most` parts in them or else a single one.

    What bands leave open beside them, to a `breadth`, is their waste too.
    """
    waste = [figures.waste(part) + part.a * max(0, breadth - part.b) for part in parts]
    even = sum(waste) / len(parts) + 1
    # No power but the square root: of others not every machine gives the same last digit.
    loss = [sqrt(lost / even) + FAIR for lost in waste]
    chosen: list[int] = []
    for _ in range(
        min(random.choice((1, 2, 3, 4, 6) if inner else (1, 2, 2, 3, 3, 4)), len(parts))
    ):
        at = random.choices(range(len(parts)), loss)[0]
        loss[at] = 0.0
        size = len(parts[at].parts) or 1
        if not chosen or size <= most:
            chosen.append(at)
            most -= size
    return frozenset(chosen)


def take_apart(blocks: Sequence[Block], most: int, figures: Figures, random: Random) -> list[Block]:
    """Break blocks into smaller ones, the most wasteful first, until they are many enough."""
    found = [part for block in blocks for part in (block.parts or (block,))]
    while True:
        room = most - len(found)
        open_blocks = [block for block in found if block.parts and len(block.parts) <= room + 1]
        if not open_blocks:
            return found
        broken = max(open_blocks, key=lambda block: (figures.waste(block), random.random()))
        found.remove(broken)
        found += broken.parts


def put_back(row: Sequence[Block], room: Room, made: Block | None) -> tuple[Block, ...]:
    """The row with the parts of a room replaced by one block, or by nothing."""
    return _put(tuple(row), Direction.ACROSS, room.path, room.chosen, made)


def _put(
    parts: tuple[Block, ...],
    direction: Direction,
    path: tuple[int, ...],
    chosen: frozenset[int],
    made: Block | None,
) -> tuple[Block, ...]:
    if not path:
        kept = tuple(part for at, part in enumerate(parts) if at not in chosen)
        if made is None:
            return kept
        return kept + (made.parts if made.direction is direction else (made,))
    block = parts[path[0]]
    inner = block.direction or Direction.ACROSS
    inside = _put(block.parts, inner, path[1:], chosen, made)
    if not inside:
        return parts[: path[0]] + parts[path[0] + 1 :]
    joined = stack(*inside) if inner is Direction.ACROSS else beside(*inside)
    new = joined.parts if joined.direction is direction else (joined,)
    return parts[: path[0]] + new + parts[path[0] + 1 :]


def shorten(
    block: Block, most: int, figures: Figures, random: Random
) -> tuple[Block | None, list[Block]]:
    """What is left of a block shortened to length `most`, and the blocks taken out of it.

    Of parts one behind the other those go, more or less, that are worth least for the length
    they give.
    """
    if block.a <= most:
        return block, []
    if not block.parts or most <= 0:
        return None, [block]
    out: list[Block] = []
    if block.direction is Direction.ALONG:
        kept = []
        for part in block.parts:
            left, gone = shorten(part, most, figures, random)
            kept += [left] if left else []
            out += gone
        return (beside(*kept) if kept else None), out
    parts = list(block.parts)
    while (excess := sum(part.a for part in parts) - most) > 0:
        ways = []
        for at, part in enumerate(parts):
            left, gone = shorten(part, part.a - excess, figures, random)
            lost = sum(figures.of(taken)[1] for taken in gone) * (1 + random.random() / 5)
            gained = min(excess, part.a - (left.a if left else 0))
            ways.append((lost / gained, at, left, gone))
        _, at, left, gone = min(ways, key=lambda way: way[:2])
        parts[at : at + 1] = [left] if left else []
        out += gone
    return (stack(*parts) if parts else None), out
