"""Are the right pieces laid, each as often as it is cut and lying as its grain asks?"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import fields

from marker.lay import Lay, Placement
from marker.piece import Grain, Piece
from marker.referee.laid import EIGHTHS, Laid, by_letter, copy_id, may_lie
from marker.referee.words import figure, place, plain, several, span, spell

_LETTER = re.compile(r"[A-Za-z][A-Za-z0-9]{0,7}")
_TAKEN = frozenset({"bolt", "flaw", "lay", "offcut", "region", "repeat", "tear"})
"""Words that the drawing's ids use, and a piece's letter can't."""
_SAME = tuple(
    field.name for field in fields(Piece) if field.name not in ("letter", "count", "mirrored")
)
"""What two entries of one and the same piece have in common."""


def list_faults(lay: Lay) -> Iterator[str]:
    """Faults of the list of pieces itself: letters, cloth, and marks off the piece."""
    if not lay.pieces:
        yield "The lay lists no piece to be cut."
    for letter, times in Counter(piece.letter for piece in lay.pieces).items():
        if times > 1:
            yield f"The letter {plain(letter)} is given to {times} pieces."
        if letter in _TAKEN or not _LETTER.fullmatch(letter):
            yield f"{plain(letter)} can't be the letter of a piece; use letters and figures."
    for piece in lay.pieces:
        letter = plain(piece.letter)
        if piece.cloth != lay.cloth.key:
            yield (
                f"Piece {letter} is cut from cloth {plain(piece.cloth)}, "
                f"but lies on {plain(lay.cloth.key)}."
            )
        if piece.also:
            yield (
                f"Piece {letter} may still be cut from {several(piece.also)}; "
                "in a lay its cloth is settled."
            )
        yield from _mark_faults(piece)
        yield from _wish_faults(piece)
    yield from _double_faults(lay.pieces)


def _double_faults(pieces: Sequence[Piece]) -> Iterator[str]:
    """What a garment needs stands once, cut `count` times; a second entry is cloth for nothing."""
    first: dict[tuple[object, ...], str] = {}
    for piece in pieces:
        # Left and right of a pair may stand apart: they differ in what is turned over.
        bare = (*(getattr(piece, name) for name in _SAME), piece.mirrored > 0)
        if piece.garment and first.setdefault(bare, piece.letter) != piece.letter:
            yield (
                f"Pieces {plain(first[bare])} and {plain(piece.letter)} are one and the same, "
                f"for garment {plain(piece.garment)}, and listed twice."
            )


def _mark_faults(piece: Piece) -> Iterator[str]:
    for mark in piece.marks:
        inside_u = min(mark.u0, mark.u1) >= 0 and max(mark.u0, mark.u1) <= piece.length
        inside_v = min(mark.v0, mark.v1) >= 0 and max(mark.v0, mark.v1) <= piece.breadth
        if not (inside_u and inside_v):
            yield (
                f"The {plain(mark.kind)} mark {mark.name[:40]!r} runs off piece "
                f"{plain(piece.letter)}: {span(mark.u0, mark.u1)} along it and "
                f"{span(mark.v0, mark.v1)} over its breadth."
            )


def _wish_faults(piece: Piece) -> Iterator[str]:
    for wish in piece.selvedges:
        if wish.within < 0:
            yield (
                f"Piece {plain(piece.letter)} wants an edge within {spell(wish.within)} "
                "of a selvedge."
            )


def count_faults(lay: Lay) -> Iterator[str]:
    """Faults of number: each piece lies exactly `count` times, its copies numbered from 1."""
    known = by_letter(lay)
    copies: dict[str, Counter[int]] = {letter: Counter() for letter in known}
    for spot in lay.placements:
        if spot.letter in known:
            copies[spot.letter][spot.copy] += 1
        else:
            yield f"{plain(spot.letter)} is laid, but no piece has that letter."
        yield from _turn_faults(spot, known.get(spot.letter))
    for letter, piece in known.items():
        yield from _copy_faults(piece, copies[letter])
    yield from _flip_faults(lay, known)


def _turn_faults(spot: Placement, piece: Piece | None) -> Iterator[str]:
    """Outlines turn by an eighth, anything else by a quarter."""
    if piece is not None and may_lie(piece, spot.turn):
        return
    if piece is None and spot.turn in EIGHTHS:
        return
    least = "a quarter" if piece is None or piece.outline is None else "an eighth"
    yield (
        f"{plain(copy_id(spot.letter, spot.copy))} is turned by {figure(spot.turn)} degrees, "
        f"which isn't {least} turn."
    )


def _flip_faults(lay: Lay, known: dict[str, Piece]) -> Iterator[str]:
    """As many copies are turned over as are asked; of a rectangle none need be."""
    over = Counter(spot.letter for spot in lay.placements if spot.flip)
    for letter, piece in known.items():
        if over[letter] == piece.mirrored or (piece.outline is None and not over[letter]):
            continue
        yield (
            f"Piece {plain(letter)} is laid turned over {figure(over[letter])} times, but is "
            f"cut so {figure(piece.mirrored)} times."
        )


def _copy_faults(piece: Piece, copies: Counter[int]) -> Iterator[str]:
    letter, total = plain(piece.letter), copies.total()
    if total != piece.count:
        yield f"Piece {letter} is laid {total} times, but is cut {figure(piece.count)} times."
    for copy, times in sorted(copies.items()):
        if times > 1:
            yield f"{letter}-{figure(copy)} is laid {times} times."
        if not 1 <= copy <= piece.count:
            yield f"{letter}-{figure(copy)} isn't one of its {figure(piece.count)} copies."
    # Only the gaps are counted off, and only a few are named: a count may be absurdly large.
    good = sum(1 for copy in copies if 1 <= copy <= piece.count)
    if good < piece.count:
        gaps: list[str] = []
        copy = 1
        while len(gaps) < 3 and copy <= piece.count:
            if copy not in copies:
                gaps.append(f"{piece.letter}-{copy}")
            copy += 1
        left = piece.count - good - len(gaps)
        more = f" (and {figure(left)} more)" if left > 0 else ""
        yield f"Never laid: {several(gaps)}{more}."


def grain_faults(lay: Lay, pieces: Sequence[Laid]) -> Iterator[str]:
    """Faults of grain, and of the one way that napped or printed cloth asks."""
    for spot in pieces:
        lies = _GRAINS[spot.turn % 90 or spot.turn % 180]
        grain = spot.piece.grain
        if grain == lies or (grain == Grain.EITHER and lies != Grain.BIAS):
            continue
        way = "on the bias" if lies == Grain.BIAS else f"{lies} the bolt"
        yield (
            f"{plain(spot.id)} has its length {way}, "
            f"but its grain is {plain(grain)}; it lies at {place(spot.rect)}."
        )
    if lay.cloth.one_way:
        yield from _one_way_faults(pieces)


_GRAINS = {0: Grain.ALONG, 90: Grain.ACROSS, 45: Grain.BIAS}


def _one_way_faults(pieces: Sequence[Laid]) -> Iterator[str]:
    """A free piece keeps its up along the warp, and no copy stands on its head.

    Up is towards the start of a piece's length or the high side of its breadth. Both point
    to the bolt's free end at 0 and 90 degrees, and away from it at 180 and 270, so one way
    means that the turns are all of the one half or all of the other. A copy turned over, as
    half of a pair is, has its turn run the other way. On the bias, copies that are alike lie
    on the same one of the two.
    """
    for spot in pieces:
        name, up, turn = plain(spot.id), spot.piece.up, spot.level % 180
        if spot.piece.grain == Grain.EITHER and turn == (90 if up == "length" else 0):
            yield f"{name} lies crosswise on one-way cloth; its up must follow the warp."
        if turn == 135:
            yield f"{name} lies on the other bias than the one that one-way cloth leaves it."
    heads = [spot.id for spot in pieces if spot.level >= 180]
    feet = [spot.id for spot in pieces if spot.level < 180]
    if heads and feet:
        yield (
            f"One-way cloth is laid both ways: {several(feet)} one way, {several(heads)} the other."
        )
