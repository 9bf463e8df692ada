"""Every tear told in full: what to hold, where to measure from, what to snip, what falls off.

The plan has room for short lines (`steps`); these stand on the page beside it, with the running
sum along the bolt. Both follow the same record, and give each tear the same number and reading.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.geometry import Rect
from marker.lay import Lay, Mode, Tear
from marker.plan.words.cutlist import cut_steps
from marker.plan.words.heed import with_heed
from marker.plan.words.parting import how
from marker.plan.words.runs import Run, Work, count, measured
from marker.plan.words.steps import but_cut, for_shears, name_parts, repeat, rows
from marker.plan.words.sums import running_sum
from marker.plan.words.told import MOST_READINGS, Step, readings
from marker.units import Units


def full_steps(lay: Lay, units: Units) -> tuple[Step, ...]:
    """A lay in the order of work, nothing left to guess; each tear stands in exactly one step."""
    work = Work(lay, units)
    told = cut_steps(work) if lay.mode is Mode.SHEARS else tuple(_tears(work))
    return with_heed(work, (*told, *for_shears(work, told[-1].last if told else 0)))


def _tears(work: Work) -> Iterator[Step]:
    marks = [work.alike(run) for run in work.runs]
    at = 0
    while at < len(marks):
        block, times = repeat(marks, at)
        first, rest = work.runs[at : at + block], work.runs[at + block : at + block * times]
        if block == 1 and rest:
            yield from _each(work, (*first, *rest))
        else:
            for run in first:
                yield from _of_bolt(work, run) if work.of_bolt(run) else _each(work, (run,))
            if rest:
                yield _again(work, first, rest)
        at += block * times


def _of_bolt(work: Work, run: Run) -> Iterator[Step]:
    """The tears across the bolt, one by one, each with its sum."""
    lay, begun = work.lay, False
    for tear in run.tears:
        if tear.at == 0:
            text = _square(work, tear)
        else:
            text = _drop(work, tear, first=not begun)
            begun = True
        if tear is run.tears[-1]:
            text += _rest(work, run.parts[-1])
        sums = (running_sum(lay, tear.at, work.units),)
        yield Step(tear.number, tear.number, text, sums=sums)


def _square(work: Work, tear: Tear) -> str:
    depth, do = work.length(tear.distance), how(work.lay, (tear,), "across")
    return (
        f"The bolt, its cut end at the left: measure {depth} from that end, snip the near edge "
        f"there, {do}. The strip falls off. This edge is 0."
    )


def _drop(work: Work, tear: Tear, *, first: bool) -> str:
    """One tear across the bolt; the first says where the tape lies."""
    end = "the squared end" if work.lay.bolt.x0 < 0 else "its free end"
    hold = f"The bolt, a tape along its near edge from {end}" if first else "The bolt"
    at, do = readings((tear.at,), work.units), how(work.lay, (tear,), "across")
    return f"{hold}: snip the near edge {at}, {do}. Off falls {_fallen(work, tear)}."


def _fallen(work: Work, tear: Tear) -> str:
    """What a tear across the bolt takes off, with its length."""
    part, size = tear.falls, work.length(tear.distance)
    if not work.held[part]:
        return f"{work.leftover(part)}, {size}"
    if work.freed(part):
        return f"{work.ids(part)}{work.name(part)}, {size}"
    shears = " for the shears" if part in work.lay.regions else ""
    return f"a drop of {size}{shears}: {work.call(part)}"


def _rest(work: Work, part: Rect) -> str:
    """What of the bolt stays in hand when nothing more is torn off it."""
    if work.held[part]:
        verb = "stays" if len(work.held[part]) == 1 else "stay"
        return f" {work.call(part)} {verb} in hand."
    return f" {work.left(part.along)} is left."


def _each(work: Work, runs: Sequence[Run]) -> Iterator[Step]:
    """One part in hand, or several that are torn alike, a handful of tears to a step."""
    head, several = runs[0], len(runs) > 1
    hold = _hold(work, runs)
    if trims := _trims(work, runs):
        yield Step(head.numbers[0], runs[-1].numbers[1], f"{hold}: {trims}")
        return
    # Tears of several parts are numbered part by part, so all of them stand in one step.
    most = len(head.tears) if several else MOST_READINGS
    for start in range(0, len(head.tears), most):
        end = min(start + most, len(head.tears))
        lead = hold if start == 0 else f"{hold}, as before"
        text = f"{lead}: {_measure(work, head, start, end)}. {_off(work, runs, start, end)}"
        first, last = head.tears[start].number, head.tears[end - 1].number
        yield Step(first, runs[-1].numbers[1] if several else last, text)


def _hold(work: Work, runs: Sequence[Run]) -> str:
    """What to take in hand, by the pieces that it holds and by its size."""
    head, noun = runs[0], work.noun(runs[0])
    size = measured(work.units, "{} × {}", head.hand.along, head.hand.across)
    if len(runs) > 1:
        ids = work.ids(*(run.hand for run in runs))
        return f"Each of {count(len(runs))} {noun}s, {f'{ids}, ' if ids else ''}{size}"
    if head.hand == work.lay.bolt:
        return f"The whole cloth, {size}"
    return f"{noun.capitalize()} of {work.call(head.hand) or 'waste'}, {size}"


def _measure(work: Work, run: Run, start: int, end: int) -> str:
    """From which edge to measure, what the tape reads, which edge to snip, and how to part."""
    tears, values = run.tears[start:end], run.readings[start:end]
    places = readings(values, work.units).removeprefix("at ")
    snipped, way = ("near", "across") if run.across else ("left", "along")
    but = but_cut(work, tears, values)
    do = how(work.lay, tears, way)
    return f"from its {run.edge} edge measure {places}, snip its {snipped} edge there, {do}{but}"


def _off(work: Work, runs: Sequence[Run], start: int, end: int) -> str:
    """What falls off in turn, and what stays in hand."""
    head, last = runs[0], end == len(runs[0].tears)
    falls, stays = head.parts[start:end], head.parts[-1]
    verb = "falls" if len(falls) == 1 else "fall in turn"
    if len(runs) > 1:
        names = ", ".join(
            kind if number == 1 else f"{count(number)} {kind}" for kind, number in rows(work, falls)
        )
        rest = work.letters(stays) or work.leftover(stays)
    else:
        names, rest = name_parts(work, falls), name_parts(work, (stays,))
    how_left = "stays in hand" if work.held[stays] else "is left"
    return f"Off {verb} {names}{f'; {rest} {how_left}' if last else ''}."


def _trims(work: Work, runs: Sequence[Run]) -> str:
    """Words for tears that only take selvedges off; empty where they do more."""
    run = runs[0]
    trimmed = [part for part in run.parts if work.is_selvedge(part)]
    cut = {tear.cut for tear in run.tears}
    if run.across or not trimmed or len(run.parts) - len(trimmed) != 1 or len(cut) > 1:
        return ""
    depth = work.length(work.lay.cloth.selvedge)
    sides = "its near and from its far" if len(trimmed) == 2 else (
        "its near" if trimmed[0].y0 == 0 else "its far"
    )  # fmt: skip
    what = "off both selvedges" if len(trimmed) == 2 else "off the selvedge"
    (kept,) = (part for part in run.parts if part not in trimmed)
    rest = work.letters(kept) if len(runs) > 1 else name_parts(work, (kept,))
    return (
        f"from {sides} edge measure {depth}, snip its left edge there, "
        f"{how(work.lay, run.tears, what)}. {rest} stays in hand."
    )


def _again(work: Work, first: Sequence[Run], rest: Sequence[Run]) -> Step:
    """A whole block of tears done again on the next parts, each of which is named."""
    block = len(first)
    parts = [rest[at] for at in range(0, len(rest), block)]
    hands = [f"the {work.noun(run)} of {work.call(run.hand) or 'waste'}" for run in parts]
    freed = work.ids(*(part for run in rest for part in run.parts if work.freed(part)))
    a, b = first[0].numbers[0], first[-1].numbers[1]
    off = f". Off fall in the same turn {freed}" if freed else ""
    text = f"Do as in tears {a} to {b} with {', then with '.join(hands)}{off}."
    return Step(rest[0].numbers[0], rest[-1].numbers[1], text)
