"""The tears in plain words, agreeing with the numbers on the plan.

Readings run as a tape does: along the bolt from the squared end, and across a drop from
its near edge, always from the same edge, so that small slips of the hand never add up.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from marker.geometry import Rect
from marker.lay import Lay, Mode, Tear
from marker.plan.words.cutlist import cut_steps
from marker.plan.words.cutout import region_lines
from marker.plan.words.heed import with_heed
from marker.plan.words.parting import exceptions, how
from marker.plan.words.runs import Run, Work, count
from marker.plan.words.told import MOST_READINGS, Step, readings
from marker.units import Units

LONGEST_BLOCK = 8
"""Blocks of more runs than this are not told as "do as before": nobody could follow."""


def steps(lay: Lay, units: Units) -> tuple[Step, ...]:
    """A lay in the order of work: what to heed first, then every tear, or every piece to cut."""
    work = Work(lay, units)
    told = cut_steps(work) if lay.mode is Mode.SHEARS else _tear_steps(work)
    return with_heed(work, (*told, *for_shears(work, told[-1].last if told else 0)))


def for_shears(work: Work, last: int) -> Iterator[Step]:
    """What is cut out of the parts that the tears have freed for the shears."""
    for number, region in enumerate(work.lay.regions):
        for text in region_lines(work, region, first=number == 0):
            last += 1
            yield Step(last, last, text)


def _tear_steps(work: Work) -> tuple[Step, ...]:
    """The tears in the order of work; every tear number stands in exactly one step."""
    marks = [work.alike(run) for run in work.runs]
    told: list[Step] = []
    at = 0
    while at < len(marks):
        block, times = repeat(marks, at)
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


def repeat(marks: list[tuple[object, ...]], at: int) -> tuple[int, int]:
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
        depth, do = work.length(tears[0].distance), how(work.lay, tears[:1], "across")
        told.append(Step(1, 1, f"Square the cut end: snip {depth} from it, {do}. This edge is 0."))
        tears = tears[1:]
    for _, same in groupby(tears, key=lambda t: (t.distance, work.letters(t.falls), t.cut)):
        group = list(same)
        for start in range(0, len(group), MOST_READINGS):
            told.append(_drops(work, group[start : start + MOST_READINGS]))
    last, rest = told[-1], run.parts[-1]
    if work.held[rest]:
        verb = "stays" if len(work.held[rest]) == 1 else "stay"
        stays = f"; {work.call(rest)} {verb} in hand"
    else:
        stays = f", {work.left(rest.along)} left"
    return [*told[:-1], Step(last.first, last.last, last.text[:-1] + stays + ".")]


def _drops(work: Work, tears: list[Tear]) -> Step:
    """A few equal drops in one line."""
    size = work.length(tears[0].distance)
    places = readings(tuple(tear.at for tear in tears), work.units)
    falls = [tear.falls for tear in tears]
    ids = work.call(*falls)
    if not ids:
        what = f"{work.leftover(falls[0])}, {size}"
    elif len(tears) > 1:
        what = f"{count(len(tears))} drops of {size}: {ids}"
    elif work.freed(falls[0]):
        what = f"{ids}{work.name(falls[0])}, {size}"
    else:
        shears = " for the shears" if falls[0] in work.lay.regions else ""
        what = f"a drop of {size}{shears}: {ids}"
    do = how(work.lay, tears, "across")
    return Step(tears[0].number, tears[-1].number, f"Snip {places}; {do}: {what}.")


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
        places = readings(run.readings[start:end], work.units)
        lead = f"from its {run.edge} edge snip" if start == 0 else "go on, snip"
        names = name_parts(work, parts)
        do, but = how(work.lay, tears), but_cut(work, tears, run.readings[start:end])
        told.append(
            Step(tears[0].number, tears[-1].number, f"{who}: {lead} {places}; {do}: {names}{but}.")
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
        places = readings(head.readings, work.units)
        order = ", ".join(
            letters if number == 1 else f"{count(number)} {letters}"
            for letters, number in rows(work, head.parts)
        )
        do, but = how(work.lay, head.tears), but_cut(work, head.tears, head.readings)
        text += f"from its {head.edge} edge snip {places}; {do}: {order}{but}"
    return Step(head.numbers[0], runs[-1].numbers[1], text + ".")


def but_cut(work: Work, tears: tuple[Tear, ...], values: tuple[int, ...]) -> str:
    """A clause on the tears of a row that are cut; those of one verb need none."""
    return exceptions(work.lay, tears, [work.length(value) for value in values])


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
    cut = {tear.cut for tear in run.tears}
    if run.across or not trimmed or len(run.parts) - len(trimmed) != 1 or len(cut) > 1:
        return ""
    depth = work.length(work.lay.cloth.selvedge)
    if len(trimmed) == 2:
        do = how(work.lay, run.tears, "off both selvedges")
        return f"snip {depth} from either edge, {do}"
    side = "near" if trimmed[0].y0 == 0 else "far"
    do = how(work.lay, run.tears, "off the selvedge")
    return f"snip {depth} from the {side} edge, {do}"


def rows(work: Work, parts: tuple[Rect, ...]) -> list[tuple[str, int]]:
    """What falls, from the low edge on, with how many times each kind comes in a row."""
    kinds = (work.letters(part) or work.leftover(part) for part in parts)
    return [(kind, len(list(same))) for kind, same in groupby(kinds)]


def name_parts(work: Work, parts: tuple[Rect, ...]) -> str:
    """Name what falls, from the low edge on; a piece torn free is told with its name."""
    names, at = [], 0
    for kind, number in rows(work, parts):
        same = parts[at : at + number]
        if not work.held[same[0]]:
            names.append(kind)
        elif same[0] in work.lay.regions:
            names.append(f"the part for the shears ({work.call(*same)})")
        elif all(work.freed(part) for part in same):
            names.append(work.ids(*same) + work.name(same[0]))
        else:
            strips = f"{count(number)} strips" if number > 1 else "a strip"
            names.append(f"{strips} ({work.call(*same)})")
        at += number
    return ", ".join(names)
