"""Counts of pieces packed into 64-bit words, and the effort that a search may spend.

One field a kind with a guard bit on top, so that a whole table of multisets is checked
against the demand in a few array operations.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from time import monotonic

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Words = NDArray[np.uint64]
Flags = NDArray[np.bool_]
WORD = 63


class TooMany(Exception):
    """The enumeration outgrew its effort or its time; nothing is proved by it."""


@dataclass
class Purse:
    """Effort allowed and spent, in pairs looked at, and the clock time at which to stop.

    What was spent on learning which blocks need not be looked at counts apart, too. With `heed`
    it is also asked, as often as the clock is looked at, whether to end.
    """

    pairs: int
    until: float | None = None
    spent: int = 0
    learnt: int = 0
    began: float = field(default_factory=monotonic)
    heed: Callable[[], bool] | None = None

    def spend(self, pairs: int) -> None:
        """Take effort out. Raises `TooMany` when it, or the time, has run out."""
        self.spent += pairs
        if self.spent > self.pairs or self.late:
            raise TooMany

    @property
    def left(self) -> int:
        """Effort that is left; where the clock runs, as much as went into as long a time before."""
        left = self.pairs - self.spent
        if self.until is None:
            return left
        now = monotonic()
        ratio = max(0.0, self.until - now) / max(now - self.began, 1e-3)
        return min(left, int(self.spent * ratio))

    @property
    def late(self) -> bool:
        """Whether the clock runs and has run out, or the end is asked for."""
        if self.heed is not None and self.heed():
            return True
        return self.until is not None and monotonic() > self.until


@dataclass(frozen=True)
class Packing:
    """Where each kind's count sits: its word, its shift there, and its bits without guard."""

    word: tuple[int, ...]
    shift: tuple[int, ...]
    bits: tuple[int, ...]
    full: Words
    guard: Words

    @classmethod
    def of(cls, counts: Sequence[int]) -> Packing:
        """Lay out fields for these demands."""
        bits = tuple(count.bit_length() for count in counts)
        word: list[int] = []
        shift: list[int] = []
        at, used = 0, 0
        for size in bits:
            if used + size + 1 > WORD:
                at, used = at + 1, 0
            word.append(at)
            shift.append(used)
            used += size + 1
        full, guard = [0] * (at + 1), [0] * (at + 1)
        for count, size, index, place in zip(counts, bits, word, shift, strict=True):
            full[index] |= count << place
            guard[index] |= 1 << (place + size)
        return cls(
            tuple(word),
            tuple(shift),
            bits,
            np.array(full, np.uint64),
            np.array(guard, np.uint64),
        )

    def one(self, kind: int) -> Words:
        """The words that count one piece of a kind."""
        packed = np.zeros(len(self.full), np.uint64)
        packed[self.word[kind]] = np.uint64(1 << self.shift[kind])
        return packed

    def fits(self, packed: Words) -> Flags:
        """Which rows stay within the demand: a field that overruns borrows its guard bit.

        Rows may be the sum of two that stay within it, no more.
        """
        kept = np.ones(len(packed), np.bool_)
        for index, (full, guard) in enumerate(zip(self.full, self.guard, strict=True)):
            kept &= ((full | guard) - packed[:, index]) & guard == guard
        return kept

    def counts(self, packed: Words) -> Ints:
        """How many pieces of each kind each row holds, one column a kind."""
        found = np.zeros((len(packed), len(self.word)), np.int64)
        for kind, (word, shift, bits) in enumerate(
            zip(self.word, self.shift, self.bits, strict=True)
        ):
            mask = np.uint64((1 << bits) - 1)
            found[:, kind] = packed[:, word] >> np.uint64(shift) & mask
        return found

    def packed(self, counts: Ints) -> Words:
        """Rows of counts, one column a kind, packed into words."""
        found = np.zeros((len(counts), len(self.full)), np.uint64)
        for kind, (word, shift) in enumerate(zip(self.word, self.shift, strict=True)):
            found[:, word] |= counts[:, kind].astype(np.uint64) << np.uint64(shift)
        return found

    def has(self, packed: Words, kind: int) -> Flags:
        """Which rows hold a kind at all."""
        mask = np.uint64(((1 << self.bits[kind]) - 1) << self.shift[kind])
        return np.asarray(packed[:, self.word[kind]] & mask != 0)

    def lacks(self, packed: Words, kind: int) -> Flags:
        """Which rows hold less than the demand of a kind."""
        mask = np.uint64(((1 << self.bits[kind]) - 1) << self.shift[kind])
        word = self.word[kind]
        return np.asarray(packed[:, word] & mask != self.full[word] & mask)
