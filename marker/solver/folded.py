"""Lays on cloth laid folded lengthwise: half of the cloth is nested, the other is its image.

What is cut through both layers is there twice, as two mirror images. A piece that folds may
lie on the fold, and is nested as its lower half; what is cut an odd number of times and does
not fold leaves one copy's place in the other layer empty. The lay is told as it lies unfolded.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import islice
from time import monotonic

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.geometry import Polygon, Rect
from marker.lay import Lay, Placement
from marker.piece import Piece, Wise
from marker.solver.copies import Way, turned_over
from marker.solver.layers import ALIKE, Doubled, Layer, doubled, layers, mirror_image
from marker.solver.lays import Limits
from marker.solver.nest import NestSpot
from marker.solver.nest.bounds import least_length
from marker.solver.nested import bound, finished, flaws_in, spread
from marker.solver.problem import check
from marker.solver.rules.read import matched_sets
from marker.solver.stop import asked

SAFE = ALIKE + 2
"""What pieces keep apart so that neither images nor halves, alike to that, can overlap."""
SPLITS, TRYING = 8, 0.5
"""So many splits into pairs and copies on the fold are tried at most, in so much of the time."""
SMALL = 20
"""A piece that takes less than this part of the cloth isn't worth a try."""


def lay_folded(cloth: Cloth, pieces: Sequence[Piece], limits: Limits) -> Lay:
    """The lay on folded cloth, cut through both layers with shears.

    Raises `CannotLay` where a piece finds no place so, or a remnant is too short, and
    `BadInput` where the pieces ask what folded cloth can't give.
    """
    check(cloth, pieces)
    _check_matches(cloth, pieces)
    # A rectangle is its own mirror image, whether or not its recipe says so.
    pieces = [p if p.outline is not None else replace(p, folds=True) for p in pieces]
    half = _half(cloth)
    # What is too wide for open cloth is told so here.
    floor = bound(cloth, pieces, cloth.margin)
    best = _shortest(cloth, doubled(cloth, pieces, half), half, limits, floor[0])
    numbers = _Numbers(pieces)
    placed: list[Placement] = []
    empty: list[Polygon] = []
    for spot in sorted(best.spots, key=lambda spot: (spot.x, spot.y)):
        layer = best.layers[spot.kind]
        way, image = layer.copies.ways[spot.shape], layer.images[spot.shape]
        letter = layer.copies.piece.letter
        placed.append(numbers.next(letter, way, spot.x, spot.y))
        if layer.on_fold:
            continue
        there = image.outline if image is not None else mirror_image(way.outline)
        y = cloth.laid_width - spot.y - there.box.across
        if image is not None:
            placed.append(numbers.next(letter, image, spot.x, y))
        else:
            empty.append(there.shifted(spot.x, y))
    floor = _bound(cloth, pieces, best.layers, half, floor)
    return finished(cloth, pieces, placed, *floor, empty)


def _half(cloth: Cloth) -> Rect:
    """The usable cloth of the near layer, up to the fold."""
    return Rect(0, cloth.usable.y0, 0, cloth.laid_width // 2)


def _flaws(cloth: Cloth) -> Iterator[Rect]:
    """Flaws of both layers, as the near one must heed them."""
    for flaw in cloth.flaws:
        yield flaw
        yield Rect(flaw.x0, cloth.laid_width - flaw.y1, flaw.x1, cloth.laid_width - flaw.y0)


def _check_matches(cloth: Cloth, pieces: Sequence[Piece]) -> None:
    for name, wise in matched_sets(cloth, pieces):
        if wise is Wise.CROSSWISE:
            raise BadInput(
                f"cloth {cloth.key!r}: the match {name!r} goes by the crosswise repeat, and folded "
                "cloth turns that round in one layer; lay the cloth open"
            )


@dataclass(frozen=True)
class Split:
    """How many pairs each piece is cut in, its layers, and where a nest has them."""

    pairs: tuple[int, ...]
    layers: tuple[Layer, ...]
    spots: tuple[NestSpot, ...] = ()

    @property
    def length(self) -> int:
        """Where the last copy ends."""
        return max(
            spot.x + self.layers[spot.kind].copies.ways[spot.shape].outline.box.x1
            for spot in self.spots
        )


def _shortest(
    cloth: Cloth, pieces: Sequence[Doubled], half: Rect, limits: Limits, floor: int
) -> Split:
    """The shortest nest of the near layer, over how many copies lie on the fold.

    All that can lie in pairs does at first; then of one piece after another, the largest first,
    more copies are tried on the fold, and the best split gets what time is left. None is longer
    than `floor` that can be as short.
    """
    began = monotonic()
    pairs = tuple(each.pairs for each in pieces)
    areas = [each.piece.area2 * each.piece.count for each in pieces]
    large = sorted(range(len(pieces)), key=lambda at: -areas[at])
    large = [at for at in large if pieces[at].fewer and SMALL * areas[at] > sum(areas)]
    tries = min(SPLITS, sum(len(pieces[at].fewer) for at in large))
    if not tries:
        return _nested(cloth, pieces, pairs, half, limits)
    brief = replace(
        limits,
        seconds=TRYING * limits.seconds / (tries + 1),
        iterations=None if limits.iterations is None else 1,
        progress=None,
    )
    best = _nested(cloth, pieces, pairs, half, brief.now)
    splits = ((at, fewer) for at in large for fewer in pieces[at].fewer)
    for at, fewer in islice(splits, tries):
        if asked() or best.length <= floor:
            break
        with suppress(CannotLay):
            split = (*best.pairs[:at], fewer, *best.pairs[at + 1 :])
            found = _nested(cloth, pieces, split, half, brief.now)
            best = min(best, found, key=lambda split: split.length)
    return _nested(cloth, pieces, best.pairs, half, limits.left(began), best.spots)


def _nested(
    cloth: Cloth,
    pieces: Sequence[Doubled],
    pairs: tuple[int, ...],
    half: Rect,
    limits: Limits,
    start: Sequence[NestSpot] = (),
) -> Split:
    """A nest of so many pairs of each piece."""
    found = tuple(
        layer for each, many in zip(pieces, pairs, strict=True)
        for layer in layers(cloth, each, many)
    )  # fmt: skip
    apart = 0 if all(layer.exact for layer in found) else SAFE
    near = replace(cloth, margin=cloth.margin + apart, flaws=tuple(_flaws(cloth)))
    spots = spread(near, [layer.copies for layer in found], half, limits, start)
    return Split(pairs, found, spots)


class _Numbers:
    """Hands out numbers: copies as drawn first, then those turned over."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.left = {
            (piece.letter, flip): 1 + (piece.count - turned_over(piece) if flip else 0)
            for piece in pieces
            for flip in (False, True)
        }

    def next(self, letter: str, way: Way, x: int, y: int) -> Placement:
        """The next copy that lies so."""
        number = self.left[letter, way.flip]
        self.left[letter, way.flip] += 1
        return Placement(letter, number, x, y, way.turn, way.flip)


def _bound(
    cloth: Cloth,
    pieces: Sequence[Piece],
    layers: Sequence[Layer],
    half: Rect,
    whole: tuple[int, str],
) -> tuple[int, str]:
    """What no lay undercuts: as on open cloth, and where no piece could fold, as half is nested."""
    if any(piece.folds for piece in pieces) or any(piece.matches for piece in pieces):
        return whole
    near = replace(cloth, flaws=tuple(_flaws(cloth)))
    halved = least_length(
        [layer.copies.kind for layer in layers],
        half.across,
        flaws=tuple(flaws_in(near, half)),
    )
    return max(whole, halved, key=lambda found: found[0])
