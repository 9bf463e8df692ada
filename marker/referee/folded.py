"""Cloth laid folded lengthwise: is every copy one of two layers, or on the fold?

A lay is told as it lies unfolded. What is cut through both layers is there twice, as two
mirror images across the middle of the width, where the fold was.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from marker.geometry import Polygon, Rect
from marker.lay import Lay
from marker.referee.laid import Laid
from marker.referee.room import abreast
from marker.referee.shape import same_ring
from marker.referee.words import plain, several, spell


def fold_faults(lay: Lay, width: int, pieces: Sequence[Laid]) -> Iterator[str]:
    """Copies that lie wrong on the fold, or lack their image; `width` is that of the cloth.

    One copy of a piece cut an odd number of times may lack its image, since the other layer
    then gives a copy too many; that place holds nothing else.
    """
    if not lay.cloth.folded:
        return
    lone: dict[str, list[Laid]] = {}
    beside: dict[tuple[str, Rect], Laid] = {}
    for spot in pieces:
        if 2 * spot.rect.y0 < width < 2 * spot.rect.y1:
            yield from _across_faults(spot, width)
        else:
            beside[spot.piece.letter, spot.rect] = spot
    for (letter, rect), spot in beside.items():
        image = beside.get((letter, _mirrored(rect, width)))
        if image is None and spot.turn % 90:
            image = _about(beside.values(), spot, _mirrored(rect, width))
        if image is None:
            lone.setdefault(letter, []).append(spot)
        elif rect.y0 < image.rect.y0 and not _alike(spot, image):
            yield (
                f"{plain(image.id)} lies where the fold puts the mirror image of "
                f"{plain(spot.id)}, but isn't its mirror image."
            )
    for letter, spots in lone.items():
        if len(spots) > 1:
            yield (
                f"{several([spot.id for spot in spots])} have no mirror images across the fold; "
                f"of piece {plain(letter)} one copy at most may lack it."
            )
    free = [spots[0] for spots in lone.values() if len(spots) == 1]
    yield from _free_faults(lay, width, pieces, free)


def _across_faults(spot: Laid, width: int) -> Iterator[str]:
    """A copy across the fold is one that folds, with its middle line on it to the unit."""
    name = plain(spot.id)
    # The middle of an outline runs along its length; a rectangle has another across it.
    along = spot.polygon is None or spot.turn % 180 == 0
    off = abs(spot.rect.y0 + spot.rect.y1 - width)
    if not spot.piece.folds:
        yield f"{name} lies across the fold, but isn't a piece that folds."
    elif not along:
        yield f"{name} lies across the fold, but its middle line doesn't run along it."
    elif off > 1:
        # Half a unit is nothing to be helped where width and breadth are odd and even.
        yield f"{name} lies across the fold, but its middle is {spell(off // 2)} off it."


def _about(spots: Iterable[Laid], spot: Laid, rect: Rect) -> Laid | None:
    """A copy on the bias, turned over no more than this one, in a box that is `rect` to the unit.

    The image of a shape that is its own image is another polygon, rounded in another turn.
    """
    for other in spots:
        box = other.rect
        near = (box.x0 - rect.x0, box.y0 - rect.y0, box.x1 - rect.x1, box.y1 - rect.y1)
        alike = other.piece.letter == spot.piece.letter and other.flip == spot.flip
        if alike and other.turn % 90 and max(map(abs, near)) <= 1:
            return other
    return None


def _mirrored(rect: Rect, width: int) -> Rect:
    return Rect(rect.x0, width - rect.y1, rect.x1, width - rect.y0)


def _image(spot: Laid, width: int) -> Polygon:
    """The cloth of the other layer under a copy."""
    return Polygon.of((x, width - y) for x, y in spot.cover.points)


def _alike(spot: Laid, image: Laid) -> bool:
    """Whether two outlines in mirrored boxes are mirror images, each taken from its own box."""
    if spot.polygon is None or image.polygon is None:
        return spot.polygon is image.polygon
    rect, held = spot.rect, image.rect
    one = [(float(x - rect.x0), float(rect.y1 - y)) for x, y in spot.polygon.points]
    other = [(float(x - held.x0), float(y - held.y0)) for x, y in image.polygon.points]
    return same_ring(one, other)


def _free_faults(
    lay: Lay, width: int, pieces: Sequence[Laid], free: Sequence[Laid]
) -> Iterator[str]:
    """The places of images that are missing must be empty: they are cut through too."""
    if not free:
        return
    others = [(plain(spot.id), spot.cover) for spot in pieces]
    for at, cut in enumerate(lay.offcuts, 1):
        if cut.rect.x0 < cut.rect.x1 and cut.rect.y0 < cut.rect.y1:
            others.append((f"offcut-{at}", Polygon.of_rect(cut.rect)))
    count = len(free)
    every = [*(_image(spot, width) for spot in free), *(cover for _, cover in others)]
    for pair in abreast([cover.box for cover in every], 0):
        first, second = sorted(pair)
        if first < count <= second and every[first].overlaps(every[second]):
            yield (
                f"{others[second - count][0]} lies where the other layer is cut with "
                f"{plain(free[first].id)}, which has no mirror image there."
            )
