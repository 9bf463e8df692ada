"""The tears in plain words, agreeing with the numbers on the plan.

Readings run as a tape does: along the bolt from the squared end, and across a drop from
its near edge, always from the same edge, so that small slips of the hand never add up.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from itertools import groupby

from marker.geometry import Rect
from marker.lay import Direction, Lay, Tear
from marker.units import Rounding, System, format_number, is_rounded

MOST_READINGS = 6
"""More snips than this in one line are too many to tick off; the line is parted."""

WORDS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve",
)  # fmt: skip


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


@dataclass(frozen=True, order=True)
class _Held:
    """One copy of a piece and the cloth it covers."""

    letter: str
    copy: int
    rect: Rect


@dataclass(frozen=True)
class _Run:
    """Parallel tears, one after another, through one part in hand."""

    tears: tuple[Tear, ...]

    @property
    def hand(self) -> Rect:
        return self.tears[0].in_hand

    @property
    def across(self) -> bool:
        return self.tears[0].direction is Direction.ACROSS

    @property
    def parts(self) -> tuple[Rect, ...]:
        """What the part in hand becomes, from its low edge to its high one."""
        return (*(tear.falls for tear in self.tears), self.tears[-1].stays)

    @property
    def readings(self) -> tuple[int, ...]:
        """Where to snip, measured from the low edge of the part in hand."""
        low = self.hand.x0 if self.across else self.hand.y0
        return tuple(tear.at - low for tear in self.tears)

    @property
    def numbers(self) -> tuple[int, int]:
        return self.tears[0].number, self.tears[-1].number

    @property
    def edge(self) -> str:
        """The edge to measure from, as the plan lies on the table."""
        return "left" if self.across else "near"


class _Work:
    """A lay as the one who tears sees it: the runs of tears, and what each part in hand holds."""

    def __init__(self, lay: Lay, units: System) -> None:
        self.lay = lay
        self.units = units
        self.runs = tuple(_Run(tears) for tears in _gather(lay.tears))
        self.kept = {offcut.rect for offcut in lay.offcuts if offcut.keep}
        pieces = {piece.letter: piece for piece in lay.pieces}
        placed = [_Held(p.letter, p.copy, p.rect(pieces[p.letter])) for p in lay.placements]
        self.names = {letter: piece.name for letter, piece in pieces.items()}
        self.held = {lay.bolt: sorted(placed)}
        for run in self.runs:
            self._share_out(run)

    def _share_out(self, run: _Run) -> None:
        """Give each part of a run its own pieces; every part in hand is torn off before."""
        parts = run.parts
        ends = [part.x1 if run.across else part.y1 for part in parts]
        for part in parts:
            self.held[part] = []
        for held in self.held.get(run.hand, []):
            low = held.rect.x0 if run.across else held.rect.y0
            self.held[parts[min(bisect_right(ends, low), len(parts) - 1)]].append(held)

    def ids(self, *parts: Rect) -> str:
        """The pieces in these parts, spelled shortly; empty if there are none."""
        return _join_ids([(held.letter, held.copy) for part in parts for held in self.held[part]])

    def letters(self, part: Rect) -> str:
        """The letters in a part, one a piece: parts with equal letters are told together."""
        return "+".join(held.letter for held in self.held[part])

    def freed(self, part: Rect) -> bool:
        """Whether the part is a piece, and needs no further tear."""
        return [held.rect for held in self.held[part]] == [part]

    def name(self, part: Rect) -> str:
        """The name in brackets of the one piece in this part; empty if it holds several."""
        letters = {held.letter for held in self.held[part]}
        return f" ({self.names[letters.pop()]})" if len(letters) == 1 else ""

    def is_selvedge(self, part: Rect) -> bool:
        """Whether a part is the firm edge alone, torn off one side of the cloth."""
        at_side = part.y0 == 0 or part.y1 == self.lay.bolt.across
        return at_side and part.across == self.lay.cloth.selvedge and not self.held[part]

    def leftover(self, part: Rect) -> str:
        """What to call a part that holds no piece."""
        if self.is_selvedge(part):
            return "selvedge"
        return "remnant" if part in self.kept else "waste"

    def of_bolt(self, run: _Run) -> bool:
        """Whether a run parts the bolt into drops."""
        return run.across and run.hand == self.lay.bolt

    def noun(self, run: _Run) -> str:
        """What to call the part in hand: a drop reaches from selvedge to selvedge."""
        return "drop" if run.hand.across == self.lay.bolt.across else "strip"

    def alike(self, run: _Run) -> tuple[object, ...]:
        """Equal for two runs that one line can describe together."""
        kinds = tuple(self.letters(part) or self.leftover(part) for part in run.parts)
        size = (run.hand.along, run.hand.across)
        return (self.of_bolt(run), run.across, self.noun(run), size, run.readings, kinds)

    def length(self, value: int) -> str:
        """A cut size with its unit."""
        return f"{reading(value, self.units)} {self.units.value}"


def steps(lay: Lay, units: System) -> tuple[Step, ...]:
    """The tears of a lay in the order of work; every tear number stands in exactly one step."""
    work = _Work(lay, units)
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


def reading(value: int, units: System) -> str:
    """A tape reading or a cut size as the plan prints it: rounded up, so never cut short."""
    return format_number(value, units, Rounding.UP)


def leftovers(lay: Lay, units: System) -> tuple[str, ...]:
    """What is left: the remnants worth keeping, the largest first, then a word on the waste."""
    kept = sorted((o.rect for o in lay.offcuts if o.keep), key=lambda r: (-r.area, r))
    lines = [
        f"Remnant to keep: {format_number(rect.along, units)} along × "
        f"{format_number(rect.across, units)} {units.value} across."
        for rect in kept
    ]
    waste = lay.bolt.area - lay.used - sum(rect.area for rect in kept)
    if waste:
        tenths = (waste * 2000 + lay.bolt.area) // (2 * lay.bolt.area)
        share = f"{tenths // 10}.{tenths % 10} %" if tenths else "under 0.1 %"
        lines.append(f"Waste, squaring and selvedges counted: {share} of the cloth.")
    return tuple(lines) or ("Nothing is left over.",)


def check_sum(lay: Lay, units: System) -> str:
    """Add up what is torn off along the bolt; with what is left it makes the whole cloth."""
    work = _Work(lay, units)
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


def _sum_word(work: _Work, part: Rect) -> str:
    if part.x1 <= 0:
        return "squaring"
    return "" if work.held[part] else "waste"


def _gather(tears: tuple[Tear, ...]) -> tuple[tuple[Tear, ...], ...]:
    """Gather the tears that go on through the same part in hand."""
    found: list[list[Tear]] = []
    for tear in tears:
        last = found[-1][-1] if found else None
        if last and tear.in_hand == last.stays and tear.direction is last.direction:
            found[-1].append(tear)
        else:
            found.append([tear])
    return tuple(tuple(group) for group in found)


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


def _of_bolt(work: _Work, run: _Run) -> list[Step]:
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
    ids, unit = work.ids(rest), work.units.value
    stays = (
        f"; {ids} stays in hand"
        if ids
        else f", {format_number(rest.along, work.units)} {unit} left"
    )
    return [*told[:-1], Step(last.first, last.last, last.text[:-1] + stays + ".")]


def _drops(work: _Work, tears: list[Tear]) -> Step:
    """A few equal drops in one line."""
    size = work.length(tears[0].distance)
    places = _readings(tuple(tear.at for tear in tears), work.units)
    falls = [tear.falls for tear in tears]
    ids = work.ids(*falls)
    if not ids:
        what = f"waste, {size}"
    elif len(tears) > 1:
        what = f"{_count(len(tears))} drops of {size}: {ids}"
    elif work.freed(falls[0]):
        what = f"{ids}{work.name(falls[0])}, {size}"
    else:
        what = f"a drop of {size}: {ids}"
    return Step(tears[0].number, tears[-1].number, f"Snip {places}; tear across: {what}.")


def _of_part(work: _Work, run: _Run) -> list[Step]:
    """The tears through a drop or a strip, a handful to a line."""
    who = f"{work.noun(run).capitalize()} of {work.ids(run.hand) or 'waste'}"
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


def _each(work: _Work, runs: tuple[_Run, ...]) -> Step:
    """Several parts in hand that are torn alike, in one line."""
    head = runs[0]
    ids = work.ids(*(run.hand for run in runs))
    text = f"Each of {_count(len(runs))} {work.noun(head)}s: "
    if trims := _trims(work, head):
        text += trims
    else:
        places = _readings(head.readings, work.units)
        order = ", ".join(
            letters if number == 1 else f"{_count(number)} {letters}"
            for letters, number in _rows(work, head.parts)
        )
        text += f"from its {head.edge} edge snip {places}; tear: {order}"
    text += f" ({ids})." if ids else "."
    return Step(head.numbers[0], runs[-1].numbers[1], text)


def _again(work: _Work, first: tuple[_Run, ...], rest: tuple[_Run, ...]) -> Step:
    """A whole block of tears done again on the next parts."""
    freed = [part for run in rest for part in run.parts if work.freed(part)]
    a, b = first[0].numbers[0], first[-1].numbers[1]
    times = len(rest) // len(first)
    often = "once more" if times == 1 else f"{_count(times)} times more"
    text = f"Do as in tears {a} to {b}, {often}: {work.ids(*freed)}."
    return Step(rest[0].numbers[0], rest[-1].numbers[1], text)


def _trims(work: _Work, run: _Run) -> str:
    """Words for a run that only takes selvedges off; empty where it does more."""
    trimmed = [part for part in run.parts if work.is_selvedge(part)]
    if run.across or not trimmed or len(run.parts) - len(trimmed) != 1:
        return ""
    depth = work.length(work.lay.cloth.selvedge)
    if len(trimmed) == 2:
        return f"snip {depth} from either edge, tear off both selvedges"
    side = "near" if trimmed[0].y0 == 0 else "far"
    return f"snip {depth} from the {side} edge, tear off the selvedge"


def _rows(work: _Work, parts: tuple[Rect, ...]) -> list[tuple[str, int]]:
    """What falls, from the low edge on, with how many times each kind comes in a row."""
    kinds = (work.letters(part) or work.leftover(part) for part in parts)
    return [(kind, len(list(same))) for kind, same in groupby(kinds)]


def _name_parts(work: _Work, parts: tuple[Rect, ...]) -> str:
    """Name what falls, from the low edge on; a piece torn free is told with its name."""
    names, at = [], 0
    for kind, number in _rows(work, parts):
        same = parts[at : at + number]
        ids = work.ids(*same)
        if not ids:
            names.append(kind)
        elif all(work.freed(part) for part in same):
            names.append(ids + work.name(same[0]))
        else:
            names.append(f"{_count(number)} strip{'s' if number > 1 else ''} ({ids})")
        at += number
    return ", ".join(names)


def _join_ids(ids: list[tuple[str, int]]) -> str:
    """Spell ids shortly: three or more in a row of one letter as "A-1 to A-3"."""
    spans: list[list[str]] = []
    before: tuple[str, int] | None = None
    for letter, copy in ids:
        if before == (letter, copy - 1):
            spans[-1].append(f"{letter}-{copy}")
        else:
            spans.append([f"{letter}-{copy}"])
        before = (letter, copy)
    return ", ".join(
        ", ".join(span) if len(span) < 3 else f"{span[0]} to {span[-1]}" for span in spans
    )


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


def _count(number: int) -> str:
    return WORDS[number] if number < len(WORDS) else f"{number}"
