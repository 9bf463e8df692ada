"""What else stands on a sheet: every figure is of a kind that is known, or it is complained of.

The lists of steps, the sums and the sizes are judged one by one in `sheet_judge`; here the rest
is swept, so that nothing can be printed that no check looks at.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from fractions import Fraction

from sheet_lengths import STEP, bought, counted, up
from sheet_text import END, NUMBER, STEPS, figures, unknown

from marker.lay import Lay
from marker.record import Notion, Record
from marker.units import set_fractions

LONG = r"\S+ (?:m|yd)\b(?: \(\S+ (?:m|yd)\))?"
KINDS = {
    "stretch": r"stretch \d+ of \d+ from \S+ to \S+ (?:cm|in)(?: \(\S+ to \S+ (?:cm|in)\))?",
    "page": r"(?<![\d.])\d+ of \d+\b",
    "per cent": r"\d+(?:\.\d+)? %",
    "money": r"\d+\.\d\d [A-Z]{3}\b",
    "mass": r"\d+(?:\.\d+)? k?g\b|\b\d+ lb\b(?: \S+ oz\b)?|\S+ oz\b",
    "fulness": r"\d+\.\d to 1\b",
    "scale": r"5 cm (?:when printed|square) at full size|drawn 1:\d+|(?<![\d.])5 cm\b(?! )",
    "caution": r"narrower than about 4 cm \(1½ in\)|1\.41 (?:times|×)|45 degrees",
    "rounding": r"rounded in print to (?:1 mm|⅛ in)(?: or (?:1 mm|⅛ in))?",
    "times": r"(?<![\d.])\d+ (?=×|(?:of|more|drops|strips|panels?|joins?|tears?|cuts?)\b)",
    "stretches": r"stretch \d+(?: of \d+)?(?: [\d½¼¾⅛⅜⅝⅞.()]+)*",
    "thread": rf"tex \d+|\d+ spools? of {LONG}(?: {LONG})?",
    "span": r"\b\d+[–-]\d+\b",
}
"""Figures that are told by the words beside them, whatever the lay."""


def told_in(thing: object) -> Iterator[str]:
    """Every text that a record holds: titles, names, and sentences that recipes wrote."""
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, list | tuple):
        for one in thing:
            yield from told_in(one)
    elif is_dataclass(thing):
        for field in fields(thing):
            yield from told_in(getattr(thing, field.name))


def lengths_in(thing: object) -> Iterator[int]:
    """Every whole number that a record holds."""
    if isinstance(thing, int) and not isinstance(thing, bool):
        yield thing
    elif isinstance(thing, list | tuple):
        for one in thing:
            yield from lengths_in(one)
    elif is_dataclass(thing):
        for field in fields(thing):
            yield from lengths_in(getattr(thing, field.name))


def spellings(lengths: set[int], systems: list[str]) -> set[str]:
    """Every way in which print may round some lengths: up, down or to the nearest."""
    return {
        counted(length // STEP[system] + more, system)
        for length in lengths
        for system in systems
        for more in ((0, 1) if length % STEP[system] else (0,))
    }


def swept(text: str, record: Record) -> str:
    """A text without its steps, the record's own sentences and names, and what words tell."""
    kept, begun = [], False
    for line in text.split("\n"):
        begun = not END.fullmatch(line.strip()) if begun else bool(STEPS.fullmatch(line.strip()))
        if not begun:
            kept.append(line)
    plain = " ".join(" ".join(kept).split())
    own = sorted({" ".join(set_fractions(one).split()) for one in told_in(record)}, key=len)
    for one in reversed(own):
        if NUMBER.search(one):
            plain = plain.replace(one, " ")
    for kind in KINDS.values():
        plain = re.sub(kind, " ", plain)
    return plain


def on_cloth(lay: Lay, systems: list[str]) -> set[str]:
    """The figures that a cloth's plan and words may hold besides their steps."""
    cloth, bolt = lay.cloth, lay.bolt
    lengths = {
        cloth.width, cloth.laid_width, cloth.length, cloth.selvedge, cloth.squaring, cloth.step,
        cloth.torn_edge, cloth.margin, cloth.least_strip, cloth.repeat.along, cloth.repeat.across,
        lay.length, lay.bound, lay.need, bolt.along, bolt.along + bolt.x0,
    }  # fmt: skip
    for piece in lay.pieces:
        outline = piece.outline
        lengths |= {piece.length, piece.breadth}
        lengths |= {round(edge.length) for edge in (outline.edges if outline else ())}
    for spot in lay.placements:
        rect = spot.rect(lay.piece(spot.letter))
        lengths |= {rect.x0, rect.x1, rect.y0, rect.y1}
    for rect in (*(offcut.rect for offcut in lay.offcuts), *cloth.flaws):
        lengths |= {rect.along, rect.across}
    at = {tear.at for tear in lay.tears}
    ends = sorted({bolt.x0, *at, bolt.x1})
    lengths |= at | {b - a for a in ends for b in ends if b > a}
    return spellings({abs(length) for length in lengths}, systems)


def numbers_on(lay: Lay) -> set[str]:
    """Tear numbers, and counts of pieces and tears."""
    most = max([tear.number for tear in lay.tears] + [len(lay.placements)] + [0])
    return {str(number) for number in range(most + 2)}


def tape(lay: Lay, systems: list[str]) -> set[str]:
    """The figures of a tape: whole centimetres by fives and tens, inches by threes and dozens."""
    found = set()
    for system in systems:
        unit, fine = (1600, 5) if system == "cm" else (4064, 3)
        whole = lay.bolt.along // unit
        found |= {str(n) for n in range(0, whole + 1, fine if whole > 60 else 1)}
    return found


def areas(lay: Lay, systems: list[str]) -> set[str]:
    """Areas of the goals, to the whole square centimetre or inch, and what they count."""
    found = set()
    for goal in lay.goals:
        for size in (goal.value, goal.bound):
            found.add(str(size))
            for system in systems:
                unit = 1600 if system == "cm" else 4064
                found.add(str(int(Fraction(size, unit * unit) + Fraction(1, 2))))
    return found


def unexplained(record: Record, lay: Lay, plan: str, words: str) -> Iterator[str]:
    """Figures of one cloth that are of no kind known."""
    systems = [system.value for system in record.units.systems]
    sizes = {lay.buy, lay.need, *(goal.bound for goal in lay.goals)}
    shop = {figure for s in systems for size in sizes for figure in figures(bought(size, s))}
    for system, step, spell in (("cm", 1600, bought), ("in", 508, up)):
        there = lay.cloth.length // step * step  # of a remnant, what is left of what print shows
        left = there - min(-(-lay.need // step) * step, there)
        shop |= {figure for size in (there, left) for figure in figures(spell(size, system))}
    known = {
        "lengths": on_cloth(lay, systems),
        "shop": shop,
        "numbers": numbers_on(lay),
        "areas": areas(lay, systems),
    }
    yield from unknown(swept(plan, record), {**known, "tape": tape(lay, systems)})
    yield from unknown(swept(words, record), known)


def joined(record: Record) -> Iterator[int]:
    """What strips measure joined, and what is needed of each, and what they have to spare."""
    found: dict[str, list[tuple[int, int, int]]] = {}
    for lay in record.lays:
        for piece in lay.pieces:
            if piece.pieced:
                one = piece.length, piece.pieced.seam, piece.pieced.total
                found.setdefault(piece.pieced.strip, []).extend([one] * piece.count)
    for strip in found.values():
        seam, wanted = strip[0][1:]
        total = sum(length for length, _, _ in strip) - 2 * seam * (len(strip) - 1)
        yield from (seam, wanted, total, total - wanted)


def notions(record: Record) -> Iterator[int]:
    """What is bought by length besides cloth: of each thing what all take, and in whole steps."""
    found: dict[str, list[Notion]] = {}
    for one in (*record.notions, *(n for garment in record.garments for n in garment.notions)):
        found.setdefault(one.name, []).append(one)
    for same in found.values():
        length, step = sum(one.length for one in same), max(one.step for one in same)
        yield from (length, -(-length // step) * step if step else length)


def unexplained_before(record: Record, front: str) -> Iterator[str]:
    """Figures on the pages before the first plan that are of no kind known."""
    systems = [system.value for system in record.units.systems]
    lengths = set(lengths_in(record.garments)) | set(lengths_in(record.alone))
    known = {"lengths": spellings(lengths, systems), "counts": set()}
    for lay in record.lays:
        known["lengths"] |= on_cloth(lay, systems)
        known["counts"] |= {str(piece.count) for piece in lay.pieces}
        known["lengths"] |= {f for s in systems for f in figures(bought(lay.buy, s))}
    known["counts"] |= {str(garment.panels) for garment in record.garments}
    own = Counter(
        piece.wearer for lay in record.lays for piece in lay.pieces for _ in range(piece.count)
    )
    known["counts"] |= {str(count) for count in own.values()}
    known["counts"] |= {str(one.count) for garment in record.garments for one in garment.notions}
    known["lengths"] |= spellings(set(joined(record)), systems)
    for size in notions(record):
        known["lengths"] |= spellings({size}, systems)
        known["lengths"] |= {f for s in systems for f in figures(bought(size, s))}
    yield from unknown(swept(front, record), known)
