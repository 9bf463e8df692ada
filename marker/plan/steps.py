"""The tears in plain words, agreeing with the numbers on the plan.

Readings run as a tape does: along the bolt from the squared end, and across a drop from
its near edge, always from the same edge, so that small slips of the hand never add up.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from marker.geometry import Rect
from marker.lay import Lay, Tear
from marker.plan.runs import Run, Work, count, reading
from marker.units import System, format_number, is_rounded

MOST_READINGS = 6
"""More snips than this in one line are too many to tick off; the line is parted."""

LONGEST_BLOCK = 8
"""Blocks of more runs than this are not told as "do as before": nobody could follow."""


@dataclass(frozen=True)
class Step:
    """What one line of the tear plan says; it stands for the tears `first` to `last`."""

    first: int
    last: int
    text: str

    @property
    def numbers(self) -> str:
        """The tears as they are told beside the text: "4" or "6 to 11"."""
        return f"{self.first}" if self.first == self.last else f"{self.first} to {self.last}"


def steps(lay: Lay, units: System) -> tuple[Step, ...]:
    """The tears of a lay in the order of work; every tear number stands in exactly one step."""
    work = Work(lay, units)
    marks = [work.alike(run) for run in work.runs]
    told: list[Step] = []
    at = 0
    while at < len(marks):
        block, times = _repeat(marks, at)
        first, rest = work.runs[at : at + block], work.runs[at + block : at + block * times]
        if block == 1 and rest:
            told.append(_each(work, (*first, *rest)))
        else:
            for run in first:
                told += _of_bolt(work, run) if work.of_bolt(run) else _of_part(work, run)
            if rest:
                told.append(_again(work, first, rest))
        at += block * times
    return tuple(told)


def leftovers(lay: Lay, units: System) -> tuple[str, ...]:
    """What is left: the remnants worth keeping, the largest first, then a word on the waste."""
    kept = [offcut.rect for offcut in lay.offcuts if offcut.keep]
    sizes = sorted((-rect.area, rect.along, rect.across) for rect in kept)
    lines = [
        _remnants(len(list(same)), along, across, units)
        for (_, along, across), same in groupby(sizes)
    ]
    waste = lay.bolt.area - lay.used - sum(rect.area for rect in kept)
    if waste:
        tenths = (waste * 2000 + lay.bolt.area) // (2 * lay.bolt.area)
        share = f"{tenths // 10}.{tenths % 10} %" if tenths else "under 0.1 %"
        lines.append(f"Waste, squaring and selvedges counted: {share} of the cloth.")
    return tuple(lines) or ("Nothing is left over.",)


def _remnants(number: int, along: int, across: int, units: System) -> str:
    size = (
        f"{format_number(along, units)} along × {format_number(across, units)} {units.value} across"
    )
    if number == 1:
        return f"Remnant to keep: {size}."
    return f"{count(number).capitalize()} remnants to keep, each {size}."


def check_sum(lay: Lay, units: System) -> str:
    """Add up what is torn off along the bolt; with what is left it makes the whole cloth."""
    work = Work(lay, units)
    parts = next((run.parts for run in work.runs if work.of_bolt(run)), (lay.bolt,))
    left = 0 if work.held[parts[-1]] else parts[-1].along
    torn = parts[:-1] if left else parts
    taken = sum(part.along for part in torn)
    terms = [
        _term(size, len(list(same)), word, units)
        for (size, word), same in groupby((part.along, _sum_word(work, part)) for part in torn)
    ]
    text = " + ".join(terms)
    text += f" = {work.length(taken)}" if len(torn) > 1 else f" {units.value}"
    if left:
        spare = f"{format_number(left, units)} {units.value}"
        text += f"; with {spare} left, {work.length(lay.bolt.along)}"
    text += ", the whole cloth" + (" after washing" if lay.cloth.washed else "")
    values = [part.along for part in torn] + [taken, left, lay.bolt.along]
    rounded = any(is_rounded(value, units) for value in values)
    return text + (" (figures rounded)." if rounded else ".")


def _term(size: int, count: int, word: str, units: System) -> str:
    number = reading(size, units)
    return (f"{count} × {number}" if count > 1 else number) + (f" {word}" if word else "")


def _sum_word(work: Work, part: Rect) -> str:
    if part.x1 <= 0:
        return "squaring"
    return "" if work.held[part] else "waste"


def _repeat(marks: list[tuple[object, ...]], at: int) -> tuple[int, int]:
    """The shortest block from `at` that comes again at once, and how many times it stands."""
    for block in range(1, LONGEST_BLOCK + 1):
        head = marks[at : at + block]
        times = 1
        while marks[at + block * times : at + block * (times + 1)] == head:
            times += 1
        if times > 1:
            return block, times
    return 1, 1


def _of_bolt(work: Work, run: Run) -> list[Step]:
    """The tears that part the bolt into drops: read off a tape laid from the squared end."""
    told = []
    tears = list(run.tears)
    if tears[0].at == 0:
        depth = work.length(tears[0].distance)
        told.append(
            Step(1, 1, f"Square the cut end: snip {depth} from it, tear across. This edge is 0.")
        )
        tears = tears[1:]
    for _, same in groupby(tears, key=lambda t: (t.distance, work.letters(t.falls))):
        group = list(same)
        for start in range(0, len(group), MOST_READINGS):
            told.append(_drops(work, group[start : start + MOST_READINGS]))
    last, rest = told[-1], run.parts[-1]
    if work.held[rest]:
        verb = "stays" if len(work.held[rest]) == 1 else "stay"
        stays = f"; {work.call(rest)} {verb} in hand"
    else:
        stays = f", {format_number(rest.along, work.units)} {work.units.value} left"
    return [*told[:-1], Step(last.first, last.last, last.text[:-1] + stays + ".")]


def _drops(work: Work, tears: list[Tear]) -> Step:
    """A few equal drops in one line."""
    size = work.length(tears[0].distance)
    places = _readings(tuple(tear.at for tear in tears), work.units)
    falls = [tear.falls for tear in tears]
    ids = work.call(*falls)
    if not ids:
        what = f"{work.leftover(falls[0])}, {size}"
    elif len(tears) > 1:
        what = f"{count(len(tears))} drops of {size}: {ids}"
    elif work.freed(falls[0]):
        what = f"{ids}{work.name(falls[0])}, {size}"
    else:
        what = f"a drop of {size}: {ids}"
    return Step(tears[0].number, tears[-1].number, f"Snip {places}; tear across: {what}.")


def _of_part(work: Work, run: Run) -> list[Step]:
    """The tears through a drop or a strip, a handful to a line."""
    who = f"{work.noun(run).capitalize()} of {work.call(run.hand) or 'waste'}"
    if run.hand == work.lay.bolt:
        who = "The whole cloth"
    if trims := _trims(work, run):
        return [Step(*run.numbers, f"{who}: {trims}.")]
    told = []
    for start in range(0, len(run.tears), MOST_READINGS):
        tears = run.tears[start : start + MOST_READINGS]
        end = start + len(tears)
        parts = run.parts[start:] if end == len(run.tears) else run.parts[start:end]
        places = _readings(run.readings[start:end], work.units)
        lead = f"from its {run.edge} edge snip" if start == 0 else "go on, snip"
        names = _name_parts(work, parts)
        told.append(
            Step(tears[0].number, tears[-1].number, f"{who}: {lead} {places}; tear: {names}.")
        )
    return told


def _each(work: Work, runs: tuple[Run, ...]) -> Step:
    """Several parts in hand that are torn alike, in one line."""
    head = runs[0]
    ids = work.ids(*(run.hand for run in runs))
    text = f"Each of {count(len(runs))} {work.noun(head)}s{f' ({ids})' if ids else ''}: "
    if trims := _trims(work, head):
        text += trims
    else:
        places = _readings(head.readings, work.units)
        order = ", ".join(
            letters if number == 1 else f"{count(number)} {letters}"
            for letters, number in _rows(work, head.parts)
        )
        text += f"from its {head.edge} edge snip {places}; tear: {order}"
    return Step(head.numbers[0], runs[-1].numbers[1], text + ".")


def _again(work: Work, first: tuple[Run, ...], rest: tuple[Run, ...]) -> Step:
    """A whole block of tears done again on the next parts."""
    freed = [part for run in rest for part in run.parts if work.freed(part)]
    a, b = first[0].numbers[0], first[-1].numbers[1]
    times = len(rest) // len(first)
    often = "once more" if times == 1 else f"{count(times)} times more"
    text = f"Do as in tears {a} to {b}, {often}: {work.ids(*freed)}."
    return Step(rest[0].numbers[0], rest[-1].numbers[1], text)


def _trims(work: Work, run: Run) -> str:
    """Words for a run that only takes selvedges off; empty where it does more."""
    trimmed = [part for part in run.parts if work.is_selvedge(part)]
    if run.across or not trimmed or len(run.parts) - len(trimmed) != 1:
        return ""
    depth = work.length(work.lay.cloth.selvedge)
    if len(trimmed) == 2:
        return f"snip {depth} from either edge, tear off both selvedges"
    side = "near" if trimmed[0].y0 == 0 else "far"
    return f"snip {depth} from the {side} edge, tear off the selvedge"


def _rows(work: Work, parts: tuple[Rect, ...]) -> list[tuple[str, int]]:
    """What falls, from the low edge on, with how many times each kind comes in a row."""
    kinds = (work.letters(part) or work.leftover(part) for part in parts)
    return [(kind, len(list(same))) for kind, same in groupby(kinds)]


def _name_parts(work: Work, parts: tuple[Rect, ...]) -> str:
    """Name what falls, from the low edge on; a piece torn free is told with its name."""
    names, at = [], 0
    for kind, number in _rows(work, parts):
        same = parts[at : at + number]
        if not work.held[same[0]]:
            names.append(kind)
        elif all(work.freed(part) for part in same):
            names.append(work.ids(*same) + work.name(same[0]))
        else:
            strips = f"{count(number)} strips" if number > 1 else "a strip"
            names.append(f"{strips} ({work.call(*same)})")
        at += number
    return ", ".join(names)


def _readings(values: tuple[int, ...], units: System) -> str:
    """Tape readings in a row, the unit named once; an even row that prints exactly is told so."""
    step = values[0]
    even = all(value == step * (index + 1) for index, value in enumerate(values))
    if even and len(values) > MOST_READINGS // 2 and not is_rounded(step, units):
        each, end = reading(step, units), reading(values[-1], units)
        return f"every {each} to {end} {units.value}"
    shown = [reading(value, units) for value in values]
    head = ", ".join(shown[:-1])
    return (f"at {head} and " if head else "at ") + f"{shown[-1]} {units.value}"
