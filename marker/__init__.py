"""Plan how to tear dress from flat cloth.

The road is one way: read a case, plan it (draft, solve, judge), write what is printed.

    import marker
    case = marker.read_case("cases/harvest.toml")
    record = marker.plan_case(case)
    files = marker.write_files(record, "out/harvest")

`plan_case` drafts the pieces, lays them on each cloth and has every lay judged; `findings`
judges a record again; `draw_plan` gives the plan of one cloth as SVG text. `compare_case`,
`chart_case` and `reach_case` plan a case in many ways at once, on all cores, and `write_pages`
draws what they found. Every error that these raise on purpose is a `MarkerError`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from marker.errors import BadInput, CannotLay, CannotWrite, MarkerError, Refused

if TYPE_CHECKING:
    from marker.casefile import Case
    from marker.decide.chart import Chart
    from marker.decide.comparison import Comparison
    from marker.decide.reach import Reached
    from marker.record import Record

__version__ = "0.7.0"
__all__ = [
    "BadInput", "CannotLay", "CannotWrite", "MarkerError", "Refused",
    "chart_case", "compare_case", "draw_plan", "findings", "load_record", "plan_case",
    "reach_case", "read_case", "write_files", "write_pages",
    "write_templates",
]  # fmt: skip

# No function may bear a room's name (`plan`, `lay`): importing the room would shadow it.
# The road's stations are imported when they are first walked: a program that only reads a
# record should not wait for a solver, nor the command line's help for any of them.


def read_case(path: str | Path) -> Case:
    """Read a case file. Raises `BadInput` naming file, key, value and remedy."""
    from marker import casefile

    return casefile.read(Path(path))


def plan_case(
    case: Case, *, seconds: float = 10.0, iterations: int | None = None, seed: int = 0
) -> Record:
    """Draft every garment, lay every cloth and judge every lay.

    `seconds` bounds the search on each cloth; with `iterations` it goes by count, the same on
    every machine. Raises `CannotLay` where a piece fits no cloth, `Refused` where the referee
    finds a fault.
    """
    from marker import decide

    return decide.plan(case, seconds=seconds, iterations=iterations, seed=seed)


def compare_case(
    case: Case,
    *,
    order: Sequence[str] | None = None,
    seconds: float = 60.0,
    iterations: int | None = None,
    seed: int = 0,
) -> Comparison:
    """Weigh the ways to make a case; `rows` holds them, the best first.

    All ways share `seconds`; `iterations` count for each. `order` says what to rank by, such as
    ("round", "cost"), in place of what the case says. Raises `BadInput` where that or the case's
    table is at fault, or there are too many ways.
    """
    from marker.decide import comparison

    return comparison.compare(case, order=order, seconds=seconds, iterations=iterations, seed=seed)


def chart_case(
    case: Case, *, seconds: float = 60.0, iterations: int | None = None, seed: int = 0
) -> Chart:
    """What to buy for every size, down, at every width of the cloth, across: `cells[row][column]`.

    All cells share `seconds`; `iterations` count for each. Raises `BadInput` where the case has
    no table of sizes and widths.
    """
    from marker.decide import chart

    return chart.chart(case, seconds=seconds, iterations=iterations, seed=seed)


def reach_case(
    case: Case,
    *,
    most: str | None = None,
    have: Mapping[str, str] | None = None,
    seconds: float = 60.0,
    iterations: int | None = None,
    seed: int = 0,
) -> Reached:
    """Whether a case fits the cloth in hand, what would fit, and the `most` of one thing.

    `most` is "round", "length" or "facing"; `have` gives cloths lengths, such as {"main": "2 m"}.
    All questions share `seconds`; `iterations` count for each. Raises `BadInput` where no cloth
    has a length, or there is nothing to make most of.
    """
    from marker.decide import reach

    asks = reach.having(case, have) if have else case
    return reach.reach(asks, most=most, seconds=seconds, iterations=iterations, seed=seed)


def load_record(path: str | Path) -> Record:
    """Read a record back from its `lay.json`."""
    from marker import record

    return record.load(Path(path))


def findings(record: Record) -> tuple[str, ...]:
    """Every fault that the referee finds in a record, one sentence each; none is good."""
    from marker import referee

    return referee.check_record(record)


def draw_plan(record: Record, cloth: str, paper: str = "a4") -> str:
    """The plan of one cloth, by its key, as SVG text on "a4" or "letter" paper."""
    from marker.plan.drawing.page import Paper
    from marker.plan.lays import svg

    for lay in record.lays:
        if lay.cloth.key == cloth:
            return svg.draw(record, lay, Paper(paper))
    keys = ", ".join(lay.cloth.key for lay in record.lays)
    raise BadInput(f"no cloth {cloth!r} in this record; it has {keys}")


def write_files(record: Record, folder: str | Path, paper: str = "a4") -> tuple[Path, ...]:
    """Write plans, sheet and record into a folder, all or none; gives the paths written."""
    from marker.plan import files
    from marker.plan.drawing.page import Paper

    return files.write(record, Path(folder), Paper(paper))


def write_pages(
    found: Comparison | Chart | Reached, folder: str | Path, paper: str = "a4"
) -> tuple[Path, ...]:
    """Write what was compared, charted or reached as an SVG and a PDF; gives the paths written.

    Of cloth in hand the plan of the most, or of the case where it fits, stands beside them.
    """
    from marker.plan import pages
    from marker.plan.drawing.page import Paper

    return pages.write_pages(found, Path(folder), Paper(paper))


def write_templates(record: Record, folder: str | Path, paper: str = "a4") -> tuple[Path, ...]:
    """Write the curved pieces at full size, and row guides, all or none; gives the paths.

    Raises `BadInput` where a record has neither.
    """
    from marker.plan.drawing.page import Paper
    from marker.plan.templates import making

    return making.write(record, Path(folder), Paper(paper))[0]
