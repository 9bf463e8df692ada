"""Cases that the tests of comparing share, and how they are compared: by count, in no time."""

from __future__ import annotations

from functools import cache

from example_cases import text_of

from marker import decide
from marker.casefile import Case, parse
from marker.decide.asked import asked
from marker.decide.comparison import Comparison, Row, compare, ranked
from marker.decide.options import options
from marker.record import Record

WIDE = '[cloth.wide]\nname = "Wide cloth"\nwidth = "54 in"\n'
PRICED = 'width = "112 cm"\nselvedge = "1 cm"\nprice = "10 EUR/m"\nweight = "200 g/m2"'
BOLTS = """
[cloth.twill]
name = "Twill"
width = "150 cm"
price = "14 EUR/m"
weight = "200 g/m2"
[garment.skirt.facing]
depth = "15 cm"
"""


def planned(case: Case) -> Record:
    return decide.plan(case, iterations=5)


def given(case: Case, record: Record) -> Comparison:
    """The options of a case, each as if it came to one record."""
    found = options(case, asked(case))
    return ranked(case, found, [record] * len(found.able), None)


def case(more: str = "", units: str = "cm", **parts: str) -> Case:
    """A plain skirt; `more` are further tables."""
    return parse(text_of(units, more, **parts), "a.toml")


def compared(text: str, units: str = "cm", order: tuple[str, ...] | None = None, **parts: str) -> (
    Comparison
):  # fmt: skip
    return _compared(text, units, order, tuple(parts.items()))


@cache
def _compared(
    text: str, units: str, order: tuple[str, ...] | None, parts: tuple[tuple[str, str], ...]
) -> Comparison:
    return compare(case(text, units, **dict(parts)), order=order, iterations=5)


def bolts(table: str = "panels = [2, 3]", more: str = BOLTS) -> Comparison:
    """Two bolts with prices, a straight facing, and two or three panels."""
    return compared(f'{more}[compare]\nfacing = "straight"\n{table}\n', cloth=PRICED)


def row(found: Comparison, words: str) -> Row:
    """The one option of these words."""
    (one,) = [row for row in found.rows if row.option.words == words]
    return one
