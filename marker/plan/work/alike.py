"""Garments whose orders of work are alike but for figures, told once with letters for those."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from marker.record import Garment, Task
from marker.units import set_fractions

FIGURE = re.compile(
    r"(?<![A-Za-z\d-])(?:\d*[⁰¹²³⁴⁵⁶⁷⁸⁹]+\u2044[₀₁₂₃₄₅₆₇₈₉]+|\d+(?:\.\d+)?[¼½¾⅛⅜⅝⅞]?|[¼½¾⅛⅜⅝⅞])"
)
"""A figure in a sentence, with its fraction; not the number in a piece's letter."""
LETTERS = "abcdefghijklmnopqrstuvwxyz"

Bit = tuple[str, bool]
"""Some words of a sentence, and whether they stand for a figure that the table holds."""


@dataclass(frozen=True)
class Told:
    """A task as it is told of all garments of an order: its words, and the pieces in hand."""

    stage: str
    words: tuple[Bit, ...]
    letters: tuple[str, ...]


@dataclass(frozen=True)
class Order:
    """An order of work, the garments made by it, and the figures that differ between them.

    `table` has the letters that stand for those figures, each with its value for every garment.
    """

    garments: tuple[Garment, ...]
    tasks: tuple[Told, ...]
    table: tuple[tuple[str, tuple[str, ...]], ...]


def orders(garments: Iterable[Garment]) -> tuple[Order, ...]:
    """The orders of work of these garments, alike ones told once; none of a garment without."""
    alike: dict[tuple[object, ...], list[Garment]] = {}
    for garment in garments:
        if garment.work:
            alike.setdefault(_kind(garment), []).append(garment)
    return tuple(_order(some) for some in alike.values())


def _kind(garment: Garment) -> tuple[object, ...]:
    """Equal for garments that are made alike, whatever their figures."""
    steps = tuple((task.stage, FIGURE.sub("#", _text(task))) for task in garment.work)
    return garment.name.replace(garment.wearer or "\0", ""), steps


def _text(task: Task) -> str:
    return set_fractions(task.text)


def _order(garments: Sequence[Garment]) -> Order:
    letters = Letters()
    tasks = tuple(_told(same, letters) for same in zip(*(g.work for g in garments), strict=True))
    return Order(tuple(garments), tasks, letters.table)


@dataclass
class Letters:
    """The letters that stand for figures that differ, one for each row of the same values."""

    given: dict[tuple[str, ...], str] = field(default_factory=dict)

    def of(self, values: tuple[str, ...]) -> str:
        """The letter of some values, one for everybody in her order."""
        more, rest = divmod(len(self.given), len(LETTERS))
        name = (LETTERS[more - 1] if more else "") + LETTERS[rest]
        return self.given.setdefault(values, name)

    @property
    def table(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Every letter with its values."""
        return tuple((name, values) for values, name in self.given.items())

    def put(self, texts: Sequence[str]) -> tuple[Bit, ...]:
        """A sentence told of all: figures that are the same stay, the others become letters."""
        words = FIGURE.split(texts[0])
        found = zip(*(FIGURE.findall(text) for text in texts), strict=True)
        bits: list[Bit] = [(words[0], False)]
        for values, after in zip(found, words[1:], strict=True):
            differ = len(set(values)) > 1
            bits += [(self.of(values) if differ else values[0], differ), (after, False)]
        return _run_on(bits)


def _told(same: Sequence[Task], letters: Letters) -> Told:
    """One task of all garments, with the pieces of all of them in hand."""
    words = letters.put([_text(task) for task in same])
    pieces = tuple(dict.fromkeys(one for task in same for one in task.letters))
    return Told(same[0].stage.value, words, pieces)


def _run_on(bits: Sequence[Bit]) -> tuple[Bit, ...]:
    """Words that follow one another joined, so that only letters stand apart."""
    joined: list[Bit] = []
    for text, apart in bits:
        if joined and not apart and not joined[-1][1]:
            joined[-1] = (joined[-1][0] + text, False)
        elif text:
            joined.append((text, apart))
    return tuple(joined)
