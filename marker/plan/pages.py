"""Write what was compared, charted or reached: a picture, its pages, a plan beside them."""

from __future__ import annotations

from pathlib import Path

from marker.decide.chart import Chart
from marker.decide.comparison import Comparison
from marker.decide.reach import Reached
from marker.plan import files
from marker.plan.chart.page import chart_files
from marker.plan.chart.words import chart_words
from marker.plan.compare.page import draw
from marker.plan.drawing.page import Paper
from marker.plan.putting import put
from marker.plan.reach.page import reach_files


def write_pages(
    found: Comparison | Chart | Reached, folder: Path, paper: Paper
) -> tuple[Path, ...]:
    """Draw what was found and write it into a folder, all or nothing; gives the paths written.

    Beside what cloth in hand gives stand the plan and the sheet of the most, or of the case where
    that fits; where nothing does, an earlier plan in the folder is taken away. Raises
    `CannotWrite` where the folder can't take the files.
    """
    if isinstance(found, Comparison):
        return put(folder, draw(found, paper))
    if isinstance(found, Chart):
        return put(folder, chart_files(chart_words(found), paper))
    best = found.most.record if found.most else found.record
    return files.write(best, folder, paper, reach_files(found, paper))
