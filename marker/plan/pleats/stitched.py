"""The words of a gauged or stroke-gathered top."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from marker.cloth import Cloth
from marker.gauging import Gauging, advised, around, practice
from marker.plan.pleats.spell import fine, near, number, unit
from marker.plan.pleats.told import Table, Told, band_note, onto, quarter_table
from marker.record import Garment, Method
from marker.units import MM, System, Units

CALLED = {Method.GAUGED: "gauged (cartridge pleats)", Method.STROKE: "stroke gathered"}


def stitched(garment: Garment, cloth: Cloth, plan: Gauging, units: Units) -> Told:
    """All that is told of the stitched pleats of a garment."""
    assert garment.pleating is not None
    return Told(
        garment=garment,
        cloth=cloth,
        plan=plan,
        method=CALLED[garment.pleating.method],
        facts=(*_counts(garment, plan, units), *_tightness(plan, units)),
        tables=(
            _rows(garment, plan, units),
            quarter_table(plan, garment, units),
            _steps(plan, units.lead),
        ),
        notes=(
            *_notes(garment, plan, units),
            band_note(plan, garment, units),
            *_swatch(garment, plan, units),
        ),
        warnings=tuple(_warnings(garment, plan, units)),
        data=_data(plan, units),
    )


def _counts(garment: Garment, plan: Gauging, units: Units) -> Iterator[tuple[str, str]]:
    """How many pleats there are, and the stitch that makes them come out."""
    length, name = unit(units)
    panels = f"{plan.panels} panels of" if plan.panels > 1 else "one panel of"
    yield "cloth round the top", f"{near(plan.round, units)}: {panels} {near(plan.panel, units)}"
    yield "drawn into", f"{near(plan.drawn, units)}, fulness {plan.round / plan.drawn:.2f} to 1"
    fitted, wanted = fine(plan.fitted, units), fine(plan.stitch, units)
    # Told only where it shows: a stitch may differ by less than is printed.
    asked = "" if fitted == wanted else f"; {wanted} wanted"
    yield "stitch, over and under alike", f"{fitted}{asked}"
    yield "ten pleats, flat", near(20 * plan.fitted, units)
    each = f"{plan.each} in each panel, {plan.pleats} in all"
    yield "pleats", each if plan.panels > 1 else f"{plan.pleats}"
    yield f"pleats on {name} of the {onto(garment)}", number(plan.per(length))


def _tightness(plan: Gauging, units: Units) -> Iterator[tuple[str, str]]:
    """How close the pleats stand, estimated or measured; nothing where nobody knows."""
    if not plan.packed:
        return
    how = "measured" if plan.measured else f"estimated, {plan.layers} layers"
    yield f"a pleat drawn close ({how})", fine(plan.packed, units)
    share = 100 * plan.least_drawn / plan.drawn
    yield "all pleats drawn close", f"{near(plan.least_drawn, units)}, {float(share):.0f} %"
    stitch = advised(plan, units.lead)
    take = f", so take {fine(stitch, units)}" if stitch else ""
    yield "least stitch that closes up", f"{fine(plan.least_stitch, units)}{take}"
    greatest = plan.greatest_fulness
    if greatest is not None:
        yield "greatest fulness of this stitch", f"{float(greatest):.2f} to 1"


def _rows(garment: Garment, plan: Gauging, units: Units) -> Table:
    """Where the rows lie, and what each is drawn into."""
    edge = "below the fold" if garment.turn_downs else "below the cut edge"
    return Table(
        "Rows of stitches",
        ("row", edge, "drawn into"),
        tuple(
            (f"{number + 1}", near(row, units), near(plan.drawn_at(number), units))
            for number, row in enumerate(plan.rows)
        ),
    )


def _steps(plan: Gauging, units: System) -> Table:
    """What longer and shorter stitches would come to: pleats, and whether they close up."""
    length, name = unit(units)
    known = bool(plan.packed)
    rows = []
    for row in around(plan, units):
        told = [
            ("now " if row.stitch == plan.stitch else "") + fine(row.stitch, units),
            fine(row.fitted, units),
            f"{row.each}",
            f"{row.pleats}",
            number(row.per(length)),
        ]
        if known:
            told += [near(row.least_drawn, units), "yes" if row.closes else "no"]
        rows.append(tuple(told))
    heads = ("stitch", "fitted", "panel", "all", f"on {name}")
    return Table(
        "With longer or shorter stitches",
        (*heads, "close", "closes") if known else heads,
        tuple(rows),
    )


def _notes(garment: Garment, plan: Gauging, units: Units) -> Iterator[str]:
    """How the rows run round the skirt."""
    half = fine(plan.fitted / 2, units)
    yield (
        "Mark the dots of every panel from its first seam line: the first half a stitch, "
        f"{half}, from it, then one every stitch, the last half a stitch before the other seam "
        "line. The dots of all rows stand one below the other. The command marker templates "
        "prints a strip of them at full size."
    )
    if plan.panels > 1:
        yield "One whole stitch runs over every seam, on the same side of the cloth at each."
    yield (
        f"At the opening each row begins and ends half a stitch, {half}, from the edge, which is "
        "half a pleat at either side."
    )
    quarter = f"{number(plan.pleats / 4)} to a quarter"
    # A gauged top has a fold to be whipped to; a stroke gathered one has a raw edge to be sewn in.
    if garment.pleating and garment.pleating.method is Method.GAUGED:
        told = f"with one stitch: {plan.pleats} of them, {quarter}"
        yield f"Sew each pleat to the {onto(garment)} {told}."
    else:
        yield f"Spread the pleats evenly along the {onto(garment)}, {quarter}, and sew it on."
    if plan.ease and len(plan.rows) > 1:
        yield (
            f"The lowest row stays {near(plan.ease, units)} longer than the top one, for the hips."
        )


def _swatch(garment: Garment, plan: Gauging, units: Units) -> Iterator[str]:
    """What to sew before all of it is sewn, and where its figures go."""
    sewn = practice(plan, units.lead)
    pleats = f"{sewn.pleats} pleats" if sewn.pleats > 1 else "one pleat"
    rows = f"{len(plan.rows)} rows" if len(plan.rows) > 1 else "one row"
    ten = "a strip of 4 in" if units.lead is System.IN else "a strip of 10 cm"
    turned = ", turned down as the skirt will be" if garment.turn_downs else ""
    yield (
        f"Practice swatch: on {ten} of this cloth{turned}, mark off {near(sewn.strip, units)} "
        f"and sew {rows} of {2 * sewn.pleats} stitches of {fine(plan.fitted, units)} on it, "
        f"{pleats}. Draw it up as close as it goes and measure what it comes to."
        + (f" By the estimate, {near(sewn.expected, units)}." if _estimated(plan) else "")
    )
    if plan.measured:
        was = plan.measured
        yield (
            f"How close the pleats stand is measured: {near(was.cloth, units)} in stitches of "
            f"{fine(was.stitch, units)} drew up to {near(was.drawn, units)}."
        )
    else:
        yield (
            "Then write both into the case as gauging.measured, cloth and drawn, and the plan "
            "reckons with what this cloth does"
            + (", not with an estimate." if plan.packed else ".")
        )


def _estimated(plan: Gauging) -> bool:
    return bool(plan.packed) and plan.measured is None


def _warnings(garment: Garment, plan: Gauging, units: Units) -> Iterator[str]:
    """What keeps it from being sewn as it stands."""
    if not plan.closes:
        stitch = advised(plan, units.lead)
        longer = f"take stitches of at least {fine(stitch, units)}, or " if stitch else "take "
        yield (
            f"The pleats can't close up: drawn as close as they go they take "
            f"{near(plan.least_drawn, units)}, and there is {near(plan.drawn, units)}; "
            f"{longer}less cloth round the top."
        )
    depths = [turn.depth for turn in garment.turn_downs]
    if depths and plan.rows and plan.rows[-1] > min(depths):
        yield (
            f"The lowest row lies {near(plan.rows[-1], units)} below the fold, lower than the "
            f"turn-down of {near(min(depths), units)} reaches; give fewer rows, or a deeper one."
        )


def _data(plan: Gauging, units: Units) -> dict[str, Any]:
    """The figures, lengths in millimetres."""
    length, _ = unit(units)
    stitch = advised(plan, units.lead)
    return {
        "panels": plan.panels,
        "pleats": plan.pleats,
        "pleats_per_panel": plan.each,
        "round_mm": _mm(plan.round),
        "drawn_mm": _mm(plan.drawn),
        "fulness": round(plan.round / plan.drawn, 4),
        "stitch_mm": _mm(plan.stitch),
        "fitted_mm": _mm(plan.fitted),
        "rows_mm": [_mm(row) for row in plan.rows],
        "rows_drawn_mm": [_mm(plan.drawn_at(row)) for row in range(len(plan.rows))],
        "pleats_per_unit": round(float(plan.per(length)), 4),
        "packed_mm": _mm(plan.packed) if plan.packed else None,
        "packed_by": ("swatch" if plan.measured else "thickness") if plan.packed else None,
        "least_drawn_mm": _mm(plan.least_drawn) if plan.packed else None,
        "closes": plan.closes if plan.packed else None,
        "least_stitch_mm": _mm(plan.least_stitch) if plan.packed else None,
        "greatest_fulness": round(float(plan.greatest_fulness), 4)
        if plan.greatest_fulness
        else None,
        "shortest_stitch_mm": _mm(stitch) if stitch else None,
    }


def _mm(value: Any) -> float:
    return round(float(value) / MM, 4)
