"""Regions of a lay to be torn, out of which everything in them is cut with shears."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from marker.geometry import Rect
from marker.lay import Lay, Mode
from marker.referee.laid import Laid
from marker.referee.words import place, plain


def region_faults(
    lay: Lay, pieces: Sequence[Laid], parts: Mapping[Rect, Sequence[Laid]]
) -> Iterator[str]:
    """Regions that aren't torn free or hold nothing, and outlines that lie in none.

    `parts` are what the tears leave, each with the pieces in it that no tear goes through.
    """
    first: dict[Rect, int] = {}
    for at, region in enumerate(lay.regions, 1):
        if first.setdefault(region, at) != at:
            yield f"region-{at} is listed before, as region-{first[region]}."
        elif region not in parts:
            yield f"region-{at} is never torn free; it lies at {place(region)}."
        elif not parts[region]:
            yield f"region-{at} at {place(region)} holds no piece to be cut out of it."
    for spot in pieces:
        if spot.polygon and not any(region.holds(spot.rect) for region in first):
            yield (
                f"{plain(spot.id)} is cut with shears, but lies in no region; "
                f"it lies at {place(spot.rect)}."
            )


def cut_out(lay: Lay, pieces: Sequence[Laid]) -> int:
    """How many pieces are cut out with shears: all, or in a lay to be torn those in regions."""
    if lay.mode == Mode.SHEARS:
        return len(pieces)
    return sum(any(region.holds(spot.rect) for region in lay.regions) for spot in pieces)
