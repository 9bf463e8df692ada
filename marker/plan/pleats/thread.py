"""The thread of a top's rows in a sentence: sewn flat, or pushed along as they are sewn."""

from __future__ import annotations

from math import ceil

from marker.buying import thread as yarn
from marker.gauging import Gauging
from marker.plan.words.sewing import length
from marker.record import Thread
from marker.units import Units, format_length


def thread_note(plan: Gauging, thread: Thread, units: Units) -> str:
    """What one row takes by either method, arm-lengths counted, and what all of them take."""
    rows = range(len(plan.rows))
    flat = yarn.flat_row(plan.round, thread.tail)
    pushed = [yarn.pushed_row(ceil(plan.drawn_at(row)), thread.slack, thread.tail) for row in rows]
    arm = format_length(thread.arm, units)
    arms, few = (yarn.arm_lengths(each, thread.arm) for each in (flat, max(pushed)))
    wax = " Wax it first." if thread.waxed else ""
    told = (
        f"Thread for a row: sewn flat and drawn up once {length(flat, units)}, {arms} arm lengths "
        f"of {arm}; pushed along as it is sewn {length(max(pushed), units)}, {few}."
    )
    if len(rows) > 1:
        both = f"{length(len(rows) * flat, units)} or {length(sum(pushed), units)}"
        each = "Both" if len(rows) == 2 else f"All {len(rows)}"
        told += f" {each} rows: {both}."
    return told + wax
