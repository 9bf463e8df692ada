"""The steps of a printed sheet against the record: readings, what falls, and the running sums."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import cycle, pairwise

from sheet_lengths import UNITS, both_ways, down, up, value
from sheet_text import Told, figures, ids, unknown

from marker.geometry import Rect
from marker.lay import Direction, Lay, Mode, Tear
from marker.record import Record

RUNNING = re.compile(r"off (\S+) · left (\S+) · = (\S+) (cm|in)")
"""The running sum along the bolt, beside a tear or a cut right across it."""
NOUGHT = re.compile(r"This edge is 0(?=[.;](?: |$))")
"""What a step says of the squared end."""


@dataclass
class Steps:
    """Checks of the steps of one cloth of a record; `found` are the complaints."""

    record: Record
    lay: Lay
    found: list[str] = field(default_factory=list)
    sums: bool = True
    """Whether the steps have the running sum beside them, as those of the plan have not."""

    def __post_init__(self) -> None:
        self.systems = [system.value for system in self.record.units.systems]
        pieces = {piece.letter: piece for piece in self.lay.pieces}
        self.rects = {
            f"{spot.letter}-{spot.copy}": spot.rect(pieces[spot.letter])
            for spot in self.lay.placements
        }
        self.hands = self.first_hands()

    def first_hands(self) -> dict[int, Rect]:
        """What was in hand before the first of the tears that each tear goes on from."""
        found, before = {}, None
        for tear in self.lay.tears:
            found[tear.number] = tear.in_hand
            if before and tear.in_hand == before.stays and tear.direction is before.direction:
                found[tear.number] = found[before.number]
            before = tear
        return found

    def reading(self, tear: Tear) -> int:
        """Where a tear is snipped, as the tape lies: along the bolt, from the squared end."""
        hand = self.hands[tear.number]
        across = tear.direction is Direction.ACROSS
        return tear.at - (max(hand.x0, 0) if across else hand.y0)

    def say(self, text: str) -> None:
        self.found.append(f"{self.lay.cloth.key}: {text}")

    def lack(self, told: set[str], length: int, what: str) -> None:
        """Complain where a length is told in none of the ways in which it may be."""
        for system in self.systems:
            if up(length, system) not in told:
                self.say(f"{what} should tell {up(length, system)} {system}")

    # --- the steps -------------------------------------------------------------------------

    def steps(self, told: list[Told], *, whole: bool = True) -> None:
        """Every step against its tears, or the pieces that it has chalked.

        The list is not the whole one where a plan has no room for all of it, and says so.
        """
        last = self.lay.tears[-1].number if self.lay.tears else 0
        numbered = [step for step in told if step.first]
        runs = [(step.first, step.last) for step in numbered]
        if not runs or [a for a, _ in runs] != [1, *(b + 1 for _, b in runs[:-1])]:
            self.say(f"the steps are numbered {runs}")
        if self.lay.tears and runs and runs[-1][1] < last and whole:
            self.say(f"the steps end with {runs[-1][1]}, and there are {last} tears")
        for step in told:
            if not step.first:
                self.heed(step)
            elif self.lay.mode is Mode.TEAR and step.first <= last:
                tears = [t for t in self.lay.tears if step.first <= t.number <= step.last]
                self.tears(step, tears)
            else:
                self.chalked(step)

    def tears(self, step: Told, tears: list[Tear]) -> None:
        """One step of tears: each reading, what falls and stays, and the names of pieces."""
        name = f"step {step.first}"
        step = self.summed(name, step, [t for t in tears if self.across_bolt(t)])
        told = set(figures(step.text))
        for one in ids(step.text):
            if not any(self.hands[t.number].holds(self.rects[one]) for t in tears):
                self.say(f"{name} names {one}, which is not in hand")
        if block := re.match(r"Do as in tears (\d+) to (\d+)", step.text):
            self.again(name, (int(block[1]), int(block[2])), tears)
            return
        every = re.search(rf"every (\S+) to (\S+) ({'|'.join(UNITS)})", step.text)
        for tear in tears:
            at, back = self.reading(tear), span(tear)[1] - tear.at
            if every and at % (pitch := value(every[1], UNITS[every[3]])) == 0 and at >= pitch:
                continue
            if re.search("either|far", step.text) and self.is_told(back, told):
                continue
            if tear.at == 0 and tear.direction is Direction.ACROSS:
                at = tear.at - self.lay.bolt.x0  # the strip squared off is measured from its end
            self.lack(told, at, f"{name}, tear {tear.number},")
        lengths = {self.lay.cloth.selvedge}
        for tear in tears:
            low, high = span(tear)
            lengths |= {self.reading(tear), tear.at - low, high - tear.at}
            hand = self.hands[tear.number]
            lengths |= {hand.along, hand.across}
        text = NOUGHT.sub("", step.text)
        self.explain(name, text, lengths, {str(n) for n in self.counts(tears)})

    def across_bolt(self, tear: Tear) -> bool:
        """Whether a tear parts the bolt itself, from edge to edge."""
        bolt = self.lay.bolt
        whole = tear.in_hand.across == bolt.across and tear.in_hand.x1 == bolt.x1
        return whole and tear.direction is Direction.ACROSS and self.hands[tear.number] == bolt

    def summed(self, name: str, step: Told, tears: list[Tear]) -> Told:
        """The step without its running sums, each of which is looked at; the plan has none."""
        found = RUNNING.findall(step.text)
        wanted = [(*self.halves(t.at, s), s) for t in tears for s in self.systems]
        if self.sums and found != wanted:
            self.say(f"{name} should have the sums {wanted}, and has {found}")
        return Told(step.first, step.last, RUNNING.sub(" ", step.text))

    def halves(self, at: int, system: str) -> tuple[str, str, str]:
        """What is off and left once the bolt is parted there, and the whole: print adds up."""
        off, whole = up(at - self.lay.bolt.x0, system), down(self.lay.bolt.along, system)
        left = value(whole, UNITS[system]) - value(off, UNITS[system])
        assert left <= self.lay.bolt.x1 - at  # never told more than there is
        return off, down(int(left), system), whole

    def counts(self, tears: list[Tear]) -> set[int]:
        """How many pieces and parts a step may speak of."""
        held = sum(self.hands[tears[0].number].holds(rect) for rect in self.rects.values())
        return set(range(1, max(held, len(tears) + 1) + 1))

    def is_told(self, length: int, told: set[str]) -> bool:
        return all(up(length, system) in told for system in self.systems)

    def again(self, name: str, block: tuple[int, int], tears: list[Tear]) -> None:
        """Tears that are done as others before: the same ways, at the same places."""
        before = [t for t in self.lay.tears if block[0] <= t.number <= block[1]]
        ways = [(t.direction, self.reading(t)) for t in before]
        for tear, way in zip(tears, cycle(ways), strict=False):
            if (tear.direction, self.reading(tear)) != way:
                self.say(f"{name}: tear {tear.number} is not as in tears {block[0]} to {block[1]}")

    def chalked(self, step: Told) -> None:
        """One step of shears: where pieces lie, and their sizes."""
        name, text = f"step {step.first}", re.sub(r" with [^()]*? underneath", "", step.text)
        text = self.cut_sums(name, text)
        named = ids(text)
        if unheard := named - self.rects.keys():
            self.say(f"{name} names {sorted(unheard)}")
            return
        rects = [self.rects[one] for one in named]
        base = next((r for r in self.lay.regions if all(r.holds(rect) for rect in rects)), None)
        x, y = (base.x0, base.y0) if base else (0, 0)
        places = [_off(rect, x, y) for rect in rects]
        if re.search(r"\bchalk (?:at|every)\b", text):
            self.placed(name, text, places)
        lengths = self.pitches(rects)
        if "ut right across" in text:
            edges = {at for r in (*self.rects.values(), self.lay.bolt) for at in (r.x0, r.x1)}
            lengths |= {b - a for a in edges | {0} for b in edges | {0}}
        if "Square the cut end" in text:
            lengths.add(-self.lay.bolt.x0)
        for rect in (*places, *([_off(base, x, y)] if base else [])):
            lengths |= {rect.x0, rect.y0, rect.along, rect.across}
            if self.lay.cloth.folded:
                lengths.add(self.lay.bolt.across // 2 - rect.y0)
        text = NOUGHT.sub("", text)
        self.explain(name, text, lengths, {str(n) for n in range(1, len(self.rects) + 1)})

    def cut_sums(self, name: str, text: str) -> str:
        """The text of a step of shears without its sums, one for each cut right across."""
        found = RUNNING.findall(text)
        plain = RUNNING.sub(" ", text)
        for off, left, whole, system in found:
            ends = {0, *(at for r in self.rects.values() for at in (r.x0, r.x1))}
            made = {
                self.halves(at, system)
                for at in ends if up(at, system) in figures(plain) or at == 0
            }  # fmt: skip
            if (off, left, whole) not in made:
                self.say(f"{name}: no cut leaves off {off}, left {left} of {whole} {system}")
        across = re.search(r"ut right across|Square the cut end", plain)
        if self.sums and self.lay.mode is Mode.SHEARS and bool(across) != bool(found):
            self.say(f"{name} should have a running sum only where it cuts right across")
        return plain

    def placed(self, name: str, text: str, places: list[Rect]) -> None:
        """Where each piece is chalked, and how far it reaches, must all be told."""
        told = set(figures(text))
        for rect in places:
            for at in (rect.x0, rect.y0):
                if at and "every" not in text:
                    self.lack(told, at, name)
            self.lack(told, rect.along, name)
            if "near half" not in text:
                self.lack(told, rect.across, name)

    def pitches(self, rects: list[Rect]) -> set[int]:
        """How far apart copies lie that are told in even rows."""
        xs, ys = sorted({r.x0 for r in rects}), sorted({r.y0 for r in rects})
        return {b - a for row in (xs, ys) for a, b in pairwise(row)}

    def heed(self, step: Told) -> None:
        """A line to heed tells of flaws and repeats only."""
        lengths = {self.lay.cloth.repeat.along, self.lay.cloth.repeat.across}
        for flaw in self.lay.cloth.flaws:
            lengths |= {flaw.x0, flaw.x1, flaw.y0, flaw.y1}
        counts = {str(n) for n in range(len(self.lay.cloth.flaws) + 1)}
        self.explain(f"the line {step.text[:30]!r}", step.text, lengths, counts)

    def explain(self, name: str, text: str, lengths: set[int], counts: set[str]) -> None:
        known = {"lengths": both_ways(lengths, self.systems), "counts": counts}
        for figure in unknown(text, known):
            self.say(f"{name} tells {figure}")


def span(tear: Tear) -> tuple[int, int]:
    """From where to where a tear's part in hand goes, the way that the tape lies."""
    hand = tear.in_hand
    across = tear.direction is Direction.ACROSS
    return (hand.x0, hand.x1) if across else (hand.y0, hand.y1)


def _off(rect: Rect, x: int, y: int) -> Rect:
    """A rectangle as it is measured from a corner at (x, y)."""
    return Rect(rect.x0 - x, rect.y0 - y, rect.x1 - x, rect.y1 - y)
