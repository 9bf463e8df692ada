"""What the letters on small lays stand for: one line for all, or one for each where they differ."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from marker.lay import Lay
from marker.piece import Piece
from marker.plan.drawing.lettering import clean
from marker.plan.words.runs import rank
from marker.plan.words.whose import initial

Lays = Sequence[Lay]


def for_all(options: Iterable[Lays]) -> str:
    """What every letter stands for, if it is the same piece in all options; else nothing."""
    pieces = [piece for lays in options for lay in lays for piece in lay.pieces]
    alike = len({(p.letter, p.name, p.wearer) for p in pieces}) == len({p.letter for p in pieces})
    return _told(pieces) if alike else ""


def for_one(lays: Lays) -> str:
    """What the letters of one option stand for."""
    return _told([piece for lay in lays for piece in lay.pieces])


def _told(pieces: Sequence[Piece]) -> str:
    """ "A panel, B band", or for several wearers "A1, B1 panel; A2, B2 band; A Ada, B Bea"."""
    named: dict[str, list[str]] = {}
    for letter, name in sorted({(p.letter, clean(p.name)) for p in pieces}, key=_by_letter):
        named.setdefault(name, []).append(letter)
    told = [f"{', '.join(letters)} {name}" for name, letters in named.items()]
    whose = {initial(p.letter): clean(p.wearer) for p in pieces if initial(p.letter) and p.wearer}
    if len(whose) > 1:
        told.append(
            ", ".join(f"{letter} for {whose[letter]}" for letter in sorted(whose, key=rank))
        )
    return ("; " if any(len(letters) > 1 for letters in named.values()) else ", ").join(told)


def _by_letter(one: tuple[str, str]) -> tuple[tuple[int, str, int], str]:
    return rank(one[0]), one[1]
