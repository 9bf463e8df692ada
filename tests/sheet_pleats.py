"""The pleats pages of a printed sheet against the record: counts, stitches, rows, quarter points.

All is reckoned anew from a garment's round, its panels and what it is drawn into. Where several
wearers share a page, each has a row for what differs.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from sheet_lengths import near, stitch
from sheet_text import figures

from marker.record import Garment, Record
from marker.units import set_fractions

INCH, CM = 4064, 1600


@dataclass(frozen=True)
class Top:
    """How one garment's top is drawn up, in exact numbers."""

    garment: Garment
    systems: tuple[str, ...]

    @property
    def panel(self) -> Fraction:
        return Fraction(self.garment.round_hem, self.garment.panels)

    @property
    def each(self) -> int:
        """Pleats in a panel: as many stitches over and under as come nearest to the one wanted."""
        drawn_up = self.garment.pleating
        assert drawn_up is not None
        if not drawn_up.method.stitched:
            return drawn_up.pleats // self.garment.panels
        return max(1, int(self.panel / (2 * drawn_up.stitch) + Fraction(1, 2)))

    @property
    def pleats(self) -> int:
        return self.each * self.garment.panels

    def near(self, length: Fraction | int) -> str:
        return beside([f"{near(length, system)} {system}" for system in self.systems])

    def per(self) -> str:
        unit = INCH if self.systems[0] == "in" else 10 * CM
        return tenth(Fraction(self.pleats * unit, self.garment.drawn))

    def facts(self) -> Iterator[str]:
        """What every plan says, in its own words."""
        of = f"{self.garment.panels} panels of" if self.garment.panels > 1 else "one panel of"
        yield f"{self.near(self.garment.round_hem)}: {of} {self.near(self.panel)}"
        ratio = self.garment.round_hem / self.garment.drawn
        drawn_up = self.garment.pleating
        stitched = drawn_up is not None and drawn_up.method.stitched
        told = f"fulness {ratio:.2f} to 1" if stitched else f"{ratio:.2f} to 1"
        yield f"{self.near(self.garment.drawn)}, {told}"
        many = f"{self.each} in each panel, {self.pleats} in all"
        yield many if self.garment.panels > 1 else f"{self.pleats}"
        yield self.per()
        for part in (1, 2, 3):
            yield self.near(Fraction(self.garment.drawn * part, 4))
            yield tenth(Fraction(self.pleats * part, 4))
        yield from self.rows() if stitched else self.folds()

    def rows(self) -> Iterator[str]:
        """The fitted stitch, half of it, ten pleats, and where the rows lie and end."""
        made = self.garment.pleating
        assert made is not None
        fitted = self.panel / (2 * self.each)
        for length in (fitted, fitted / 2):
            yield beside([stitch(length, system) for system in self.systems])
        yield self.near(20 * fitted)
        for row in range(made.rows):
            yield self.near(made.first + row * made.spacing)
            more = Fraction(made.ease * row, made.rows - 1) if made.rows > 1 else 0
            yield self.near(self.garment.drawn + more)

    def folds(self) -> Iterator[str]:
        """How deep the folds are, how far apart, and those of knife pleats on the flat cloth."""
        made = self.garment.pleating
        assert made is not None
        turns = 1 if made.method.value == "knife pleated" else 2
        deep = Fraction(self.garment.round_hem - self.garment.drawn, 2 * turns * self.pleats)
        yield self.near(deep) if len(self.systems) == 1 else near(deep, self.systems[0])
        apart, takes = Fraction(self.garment.drawn, self.pleats), self.panel / self.each
        yield self.near(apart) if len(self.systems) == 1 else near(apart, self.systems[0])
        if turns == 1 and made.direction.value == "right":
            lead = self.systems[0]
            folds = [
                f"{near(number * takes - deep, lead)}, ({near(number * takes, lead)})"
                for number in range(1, self.each)
            ]
            yield ", ".join(folds)


def beside(told: list[str]) -> str:
    """One measure, and the other behind it in brackets."""
    return told[0] + "".join(f" ({other})" for other in told[1:])


def tenth(value: Fraction) -> str:
    return f"{float(value):.1f}".removesuffix(".0")


def pleats_faults(record: Record, pages: tuple[str, ...]) -> list[str]:
    """All complaints about the pleats pages: what a garment's plan should tell and doesn't."""
    systems = tuple(system.value for system in record.units.systems)
    found = []
    for garment in record.garments:
        if garment.pleating is None or not garment.panels:
            continue
        top = Top(garment, systems)
        lacks = [list(_lacking(top, page)) for page in pages if _hers(garment, page)]
        if not lacks:
            found.append(f"{garment.key} has no plan of its pleats")
            continue
        found += [f"{garment.key}: {said!r} is not told" for said in min(lacks, key=len)]
    return found


def _hers(garment: Garment, page: str) -> bool:
    title = page.strip().partition("\n")[0]
    return garment.name in title


def _lacking(top: Top, page: str) -> Iterator[str]:
    """What neither her row nor what is common to all tells."""
    name = re.escape(top.garment.wearer or top.garment.name)
    rows = re.findall(rf"(?m)^(?:[A-Z]{{1,2}} )?{name} (\d.*)$", page)
    rest = re.sub(r"(?m)^[A-Z]{1,2} [^\d\n]+ \d.*$", "", page) if rows else page
    flat, hers = " ".join(rest.split()), [figure for row in rows for figure in figures(row)]
    for said in top.facts():
        wanted = set_fractions(said)
        if wanted not in flat and not set(figures(wanted)) <= set(hers):
            yield wanted
