"""Every pleat plan of a record, or of a case whose lays aren't made."""

from __future__ import annotations

from dataclasses import replace

from marker.cloth import Cloth
from marker.gauging import gauging, pressed
from marker.plan.pleats.pressed import folded
from marker.plan.pleats.stitched import stitched
from marker.plan.pleats.thread import thread_note
from marker.plan.pleats.told import Told
from marker.plan.words.whose import initial
from marker.record import Garment, Record, Thread
from marker.units import Units


def told(
    garment: Garment, cloth: Cloth, units: Units, way: str = "", thread: Thread | None = None
) -> Told | None:
    """What is told of the pleats of a garment with panels of a cloth; none if it has none.

    With a `thread`, what of it the rows take is told too.
    """
    if sewn := gauging(garment, cloth):
        found = stitched(garment, cloth, sewn, units)
        more = (thread_note(sewn, thread, units),) if thread and sewn.rows else ()
        return replace(found, way=way, notes=(*found.notes, *more))
    if creased := pressed(garment, cloth):
        return replace(folded(garment, cloth, creased, units), way=way)
    return None


def of_record(record: Record) -> tuple[Told, ...]:
    """The pleat plans of a record, garments whose plans are alike told once."""
    found: dict[object, Told] = {}
    for garment in record.garments:
        cloth = panel_cloth(record, garment)
        plan = told(garment, cloth, record.units, thread=record.thread) if cloth else None
        if plan:
            plan = replace(plan, letter=_letter(record, garment))
            found.setdefault((garment.name, garment.wearer, plan.plan), plan)
    return tuple(found.values())


def panel_cloth(record: Record, garment: Garment) -> Cloth | None:
    """What the panels of a garment are cut from, the thickest where they are of several."""
    cloths = [
        lay.cloth
        for lay in record.lays
        for piece in lay.pieces
        if piece.garment == garment.key and piece.name.split(" ")[0] == "panel"
    ]
    return max(cloths, key=lambda cloth: cloth.thickness, default=None)


def _letter(record: Record, garment: Garment) -> str:
    """The letter of a garment's wearer; empty where letters don't tell wearers apart."""
    return next(
        (
            letter
            for lay in record.lays
            for piece in lay.pieces
            if piece.garment == garment.key and (letter := initial(piece.letter))
        ),
        "",
    )
