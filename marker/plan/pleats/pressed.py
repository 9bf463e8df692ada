"""The words of a top in knife, box or inverted pleats."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any

from marker.cloth import Cloth
from marker.gauging import Crease, Pressed
from marker.plan.pleats.spell import fine, measured, near, number, unit
from marker.plan.pleats.told import CLOSED, Table, Told, band_note, onto, quarter_table
from marker.record import Direction, Garment, Method
from marker.units import MM, Units

TURNED = {
    Direction.RIGHT: "to the right, outside up",
    Direction.LEFT: "to the left, outside up",
    Direction.FRONT: "to the front from both sides",
    Direction.BACK: "to the back from both sides",
}
LAID = {
    Direction.RIGHT: "to the right as the outside is looked at",
    Direction.LEFT: "to the left as the outside is looked at",
    Direction.FRONT: "towards the front",
    Direction.BACK: "towards the back",
}


def folded(garment: Garment, cloth: Cloth, plan: Pressed, units: Units) -> Told:
    """All that is told of the pressed pleats of a garment."""
    return Told(
        garment=garment,
        cloth=cloth,
        plan=plan,
        method=plan.method.value,
        facts=tuple(_facts(garment, plan, units)),
        tables=(*_folds(plan, units), quarter_table(plan, garment, units)),
        notes=(*_notes(plan, units), band_note(plan, garment, units)),
        warnings=(),
        data=_data(plan),
    )


def _facts(garment: Garment, plan: Pressed, units: Units) -> Iterator[tuple[str, str]]:
    length, name = unit(units)
    panels = f"{plan.panels} panels of" if plan.panels > 1 else "one panel of"
    yield "cloth round the top", f"{near(plan.round, units)}: {panels} {near(plan.panel, units)}"
    yield "pleated into", f"{near(plan.drawn, units)}, {float(plan.ratio):.2f} to 1"
    each = f"{plan.each} in each panel, {plan.pleats} in all"
    yield "pleats", each if plan.panels > 1 else f"{plan.pleats}"
    yield "from pleat to pleat", measured(plan.spacing, units)
    yield "depth of a fold", measured(plan.depth, units)
    if plan.method is Method.BOX:
        yield "face of a pleat", measured(plan.face, units)
    yield "flat cloth for one pleat", measured(plan.takes, units)
    if plan.method is Method.KNIFE:
        yield "they turn", TURNED[plan.direction]
    yield f"pleats on {name} of the {onto(garment)}", number(plan.per(length))
    thick = f", {fine(plan.layers * plan.thickness, units)} thick" if plan.thickness else ""
    yield "most layers on one another", f"{plan.layers}{thick}"


def _folds(plan: Pressed, units: Units) -> Iterator[Table]:
    """The folds on the flat cloth: of one panel where all are alike, else of every one."""
    heads = ("panel", "folds, from its first seam line: edge of a pleat, or (inside)")
    if plan.alike():
        which = "every panel" if plan.panels > 1 else "the panel"
        yield Table("Folds on the flat cloth", heads, ((which, _row(plan.creases(), units)),))
        return
    yield Table(
        "Folds on the flat cloth",
        heads,
        tuple((f"{panel + 1}", _row(plan.creases(panel), units)) for panel in range(plan.panels)),
    )


def _row(creases: Sequence[Crease], units: Units) -> str:
    """The places of folds as print names them, in one measure; a seam is no fold to be marked."""
    unit_name = f" {units.lead.value}"
    told = []
    for crease in creases:
        if not crease.at:
            continue
        at = near(crease.at, units.lead).removesuffix(unit_name)
        told.append(at if crease.outer else f"({at})")
    return ", ".join(told) + unit_name


def _notes(plan: Pressed, units: Units) -> Iterator[str]:
    yield from _laying(plan, units)
    yield from _seams(plan, units)
    shows, inside = plan.seam(0)
    where = CLOSED[plan.opening_at]
    if shows:
        yield f"The opening {where} shows: it lies in the middle of a broad face."
    else:
        yield (
            f"The opening {where} lies inside a pleat, {near(inside, units)} of cloth from its "
            "edge; take that cloth on to the underlap."
        )
    yield (
        "Sum: "
        f"{plan.pleats} pleats × {fine(plan.takes, units)} = {near(plan.round, units)}; "
        f"{plan.pleats} × {fine(plan.spacing, units)} = {near(plan.drawn, units)}."
    )


def _laying(plan: Pressed, units: Units) -> Iterator[str]:
    """How one pleat is laid, from fold to fold."""
    deep, face = near(plan.depth, units), near(plan.face, units)
    twice = near(2 * plan.depth, units)
    if plan.method is Method.KNIFE:
        yield (
            f"Fold each pleat at its edge and lay the edge over by {twice}, "
            f"{LAID[plan.direction]}; the inside fold then lies {deep} behind it."
        )
    elif plan.method is Method.BOX:
        gap = plan.spacing - plan.face
        follows = f"follows {near(gap, units)} on" if gap else "meets it"
        yield (
            f"Fold both edges of each face, {face} apart, and turn {deep} of cloth under at "
            f"either; the next face {follows}."
        )
    else:
        yield (
            f"Bring the edges on either side of each pleat together: {deep} turns under at either, "
            f"and {twice} of cloth lies behind the place where they meet."
        )
    yield "Chalk the folds, tack them down from top to hem, press, and stitch across the top."


def _seams(plan: Pressed, units: Units) -> Iterator[str]:
    """Whether the seams between panels are hidden inside pleats."""
    found: dict[tuple[bool, Fraction], list[int]] = {}
    for seam in range(1, plan.panels):
        found.setdefault(plan.seam(seam), []).append(seam)
    for (shows, inside), numbers in found.items():
        which = "Every seam between panels" if len(found) == 1 else _named(numbers)
        if shows:
            yield (
                f"{which} shows, {near(inside, units)} from the nearest edge of a pleat; with all "
                "pleats turned one way it would lie hidden."
            )
        elif inside:
            yield f"{which} lies hidden inside a pleat, {near(inside, units)} from its edge."
        else:
            yield f"{which} lies just at the edge of a pleat."


def _named(numbers: Sequence[int]) -> str:
    """Seams by the panels that they join."""
    joined = " and ".join(f"{number} and {number + 1}" for number in numbers)
    return f"The seam of panels {joined}"


def _data(plan: Pressed) -> dict[str, Any]:
    """The figures, lengths in millimetres."""
    return {
        "panels": plan.panels,
        "pleats": plan.pleats,
        "pleats_per_panel": plan.each,
        "round_mm": _mm(plan.round),
        "pleated_into_mm": _mm(plan.drawn),
        "ratio": round(float(plan.ratio), 4),
        "depth_mm": _mm(plan.depth),
        "spacing_mm": _mm(plan.spacing),
        "face_mm": _mm(plan.face) if plan.method is Method.BOX else None,
        "direction": plan.direction.value if plan.method is Method.KNIFE else None,
        "layers": plan.layers,
        "folds": [
            [{"at_mm": _mm(crease.at), "edge": crease.outer} for crease in plan.creases(panel)]
            for panel in range(1 if plan.alike() else plan.panels)
        ],
    }


def _mm(value: Fraction | int) -> float:
    return round(float(value) / MM, 4)
