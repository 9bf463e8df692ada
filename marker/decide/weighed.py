"""What to mind about a garment that is heavy to wear."""

from __future__ import annotations

from dataclasses import replace

from marker.buying.weight import HEAVY, weight
from marker.record import Garment, Record


def with_weight(record: Record) -> Record:
    """The record, with advice on every garment whose band has much to bear."""
    return replace(record, garments=tuple(_advised(record, one) for one in record.garments))


def _advised(record: Record, garment: Garment) -> Garment:
    found = weight(record, garment)
    if not (found.heavy and garment.panels):
        return garment
    least = "at least " if found.unknown else ""
    advice = (
        f"It weighs {least}{found.grams / 1000:.1f} kg, and over {HEAVY // 1000} kg a plain band "
        "gives way: stiffen it or make it double, sew every pleat on with two stitches, and take "
        "one hook more."
    )
    return replace(garment, advice=(*garment.advice, advice))
