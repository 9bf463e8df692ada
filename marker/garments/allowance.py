"""What a torn edge is given over: pieces are torn larger by it, and their marks keep their place.

A tear loses or ripples a thread or two. Where a cloth names an allowance for it, every
piece is drafted to its cut size first and grown here, once, at each edge that is torn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from marker import units
from marker.cloth import Cloth
from marker.garments.order import Order
from marker.piece import Grain, Mark, Match, Piece


def torn_edge(cloths: Sequence[Cloth], torn: bool) -> int:
    """The allowance of a piece that any of these cloths may give: the greatest of theirs.

    Nought where the piece may not be torn, or the cloths are cut with shears.
    """
    return max((cloth.torn_edge for cloth in cloths if cloth.tears), default=0) if torn else 0


def full_breadth(cloth: Cloth, torn: bool) -> int:
    """Cut width of a whole breadth: what is left of the usable width without the allowance.

    Kept selvedges are no torn edges, so that the breadth is the whole width.
    """
    usable = cloth.usable.across
    return usable if cloth.keep_selvedges else usable - 2 * torn_edge((cloth,), torn)


def longest_across(cloth: Cloth, cloths: Sequence[Cloth], lie: str, torn: bool) -> int:
    """The longest cut length that lies across one of the cloths that a strip may come from."""
    if lie == "across" and len(cloths) == 1:
        return full_breadth(cloth, torn)
    return cloth.usable.across - 2 * torn_edge(cloths, torn)


def grow(piece: Piece, cloths: Sequence[Cloth]) -> Piece:
    """The piece as it is torn: larger at both ends and both sides, its marks moved inwards.

    An edge at a kept selvedge is not torn: a piece that spans the whole width grows no
    further than to it. Marks that run out to an edge still do. A pieced strip grows at both
    ends of every segment, so that each join takes the allowance twice more.
    """
    over = torn_edge(cloths, piece.torn)
    if not over:
        return piece
    whole = cloths[0].usable.across if len(cloths) == 1 and cloths[0].keep_selvedges else 0
    spans = piece.grain is Grain.ACROSS and piece.pieced is None
    ends = _over(piece.length, over, whole if spans else 0)
    sides = _over(piece.breadth, over, whole if piece.grain is Grain.ALONG else 0)
    pieced = piece.pieced and replace(
        piece.pieced,
        total=piece.pieced.total + 2 * ends,
        seam=piece.pieced.seam + ends,
        least=piece.pieced.least + 2 * ends,
    )
    return replace(
        piece,
        length=piece.length + 2 * ends,
        breadth=piece.breadth + 2 * sides,
        marks=tuple(_moved(piece, mark, ends, sides) for mark in piece.marks),
        matches=tuple(_shifted(match, ends, sides) for match in piece.matches),
        pieced=pieced,
    )


def _over(size: int, over: int, whole: int) -> int:
    """What each of two opposite edges is given; up to the selvedges where they are kept."""
    return (whole - size) // 2 if size <= whole < size + 2 * over else over


def _moved(piece: Piece, mark: Mark, ends: int, sides: int) -> Mark:
    return replace(
        mark,
        u0=_inwards(mark.u0, piece.length, ends),
        u1=_inwards(mark.u1, piece.length, ends),
        v0=_inwards(mark.v0, piece.breadth, sides),
        v1=_inwards(mark.v1, piece.breadth, sides),
    )


def _inwards(at: int, size: int, over: int) -> int:
    """Where a place lies once the piece has grown: an edge stays an edge."""
    if at <= 0:
        return at
    return at + 2 * over if at >= size else at + over


def _shifted(match: Match, ends: int, sides: int) -> Match:
    return replace(match, u=match.u + ends, v=match.v + sides)


def allowance_advice(order: Order, pieces: Sequence[Piece]) -> Iterator[str]:
    """Say which pieces are torn larger, and from where to measure; one sentence an allowance."""
    grown: dict[int, dict[str, None]] = {}
    for piece in pieces:
        cloths = [order.cloths[key] for key in (piece.cloth, *piece.also)]
        if over := torn_edge(cloths, piece.torn and piece.outline is None):
            grown.setdefault(over, {})[piece.name] = None
    for over, names in grown.items():
        told = _spell(order, over)
        yield (
            f"Torn edges have {told} over for the threads that a tear loses or ripples "
            f"({', '.join(names)}): measure seams, turn-downs and hems from {told} inside them."
        )


def _spell(order: Order, over: int) -> str:
    """The allowance as it prints, or exactly where print would round it."""
    if units.is_rounded(over, order.system, fine=True):
        return units.format_exact(over)
    return units.format_length(over, order.units, fine=True)
