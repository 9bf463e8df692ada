"""Random cloths and pieces for property tests, in whole centimetres."""

from __future__ import annotations

from hypothesis import strategies as st

from marker.cloth import Cloth
from marker.piece import Grain, Piece
from marker.units import CM


@st.composite
def pieces(draw: st.DrawFn, width: int = 12, most: int = 5) -> list[Piece]:
    """One to `most` kinds of piece that fit a usable width of `width` cm in any turn."""
    side = st.integers(1, width)
    return [
        Piece(
            chr(ord("A") + index), "piece", draw(side) * CM, draw(side) * CM,
            count=draw(st.integers(1, 2)), cloth="main", grain=draw(st.sampled_from(Grain)),
            up=draw(st.sampled_from(("length", "breadth"))),
        )
        for index in range(draw(st.integers(1, most)))
    ]  # fmt: skip


def cloth(width: int = 12, **changes: object) -> Cloth:
    """A cloth with `width` cm to use, sold by the centimetre."""
    base: dict[str, object] = {"key": "main", "name": "linen", "width": width * CM, "step": CM}
    return Cloth(**(base | changes))  # type: ignore[arg-type]
