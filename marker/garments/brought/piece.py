"""A piece that the user brings, as the case file gives it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marker.errors import BadInput
from marker.garments.order import Order
from marker.geometry import Outline
from marker.geometry.curves import Spot
from marker.geometry.offset import Corner
from marker.piece import Grain, Wise


@dataclass(frozen=True)
class Matched:
    """A place of a piece that falls in one place of the repeat with all others of its `set`.

    `at` is counted from the corner of the box round the outline as it is drawn.
    """

    set: str
    at: Spot
    wise: tuple[Wise, ...]


@dataclass(frozen=True)
class OwnPiece:
    """One piece as the case file gives it, its outline read: u along its length, v across.

    `outline` is the finished shape, or the cut one where `included`; with a `fold` it is the
    half that lies on that edge. `seam` is None where nothing is said of it, `seams` are the
    allowances of edges by name. Edges bear the names SIDES where `plain_names`. `matched` is
    none where nothing is to match.
    """

    key: str
    name: str
    outline: Outline
    cloths: tuple[str, ...]
    count: int = 1
    grain: Grain = Grain.ALONG
    pairs: bool = False
    fold: str = ""
    seam: int | None = None
    seams: Mapping[str, int] | None = None
    included: bool = False
    corners: Corner = Corner.MITRED
    torn: bool | None = None
    plain_names: bool = False
    matched: Matched | None = None

    @property
    def added(self) -> bool:
        """Whether seam allowance is put outside the outline."""
        return not self.included and bool(self.seam or self.seams)


def own_fault(order: Order, own: OwnPiece, text: str) -> BadInput:
    """An error about one of these pieces: `text` goes on from its table."""
    return BadInput(f"{order.file}: piece.{own.key}{text}")
