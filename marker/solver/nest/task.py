"""A nest to be found, as the kernel reads it, and a first lay that needs no search."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from marker.errors import CannotLay
from marker.geometry import Polygon, Rect
from marker.solver.nest.greedy import lay_first
from marker.solver.nest.judge import sound
from marker.solver.nest.kernel import Floats, Ints, State, Table, Work
from marker.solver.nest.kinds import NestKind, NestSpot
from marker.solver.nest.nofit import tables
from marker.solver.nest.spots import KEPT

PAIRS = 16
"""Pairs that may bite, a copy, before some are left unnoted."""


ROWS = 24
"""Neighbours that a model of what a spot costs takes in."""


@dataclass(frozen=True)
class Layout:
    """Where the search has all copies, in fractions of units, and the length they take."""

    length: float
    x: Floats
    y: Floats
    s: Ints


@dataclass(frozen=True)
class Task:
    """Kinds and flaws in flat tables. Copies come in order of kind, after them the flaws."""

    kinds: tuple[NestKind, ...]
    width: int
    margin: int
    flaws: tuple[Rect, ...]
    outlines: tuple[Polygon, ...]
    origins: tuple[tuple[int, int], ...]
    """Kind and shape of each outline."""
    table: Table

    @classmethod
    def of(cls, kinds: Sequence[NestKind], width: int, margin: int, flaws: Sequence[Rect]) -> Task:
        """Lay the tables; raises `CannotLay` where a piece is too wide in every way."""
        origins, outlines = _ways(kinds, width)
        zones = [Polygon.of_rect(Rect(0, 0, flaw.along, flaw.across)) for flaw in flaws]
        fits = tables([*outlines, *zones])
        owners = np.array([k for k, _ in origins])
        free = sum(kind.count for kind in kinds)
        kind = np.repeat(np.arange(len(kinds)), [kind.count for kind in kinds])
        area = np.array(
            [kinds[k].shapes[0].area2 for k in kind.tolist()] + [z.area2 for z in zones]
        )
        table = Table(
            edges=fits.edges,
            start=fits.start,
            end=fits.end,
            along=np.ascontiguousarray(fits.sizes[:, 0]),
            across=np.ascontiguousarray(fits.sizes[:, 1]),
            first=np.searchsorted(owners, np.arange(len(kinds))),
            many=np.bincount(owners, minlength=len(kinds)),
            kind=kind,
            factor=np.sqrt(np.sqrt(area / area[:free].mean())),
            gap=float(margin),
            gap_fixed=0.0,
            free=free,
            width=float(width),
        )
        return cls(
            tuple(kinds), width, margin, tuple(flaws), outlines, origins, table
        )  # fmt: skip

    def state(self, layout: Layout, seed: int) -> State:
        """A state of the search that starts from a layout, the flaws where they lie."""
        zones = np.arange(len(self.outlines), len(self.outlines) + len(self.flaws))
        x = np.concatenate((layout.x, [float(flaw.x0) for flaw in self.flaws]))
        y = np.concatenate((layout.y, [float(flaw.y0) for flaw in self.flaws]))
        s = np.concatenate((layout.s, zones))
        return State(
            x, y, x + self.table.along[s], y + self.table.across[s], s,
            np.outer(self.table.factor, self.table.factor), np.array([seed], np.uint64),
        )  # fmt: skip

    def work(self) -> Work:
        """Room for the notes of a search."""
        count = self.table.free + len(self.flaws)
        near, order = np.zeros(count, np.int64), np.zeros(count, np.int64)
        pairs = PAIRS * count
        return Work(
            near, order, np.zeros((pairs, 2), np.int64), np.zeros(pairs), np.zeros(count),
            np.zeros((KEPT, 4)), np.zeros((ROWS, 4)), np.zeros(3), np.zeros((3, count)),
        )  # fmt: skip

    def greedy(self) -> Layout:
        """Each copy laid where it ends soonest, large ones first."""
        table, row = self.table, self.layout(self.row())
        state = self.state(row, 0)
        areas = np.array([self.kinds[k].shapes[0].area2 for k in table.kind.tolist()], float)
        order = np.argsort(-areas, kind="stable")
        beyond = float(max((flaw.x1 for flaw in self.flaws), default=0))
        length = lay_first(table, state, self.work(), order, beyond)
        free = table.free
        return Layout(length, state.x[:free], state.y[:free], state.s[:free])

    def spots(self, xs: Sequence[int], ys: Sequence[int], shapes: Sequence[int]) -> list[NestSpot]:
        """The copies at whole places."""
        return [
            NestSpot(*self.origins[s], int(x), int(y))
            for x, y, s in zip(xs, ys, shapes, strict=True)
        ]

    def layout(self, spots: Sequence[NestSpot]) -> Layout:
        """A layout from spots; their order is of no account."""
        index = {origin: s for s, origin in enumerate(self.origins)}
        ordered = sorted(spots)
        shapes = np.array([index[spot.kind, spot.shape] for spot in ordered])
        x = np.array([float(spot.x) for spot in ordered])
        y = np.array([float(spot.y) for spot in ordered])
        return Layout(float((x + self.table.along[shapes]).max()), x, y, shapes)

    def placed(self, spots: Sequence[NestSpot]) -> list[Polygon]:
        """The outlines where they lie."""
        return [self.kinds[p.kind].shapes[p.shape].shifted(p.x, p.y) for p in spots]

    def holds(self, spots: Sequence[NestSpot]) -> bool:
        """Whether spots are of all copies, in ways that fit, and judged sound."""
        kinds = sorted(spot.kind for spot in spots)
        ways = set(self.origins)
        return (
            kinds == self.table.kind.tolist()
            and all((spot.kind, spot.shape) in ways for spot in spots)
            and sound(self.placed(spots), self.width, self.margin, self.flaws)
        )

    def row(self) -> list[NestSpot]:
        """All copies one after another along the cloth, past every flaw."""
        found, x = [], 0
        for kind in self.table.kind.tolist():
            s = int(self.table.first[kind])
            along = self.outlines[s].box.along
            for flaw in sorted(self.flaws):
                if flaw.x0 < x + along and flaw.x1 > x:
                    x = flaw.x1
            found.append(NestSpot(*self.origins[s], x, 0))
            x += along + self.margin
        return found


def _ways(
    kinds: Sequence[NestKind], width: int
) -> tuple[tuple[tuple[int, int], ...], tuple[Polygon, ...]]:
    """Outlines that fit across the cloth, each once a kind, and the kind and shape of each."""
    found: list[tuple[tuple[int, int], Polygon]] = []
    for k, kind in enumerate(kinds):
        seen: set[frozenset[tuple[int, int]]] = set()
        for s, shape in enumerate(kind.shapes):
            corners = frozenset(shape.points)
            if shape.box.across <= width and corners not in seen:
                found.append(((k, s), shape))
                seen.add(corners)
        if not seen:
            raise CannotLay("a piece is wider than the cloth in every way in which it may lie")
    origins, outlines = zip(*found, strict=True) if found else ((), ())
    return tuple(chain(origins)), tuple(outlines)
