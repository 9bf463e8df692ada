"""Thread, weight and time of every garment in words: for the sheet, the slips and programs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from marker.buying import thread as yarn
from marker.buying.hours import Hours, hours
from marker.buying.weight import Weight, per_square_metre, weight
from marker.plan.pleats.spell import fine
from marker.plan.words.shopping import mass
from marker.record import Garment, Record, Sewn, Stage, Thread
from marker.units import (
    METRE,
    OUNCE,
    YARD,
    System,
    Units,
    beside,
    format_bought,
    format_length,
    set_fractions,
)

STAGES = {
    Stage.JOIN: "join", Stage.HEM: "hem", Stage.GAUGE: "pleats", Stage.BAND: "band",
    Stage.FINISH: "finish",
}  # fmt: skip


@dataclass(frozen=True)
class Work:
    """One garment with what its sewing takes."""

    garment: Garment
    weight: Weight
    hours: tuple[Hours, ...]
    thread: int

    @property
    def rows(self) -> tuple[Sewn, ...]:
        """Its rows of gauging, the top one first."""
        return tuple(one for one in self.garment.sewing if one.pushed)

    @property
    def name(self) -> str:
        """The garment, with its wearer unless its name says whose it is."""
        whose = self.garment.wearer
        told = whose and whose not in self.garment.name
        return f"{self.garment.name}, {whose}" if told else self.garment.name


def works(record: Record) -> tuple[Work, ...]:
    """Every garment with what its sewing takes."""
    return tuple(work_of(record, garment) for garment in record.garments)


def work_of(record: Record, garment: Garment) -> Work:
    """What the sewing of one garment takes; nothing of thread where none is sewn."""
    return Work(
        garment,
        weight(record, garment),
        hours(garment, record.pace),
        yarn.of_garment(garment, record.thread) if record.thread and garment.sewing else 0,
    )


def row_words(work: Work, thread: Thread, units: Units) -> dict[str, str]:
    """One line of the rows' thread: each row and all of them, by either method."""
    rows = work.rows
    return {
        "name": work.name,
        "rows": str(len(rows)),
        "flat": _from_to([row.thread for row in rows], units),
        "flat_arms": _arms([row.thread for row in rows], thread),
        "flat_all": length(sum(row.thread for row in rows), units),
        "pushed": _from_to([row.pushed for row in rows], units),
        "pushed_arms": _arms([row.pushed for row in rows], thread),
        "pushed_all": length(sum(row.pushed for row in rows), units),
    }


def length(value: int, units: Units) -> str:
    """A length of thread as the shop measures, rounded up."""
    return set_fractions(format_bought(value, units))


def _from_to(values: Sequence[int], units: Units) -> str:
    """One length for all rows alike, or the least and the greatest."""
    told = list(dict.fromkeys(length(value, units) for value in sorted(values)))
    return told[0] if len(told) == 1 else f"{told[0]} to {told[-1]}"


def _arms(values: Sequence[int], thread: Thread) -> str:
    told = sorted({yarn.arm_lengths(value, thread.arm) for value in values})
    return str(told[0]) if len(told) == 1 else f"{told[0]} to {told[-1]}"


def sewn_words(one: Sewn, units: Units) -> dict[str, str]:
    """One line of what is sewn; thread of rows stands in a table of its own."""
    return {
        "stage": STAGES.get(one.stage, one.stage.value),
        "what": one.what,
        "stitch": one.stitch.value,
        "length": length(one.length, units),
        "stitches": str(one.stitches),
        "thread": length(one.thread, units),
    }


def weight_words(found: Weight, units: Units) -> list[dict[str, str]]:
    """Every part with what it weighs; what isn't known says so."""
    return [{"part": part.name, "grams": _grams(part.grams, units)} for part in found.parts]


def _grams(grams: Fraction | None, units: Units) -> str:
    return "not known" if grams is None else mass(grams, units)


def quarter_hours(quarters: int) -> str:
    """Quarters of an hour: "45 min", "1 h", "2 h 15 min"."""
    whole, rest = divmod(quarters, 4)
    parts = (f"{whole} h" if whole else "", f"{rest * 15} min" if rest else "")
    return " ".join(part for part in parts if part) or "0 min"


def in_short(work: Work, units: Units) -> str:
    """Thread and weight in a sentence, for a slip; empty where neither is known."""
    told = []
    if work.thread:
        told.append(f"thread {length(work.thread, units)}")
    if work.weight.told:
        without = f" without {', '.join(work.weight.unknown)}" if work.weight.unknown else ""
        told.append(f"weighs about {mass(work.weight.grams, units)}{without}")
    if work.hours:
        told.append(f"about {quarter_hours(sum(one.quarters for one in work.hours))} of sewing")
    whole = "; ".join(told)
    return f"{whole[0].upper()}{whole[1:]}." if told else ""


def thread_notes(thread: Thread, units: Units, *, rows: bool) -> list[str]:
    """How the thread was reckoned, in whole sentences; of rows only where there are any."""
    tail, slack, arm = (format_length(v, units) for v in (thread.tail, thread.slack, thread.arm))
    stitch = fine(thread.stitch, units)
    wax = " Wax the thread first." if thread.waxed else ""
    bought = "sewn flat" if thread.flat else "pushed along"
    of_rows = (
        f"A row sewn flat and drawn up once takes the cloth in the round and two tails of {tail}; "
        f"pushed along as it is sewn, its drawn length, {slack} of slack and two tails. Thread is "
        f"bought for rows {bought}.{wax}"
    )
    of_all = (
        f"All {'other ' if rows else ''}stitches are an estimate for hand sewing, by the geometry "
        f"of stitches of {stitch}; every arm-length of {arm} loses {tail}. Lengths of thread are "
        "rounded up."
    )
    return [set_fractions(sentence) for sentence in ((of_rows, of_all) if rows else (of_all,))]


def weight_notes(record: Record) -> list[str]:
    """What a weight is of, and by which weight a washed cloth was reckoned."""
    said = [
        "Weights are those of the cut pieces, seam allowances, turn-downs and hems with them, by "
        "the weight of the cloth as bought; threads include their tails."
    ]
    for lay in record.lays:
        each = per_square_metre(lay.cloth)
        if each is not None and lay.cloth.washed:
            said.append(
                f"{lay.cloth.name} shrinks to {square_weight(each, record.units)} in the wash, and "
                "its pieces are weighed so."
            )
    return said


def square_weight(grams: Fraction, units: Units) -> str:
    """What a square of cloth weighs: grams by the metre, or ounces by the yard to a tenth."""
    ounces = float(grams * YARD**2 / (OUNCE * METRE**2))
    return beside(
        units,
        lambda system: (
            f"{ounces:.1f} oz/yd²" if system is System.IN else f"{float(grams):.0f} g/m²"
        ),
    )


def time_note(pace: int) -> str:
    """What an estimate of time is, and what it leaves out."""
    return (
        f"An estimate, at {pace} stitches a minute, each stage rounded up to quarters of an hour. "
        "Only stitches are counted: no marking, cutting, pressing or drawing up."
    )


def sewing_data(record: Record) -> list[dict[str, Any]]:
    """Thread, weight and time of every garment as plain data; lengths in units, mass in grams."""
    return [
        {
            "garment": work.garment.key,
            "thread": work.thread,
            "rows": [{"flat": row.thread, "pushed": row.pushed} for row in work.rows],
            "weight": {
                part.name: None if part.grams is None else round(float(part.grams), 1)
                for part in work.weight.parts
            },
            "grams": work.weight.grams,
            "quarter_hours": {one.stage: one.quarters for one in work.hours},
        }
        for work in works(record)
    ]
