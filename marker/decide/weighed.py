"""What to mind about a garment that is heavy to wear."""

from __future__ import annotations

from dataclasses import replace

from marker.buying.weight import HEAVY, weight
from marker.record import Counter, Garment, Record
from marker.units import format_mass


def with_weight(record: Record) -> Record:
    """The record, with advice on every garment whose band has much to bear."""
    return replace(record, garments=tuple(_advised(record, one) for one in record.garments))


def _advised(record: Record, garment: Garment) -> Garment:
    found = weight(record, garment)
    if not (found.heavy and garment.panels):
        return garment
    least = "at least " if found.unknown else ""
    stiff = any(notion.counter is Counter.STIFFENING for notion in garment.notions)
    weighs, limit = (format_mass(g, record.units, coarse=True) for g in (found.grams, HEAVY))
    first = "" if stiff else "stiffen it or make it double, "
    advice = (
        f"It weighs {least}{weighs}, and over {limit} a band has much to bear: {first}sew the top "
        "on with two stitches where it takes one, and take one hook more."
    )
    return replace(garment, advice=(*garment.advice, advice))
