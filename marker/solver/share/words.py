"""Sentences on how pieces were shared out and strips pieced."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from marker.cloth import Cloth
from marker.piece import Piece, Pieced
from marker.solver.share.model import Segment, Shares
from marker.units import System, Units, format_length

FINE = {System.CM: "whole millimetres", System.IN: "whole eighths of an inch"}
"""The lengths among which the search looks, and so all that it can rule out."""


def tell(
    cloths: Mapping[str, Cloth],
    pieces: Sequence[Piece],
    shares: Shares,
    fewest: bool,
    units: Units,
) -> Iterator[str]:
    """One sentence for each strip and for each piece that several cloths could give.

    `fewest` says that fewer segments were proved not to do.
    """
    strips = [at for at, piece in enumerate(pieces) if piece.pieced]
    for at, piece in enumerate(pieces):
        whose = _whose(piece, pieces)
        if piece.pieced is not None and at in shares.segments:
            found, alone = shares.segments[at], len(strips) == 1
            yield _joined(cloths, piece, piece.pieced, found, whose, fewest and alone, units)
        elif piece.also and at in shares.copies:
            yield _shared(cloths, piece, shares.copies[at], whose)
    if fewest and len(strips) > 1:
        yield "With fewer strips in all it was proved not to do with so little cloth."


def _joined(
    cloths: Mapping[str, Cloth],
    piece: Piece,
    pieced: Pieced,
    found: Sequence[Segment],
    whose: str,
    fewest: bool,
    units: Units,
) -> str:
    name = piece.name.removesuffix(" strip")
    given = {segment.cloth for segment in found}
    where = _and([cloths[key].name for key in (piece.cloth, *piece.also) if key in given])
    if len(found) == 1:
        return f"The {name}{whose} is cut in one length from {where}."
    lengths = Counter(segment.length for segment in found)
    told = [(count, format_length(length, units)) for length, count in lengths.items()]
    sizes = _and([f"{count} of {size}" for count, size in told])
    dashes = f" – {sizes} –" if len(units.systems) > 1 else f" ({sizes})"  # no brackets in brackets
    sizes = f" of {told[0][1]}" if len(told) == 1 else dashes
    begin = f"The {name}{whose} is pieced from {len(found)} strips{sizes} from {where}"
    if not fewest:
        return f"{begin}."
    own = {key for key in (piece.cloth, *piece.also) if key in cloths}
    bolts = any(not cloths[key].length for key in own)
    why = "not to fit, or to take more cloth" if bolts else "not to fit"
    fine = "" if pieced.pitch else f", cut to {FINE[cloths[piece.cloth].system]},"
    return f"{begin}; with {len(found) - 1}{fine} it was proved {why}."


def _whose(piece: Piece, pieces: Sequence[Piece]) -> str:
    """Whose piece it is, where several garments or wearers have open ones."""
    others = [other for other in pieces if other.pieced or other.also]
    if len({other.garment for other in others}) == 1:
        return ""
    alone = sum(other.wearer == piece.wearer and other.name == piece.name for other in others) == 1
    return f" for {piece.wearer}" if alone and piece.wearer else f" of {piece.garment}"


def _shared(cloths: Mapping[str, Cloth], piece: Piece, keys: Sequence[str], whose: str) -> str:
    counts = {key: keys.count(key) for key in (piece.cloth, *piece.also) if key in keys}
    if len(counts) == 1:
        return f"The {piece.name}{whose} is cut from {cloths[keys[0]].name}."
    told = _and([f"{count} from {cloths[key].name}" for key, count in counts.items()])
    several = piece.name if piece.name.endswith("s") else f"{piece.name}s"
    return f"Of the {several}{whose}, {told} are cut."


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
