"""A lay for shears in words: drops cut right across, and pieces chalked by their place.

All measures run from the squared end and from the outer edge of the near selvedge, so that
small slips never add up; therefore everything is chalked before the cloth is cut up.
"""

from __future__ import annotations

from collections.abc import Iterator

from marker.geometry import Rect
from marker.lay import Placement
from marker.plan.drops import Drop, drops
from marker.plan.pairing import grids
from marker.plan.runs import Work, join_ids
from marker.plan.told import MOST_READINGS, Step, readings
from marker.units import format_number

PLACES = "along from {end}, across from the outer edge of the near selvedge"


def end_word(work: Work) -> str:
    """What the tape's nought lies at: the squared end, or the end as it comes."""
    return "the squared end" if work.lay.bolt.x0 < 0 else "the free end"


def chalk_all(work: Work) -> str:
    """The line that stands before all others."""
    places = PLACES.format(end=end_word(work))
    if work.lay.bolt.x0 < 0:
        return f"Once the end is squared, chalk every outline before you cut on: {places}."
    return f"Chalk every outline before you cut: {places}."


def cut_steps(work: Work) -> tuple[Step, ...]:
    """The cuts in the order of work, from the free end: each drop, then the pieces in it."""
    told = [text for text, _ in _lines(work)]
    return tuple(Step(number, number, text) for number, text in enumerate(told, 1))


def numbered_lines(work: Work) -> dict[int, int]:
    """The number of the step that cuts right across at each clear line, by its x."""
    return {at: number for number, (_, at) in enumerate(_lines(work), 1) if at is not None}


def _lines(work: Work) -> Iterator[tuple[str, int | None]]:
    """Every step in words, with the x of its clear line."""
    found = drops(work.lay)
    for index, drop in enumerate(found):
        last = index == len(found) - 1
        if drop.rect.x1 <= 0:
            depth = work.length(drop.rect.along)
            yield (
                f"Square the cut end: chalk {depth} from it, cut across along a thread. "
                "This edge is 0.", 0,
            )  # fmt: skip
            continue
        if not last:
            rest = None if found[index + 1].held or index + 2 < len(found) else found[-1].rect
            yield _across(work, drop, rest), drop.rect.x1
        for text in _pieces(work, drop):
            yield text, None


def _across(work: Work, drop: Drop, rest: Rect | None) -> str:
    """A cut right across; `rest` is what stays where nothing more is laid on it."""
    places = readings((drop.rect.x1,), work.units)
    ids = call([spot for spot, _ in drop.held])
    what = f"a drop with {ids}" if ids else f"waste, {work.length(drop.rect.along)}"
    left = f"; {format_number(rest.along, work.units)} {work.units.value} left" if rest else ""
    return f"Cut right across {places}, along a thread: {what}{left}."


def call(spots: list[Placement]) -> str:
    """Some copies spelled shortly, or the first of many."""
    spans = join_ids(sorted(((spot.letter, spot.copy) for spot in spots), key=_by_letter))
    if len(spans) <= 4:
        return ", ".join(spans)
    return f"{', '.join(spans[:3])} and more"


def _by_letter(one: tuple[str, int]) -> tuple[int, tuple[str, int]]:
    return len(one[0]), one


def _pieces(work: Work, drop: Drop) -> Iterator[str]:
    """The pieces of a drop by their place; equal ones in even rows are told together."""
    for grid in grids(drop.held, MOST_READINGS):
        first = grid.rects[0]
        letter = grid.spots[0].letter
        each = "each " if len(grid.spots) > 1 else ""
        size = f"{work.number(first.along)} along × {work.number(first.across)} {work.units.value}"
        ids = ", ".join(join_ids(sorted((spot.letter, spot.copy) for spot in grid.spots)))
        yield (
            f"{ids} ({work.names[letter]}): chalk {_along(work, grid.xs)} and "
            f"{_over(work, grid.ys)}; {each}{size} across."
        )


def _along(work: Work, xs: tuple[int, ...]) -> str:
    if xs == (0,):
        return f"at {end_word(work)}"
    return f"{readings(xs, work.units)} from {end_word(work)}"


def _over(work: Work, ys: tuple[int, ...]) -> str:
    if ys == (0,):
        return "at the near selvedge"
    return f"{readings(ys, work.units).removeprefix('at ')} from the near selvedge"
