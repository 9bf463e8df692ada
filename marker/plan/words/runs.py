"""A lay as the one who tears it sees it: runs of tears, and what each part in hand holds."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from marker.geometry import Rect
from marker.lay import Direction, Lay, Tear
from marker.units import Rounding, System, Units, beside, format_number, in_brackets, print_step

MOST_SPANS = 3
"""A part that holds more runs of pieces than this is called by its first piece."""

WORDS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve",
)  # fmt: skip


def reading(value: int, system: System) -> str:
    """A tape reading or a cut size as the plan prints it: rounded up, so never cut short."""
    return format_number(value, system, Rounding.UP)


def spare(value: int, system: System) -> str:
    """A length that is left, as print shows it: rounded down, so that it is there."""
    step = print_step(system)
    return format_number(value // step * step, system)


def measured(units: Units, form: str, *values: int) -> str:
    """Readings set in a form such as "{} × {}", the unit named once, in every measure told."""
    return beside(units, lambda system: _filled(form, reading, values, system))


def left_over(units: Units, form: str, *values: int) -> str:
    """As `measured`, for lengths that are left."""
    return beside(units, lambda system: _filled(form, spare, values, system))


def extent(units: Units, along: int, across: int, *, left: bool = False) -> str:
    """How far a thing reaches both ways: "67 along × 9 cm across (26⅜ × 3⅝ in)"."""
    told = left_over if left else measured
    lead, *also = units.systems
    first = f"{told(lead, '{} along × {}', along, across)} across"
    return in_brackets(first, *(told(system, "{} × {}", along, across) for system in also))


def apart(units: Units, figures: str) -> str:
    """Figures set apart in a sentence: in brackets, unless they have brackets of their own."""
    return f", {figures}" if len(units.systems) > 1 else f" ({figures})"


def tape_words(value: int, units: Units) -> str:
    """A reading as it stands beside the tape, where the unit is known: "99", or "99 (39)"."""
    return beside(units, lambda system: reading(value, system))


def _filled(
    form: str, spell: Callable[[int, System], str], values: tuple[int, ...], system: System
) -> str:
    return f"{form.format(*(spell(value, system) for value in values))} {system.value}"


@dataclass(frozen=True, order=True)
class Held:
    """One copy of a piece and the cloth it covers."""

    letter: str
    copy: int
    rect: Rect


@dataclass(frozen=True)
class Run:
    """Parallel tears, one after another, through one part in hand."""

    tears: tuple[Tear, ...]

    @property
    def hand(self) -> Rect:
        """The part in hand before the first of these tears."""
        return self.tears[0].in_hand

    @property
    def across(self) -> bool:
        """Whether the tears run along the weft."""
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
        """The first and the last tear."""
        return self.tears[0].number, self.tears[-1].number

    @property
    def edge(self) -> str:
        """The edge to measure from, as the plan lies on the table."""
        return "left" if self.across else "near"


class Work:
    """The runs of one lay, its parts with the pieces they hold, and words for them."""

    def __init__(self, lay: Lay, units: Units) -> None:
        self.lay = lay
        self.units = units
        self.runs = tuple(Run(tears) for tears in _gather(lay.tears))
        self.kept = {offcut.rect for offcut in lay.offcuts if offcut.keep}
        pieces = {piece.letter: piece for piece in lay.pieces}
        placed = [Held(p.letter, p.copy, p.rect(pieces[p.letter])) for p in lay.placements]
        self.names = {letter: piece.name for letter, piece in pieces.items()}
        self.held = {lay.bolt: sorted(placed)}
        for run in self.runs:
            self._share_out(run)

    def _share_out(self, run: Run) -> None:
        """Give each part of a run its own pieces; every part in hand is torn off before."""
        parts = run.parts
        ends = [part.x1 if run.across else part.y1 for part in parts]
        for part in parts:
            self.held[part] = []
        for held in self.held.get(run.hand, []):
            low = held.rect.x0 if run.across else held.rect.y0
            self.held[parts[min(bisect_right(ends, low), len(parts) - 1)]].append(held)

    def ids(self, *parts: Rect) -> str:
        """All pieces in these parts, spelled shortly; empty if there are none."""
        return ", ".join(self._spans(parts))

    def call(self, *parts: Rect) -> str:
        """What to call these parts by: all their pieces, or the first of many.

        A piece lies in one part only, so its name alone tells which part is meant.
        """
        spans = self._spans(parts)
        if len(spans) <= MOST_SPANS:
            return ", ".join(spans)
        first = spans[0].split(",")[0].split(" ")[0]
        return f"{first} and {count(sum(len(self.held[part]) for part in parts) - 1)} more"

    def _spans(self, parts: tuple[Rect, ...]) -> list[str]:
        return join_ids((held.letter, held.copy) for part in parts for held in self.held[part])

    def letters(self, part: Rect) -> str:
        """The letters in a part, one a piece: parts with equal letters are told together."""
        return "+".join(held.letter for held in self.held[part])

    def freed(self, part: Rect) -> bool:
        """Whether the part is a piece, and needs no further tear."""
        alone = [held.rect for held in self.held[part]] == [part]
        return alone and part not in self.lay.regions

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

    def of_bolt(self, run: Run) -> bool:
        """Whether a run parts the bolt into drops."""
        return run.across and run.hand == self.lay.bolt

    def noun(self, run: Run) -> str:
        """What to call the part in hand: a drop reaches from selvedge to selvedge."""
        return "drop" if run.hand.across == self.lay.bolt.across else "strip"

    def alike(self, run: Run) -> tuple[object, ...]:
        """Equal for two runs that one line can describe together."""
        kinds = tuple(self.letters(part) or self.leftover(part) for part in run.parts)
        size = (run.hand.along, run.hand.across)
        cuts = tuple(tear.cut for tear in run.tears)
        return (self.of_bolt(run), run.across, self.noun(run), size, run.readings, kinds, cuts)

    def length(self, value: int) -> str:
        """A cut size with its unit."""
        return measured(self.units, "{}", value)

    def left(self, value: int) -> str:
        """A length that is left, with its unit."""
        return left_over(self.units, "{}", value)


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


def count(number: int) -> str:
    """A small number in words, a great one in figures."""
    return WORDS[number] if number < len(WORDS) else f"{number}"


def rank(letter: str) -> tuple[int, str, int]:
    """Where letters stand in order: "AA" comes after "Z", and "A10" after "A9"."""
    initial = letter.rstrip("0123456789")
    return len(initial), initial, int(letter[len(initial) :] or 0)


def join_ids(ids: Iterable[tuple[str, int]]) -> list[str]:
    """Spell ids shortly, in order: three or more in a row of one letter as "A-1 to A-3"."""
    spans: list[list[str]] = []
    before: tuple[str, int] | None = None
    for letter, copy in sorted(ids, key=lambda one: (rank(one[0]), one[1])):
        if before == (letter, copy - 1):
            spans[-1].append(f"{letter}-{copy}")
        else:
            spans.append([f"{letter}-{copy}"])
        before = (letter, copy)
    return [", ".join(span) if len(span) < 3 else f"{span[0]} to {span[-1]}" for span in spans]
