"""Equal copies that lie in an even grid, so that one line tells of all of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.geometry import Rect
from marker.lay import Placement
from marker.plan.drops import Laid


@dataclass(frozen=True)
class Grid:
    """Copies of one piece, all the same way round, at every meeting of `xs` and `ys`."""

    xs: tuple[int, ...]
    ys: tuple[int, ...]
    spots: tuple[Placement, ...]
    rects: tuple[Rect, ...]


def grids(held: Sequence[Laid], most: int) -> tuple[Grid, ...]:
    """Gather copies into grids of at most `most` places either way, from the free end on.

    Copies of a piece at one y make a row; rows with the same places make a grid.
    """
    kinds: dict[tuple[object, ...], list[Laid]] = {}
    for spot, rect in held:
        kind = spot.letter, rect.along, rect.across, spot.turn, spot.flip
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
