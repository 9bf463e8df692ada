"""Sums, sizes and purchases of a printed sheet against the record: each reckoned anew."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from sheet_lengths import STEP, UNITS, bought, down, up, value
from sheet_steps import Steps
from sheet_text import figures

from marker.geometry import Rect
from marker.lay import Direction, Mode

GUIDE = re.compile(r"\bstretch \d+\b")
"""What the plan of a long bolt says, which is a guide to its stretches."""


class Judge(Steps):
    """Checks of one cloth of a record: its steps, and all else that its pages tell of it."""

    # --- the sum along the bolt --------------------------------------------------------------

    def sum(self, text: str) -> None:
        """The check sum adds up, to what is torn off, what is left and the whole cloth."""
        exact = "rounded" not in text
        parts = self.parts()
        taken = sum(parts)
        for system in self.systems:
            unit, step = UNITS[system], STEP[system]
            sums = re.search(rf"(?:^|; )([^;]*?)(?: = (about )?(\S+))? {system}\b(?!\))", text)
            if sums is None:
                self.say(f"the check sum in {system} is not found in {text!r}")
                continue
            terms = [_term(term, unit) for term in sums[1].split(" + ")]
            told = [size for size, times in terms for _ in range(times)]
            total = value(sums[3], unit) if sums[3] else told[0]
            adds = sum(told) == total
            if (
                adds == bool(sums[2])
                or (exact and not adds)
                or abs(sum(told) - total) > step * len(told)
            ):
                self.say(f"the check sum in {system} does not add up: {sums[0]!r}")
            wanted = sorted(value(up(size, system), unit) for size in parts)
            if self.lay.mode is Mode.TEAR and sorted(told) != wanted:
                self.say(
                    f"the check sum in {system} should be of {[str(w / unit) for w in wanted]}"
                )
            if self.lay.mode is Mode.TEAR and total != value(up(taken, system), unit):
                self.say(f"the check sum in {system} should come to {up(taken, system)}")
        self.ends(set(figures(text.partition(" = ")[2] or text)), taken)

    def ends(self, ends: set[str], taken: int) -> None:
        """What a check sum ends with: what is left, and the whole cloth."""
        left = self.lay.bolt.along - taken
        for system in self.systems:
            if not ends & {up(self.lay.bolt.along, system), down(self.lay.bolt.along, system)}:
                self.say(f"the check sum should end with the whole cloth in {system}")
        for system in self.systems if self.lay.mode is Mode.TEAR and left else ():
            _, over, whole = self.halves(self.lay.bolt.x0 + taken, system)
            if over not in ends:
                self.say(f"the check sum should leave {over} {system}")
            if whole not in ends:
                self.say(f"the check sum should come to {whole} {system} in all")

    def parts(self) -> list[int]:
        """What the tears right across take off the bolt, and what stays if it holds a piece."""
        at, found = self.lay.bolt.x0, []
        for tear in self.lay.tears:
            if tear.direction is Direction.ACROSS and tear.in_hand.across == self.lay.bolt.across:
                if tear.in_hand.x1 != self.lay.bolt.x1 or tear.in_hand.x0 != at:
                    continue
                found.append(tear.at - at)
                at = tear.at
        rest = Rect(at, 0, self.lay.bolt.x1, self.lay.bolt.across)
        if any(rest.holds(rect) for rect in self.rects.values()):
            found.append(rest.along)
        return found

    # --- the plan ------------------------------------------------------------------------------

    def plan(self, text: str) -> None:
        """What stands on the plan: purchase, readings at the tape, tear numbers, sizes."""
        flat = " ".join(text.split())
        self.purchase(flat, "Buy {}", "needs {}")
        told = set(figures(flat))
        for first, last in re.findall(r"\b(\d+)[–-](\d+)\b", flat):
            told |= {str(number) for number in range(int(first), int(last))}
        guide = GUIDE.search(flat)  # its tears are numbered on the stretches, which follow
        for tear in () if guide else self.lay.tears:
            if str(tear.number) not in told:
                self.say(f"the plan lacks the number of tear {tear.number}")
            whole = tear.in_hand.across == self.lay.bolt.across
            whole = whole and tear.in_hand.x1 == self.lay.bolt.x1
            if whole and tear.direction is Direction.ACROSS:
                self.lack(told, max(tear.at, 0), f"the plan at tear {tear.number}")
        self.sizes(flat)

    def sizes(self, flat: str) -> None:
        """Every size on the plan is that of a piece, or of something left over."""
        known: set[tuple[str, str, str]] = set()
        for system in self.systems:
            for piece in self.lay.pieces:
                for length, breadth in sizes_of(piece):
                    known.add((up(length, system), up(breadth, system), system))
            for r in self.rects.values():  # as a piece lies, told in the steps
                known.add((up(r.along, system), up(r.across, system), system))
                half = self.lay.bolt.across // 2 - r.y0  # of a piece on the fold
                known.add((up(r.along, system), up(half, system), system))
            for offcut in self.lay.offcuts:
                r = offcut.rect
                known.add((down(r.along, system), down(r.across, system), system))
        number = r"(\d+(?:\.\d)?[⅛¼⅜½⅝¾⅞]?|[⅛¼⅜½⅝¾⅞])"
        shown = set(re.findall(rf"(?<![\d.]){number} × {number} (cm|in)\b", flat))
        for size in sorted(shown - known):
            self.say(f"the plan shows a size {' × '.join(size[:2])} {size[2]}, which nothing has")

    def purchase(self, flat: str, *forms: str) -> None:
        """What to buy and the exact need, in every measure told."""
        if self.lay.cloth.length:
            return
        need = -(-(self.lay.cloth.squaring + self.lay.length) // (
            1 - Fraction(self.lay.cloth.warp_shrinkage) / 100))  # fmt: skip
        buy = -(-need // self.lay.cloth.step) * self.lay.cloth.step
        shop = _beside([bought(int(buy), system) for system in self.systems])
        exact = _beside([f"{up(int(need), system)} {system}" for system in self.systems])
        for form, wanted in zip(forms, (shop, exact), strict=True):
            if form.format(wanted) not in flat:
                self.say(f"{form.format(wanted)!r} is not told")


def _beside(told: list[str]) -> str:
    return told[0] + "".join(f" ({other})" for other in told[1:])


def _term(text: str, unit: int) -> tuple[Fraction, int]:
    """A term of a check sum, such as "3 × 41½" or "1 squaring": its length, how many times."""
    match = re.fullmatch(r"(?:(\d+) × )?(\S+)(?: [a-z]+)?", text.strip())
    assert match is not None, text
    return value(match[2], unit), int(match[1] or 1)


def sizes_of(piece: object) -> Iterator[tuple[int, int]]:
    """The sizes by which a piece may be known: its box, or a strip's by its long edges."""
    yield piece.length, piece.breadth  # type: ignore[attr-defined]
    outline = piece.outline  # type: ignore[attr-defined]
    for edge in outline.edges if outline else ():
        yield round(edge.length), piece.breadth  # type: ignore[attr-defined]
