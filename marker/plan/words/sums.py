"""What is left over, and the sum along the bolt by which the work is checked."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from marker.geometry import Rect
from marker.lay import Lay, Mode
from marker.plan.words import phrases as words
from marker.plan.words.drops import drops
from marker.plan.words.runs import Work, count, extent, reading, spare
from marker.units import System, Units, ceil_to, in_brackets, is_rounded, print_step


def leftovers(lay: Lay, units: Units, most: int = 0) -> tuple[str, ...]:
    """What is left: the remnants worth keeping, the largest first, then a word on the waste.

    With `most` the list has no more lines than that, and the smaller remnants are counted.
    """
    kept = [offcut.rect for offcut in lay.offcuts if offcut.keep]
    clear = zip(kept, lay.remnants, strict=True)
    sizes = sorted((-c.area, r.along, r.across, c.along, c.across) for r, c in clear)
    kinds = [(len(list(same)), size) for size, same in groupby(sizes)]
    waste = words.waste(lay)
    last = [] if waste == "0.0 %" else [_waste(lay, waste)]
    told = len(kinds)
    if 0 < most < len(kinds) + len(last):
        told = most - 1 - len(last)
    lines = [
        _remnants(number, *size[1:3], units) + _beside_flaws(number, size[1:], units)
        for number, size in kinds[:told]
    ]
    if rest := sum(number for number, _ in kinds[told:]):
        lines.append(f"{count(rest).capitalize()} smaller remnants to keep.")
    return (*lines, *last) or ("Nothing is left over.",)


def _waste(lay: Lay, share: str) -> str:
    """The waste, and what is reckoned to it and what is not."""
    trimmed = lay.cloth.selvedge and not lay.cloth.keep_selvedges
    parts = [word for word, so in (("squaring", lay.bolt.x0 < 0), ("selvedges", trimmed)) if so]
    with_it = f", {' and '.join(parts)} counted" if parts else ""
    return f"Waste{with_it}: {share} of the cloth."


def _remnants(number: int, along: int, across: int, units: Units) -> str:
    size = extent(units, along, across, left=True)
    if number == 1:
        return f"Remnant to keep: {size}"
    return f"{count(number).capitalize()} remnants to keep, each {size}"


def _beside_flaws(number: int, sizes: tuple[int, ...], units: Units) -> str:
    """How much of a remnant that holds flaws is clear of them; else the end of the sentence."""
    along, across, clear_along, clear_across = sizes
    if (along, across) == (clear_along, clear_across):
        return "."
    flawed = "a flaw in it" if number == 1 else "a flaw in each"
    return f", {flawed}; clear of flaws {extent(units, clear_along, clear_across, left=True)}."


def check_sum(lay: Lay, units: Units) -> str:
    """Add up what comes off along the bolt; with what is left it makes the whole cloth."""
    work = Work(lay, units)
    parts = _parts(work)
    left = 0 if parts[-1][1] else parts[-1][0].along
    off = [(part.along, _word(work, part, held)) for part, held in (parts[:-1] if left else parts)]
    taken = sum(size for size, _ in off)
    terms = [(size, len(list(same)), word) for (size, word), same in groupby(off)]
    text = "; ".join(_sum(terms, taken, system) for system in units.systems)
    if left:
        over = [rest(taken, lay.bolt.along, system) for system in units.systems]
        names = [system.value for system in units.systems]
        spelled = [f"{own} {name}" for (own, _), name in zip(over, names, strict=True)]
        whole = [f"{own} {name}" for (_, own), name in zip(over, names, strict=True)]
        text += f"; with {in_brackets(*spelled)} left, {in_brackets(*whole)}"
    text += ", the whole cloth" + (" after washing" if lay.cloth.washed else "")
    values = [size for size, _ in off] + [taken, left, lay.bolt.along]
    rounded = any(is_rounded(value, units) for value in values)
    return text + (" (figures rounded)." if rounded else ".")


def running_sum(lay: Lay, at: int, units: Units) -> str:
    """What is off the bolt and what is left once it is parted at a place: both make the whole.

    A line for each measure: "off 102 · left 108 · = 210 cm".
    """
    off = at - lay.bolt.x0
    lines = []
    for system in units.systems:
        left, whole = rest(off, lay.bolt.along, system)
        lines.append(f"off {reading(off, system)} · left {left} · = {whole} {system.value}")
    return "\n".join(lines)


def rest(off: int, whole: int, system: System) -> tuple[str, str]:
    """What is left of the whole cloth, and the whole, such that print adds up.

    What is off is a tape reading, rounded up; the whole is told rounded down, and what is left as
    the difference of the two in print, which is never more than there is.
    """
    step = print_step(system)
    taken = ceil_to(off, step)
    there = max(taken, whole // step * step)
    return spare(there - taken, system), spare(there, system)


def _sum(terms: Sequence[tuple[int, int, str]], taken: int, system: System) -> str:
    """What comes off, added up in one measure."""
    told = " + ".join(_term(*term, system) for term in terms)
    if len(terms) == 1 and terms[0][1] == 1:
        return f"{told} {system.value}"
    # Every part is told rounded up, as it is cut, so that many of them may come to more.
    step = print_step(system)
    printed = sum(ceil_to(size, step) * count for size, count, _ in terms)
    about = "" if printed == ceil_to(taken, step) else "about "
    return f"{told} = {about}{reading(taken, system)} {system.value}"


def _term(size: int, count: int, word: str, system: System) -> str:
    number = reading(size, system)
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
