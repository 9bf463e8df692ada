"""What is left over, and the sum along the bolt by which the work is checked."""

from __future__ import annotations

from itertools import groupby

from marker.geometry import Rect
from marker.lay import Lay, Mode
from marker.plan.drops import drops
from marker.plan.runs import Work, count, reading, spare
from marker.units import System, is_rounded


def leftovers(lay: Lay, units: System) -> tuple[str, ...]:
    """What is left: the remnants worth keeping, the largest first, then a word on the waste."""
    kept = [offcut.rect for offcut in lay.offcuts if offcut.keep]
    sizes = sorted((-r.area, r.along, r.across, _spoiled(lay, r)) for r in kept)
    lines = [
        _remnants(len(list(same)), along, across, units) + (", a flaw in it." if flaw else ".")
        for (_, along, across, flaw), same in groupby(sizes)
    ]
    waste = lay.bolt.area - lay.used - sum(rect.area for rect in kept)
    if waste:
        tenths = (waste * 2000 + lay.bolt.area) // (2 * lay.bolt.area)
        share = f"{tenths // 10}.{tenths % 10} %" if tenths else "under 0.1 %"
        lines.append(f"Waste, squaring and selvedges counted: {share} of the cloth.")
    return tuple(lines) or ("Nothing is left over.",)


def _remnants(number: int, along: int, across: int, units: System) -> str:
    size = f"{spare(along, units)} along × {spare(across, units)} {units.value} across"
    if number == 1:
        return f"Remnant to keep: {size}"
    return f"{count(number).capitalize()} remnants to keep, each {size}"


def _spoiled(lay: Lay, rect: Rect) -> bool:
    return any(flaw.overlaps(rect) for flaw in lay.cloth.flaws)


def check_sum(lay: Lay, units: System) -> str:
    """Add up what comes off along the bolt; with what is left it makes the whole cloth."""
    work = Work(lay, units)
    parts = _parts(work)
    left = 0 if parts[-1][1] else parts[-1][0].along
    off = [(part.along, _word(work, part, held)) for part, held in (parts[:-1] if left else parts)]
    taken = sum(size for size, _ in off)
    terms = [_term(size, len(list(same)), word, units) for (size, word), same in groupby(off)]
    text = " + ".join(terms)
    text += f" = {work.length(taken)}" if len(off) > 1 else f" {units.value}"
    if left:
        over = f"{spare(left, units)} {units.value}"
        text += f"; with {over} left, {work.length(lay.bolt.along)}"
    text += ", the whole cloth" + (" after washing" if lay.cloth.washed else "")
    values = [size for size, _ in off] + [taken, left, lay.bolt.along]
    rounded = any(is_rounded(value, units) for value in values)
    return text + (" (figures rounded)." if rounded else ".")


def _term(size: int, count: int, word: str, units: System) -> str:
    number = reading(size, units)
    return (f"{count} × {number}" if count > 1 else number) + (f" {word}" if word else "")


def _word(work: Work, part: Rect, held: bool) -> str:
    if part.x1 <= 0:
        return "squaring"
    if held:
        return ""
    return "remnant" if part in work.kept else "waste"


def _parts(work: Work) -> tuple[tuple[Rect, bool], ...]:
    """What the bolt is parted into along its length, and whether each part holds a piece."""
    if work.lay.mode is Mode.SHEARS:
        return tuple((drop.rect, bool(drop.held)) for drop in drops(work.lay))
    parts = next((run.parts for run in work.runs if work.of_bolt(run)), (work.lay.bolt,))
    return tuple((part, bool(work.held[part])) for part in parts)
