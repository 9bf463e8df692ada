"""Equal copies that lie in an even grid, so that one line tells of all of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from marker.geometry import Rect
from marker.geometry.segments import Point
from marker.lay import Placement
from marker.piece import Piece
from marker.plan.words.drops import Laid
from marker.plan.words.sizes import SAME


@dataclass(frozen=True)
class Grid:
    """Copies of one piece, all the same way round, at every meeting of `xs` and `ys`."""

    xs: tuple[int, ...]
    ys: tuple[int, ...]
    spots: tuple[Placement, ...]
    rects: tuple[Rect, ...]


def plain_turn(piece: Piece, spot: Placement) -> int:
    """The least turn at which a copy would have the shape that it has as it lies.

    A rectangle, or a strip with slanting ends, is the same after half a turn.
    """
    if piece.outline is None:
        return spot.turn % 180
    points = piece.laid(spot.turn, spot.flip).points
    turns = range(spot.turn % 90, spot.turn, 90)
    same = (turn for turn in turns if _alike(points, piece.laid(turn, spot.flip).points))
    return next(same, spot.turn)


def _alike(points: Sequence[Point], others: Sequence[Point]) -> bool:
    """Whether two rings have the same corners, as near as they could be chalked."""
    return len(points) == len(others) and all(
        any(abs(x - u) <= SAME and abs(y - v) <= SAME for u, v in others) for x, y in points
    )


def _lies_alike(spot: Placement) -> object:
    return spot.turn, spot.flip


def grids(
    held: Sequence[Laid], most: int, like: Callable[[Placement], object] = _lies_alike
) -> tuple[Grid, ...]:
    """Gather copies into grids of at most `most` places either way, from the free end on.

    Copies of a piece at one y make a row; rows with the same places make a grid. `like` is
    the same for copies that lie the same way.
    """
    kinds: dict[tuple[object, ...], list[Laid]] = {}
    for spot, rect in held:
        kind = spot.letter, rect.along, rect.across, like(spot)
        kinds.setdefault(kind, []).append((spot, rect))
    found = [grid for same in kinds.values() for grid in _of_kind(same, most)]
    return tuple(sorted(found, key=lambda grid: (grid.xs[0], grid.ys[0])))


def _of_kind(same: Sequence[Laid], most: int) -> list[Grid]:
    rows: dict[int, list[Laid]] = {}
    for spot, rect in sorted(same, key=lambda one: (one[1].y0, one[1].x0)):
        rows.setdefault(rect.y0, []).append((spot, rect))
    alike: dict[tuple[int, ...], list[list[Laid]]] = {}
    for row in rows.values():
        for start in range(0, len(row), most):
            part = row[start : start + most]
            alike.setdefault(tuple(rect.x0 for _, rect in part), []).append(part)
    found = []
    for xs, stacked in alike.items():
        for start in range(0, len(stacked), most):
            some = stacked[start : start + most]
            laid = [one for row in some for one in row]
            found.append(
                Grid(
                    xs,
                    tuple(row[0][1].y0 for row in some),
                    tuple(spot for spot, _ in laid),
                    tuple(rect for _, rect in laid),
                )
            )
    return found
