"""Piece cards of a printed sheet against the record: sizes, readings, counts, nothing unknown.

Shaped pieces have their drafts on their cards, whose readings have tests of their own; here only
their box is looked at.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from sheet_known import spellings, swept
from sheet_lengths import up
from sheet_text import figures, unknown

from marker.piece import Piece
from marker.record import Record

TURNED = r"(?:, (\d+) of them turned over)?"
HEAD = re.compile(
    rf"^((?:[A-Z]{{1,2}}\d* )+)(.+?) cut (\d+)(?: each)?{TURNED}( drawn 1:\d+)?$", re.MULTILINE
)
"""The head of a card: the letters of its pieces, their name, and how many are cut in all."""


def card_faults(record: Record, text: str) -> list[str]:
    """All complaints about the cards of a sheet."""
    systems = [system.value for system in record.units.systems]
    by_letter = {piece.letter: piece for lay in record.lays for piece in lay.pieces}
    found, heads = [], list(HEAD.finditer(text))
    told: set[str] = set()
    for at, head in enumerate(heads):
        end = heads[at + 1].start() if at + 1 < len(heads) else len(text)
        letters = head[1].split()
        told |= set(letters)
        if strange := set(letters) - by_letter.keys():
            found.append(f"a card names {sorted(strange)}")
            continue
        pieces = [by_letter[letter] for letter in letters]
        body = text[head.end() : end]
        name = f"card {' '.join(letters)}"
        found += [f"{name} {fault}" for fault in _card(record, pieces, head, body, systems)]
    if missing := by_letter.keys() - told:
        found.append(f"no card tells of {sorted(missing)}")
    return found


def _card(
    record: Record, pieces: list[Piece], head: re.Match[str], body: str, systems: list[str]
) -> Iterator[str]:
    flat = " ".join(body.split())
    if head[4] and int(head[4]) != pieces[0].mirrored:
        yield f"has {head[4]} turned over"
    if pieces[0].outline is not None:
        if head[5]:
            yield from _box(pieces[0], flat, systems)
        return
    if int(head[3]) != sum(piece.count for piece in pieces):
        yield f"cuts {head[3]}"
    yield from _sizes(record, pieces, flat, systems)
    counts = {str(piece.count) for piece in pieces} | {str(n) for n in range(2, 5)}
    known = {"lengths": spellings(_lengths(record, pieces), systems), "counts": counts}
    for figure in unknown(swept(flat, record), known):
        yield f"tells {figure}"


def _sizes(record: Record, pieces: list[Piece], flat: str, systems: list[str]) -> Iterator[str]:
    """The cut sizes, and where there is one alone every reading too."""
    sizes, told = {(piece.length, piece.breadth) for piece in pieces}, set(figures(flat))
    wanted = {side for size in sizes for side in size}
    if len(sizes) == 1:
        ((length, breadth),) = sizes
        size = " ".join(f"{up(length, s)} × {up(breadth, s)} {s}" for s in systems)
        if f"cut {size}" not in flat:
            yield f"should be cut {size}"
        wanted |= _readings(pieces[0]) | _rows(record, pieces[0])
    for length in sorted(wanted):
        if not all(up(length, system) in told for system in systems):
            yield f"should tell {[up(length, system) for system in systems]}"


def _box(piece: Piece, flat: str, systems: list[str]) -> Iterator[str]:
    """The box of a shaped piece."""
    told = f"box {up(piece.length, systems[0])} along × {up(piece.breadth, systems[0])}"
    if told not in flat:
        yield f"should say {told}"


def _rows(record: Record, piece: Piece) -> set[int]:
    """How far the rows of stitches lie below the cut edge of a panel that is drawn up.

    They are measured from the fold of the turn-down, where that lies at one depth all along and
    the top is not levelled.
    """
    folds = {mark.u0 for mark in piece.marks if mark.name.startswith("fold of the turn-down")}
    garments = {garment.key: garment for garment in record.garments}
    drawn = garments[piece.garment].pleating if piece.garment in garments else None
    stands = piece.edges.start == "waist" and piece.up == "length"
    levelled = any(mark.name.endswith(("(front)", "(side)", "(back)")) for mark in piece.marks)
    if drawn is None or piece.name != "panel" or not stands or levelled:
        return set()
    fold = min(folds, default=0)
    rows = (fold + drawn.first + number * drawn.spacing for number in range(drawn.rows))
    return {at for at in rows if 0 < at < piece.length // 2}


def _readings(piece: Piece) -> set[int]:
    """How far each line, notch and stroke lies from the nearer edge."""
    found = set()
    for mark in piece.marks:
        for low, high, most in (
            (mark.u0, mark.u1, piece.length),
            (mark.v0, mark.v1, piece.breadth),
        ):
            if low == high and 0 < low < most:
                found.add(min(low, most - low))
    return found


def _lengths(record: Record, pieces: Sequence[Piece]) -> set[int]:
    """What a card may tell: how far apart any two lines or edges are, and finished lengths."""
    found = {turn.finished for garment in record.garments for turn in garment.turn_downs}
    for piece in pieces:
        found |= _rows(record, piece)
        us = {0, piece.length, *(u for mark in piece.marks for u in (mark.u0, mark.u1))}
        vs = {0, piece.breadth, *(v for mark in piece.marks for v in (mark.v0, mark.v1))}
        for row in (us, vs):
            found |= {abs(a - b) for a in row for b in row}
    return found
