"""The page of thread and weight of a printed sheet against the record, all reckoned anew."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from sheet_lengths import bought, mass

from marker.record import Garment, Record, Thread

METRE = 160_000
PARTS = {"panel": "panels", "band": "band", "placket": "placket"}


def thread_faults(record: Record, text: str) -> list[str]:
    """All complaints about what the rows, the seams and the whole of each garment take."""
    flat, found = " ".join(text.split()), []
    for garment in record.garments:
        for said in (*_rows(record, garment), *_seams(record, garment), *_weights(record, garment)):
            if said not in flat:
                found.append(f"{garment.key}: {said!r} is not told")
    return found


def _shop(record: Record, length: int) -> str:
    first, *others = (bought(length, system.value) for system in record.units.systems)
    return first + "".join(f" ({other})" for other in others)


def _called(garment: Garment) -> str:
    told = garment.wearer and garment.wearer not in garment.name
    return f"{garment.name}, {garment.wearer}" if told else garment.name


def _rows(record: Record, garment: Garment) -> Iterator[str]:
    """A line for the rows: each and all, flat and pushed along, and the arm-lengths."""
    made, thread = garment.pleating, record.thread
    if not (made and made.rows and thread and garment.sewing):
        return
    flat = garment.round_hem + 2 * thread.tail
    pushed = []
    for row in range(made.rows):
        more = Fraction(made.ease * row, made.rows - 1) if made.rows > 1 else 0
        drawn = -int(-(garment.drawn + more) // 1)
        pushed.append(drawn + thread.slack + 2 * thread.tail)
    told = " to ".join(dict.fromkeys(_shop(record, each) for each in pushed))
    arms = " to ".join(dict.fromkeys(str(_arms(each, thread)) for each in pushed))
    yield (
        f"{_called(garment)} {made.rows} {_shop(record, flat)} {_arms(flat, thread)} "
        f"{_shop(record, made.rows * flat)} {told} {arms} {_shop(record, sum(pushed))}"
    )


def _arms(length: int, thread: Thread) -> int:
    return -(-length // thread.arm)


def _seams(record: Record, garment: Garment) -> Iterator[str]:
    """A line for each thing sewn where it is told part by part, else what all of them come to."""
    others = [one for one in garment.sewing if not one.pushed]
    if not (record.thread and others):
        return
    if len(record.garments) > 2:
        length = _shop(record, sum(one.length for one in others))
        yield f"{_called(garment)} {length} {sum(one.stitches for one in others)} "
        return
    for one in others:
        yield (
            f"{one.what} {one.stitch.value} {_shop(record, one.length)} {one.stitches} "
            f"{_shop(record, one.thread)}"
        )


def _weights(record: Record, garment: Garment) -> Iterator[str]:
    """What the panels and the band weigh, of cloth that isn't washed, told part by part."""
    if len(record.garments) > 2:
        return
    for word, part in PARTS.items():
        cut = [
            (piece, lay.cloth)
            for lay in record.lays for piece in lay.pieces
            if piece.garment == garment.key and piece.name.split(" ")[0] == word
        ]  # fmt: skip
        straight = all(piece.outline is None and "lining" not in piece.name for piece, _ in cut)
        if not cut or not straight or any(not c.grams or c.washed for _, c in cut):
            continue
        if word == "band" and any("lining" in p.name for lay in record.lays for p in lay.pieces):
            continue
        grams = sum(
            Fraction(piece.length * piece.breadth * piece.count, METRE**2)
            * Fraction(cloth.grams or 0)
            for piece, cloth in cut
        )
        if any(re.fullmatch(rf"{word}.*", n.name) for n in garment.notions):
            continue
        first, *more = (mass(Fraction(grams), system.value) for system in record.units.systems)
        yield f"{part} {first}" + "".join(f" ({other})" for other in more)
