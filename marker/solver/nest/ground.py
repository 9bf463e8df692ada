"""Where each outline may lie: its limits, and the sets of points that fall alike in a repeat.

Where in the repeat a set falls, its phase, is free but one for all copies. A phase leaves an
outline places a whole number of repeats apart; a kind of which no outline keeps a place
forbids it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain
from math import floor
from random import Random

import numpy as np

from marker.errors import BadInput
from marker.geometry import Polygon
from marker.solver.nest.kernel import FUZZ, Flags, Floats, State, snap
from marker.solver.nest.kinds import ACROSS, ALONG, NestKind

ENDLESS = 1e15
"""A greatest x of no account."""
Member = tuple[int, int, int]
"""A set, the axis of its repeat, and where along that axis the outline's point lies."""


def reach_across(kind: NestKind, shape: int, width: int) -> tuple[int, int]:
    """Least and greatest y at which an outline lies on the cloth by its rule."""
    limits = kind.rule(shape).across
    highest = width - kind.shapes[shape].box.across
    return (0, highest) if limits is None else (max(0, limits[0]), min(highest, limits[1]))


def _binding(kinds: Sequence[NestKind]) -> list[tuple[int, str]]:
    """Axis and name of the sets in which two points at least may have to fall alike."""
    points: Counter[tuple[int, str]] = Counter()
    for kind in kinds:
        names = [Counter((m.axis, m.name) for m in rule.matches) for rule in kind.rules]
        for key in set(chain.from_iterable(names)):
            points[key] += kind.count * max(found[key] for found in names)
    return sorted(key for key, count in points.items() if count > 1)


@dataclass(frozen=True)
class Ground:
    """Limits and sets of all outlines, rows x and y; lengths in units."""

    low: Floats
    high: Floats
    along: Floats
    step: Floats
    repeat: tuple[int, int]
    owners: tuple[int, ...]
    """The kind of each outline."""
    members: tuple[tuple[Member, ...], ...]
    """For each outline the sets that it has points in."""
    sets: tuple[tuple[int, str], ...] = field(default=())
    """Axis and name of each set."""

    @classmethod
    def of(
        cls,
        kinds: Sequence[NestKind],
        origins: Sequence[tuple[int, int]],
        outlines: Sequence[Polygon],
        width: int,
        repeat: tuple[int, int],
    ) -> Ground:
        """Gather the rules; raises `BadInput` where a match asks for a repeat that is not there."""
        rules = [kinds[k].rule(s) for k, s in origins]
        across = [reach_across(kinds[k], s, width) for k, s in origins]
        along = [rule.along or (0, ENDLESS) for rule in rules]
        sets = _binding(kinds)
        for match in chain.from_iterable(rule.matches for kind in kinds for rule in kind.rules):
            if repeat[match.axis] <= 0:
                raise BadInput(f"set {match.name!r} is matched to a repeat that the cloth has not")
        members = tuple(
            tuple(
                (sets.index((m.axis, m.name)), m.axis, m.at)
                for m in rule.matches
                if (m.axis, m.name) in sets
            )
            for rule in rules
        )
        step = np.zeros((2, len(origins)))
        for s, places in enumerate(members):
            for _, axis, _ in places:
                step[axis, s] = repeat[axis]
        return cls(
            np.array([[max(0.0, low) for low, _ in along], [low for low, _ in across]], float),
            np.array([[high for _, high in along], [high for _, high in across]], float),
            np.array([p.box.along for p in outlines], float),
            step, repeat, tuple(k for k, _ in origins), members, tuple(sets),
        )  # fmt: skip

    @property
    def fixed(self) -> Flags:
        """Which outlines have no play: pinned or matched both ways."""
        return np.asarray(((self.low == self.high) | (self.step > 0)).all(axis=0))

    def bases(self, phase: Floats) -> tuple[Floats, Flags]:
        """What phases make of the places of each outline, and which outlines keep one."""
        base = np.zeros_like(self.low)
        keeps = np.ones(len(self.members), bool)
        for s, places in enumerate(self.members):
            tied: list[int] = []
            for k, axis, at in places:
                value = float(phase[k]) - at
                if axis not in tied:
                    base[axis, s] = value
                    tied.append(axis)
                    continue
                off = (value - base[axis, s]) % self.repeat[axis]
                keeps[s] &= min(off, self.repeat[axis] - off) <= FUZZ
            keeps[s] &= not np.isnan(self._place(s, base, np.inf))
        return base, keeps

    def _place(self, s: int, base: Floats, length: float) -> float:
        """An x at which an outline ends within a length; not a number where there is no place."""
        high = min(float(self.high[ALONG, s]), length - float(self.along[s]))
        x, y = (
            snap(
                float(self.low[axis, s]), float(self.low[axis, s]), most,
                float(base[axis, s]), float(self.step[axis, s]),
            )
            for axis, most in ((ALONG, high), (ACROSS, float(self.high[ACROSS, s])))
        )  # fmt: skip
        return float(x + 0 * y)

    def phases_at(self, x: Floats, y: Floats, s: Sequence[int]) -> Floats:
        """The phases of copies that lie by the rules; nought for sets that none of them is in."""
        phase = np.zeros(len(self.sets))
        for p, shape in enumerate(s):
            for k, axis, at in self.members[shape]:
                phase[k] = (float((x, y)[axis][p]) + at) % self.repeat[axis]
        return phase

    def refresh(self, state: State) -> None:
        """Bring what hangs on the phases up to date."""
        if self.sets:
            state.base[:], state.open[:] = self.bases(state.phase)

    def follow(self, state: State, free: int) -> None:
        """Bring the matched copies to the places nearest to them that the phases allow."""
        if not self.sets:
            return
        for p in range(free):
            for k, axis, beyond in self.tie(state, p):
                (state.x, state.y)[axis][p] = state.phase[k] + beyond
        self.refresh(state)

    def fits(self, state: State, length: float) -> Flags:
        """Which outlines have a place that ends within a length."""
        return np.array(
            [
                bool(state.open[s]) and not np.isnan(self._place(s, state.base, length))
                for s in range(len(self.members))
            ]
        )

    def tie(self, state: State, p: int) -> Iterator[tuple[int, int, int]]:
        """For each match of copy p: set, axis, and what its place is beyond the set's phase."""
        for k, axis, at in self.members[state.s[p]]:
            value = float((state.x, state.y)[axis][p])
            times = round((value + at - float(state.phase[k])) / self.repeat[axis])
            yield k, axis, times * self.repeat[axis] - at

    def phases(self, length: float = np.inf, random: Random | None = None) -> Floats | None:
        """Phases that leave each kind a place which ends within a length; None if there are none.

        The least ones of those that matter, or some drawn by lot.
        """
        found = self._chosen({}, length, random)
        return None if found is None else np.array([found[k] for k in range(len(found))], float)

    def _chosen(
        self, known: dict[int, int], length: float, random: Random | None
    ) -> dict[int, int] | None:
        if not self._bearable(known, length):
            return None
        if len(known) == len(self.sets):
            return known
        at = len(known)
        wanted = sorted(self._candidates(at, known))
        if random is not None:
            random.shuffle(wanted)
            wanted.insert(0, random.randrange(self.repeat[self.sets[at][0]]))
        for phase in wanted:
            found = self._chosen({**known, at: phase}, length, random)
            if found is not None:
                return found
        return None

    def _candidates(self, k: int, known: dict[int, int]) -> set[int]:
        """Phases of a set at which an outline has its least place, or agrees with those known."""
        found: set[int] = set()
        for s, places in enumerate(self.members):
            for other, axis, at in places:
                if other == k:
                    found.add((int(self.low[axis, s]) + at) % self.repeat[axis])
                    found |= {
                        (known[j] - off + at) % self.repeat[axis]
                        for j, way, off in places
                        if j in known and way == axis
                    }
        return found

    def _bearable(self, known: dict[int, int], length: float) -> bool:
        """Whether each kind has an outline with a place by the phases known so far."""
        good = {self.owners[s] for s in range(len(self.members)) if self._has(s, known, length)}
        return len(good) == len(set(self.owners))

    def _has(self, s: int, known: dict[int, int], length: float) -> bool:
        base: dict[int, int] = {}
        for k, axis, at in self.members[s]:
            if k in known:
                value = (known[k] - at) % self.repeat[axis]
                if base.setdefault(axis, value) != value:
                    return False
        ends = (min(self.high[ALONG, s], length - self.along[s]), self.high[ACROSS, s])
        for axis in (ALONG, ACROSS):
            least = int(self.low[axis, s])
            if axis in base:
                least += (base[axis] - least) % self.repeat[axis]
            if least > floor(ends[axis]):
                return False
        return True
