"""How large the cases are that were tried, and what to mind in one that is larger still.

Larger cases are planned like any other; the user is told beforehand what may happen, which key
makes the case so large, and what can be done. The sizes are those of `tests/bench/load.py`, whose
figures stand in DEVELOPERS.md.
"""

from __future__ import annotations

from collections.abc import Iterator

from marker import decide
from marker.casefile import Case
from marker.casefile.chart import ChartTable
from marker.decide.ways import pieces_of
from marker.errors import MarkerError
from marker.piece import Piece
from marker.units import METRE

SHAPED = 300
"""The most pieces with outlines of their own that were laid in one case."""
WEARERS = 142
"""The most wearers of one case."""
BOLT = 330
"""Metres of the longest lay."""
CELLS, OPTIONS = 500, 100
"""Of a chart, and of a comparison."""


def beyond(case: Case, command: str = "plan") -> tuple[str, ...]:
    """A sentence for each way in which what a command asks is larger than what was tried."""
    try:
        pieces = pieces_of(tuple(options[0] for options in decide.draft(case)))
    except MarkerError:
        return ()  # the command says so itself
    return (
        *_shaped(case, pieces),
        *_wearers(case),
        *_bolts(case, pieces),
        *(_cells(case) if command == "chart" else ()),
        *(_options(case) if command == "compare" else ()),
    )


def _shaped(case: Case, pieces: tuple[Piece, ...]) -> Iterator[str]:
    count = sum(piece.count for piece in pieces if piece.outline is not None)
    if count > SHAPED:
        yield (
            f"{case.file}: garment and piece ask {count} pieces that are not rectangles, and up to "
            f"{SHAPED} were tried; how close they may lie is worked out before the search, beyond "
            "--seconds, and may take minutes; split the case into several files to be sooner"
        )


def _wearers(case: Case) -> Iterator[str]:
    count = len({order.wearer.key for order in case.orders} - {""})
    if count > WEARERS:
        yield (
            f"{case.file}: wearer has {count} tables in use, and up to {WEARERS} were tried; each "
            "is laid alone first in a share of --seconds, so give more, or split the case into "
            "several files"
        )


def _bolts(case: Case, pieces: tuple[Piece, ...]) -> Iterator[str]:
    for key, cloth in case.cloths.items():
        area2 = sum(piece.area2 * piece.count for piece in pieces if piece.cloth == key)
        metres = area2 // (2 * cloth.usable.across * METRE)
        if metres > BOLT:
            yield (
                f"{case.file}: cloth.{key} is to give over {metres} m, and up to {BOLT} m were "
                "tried; its stretches take a page for every three metres or so; split the case "
                "into several files, a bolt each"
            )


def _cells(case: Case) -> Iterator[str]:
    if "chart" not in case.tables:
        return
    table = ChartTable.model_validate(case.tables["chart"])
    count = len(getattr(table, table.kind)) * len(table.widths)
    if count > CELLS:
        yield (
            f"{case.file}: chart.{table.kind} and chart.widths make {count} cells, and up to "
            f"{CELLS} were tried; --seconds is shared out over them, and what it doesn't reach is "
            "left out, so give more, or take larger steps"
        )


def _options(case: Case) -> Iterator[str]:
    most = case.tables.get("compare", {}).get("most", 0)
    if most > OPTIONS:
        yield (
            f"{case.file}: compare.most is {most}, and up to {OPTIONS} options were tried; "
            "--seconds is shared out over them, and what it doesn't reach is left out, so give "
            "more, or narrow what is compared"
        )
