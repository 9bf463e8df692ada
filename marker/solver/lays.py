"""One lay on one cloth: which search it takes, and what they tell each other.

A torn lay can be cut with shears too, so it starts their search; a lay without rules bounds
one that keeps them, and starts it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from time import monotonic

from marker.cloth import Cloth
from marker.errors import MarkerError
from marker.geometry import Rect
from marker.lay import Direction, Lay, Mode, Placement
from marker.piece import Piece
from marker.solver.finish import cut, torn
from marker.solver.problem import Scaled, read
from marker.solver.spots import Spot
from marker.solver.stop import BRIEF, asked
from marker.solver.tear.block import Block
from marker.solver.tear.remnant import largest_remnant
from marker.solver.tear.rows import Row, at_once, shortest
from marker.solver.tear.tree import Copies

FIRST, LONGEST_FIRST = 0.25, 3.0
"""Part of the time, and seconds at most, that a search may take to start another one off."""
FEW, LITTLE = 20, 0.4
"""With more pieces than that a torn lay gets but this part of it to start one for the shears,
which soon finds better ones; with fewer the torn one is often the shortest, and proved."""
FIRST_ROUNDS = 2
MANY, HALF = 60, 0.5
"""From so many pieces on a torn lay is hardly bettered with shears, so tearing gets half."""

Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Limits:
    """When a search ends: after `seconds`, or `iterations` by count; or at a length `within`."""

    seconds: float
    iterations: int | None
    seed: int
    progress: Progress | None
    within: int | None = None

    @property
    def now(self) -> Limits:
        """These limits, cut short where the user has asked to stop."""
        if not asked():
            return self
        rounds = None if self.iterations is None else 1
        return replace(self, seconds=min(self.seconds, BRIEF), iterations=rounds)

    def first(self, pieces: Sequence[Piece]) -> Limits:
        """The limits of a search that starts another one off, and tells nobody."""
        rounds, seconds = self.iterations, HALF * self.seconds
        if sum(piece.count for piece in pieces) < MANY:
            rounds = None if rounds is None else min(FIRST_ROUNDS, rounds)
            seconds = min(FIRST * self.seconds, LONGEST_FIRST)
        return replace(self, seconds=seconds, iterations=rounds, progress=None)

    def left(self, began: float) -> Limits:
        """What is left since `began`, a time of the clock."""
        return replace(self, seconds=max(0.0, self.seconds - (monotonic() - began))).now


def lay(cloth: Cloth, pieces: Sequence[Piece], mode: Mode, limits: Limits) -> Lay:
    """The lay of these pieces by tearing or with shears, by all rules that they bring."""
    if outlined(cloth, pieces, mode):
        return _by_outlines(cloth, pieces, mode, limits.now)
    if _ruled(cloth, pieces):
        return _by_rules(cloth, pieces, mode, limits)
    scaled = read(cloth, pieces)
    limits = limits.now
    if mode is Mode.TEAR:
        row = _row(cloth, scaled, limits)
        tree = largest_remnant(cloth, pieces, row.bands)
        return torn(cloth, pieces, tree, row.length, row.bound, row.bound_by)
    return _free(cloth, pieces, scaled, limits)


def outlined(cloth: Cloth, pieces: Sequence[Piece], mode: Mode) -> bool:
    """Whether pieces must be laid by their outlines, not as rectangles edge to edge."""
    apart = mode is Mode.SHEARS and cloth.margin
    return bool(apart or cloth.folded or any(piece.outline is not None for piece in pieces))


def needs_loops(cloth: Cloth, pieces: Sequence[Piece], mode: Mode) -> bool:
    """Whether straight pieces most likely take a long search, whose loops should be at hand."""
    many = sum(piece.count for piece in pieces)
    if many <= FEW or many > MANY or _ruled(cloth, pieces):
        return many > (FEW if mode is Mode.SHEARS else MANY)
    try:
        return not at_once(read(cloth, pieces))
    except MarkerError:  # the search itself will tell
        return False


def _by_outlines(cloth: Cloth, pieces: Sequence[Piece], mode: Mode, limits: Limits) -> Lay:
    """A lay of which some or all is cut out with shears, whatever its outline."""
    if cloth.folded:
        from marker.solver.folded import lay_folded

        return lay_folded(cloth, pieces, limits)
    if mode is Mode.TEAR:
        from marker.solver.mixed import lay_mixed

        return lay_mixed(cloth, pieces, limits)
    from marker.solver.nested import lay_nested

    return lay_nested(cloth, pieces, limits)


def _ruled(cloth: Cloth, pieces: Sequence[Piece]) -> bool:
    """Whether flaws, selvedges or repeats bring rules that a plain lay doesn't keep."""
    repeats = cloth.repeat.along or cloth.repeat.across
    return bool(
        cloth.flaws or any(piece.selvedges or (repeats and piece.matches) for piece in pieces)
    )


def _row(cloth: Cloth, scaled: Scaled, limits: Limits, *, proving: bool = True) -> Row:
    def one_step_less(length: int) -> int:
        """The longest lay that a cutting step less than is bought for a length would hold."""
        return cloth.longest_lay(cloth.buy(length) - cloth.step)

    return shortest(
        scaled,
        limits.seconds,
        limits.iterations,
        limits.seed,
        limits.progress,
        within=limits.within,
        less=None if cloth.length else one_step_less,
        proving=proving,
    )


def _free(cloth: Cloth, pieces: Sequence[Piece], scaled: Scaled, limits: Limits) -> Lay:
    """Any arrangement, starting from a torn one."""
    from marker.solver.shears import free

    began = monotonic()
    first = limits.first(pieces)
    if FEW < scaled.problem.pieces < MANY:
        first = replace(first, seconds=LITTLE * first.seconds)
    row = _row(cloth, scaled, first, proving=False)
    left = limits.left(began)
    found = free(
        scaled,
        start=tuple(_spots(scaled, row.bands)),
        within=limits.within,
        steps=None if cloth.length else cloth.buy,
        seconds=left.seconds,
        iterations=left.iterations,
        seed=limits.seed,
        progress=limits.progress,
    )
    low = cloth.usable.y0
    rects = (Rect(s.x, s.y + low, s.x + s.a, s.y + low + s.b) for s in found.spots)
    placements = _placements(cloth, pieces, rects)
    return cut(cloth, pieces, placements, found.bound, found.bound_by)


def _by_rules(cloth: Cloth, pieces: Sequence[Piece], mode: Mode, limits: Limits) -> Lay:
    """A lay by rules, bounded by the lay that keeps none of them."""
    from marker.solver.rules.lay import lay_by_rules

    began = monotonic()
    bare = replace(cloth, flaws=(), length=0)
    plain = lay(bare, [_plain(piece) for piece in pieces], mode, limits.first(pieces))
    left = limits.left(began)
    found = lay_by_rules(
        cloth,
        pieces,
        mode,
        within=limits.within,
        seconds=left.seconds,
        iterations=left.iterations,
        seed=limits.seed,
        progress=limits.progress,
        floor=plain.bound,
        floor_by=plain.bound_by,
        start=plain.placements,
    )
    if found.tree is not None:
        return torn(cloth, pieces, found.tree, found.length, found.bound, found.bound_by)
    return cut(cloth, pieces, found.placements, found.bound, found.bound_by)


def _plain(piece: Piece) -> Piece:
    return replace(piece, selvedges=(), matches=())


def _placements(
    cloth: Cloth, pieces: Sequence[Piece], rects: Iterable[Rect]
) -> tuple[Placement, ...]:
    """Copies of the pieces for the rectangles they cover, along the cloth."""
    copies = Copies.of(cloth, pieces)
    return tuple(copies.take(rect) for rect in sorted(rects, key=lambda r: (r.x0, r.y0)))


def _spots(scaled: Scaled, bands: Iterable[Block]) -> Iterator[Spot]:
    """A row of bands as spots of the scaled problem."""
    x = 0
    for band in bands:
        yield from _in_block(scaled, band, x, 0)
        x += band.a


def _in_block(scaled: Scaled, block: Block, x: int, y: int) -> Iterator[Spot]:
    if not block.parts:
        u, v = scaled.along, scaled.across
        yield Spot(block.kind, block.a // u, block.b // v, x // u, y // v)
    for part in block.parts:
        yield from _in_block(scaled, part, x, y)
        if block.direction is Direction.ACROSS:
            x += part.a
        else:
            y += part.b
