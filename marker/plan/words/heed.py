"""What to heed before the work goes on: flaws, the repeat, what to chalk."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.geometry import Rect
from marker.lay import Direction, Lay, Mode
from marker.piece import Wise
from marker.plan.words import phrases as words
from marker.plan.words.cutlist import chalk_all, end_word
from marker.plan.words.repeats import MatchedSet, matched_sets, repeat_of
from marker.plan.words.runs import Work, join_ids, reading, spare
from marker.plan.words.told import Step
from marker.units import beside

MOST_FLAWS = 4
"""More flaws than this are not all told in words; the plan shows them."""


def flaws(lay: Lay) -> dict[int, Rect]:
    """The flaws that lie on the bolt, clipped to it, by their number in the cloth's list."""
    bolt = lay.bolt
    clipped = {
        number: Rect(
            max(flaw.x0, bolt.x0), max(flaw.y0, bolt.y0),
            min(flaw.x1, bolt.x1), min(flaw.y1, bolt.y1),
        )
        for number, flaw in enumerate(lay.cloth.flaws, 1)
    }  # fmt: skip
    return {n: rect for n, rect in clipped.items() if rect.along > 0 and rect.across > 0}


def with_heed(work: Work, told: Sequence[Step]) -> tuple[Step, ...]:
    """The numbered lines with those to heed: what is measured stands behind the squaring."""
    at = _squared(work, told)
    first = [Step(0, 0, _check_match(work, one)) for one in matched_sets(work.lay)]
    measured = [Step(0, 0, text, "then" if at else "first") for text in _measured(work)]
    return (*first, *told[:at], *measured, *told[at:])


def _squared(work: Work, told: Sequence[Step]) -> int:
    """How many lines it takes until the end is squared."""
    lay = work.lay
    if lay.bolt.x0 >= 0:
        return 0
    across = (t.number for t in lay.tears if t.direction is Direction.ACROSS and t.at == 0)
    number = next(across, 1)
    places = (i for i, step in enumerate(told, 1) if step.first <= number <= step.last)
    return next(places, 0)


def _measured(work: Work) -> Iterator[str]:
    """What is chalked before the cloth is parted, by measures from the squared end."""
    found = [rect for rect in flaws(work.lay).values() if rect.x1 > 0]
    if found:
        yield _chalk_flaws(work, found)
    if work.lay.mode is Mode.SHEARS:
        yield chalk_all(work)


def _chalk_flaws(work: Work, found: list[Rect]) -> str:
    zones = [
        f"{_span(work, max(rect.x0, 0), rect.x1)} from {end_word(work)}, {_breadth(work, rect)}"
        for rect in sorted(found)[:MOST_FLAWS]
    ]
    more = len(found) - len(zones)
    if more:
        zones.append(f"{more} more as on the plan")
    what = "flaw" if len(found) == 1 else "flaws"
    return f"Chalk the {what}, which no piece may touch: {'; '.join(zones)}."


def _breadth(work: Work, rect: Rect) -> str:
    if rect.across == work.lay.bolt.across:
        return "right across"
    return f"{_span(work, rect.y0, rect.y1)} from the near {words.side(work.lay)}"


def _span(work: Work, low: int, high: int) -> str:
    """From where to where, as a tape reads; rounded outwards, so that no flaw is chalked short."""
    return beside(work.units, lambda s: f"{spare(low, s)} to {reading(high, s)} {s.value}")


def _check_match(work: Work, one: MatchedSet) -> str:
    """What to look at before a set is parted, as print and weave seldom agree to the hair."""
    size = work.length(repeat_of(work.lay, one.wise))
    way = "along" if one.wise is Wise.LENGTHWISE else "across"
    ids = ", ".join(join_ids({(p.spot.letter, p.spot.copy) for p in one.points}))
    what = one.edge or ("matched edge" if all(p.on_edge for p in one.points) else "matched place")
    verb = "cutting" if work.lay.mode is Mode.SHEARS else "tearing"
    return (
        f"Repeat of {size} {way}: check that each {what} ({ids}) lies on the same stripe "
        f"before {verb}."
    )
