"""A yardage chart in words and figures, the same for the terminal, the page and JSON."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from marker.decide.chart import Cell, Chart, Figure
from marker.decide.chart_rows import Row
from marker.piece import Piece
from marker.units import (
    Rounding,
    System,
    Units,
    format_bought,
    format_bought_number,
    format_length,
    format_number,
)

OTHER = {System.CM: System.IN, System.IN: System.CM}
BOUGHT = {System.CM: "Metres", System.IN: "Yards"}
NAMED = "size"
ANY = "any width"
"""The one column of a cloth that is taken of alike at all widths of another."""
OPEN, LENT, NOT_MADE, NOT_REACHED = "*", "†", "–", "…"
MOST_REASONS = 8
MOST_LISTED = 6
LENGTHS = ("length", "front", "side", "back")


@dataclass(frozen=True)
class Entry:
    """A figure: what stands before its fraction, the fraction, and marks that point to notes."""

    whole: str
    part: str = ""
    mark: str = ""

    @property
    def text(self) -> str:
        """The figure as plain text, without its marks."""
        return f"{self.whole} {self.part}".strip()


@dataclass(frozen=True)
class Line:
    """A row of a table: the words down its side, and its figures."""

    stub: tuple[str, ...]
    entries: tuple[Entry, ...]


@dataclass(frozen=True)
class Table:
    """What to buy of one cloth in one measure; `feet` are rows that hold for a whole column.

    `over` says what the columns are.
    """

    heading: str
    over: str
    stub: tuple[str, ...]
    columns: tuple[str, ...]
    lines: tuple[Line, ...]
    feet: tuple[Line, ...] = ()


@dataclass(frozen=True)
class Words:
    """All that a chart says. The tables come in pairs, one in each measure.

    `sizes` tells the measures of named sizes in a few words each.
    """

    title: str
    subtitle: str
    tables: tuple[Table, ...]
    notes: tuple[str, ...]
    sizes: tuple[str, ...] = ()


def chart_words(chart: Chart) -> Words:
    """The chart's tables, in the case's own measure first, and the notes to them."""
    reasons = _reasons(chart)
    systems = (chart.units.lead, OTHER[chart.units.lead])
    varied = [key for key in chart.others if _same(chart, key) is None]
    return Words(
        title=f"{chart.title}: yardage chart",
        subtitle=_subtitle(chart),
        tables=tuple(
            _table(chart, key, system, reasons)
            for key in (chart.cloth.key, *varied)
            for system in systems
        ),
        notes=tuple(_notes(chart, reasons)),
        sizes=tuple(_measures(row, chart.units) for row in chart.rows if row.name),
    )


def _measures(row: Row, system: Units) -> str:
    told = (f"{name} {format_length(size, system)}" for name, size in row.measures.items())
    return f"{row.name}: {', '.join(told)}"


def row_name(row: Row, system: Units) -> str:
    """A size in a few words: its name, or its measure."""
    return row.name or ", ".join(format_length(size, system) for size in row.measures.values())


def figure_text(value: int, system: System) -> str:
    """A length to buy without its unit."""
    return format_bought_number(value, system)


def step_text(chart: Chart, key: str, system: System) -> str:
    """The step that a cloth is sold by, as it is told."""
    step = chart.step(key, system)
    return format_bought(step, system) if system is System.IN else format_length(step, system)


def shares(count: int, most: int) -> list[tuple[int, int]]:
    """Runs of at most so many, of equal length or one more."""
    runs = -(-count // most)
    return [(count * at // runs, count * (at + 1) // runs) for at in range(runs)]


def _subtitle(chart: Chart) -> str:
    changed = {name for row in chart.rows for name in row.measures}
    gone = changed | (set(LENGTHS) if "length" in changed else set())
    kept = ", ".join(
        f"{name} {format_length(value, chart.units)}"
        for name, value in chart.wearer.measures.items()
        if name not in gone
    )
    whose = f"{chart.wearer.name}, {kept}" if kept else chart.wearer.name
    told = ", ".join(chart.garments)
    if chart.company:
        return f"{told}; from row to row the measures of {whose}, change"
    return f"{told} for {whose}"


def _table(chart: Chart, key: str, system: System, reasons: dict[str, str]) -> Table:
    measures = tuple(dict.fromkeys(name for row in chart.rows for name in row.measures))
    named = any(row.name for row in chart.rows)

    def stub(row: Row) -> tuple[str, ...]:
        sizes = (
            format_number(row.measures[name], system) if name in row.measures else ""
            for name in measures
        )
        return (row.name, *sizes) if named else tuple(sizes)

    mine, wide = key == chart.cloth.key, len(chart.widths)
    cells = chart.cells
    if not mine and all(_alike_in(row, key) for row in cells):
        wide, cells = 1, tuple((_first(row, key),) for row in cells)
    columns = tuple(format_number(width, system) for width in chart.widths)
    cloth = "the cloth" if mine else chart.cloth.name
    return Table(
        heading=f"{BOUGHT[system]} of {chart.cloths[key].name}, "
        f"sold by the {step_text(chart, key, system)}",
        over=f"width of {cloth}, {system.value}" if wide == len(columns) else "",
        stub=(*((NAMED,) if named else ()), *(f"{name}, {system.value}" for name in measures)),
        columns=columns if wide == len(columns) else (ANY,),
        lines=tuple(
            Line(stub(row), tuple(_entry(chart, cell, key, system, reasons) for cell in line))
            for row, line in zip(chart.rows, cells, strict=True)
        ),
        feet=tuple(_feet(chart, system, len(measures) + named)) if mine else (),
    )


def _alike_in(row: Sequence[Cell], key: str) -> bool:
    """Whether all cells of a row that can be made take the same of a cloth."""
    return len({cell.figures.get(key) for cell in row if cell.figures}) < 2


def _first(row: Sequence[Cell], key: str) -> Cell:
    """The first cell of a row that takes anything of a cloth, or just the first."""
    return next((cell for cell in row if key in cell.figures), row[0])


def _entry(chart: Chart, cell: Cell, key: str, system: System, reasons: dict[str, str]) -> Entry:
    if cell.stopped:
        return Entry(NOT_REACHED)
    if cell.fault:
        return Entry(NOT_MADE, mark=reasons[cell.fault])
    found = cell.figures.get(key)
    if found is None:
        return Entry("0")
    step = chart.step(key, system)
    marks = (LENT if found.like else "") + ("" if found.proved(step) else OPEN)
    return _split(figure_text(found.buy(step), system), marks)


def _split(text: str, marks: str = "") -> Entry:
    whole, _, part = text.partition(" ")
    return Entry("", whole, marks) if "/" in whole else Entry(whole, part, marks)


def _feet(chart: Chart, system: System, stubs: int) -> Iterator[Line]:
    """What is one for all sizes of a width, but not the same at all widths."""
    facts: tuple[tuple[str, Callable[[Cell], tuple[int, ...]], Callable[[int], str]], ...] = (
        ("panels", lambda cell: cell.panels, str),
        (
            "round the hem",
            lambda cell: cell.rounds,
            lambda size: format_number(size, system),
        ),
    )
    for name, of, spell in facts:
        columns = [_alike(cells, of) for cells in zip(*chart.cells, strict=True)]
        if None not in columns and len(set(columns) - {0}) > 1:
            entries = (_split(spell(value) if value else NOT_MADE) for value in columns)
            yield Line((name, *("",) * (stubs - 1)), tuple(entries))


def _alike(cells: Sequence[Cell], of: Callable[[Cell], tuple[int, ...]]) -> int | None:
    """The one figure of all cells that are planned; nought where none is, None if they differ."""
    found = {of(cell) for cell in cells if of(cell)}
    if not found:
        return 0
    one = next(iter(found))
    return one[0] if len(found) == 1 and len(one) == 1 else None


def _same(chart: Chart, key: str) -> Figure | None:
    """What is taken of a further cloth, if it is the same in every cell."""
    found = {cell.figures.get(key) for _, _, cell in chart.each() if cell.figures}
    return next(iter(found)) if len(found) == 1 else None


def _reasons(chart: Chart) -> dict[str, str]:
    """A letter for every reason why a cell can't be made; those past the most share the last."""
    faults = dict.fromkeys(cell.fault for _, _, cell in chart.each() if cell.fault)
    return {fault: chr(ord("a") + min(at, MOST_REASONS - 1)) for at, fault in enumerate(faults)}


def _notes(chart: Chart, reasons: dict[str, str]) -> Iterator[str]:
    yield from _besides(chart)
    yield from _proofs(chart)
    told: set[str] = set()
    for fault, letter in reasons.items():
        if letter not in told:
            more = list(reasons.values()).count(letter) - 1
            yield f"{letter}: {fault}" + (f" ({more} more reasons like this)" if more else "") + "."
        told.add(letter)
    if any(cell.stopped for _, _, cell in chart.each()):
        late = "the time was out; give more with --seconds"
        yield f"{NOT_REACHED} Not reckoned: {late if chart.late else 'the search was stopped'}."
    yield from _reckoning(chart)


def _besides(chart: Chart) -> Iterator[str]:
    """Further cloths of which every cell takes the same."""
    for key in chart.others:
        same = _same(chart, key)
        if same is not None:
            told = " or ".join(
                format_bought(same.buy(chart.step(key, system)), system)
                for system in (chart.units.lead, OTHER[chart.units.lead])
            )
            cloth = chart.cloths[key]
            yield (
                f"Besides, every one takes {told} of {cloth.name}, "
                f"{format_length(cloth.width, chart.units)} wide."
            )


def _proofs(chart: Chart) -> Iterator[str]:
    """Which figures are proved, and how near the least the others are."""
    every = [
        (down, across, [chart.step(key, system) for system in System], figure)
        for down, across, cell in chart.each()
        for key, figure in cell.figures.items()
    ]
    left = [found for found in every if not all(map(found[3].proved, found[2]))]
    of = " of the way of cutting that was chosen" if chart.ways else ""
    rest = f" The others are proved{of}." if len(left) < len(every) else ""
    least = "of the least of the way chosen" if chart.ways else "of the least"
    gaps = [-(-figure.gap * 1000 // 1) / 10 for *_, figure in left]
    if not left:
        yield f"Every figure is proved{of}: a step less is not enough."
    elif len(left) > MOST_LISTED:
        yield f"{OPEN} Not proved, but within {min(gaps)} to {max(gaps)} % {least}.{rest}"
    else:
        told = "; ".join(
            f"{_place(chart, down, across)} within {gap} % {least}"
            for (down, across, *_), gap in zip(left, gaps, strict=True)
        )
        yield f"{OPEN} Not proved: {told}.{rest}"
    for down, across, cell in chart.each():
        for figure in cell.figures.values():
            if figure.like:
                yield (
                    f"{LENT} {_place(chart, down, across)}: as for {_place(chart, *figure.like)}, "
                    "whose pieces are cut down; no shorter lay was found."
                )


def _place(chart: Chart, down: int, across: int) -> str:
    row = row_name(chart.rows[down], chart.units)
    return f"{row} on {format_length(chart.widths[across], chart.units)}"


def _same_pieces(chart: Chart) -> Iterator[str]:
    """Rows in which all pieces are as in the row before, since none hangs on what differs."""
    for at, (row, cells) in enumerate(zip(chart.rows[1:], chart.cells[1:], strict=True)):
        pairs = list(zip(chart.cells[at], cells, strict=True))
        if all(a.lays and b.lays and _pieces(a) == _pieces(b) for a, b in pairs):
            names = (row_name(each, chart.units) for each in (chart.rows[at], row))
            yield f"{' and '.join(names)}: the same pieces, since none hangs on what differs."


def _pieces(cell: Cell) -> list[tuple[Piece, ...]]:
    return [lay.pieces for lay in cell.lays]


def _reckoning(chart: Chart) -> Iterator[str]:
    """What the rows and widths mean, and what the figures hold."""
    yield (
        "Widths are as the cloth is sold, selvedges included. Metres and yards are each rounded "
        "up from the exact need, none from the other."
    )
    yield from _same_pieces(chart)
    measures = {name for row in chart.rows for name in row.measures}
    worn = {place: chart.wearer.measures.get(place) for place in ("front", "side", "back")}
    if "length" in measures and len(set(worn.values())) > 1 and not measures & set(worn):
        yield (
            "The length is the longest from waist to hem; front, side and back differ as "
            f"{chart.wearer.name}'s do."
        )
    rounds = {cell.rounds for _, _, cell in chart.each() if cell.rounds}
    if len(rounds) == 1 and all(one := next(iter(rounds))):
        told = ", ".join(format_length(size, chart.units, Rounding.NEAREST) for size in one)
        yield f"Round the hem: {told} at every size and width."
