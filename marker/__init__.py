"""Plan how to tear dress from flat cloth.

The road is one way: read a case, plan it (draft, solve, judge), write what is printed.

    import marker
    case = marker.read_case("cases/harvest.toml")
    record = marker.plan_case(case)
    files = marker.write_files(record, "out/harvest")

`plan_case` drafts the pieces, lays them on each cloth and has every lay judged; `findings`
judges a record again; `draw_plan` gives the plan of one cloth as SVG text. Every error that
these raise on purpose is a `MarkerError`.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from marker.errors import BadInput, CannotLay, CannotWrite, MarkerError, Refused

if TYPE_CHECKING:
    from marker.casefile import Case
    from marker.record import Record

__version__ = "0.4.0"
__all__ = [
    "BadInput", "CannotLay", "CannotWrite", "MarkerError", "Refused",
    "draw_plan", "findings", "load_record", "plan_case", "read_case", "write_files",
]  # fmt: skip

# No function may bear a room's name (`plan`, `lay`): importing the room would shadow it.
# The road's stations are imported when they are first walked: a program that only reads a
# record should not wait for a solver, nor the command line's help for any of them.


def read_case(path: str | Path) -> Case:
    """Read a case file. Raises `BadInput` naming file, key, value and remedy."""
    from marker import casefile

    return casefile.read(Path(path))


def plan_case(case: Case, *, seconds: float = 10.0, seed: int = 0) -> Record:
    """Draft every garment, lay every cloth and judge every lay.

    `seconds` bounds the search on each cloth. Raises `CannotLay` where a piece fits no
    cloth, `Refused` where the referee finds a fault.
    """
    from marker import decide

    return decide.plan(case, seconds=seconds, seed=seed)


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
