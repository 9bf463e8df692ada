"""What a finished garment weighs on its wearer, part by part.

A part weighs what its cut pieces do: seam allowances, turn-downs and hems are worn too, so
nothing is taken off. A cloth's g/m2 is that of the cloth as bought; where it is washed before it
is laid, the same mass lies in less area, and the pieces are cut from that.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from marker.buying import thread as yarn
from marker.cloth import Cloth
from marker.lay import Lay
from marker.piece import Piece
from marker.record import Garment, Record
from marker.units import METRE, nearest

HEAVY = 2000
"""Grams. A heavier garment wants a stiffened band and its pleats sewn on twice (common
practice, no source)."""
PARTS = (
    ("band lining", "band lining"), ("band", "band"), ("facing", "facing"),
    ("binding", "binding"), ("flounce", "flounces"), ("placket", "placket"), ("tie", "ties"),
    ("pocket", "pockets"), ("strap", "strap"), ("bib", "bib"), ("gore", "gores"),
    ("panel", "panels"),
)  # fmt: skip
"""By a word in the names of its pieces, what a part is called; the first that fits."""
THREAD = "thread"


@dataclass(frozen=True)
class Part:
    """A part of a garment and what it weighs; none where that isn't known."""

    name: str
    grams: Fraction | None


@dataclass(frozen=True)
class Weight:
    """All parts of a garment."""

    parts: tuple[Part, ...]

    @property
    def grams(self) -> int:
        """What is known of it, to the gram."""
        return nearest(sum((part.grams for part in self.parts if part.grams), Fraction(0)))

    @property
    def unknown(self) -> tuple[str, ...]:
        """The parts whose mass isn't known."""
        return tuple(part.name for part in self.parts if part.grams is None)

    @property
    def told(self) -> bool:
        """Whether anything but the thread is known."""
        return any(part.grams is not None and part.name != THREAD for part in self.parts)

    @property
    def heavy(self) -> bool:
        """Whether what is known is more than a plain band bears well."""
        return self.grams > HEAVY


def per_square_metre(cloth: Cloth) -> Fraction | None:
    """Grams in a square metre of the cloth as it is laid: after washing, where it is washed."""
    if cloth.grams is None:
        return None
    kept = [1 - Fraction(share) / 100 for share in (cloth.warp_shrinkage, cloth.weft_shrinkage)]
    return Fraction(cloth.grams) / (kept[0] * kept[1])


def piece_grams(piece: Piece, cloth: Cloth) -> Fraction | None:
    """Mass of all copies of a piece, as they are cut."""
    each = per_square_metre(cloth)
    return None if each is None else Fraction(piece.area2 * piece.count, 2 * METRE**2) * each


def cut_grams(lay: Lay) -> Fraction | None:
    """Mass of all pieces cut from a cloth; none where its weight isn't told."""
    each = per_square_metre(lay.cloth)
    return None if each is None else Fraction(lay.used, METRE**2) * each


def weight(record: Record, garment: Garment) -> Weight:
    """What a garment weighs: its cloth part by part, its thread, and what is bought besides."""
    found: dict[str, Fraction | None] = {}
    for lay in record.lays:
        for piece in lay.pieces:
            if piece.garment == garment.key:
                _add(found, part_of(piece.name), piece_grams(piece, lay.cloth))
    if record.thread and garment.sewing:
        whole = yarn.of_garment(garment, record.thread)
        _add(found, THREAD, yarn.grams(whole, record.thread.tex))
    for notion in garment.notions:
        _add(found, notion.name, _exact(notion.grams))
    return Weight(tuple(Part(name, grams) for name, grams in found.items()))


def part_of(name: str) -> str:
    """What part a piece of that name belongs to; one of the user's own is a part by itself."""
    return next((part for word, part in PARTS if word in name), name)


def _add(found: dict[str, Fraction | None], name: str, grams: Fraction | None) -> None:
    """What isn't known of a part leaves the whole part unknown."""
    before = found.get(name, Fraction(0))
    found[name] = None if grams is None or before is None else before + grams


def _exact(grams: Decimal | None) -> Fraction | None:
    return None if grams is None else Fraction(grams)
