"""The independent judge of lays, records and drawings.

It shares nothing with the solvers or the drawing but rectangles and outlines with the polygons
round them: sizes, turns, margins, need and cloth bought are worked out here afresh, so that a
slip there can't pass itself. It collects every fault instead of stopping at the first, and
takes any figures, however odd.
"""

from __future__ import annotations

from marker.errors import Refused
from marker.lay import Lay
from marker.referee.drawing import check_drawing
from marker.referee.lay import findings
from marker.referee.record import check_record
from marker.referee.sheet import check_sheet
from marker.referee.template import check_template

__all__ = ["check", "check_drawing", "check_record", "check_sheet", "check_template", "findings"]


def check(lay: Lay) -> None:
    """Pass a lay, or raise `Refused` with every finding."""
    found = findings(lay)
    if found:
        raise Refused(f"the lay of {lay.cloth.name}", found)
