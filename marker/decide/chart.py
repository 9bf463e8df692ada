"""A yardage chart: what to buy of a cloth, for every size at every width of it.

Every cell is the case with a few values changed, planned as `marker plan` would plan it. A cell
that is left open takes over what another proves of it, or the other's lay where that is shorter.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from fractions import Fraction

from marker import decide
from marker.casefile import Case, changed
from marker.casefile.changes import Changes, Key
from marker.casefile.chart import ChartTable
from marker.cloth import Cloth
from marker.decide.abreast import Told
from marker.decide.chart_rows import Row, rows, spelled, wearer_of
from marker.decide.limit import Limit, made_ready, used
from marker.decide.serves import serves
from marker.errors import BadInput, CannotLay, MarkerError
from marker.garments.order import Wearer
from marker.lay import Lay
from marker.record import Record
from marker.solver.stop import asked
from marker.units import METRE, YARD, System, Units, ceil_to

MOST_CELLS = 1000
STEPS = {System.CM: METRE // 10, System.IN: YARD // 8}
"""What shops sell by: 10 cm, or an eighth of a yard (common practice, no source)."""


@dataclass(frozen=True)
class Figure:
    """What a cell takes of one cloth: the exact need, and a need that none can undercut.

    `like` is the cell, by row and column, whose lay is cut down for this one; none mostly.
    """

    need: int
    bound: int
    like: tuple[int, int] | None = None

    def buy(self, step: int) -> int:
        """What to buy where the cloth is sold by this step."""
        return ceil_to(self.need, step)

    def proved(self, step: int) -> bool:
        """Whether a step less is not enough."""
        return ceil_to(self.bound, step) == self.buy(step)

    @property
    def gap(self) -> Fraction:
        """How far the need may be above the least, as a part of the bound."""
        return Fraction(self.need - self.bound, self.bound)


@dataclass(frozen=True)
class Cell:
    """One size at one width: what it takes of each cloth by key, or why it can't be made.

    `stopped` where the user asked to stop before it was planned, or the time was out. `rounds` are
    the round hems of its garments, nought where one has none, and `panels` how many breadths each
    has.
    """

    figures: Mapping[str, Figure] = field(default_factory=dict)
    fault: str = ""
    stopped: bool = False
    rounds: tuple[int, ...] = ()
    panels: tuple[int, ...] = ()
    lays: tuple[Lay, ...] = field(default=(), repr=False, compare=False)


@dataclass(frozen=True)
class Chart:
    """A whole chart: `cells[row][column]`. `cloth` is as the case has it, but for its width.

    `wearer` is the one whose measures the rows change, `company` whether there are others. Where
    `ways` are open, what is proved of a figure holds for the way that was chosen.
    """

    title: str
    units: Units
    cloth: Cloth
    cloths: Mapping[str, Cloth]
    wearer: Wearer
    company: bool
    garments: tuple[str, ...]
    kind: str
    rows: tuple[Row, ...]
    widths: tuple[int, ...]
    cells: tuple[tuple[Cell, ...], ...]
    ways: bool = False
    late: bool = False
    """Whether cells that are left out are so for want of time, and not since the user stopped."""

    def step(self, key: str, system: System) -> int:
        """The step that a cloth is sold by, in a measure: its own, or the shops' usual one."""
        cloth = self.cloths[key]
        return cloth.step if cloth.system is system else STEPS[system]

    @property
    def others(self) -> tuple[str, ...]:
        """The keys of further cloths that any cell takes of and that are bought."""
        used = {key for row in self.cells for cell in row for key in cell.figures}
        return tuple(key for key in self.cloths if key in used and key != self.cloth.key)

    def each(self) -> Iterator[tuple[int, int, Cell]]:
        """Every cell with its row and column."""
        for down, row in enumerate(self.cells):
            for across, cell in enumerate(row):
                yield down, across, cell


def chart(
    case: Case,
    *,
    seconds: float = 60.0,
    iterations: int | None = None,
    seed: int = 0,
    told: Told | None = None,
) -> Chart:
    """Plan every cell of the case's chart, as many at once as there are cores.

    All cells together have `seconds`; `iterations` bound each of them by count. Raises
    `BadInput` where the case has no chart or too large a one, and what the first cell raises
    where none can be planned.
    """
    table = _table(case)
    cloth, wearer = _cloth(case, table), wearer_of(case, table)
    down, widths = rows(case, table, wearer), tuple(table.widths)
    tasks = [(at, across) for at in range(len(down)) for across in range(len(widths))]

    def cell(task: tuple[int, int], share: float) -> Record:
        asks = changed(case, changes_of(case, cloth, down[task[0]], widths[task[1]]))
        share /= used(asks)
        return decide.plan(asks, seconds=share, iterations=iterations, seed=seed, prices=False)

    _ready(case)
    limit = Limit.of(seconds, iterations)
    found = limit.shared(cell, tasks, told)
    _some(found)
    cells = [_cell(answer, case) for answer in found]
    if not any(cloth.key in each.figures for each in cells if not (each.fault or each.stopped)):
        raise BadInput(
            f"{case.file}: chart.cloth is {cloth.key!r}, and no piece is cut from it; name another"
        )
    across = len(widths)
    grid = [cells[at : at + across] for at in range(0, len(cells), across)]
    return Chart(
        title=case.title,
        units=case.units,
        cloth=cloth,
        cloths=case.cloths,
        wearer=wearer,
        company=len({order.wearer.key for order in case.orders}) > 1,
        garments=tuple(dict.fromkeys(order.name for order in case.orders)),
        kind=table.kind,
        rows=down,
        widths=widths,
        cells=tuple(tuple(row) for row in lent(grid, cloth.key)),
        ways=_ways_open(case),
        late=limit.over and not asked(),
    )


def _ready(case: Case) -> None:
    with suppress(BadInput):  # the case's own sizes can't be made, though others may
        made_ready([case])


def changes_of(case: Case, cloth: Cloth, row: Row, width: int) -> Changes:
    """What a cell changes in the case: the measures of its row, and the width of the cloth."""
    key: Key = ("cloth", cloth.key, "width")
    return {**row.changes, key: spelled(width, case.units), ("chart",): None}


def _table(case: Case) -> ChartTable:
    """The chart's table; raises `BadInput` where there is none, or it asks for too many cells."""
    if "chart" not in case.tables:
        raise BadInput(
            f"{case.file}: chart is missing; give a table [chart] with the widths of the cloth "
            'and the sizes, such as widths = ["115 cm", "150 cm"] and lengths = ["80 cm", "90 cm"]'
        )
    table = ChartTable.model_validate(case.tables["chart"])
    down, across = len(getattr(table, table.kind)), len(table.widths)
    if down * across > MOST_CELLS:
        raise BadInput(
            f"{case.file}: the chart has {down} {table.kind} at {across} widths, "
            f"{down * across} cells, and {MOST_CELLS} are the most; take larger steps"
        )
    return table


def _cloth(case: Case, table: ChartTable) -> Cloth:
    """The cloth that is charted: the one named, the only one, or the one called main."""
    known = ", ".join(case.cloths)
    key = table.cloth or ("main" if "main" in case.cloths else next(iter(case.cloths)))
    if table.cloth is None and len(case.cloths) > 1 and "main" not in case.cloths:
        raise BadInput(f"{case.file}: chart.cloth is missing; name one of: {known}")
    if key not in case.cloths:
        raise BadInput(f"{case.file}: chart.cloth is {key!r}; the file has only: {known}")
    cloth = case.cloths[key]
    if cloth.length:
        raise BadInput(
            f"{case.file}: chart.cloth is {key!r}, a remnant in hand, and a chart tells what to "
            "buy; name a cloth without length, or take its length out"
        )
    return cloth


def _ways_open(case: Case) -> bool:
    """Whether the case can be cut in several ways, or its pieces shared out among cloths."""
    try:
        drafts = decide.draft(case)
    except BadInput:
        return True  # the case's own sizes can't be made, so nothing is known of the others
    return any(
        len(options) > 1 or any(piece.also or piece.pieced for piece in options[0].pieces)
        for options in drafts
    )


def _some(found: Sequence[Record | MarkerError | None]) -> None:
    """Raise what is no matter of one cell, and the first fault where no cell can be made.

    Where the user stopped before there was any, there is nothing to show.
    """
    faults = [answer for answer in found if isinstance(answer, MarkerError)]
    for fault in faults:
        if not isinstance(fault, BadInput | CannotLay):
            raise fault
    if not any(isinstance(answer, Record) for answer in found):
        raise faults[0] if faults else KeyboardInterrupt


def _cell(answer: Record | MarkerError | None, case: Case) -> Cell:
    if answer is None:
        return Cell(stopped=True)
    if isinstance(answer, MarkerError):
        return Cell(fault=str(answer).removeprefix(f"{case.file}: "))
    return Cell(
        figures={
            lay.cloth.key: Figure(lay.need, lay.cloth.need(lay.bound))
            for lay in answer.lays
            if not lay.cloth.length
        },
        rounds=tuple(garment.round_hem for garment in answer.garments),
        panels=tuple(garment.panels for garment in answer.garments),
        lays=answer.lays,
    )


def lent(grid: Sequence[Sequence[Cell]], key: str) -> list[list[Cell]]:
    """The cells, with what others prove of those that are open on this cloth (see `serves`)."""
    laid = {
        (down, across): lay
        for down, row in enumerate(grid)
        for across, cell in enumerate(row)
        for lay in cell.lays
        if lay.cloth.key == key
    }
    found = [list(row) for row in grid]
    for (down, across), lay in laid.items():
        cell = grid[down][across]
        mine = cell.figures[key]
        if mine.need == mine.bound:
            continue
        better = mine
        for at, other in laid.items():
            theirs = grid[at[0]][at[1]].figures[key]
            if theirs.need < better.need and serves(other, lay):
                better = replace(better, need=theirs.need, like=at)
            if theirs.bound > better.bound and serves(lay, other):
                better = replace(better, bound=theirs.bound)
        found[down][across] = replace(cell, figures={**cell.figures, key: better})
    return found
