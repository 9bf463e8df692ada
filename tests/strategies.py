"""Hypothesis strategies: cloths, pieces, and what to lay on them, small enough to be proved."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import strategies as st

from marker.cloth import Cloth
from marker.piece import Grain, Piece
from marker.units import CM, INCH, MM

UNITS = (MM, CM, INCH // 2)
STRAIGHT = (Grain.ALONG, Grain.ACROSS, Grain.EITHER)
"""The grains that a rectangle may have."""


@st.composite
def cloths(draw: st.DrawFn) -> Cloth:
    """A cloth 20 to 160 cm wide, with or without selvedges, squaring, wash and nap."""
    return Cloth(
        key="c",
        name="cloth",
        width=draw(st.integers(20, 160)) * CM,
        step=draw(st.sampled_from((10 * CM, 9 * INCH // 2))),
        selvedge=draw(st.sampled_from((0, 8 * MM, INCH // 2))),
        keep_selvedges=draw(st.booleans()),
        squaring=draw(st.sampled_from((0, 2 * CM))),
        one_way=draw(st.booleans()),
        warp_shrinkage=Decimal(draw(st.sampled_from((0, 3)))),
        weft_shrinkage=Decimal(draw(st.sampled_from((0, 2)))),
    )


@st.composite
def pieces(draw: st.DrawFn, letter: str, widest: int) -> Piece:
    """A piece that fits a usable width in any turn, its sides in millimetres or half inches."""
    sides = []
    for _ in range(2):
        unit = draw(st.sampled_from(UNITS))
        sides.append(unit * draw(st.integers(1, max(1, min(40, widest // unit)))))
    return Piece(
        letter=letter,
        name=f"piece {letter}",
        length=sides[0],
        breadth=sides[1],
        count=draw(st.integers(1, 2)),
        cloth="c",
        grain=draw(st.sampled_from(STRAIGHT)),
        up=draw(st.sampled_from(("length", "breadth"))),
    )


@st.composite
def asks(draw: st.DrawFn, most: int = 6) -> tuple[Cloth, tuple[Piece, ...]]:
    """A cloth and up to `most` rectangles to tear from it, all copies counted."""
    cloth = draw(cloths())
    chosen: list[Piece] = []
    for letter in "ABCDEF"[: draw(st.integers(1, 5))]:
        piece = draw(pieces(letter, cloth.usable.across))
        if sum(other.count for other in chosen) + piece.count <= most:
            chosen.append(piece)
    return cloth, tuple(chosen)
