"""A nest to be found, as the kernel reads it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

import numpy as np

from marker.geometry import Polygon, Rect
from marker.solver.nest.charts import CELLS, chart_of, pitches
from marker.solver.nest.discs import discs
from marker.solver.nest.frame import Frame
from marker.solver.nest.judge import obeys, sound
from marker.solver.nest.kernel import Floats, Ints, State, Table, Tally, Work
from marker.solver.nest.kinds import NestSpot
from marker.solver.nest.nofit import tables
from marker.solver.nest.spots import KEPT

PAIRS = 16
"""Pairs that may bite, a copy, before some are left unnoted."""
SPOTS = 6
"""Regions of a chart that are looked at closely."""
SPACIOUS = 3
"""Times the places that a chart has on well covered cloth, for it is longer at first."""
MOST = 8_000_000
"""Places of the charts of all outlines together, at the most."""
ROWS = 24
"""Neighbours that a model of what a spot costs takes in."""


@dataclass(frozen=True)
class Layout:
    """Where the search has all copies, in fractions of units, and the length they take."""

    length: float
    x: Floats
    y: Floats
    s: Ints
    phase: Floats
    """Where in the repeat each set of matched points falls."""


@dataclass(frozen=True)
class Task(Frame):
    """Kinds and flaws in flat tables. Copies come in order of kind, after them the flaws."""

    table: Table

    @classmethod
    def of(cls, frame: Frame) -> Task:
        """Lay the tables of a frame."""
        kinds, ground, free = frame.kinds, frame.ground, frame.copies
        zones = [Polygon.of_rect(Rect(0, 0, flaw.along, flaw.across)) for flaw in frame.flaws]
        fits = tables([*frame.outlines, *zones])
        owners = np.array(ground.owners)
        kind = np.repeat(np.arange(len(kinds)), [kind.count for kind in kinds])
        area = np.array(
            [kinds[k].shapes[0].area2 for k in kind.tolist()] + [z.area2 for z in zones]
        )
        gaps = np.concatenate(
            (np.full(len(frame.outlines), float(frame.margin)), np.zeros(len(zones)))
        )
        pitch = pitches(fits.sizes, gaps, len(frame.outlines), float(area[:free].sum()) / 2)
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
            gap=float(frame.margin),
            gap_fixed=0.0,
            free=free,
            width=float(frame.width),
            low=ground.low,
            high=ground.high,
            step=ground.step,
            fixed=np.concatenate((ground.fixed, np.ones(len(zones), bool))),
            disc=discs(fits.edges, fits.start, fits.end, fits.sizes),
            chart=chart_of(fits.edges, fits.start, fits.end, fits.sizes, gaps, pitch),
        )
        return cls(
            kinds,
            frame.width,
            frame.margin,
            frame.flaws,
            frame.outlines,
            frame.origins,
            ground,
            table,
        )

    def state(self, layout: Layout, seed: int) -> State:
        """A state of the search that starts from a layout, the flaws where they lie."""
        zones = np.arange(len(self.outlines), len(self.outlines) + len(self.flaws))
        x = np.concatenate((layout.x, [float(flaw.x0) for flaw in self.flaws]))
        y = np.concatenate((layout.y, [float(flaw.y0) for flaw in self.flaws]))
        s = np.concatenate((layout.s, zones))
        return State(
            x, y, x + self.table.along[s], y + self.table.across[s], s,
            np.outer(self.table.factor, self.table.factor), np.array([seed], np.uint64),
            layout.phase.copy(), *self.ground.bases(layout.phase),
        )  # fmt: skip

    def phases(self, random: Random | None = None) -> Floats:
        """Phases in which every kind has a place: least ones, or some drawn by lot."""
        found = self.ground.phases(random=random)
        assert found is not None  # looked into when the task was made
        return found

    def work(self) -> Work:
        """Room for the notes of a search."""
        count = self.table.free + len(self.flaws)
        near, order = np.zeros(count, np.int64), np.zeros(count, np.int64)
        pairs = PAIRS * count
        tally = self._tally(count)
        corners = int((self.table.end - self.table.start).max())
        return Work(
            near, order, np.zeros((pairs, 2), np.int64), np.zeros(pairs), np.zeros(count),
            np.zeros((KEPT, 4)), np.zeros((ROWS, 4)), np.zeros(3), np.zeros((3, count)),
            np.zeros((SPOTS, 4)), np.zeros(len(tally.sums), np.float32),
            np.zeros(corners, np.float32), tally,
        )  # fmt: skip

    def _tally(self, count: int) -> Tally:
        """Room for the sums of all outlines that may move."""
        ways = len(self.outlines)
        return Tally(
            np.zeros(min(SPACIOUS * CELLS * ways, MOST), np.float32),
            np.zeros(ways, np.int64),
            np.zeros(ways, np.int64),
            np.zeros(ways, np.int64),
            np.zeros((ways, 2)),
            np.zeros((ways, count, 3)),
        )

    def spots(self, xs: Sequence[int], ys: Sequence[int], shapes: Sequence[int]) -> list[NestSpot]:
        """The copies at whole places."""
        return [
            NestSpot(*self.origins[s], int(x), int(y))
            for x, y, s in zip(xs, ys, shapes, strict=True)
        ]

    def layout(self, spots: Sequence[NestSpot]) -> Layout:
        """A layout from spots that keep the rules; their order is of no account."""
        index = {origin: s for s, origin in enumerate(self.origins)}
        ordered = sorted(spots)
        shapes = np.array([index[spot.kind, spot.shape] for spot in ordered])
        x = np.array([float(spot.x) for spot in ordered])
        y = np.array([float(spot.y) for spot in ordered])
        length = float((x + self.table.along[shapes]).max())
        return Layout(length, x, y, shapes, self.ground.phases_at(x, y, shapes.tolist()))

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
            and obeys(self.kinds, spots, self.ground.repeat)
            and sound(self.placed(spots), self.width, self.margin, self.flaws)
        )
