"""What the first page of the templates says: how to print, tape and read them."""

from __future__ import annotations

from collections.abc import Sequence

from marker.geometry import Polygon
from marker.plan.drawing.page import Paper
from marker.plan.templates.large import Kind, Large
from marker.plan.templates.shapes import Template
from marker.plan.templates.stamp import how_many
from marker.plan.templates.tiling import Tiling
from marker.units import MM, Rounding, Units, format_length, set_fractions

NAMES = {Paper.A4: "A4", Paper.LETTER: "Letter"}
HOW = (
    "Print at 100 % (“actual size”), never “fit to page”. Then measure the squares: 5 cm and "
    "2 in, edge to edge. If they are off, the pieces are off as much: don’t cut.",
    "Every page names the pages that join it. Cut it along the solid line at its left and upper "
    "edge, lay it on the page before, up to that page’s dashed line, so that the diamonds and "
    "all lines meet, and tape. Join the pages of a row first, then row to row.",
    "The thick outline is the cut line; cut along its middle. Seam lines run inside it, thin; "
    "folds and hem lines are broken lines; a stroke with a triangle at the edge is a notch.",
    "The long arrow runs along the grain, as the selvedge does.",
)
UPWARD = "The cloth has an up: the arrow’s one head points up it."
STRAIGHT = (
    "Straight pieces and strips have no template: a tape measure draws them faster and truer "
    "than taped paper. Their sizes are in the sheet{}."
)
MOST_LETTERS = 12
"""So many letters of pieces without a template are named."""


def how_words(templates: Sequence[Template], straight: Sequence[str]) -> tuple[str, ...]:
    """How templates are printed, taped and read, and which pieces have none."""
    upward = (UPWARD,) if any(template.upward for template in templates) else ()
    none: tuple[str, ...] = ()
    if straight:
        letters = ", ".join(straight[:MOST_LETTERS]) + ("…" if len(straight) > MOST_LETTERS else "")
        none = (STRAIGHT.format(f" ({letters})"),)
    return (*HOW, *upward, *none)


def template_words(template: Template, pages: str) -> str:
    """One template in a line: how many are cut, from what, and its pages."""
    return f"{', '.join(how_many(template))}; {pages}"


def pages_words(tiling: Tiling, paper: Paper) -> str:
    """How many pages a template takes, and which of them only fill its middle."""
    count = len(tiling.tiles)
    if count == 1:
        return f"one page of {NAMES[paper]}"
    told = f"{count} pages of {NAMES[paper]}"
    blank = blanks(tiling)
    if not blank:
        return told
    if len(blank) == 1:
        return f"{told}; page {blank[0]} shows none of the outline and only fills the middle"
    return f"{told}; pages {_runs(blank)} show none of the outline and only fill the middle"


def _runs(numbers: Sequence[int]) -> str:
    """Rising numbers in words, those that follow one another told by their ends."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = []
    for run in runs:
        told += [f"{run[0]} to {run[-1]}"] if len(run) > 2 else [str(number) for number in run]
    head = ", ".join(told[:-1])
    return f"{head} and {told[-1]}" if head else told[-1]


def blanks(tiling: Tiling) -> tuple[int, ...]:
    """The numbers of the pages that lie wholly inside a piece, away from its outline."""
    seen, area = tiling.seen, tiling.seen.template.polygon
    found = []
    for one in tiling.tiles:
        window = Polygon.of_rect(seen.rect(one.window))
        corners = all(area.holds_point(x, y) for x, y in window.points)
        if corners and not any(window.holds_point(x, y) for x, y in area.points):
            found.append(one.number)
    return tuple(found)


def too_many(template: Template, count: int, most: int, paper: Paper, place: str) -> str:
    """Why a template has no pages, and where it is instead."""
    return (
        f"{template.letter} {template.name} would take {count} pages of {NAMES[paper]}, more than "
        f"{most}; {place}"
    )


def large_words(sheets: Sequence[Large], units: Units) -> str:
    """What the large sheet is, for the one who carries it to a copy shop."""
    wide = sheets[0].size[0]
    if sheets[0].kind is Kind.A0:
        return "one sheet of A0 (841 × 1189 mm)"
    whole = sum(sheet.size[1] for sheet in sheets)
    size = format_length(whole * MM // 100, units, Rounding.UP)
    sheet = "one sheet" if len(sheets) == 1 else f"{len(sheets)} sheets"
    all_in = "" if len(sheets) == 1 else " in all"
    return set_fractions(f"{sheet} from a roll {wide // 100} mm (36 in) wide, {size} long{all_in}")
