"""Judge one lay: every fault as one plain sentence, all of them, never an exception."""

from __future__ import annotations

from collections.abc import Iterator

from marker.lay import Lay, Mode
from marker.referee.apart import margin_faults
from marker.referee.bought import bolt_faults, cloth_faults, length_faults, proof_faults, shop
from marker.referee.figures import figure_faults
from marker.referee.flaws import flaw_faults
from marker.referee.folded import fold_faults
from marker.referee.goals import goal_faults, keep_faults
from marker.referee.laid import laid
from marker.referee.pieces import count_faults, grain_faults, list_faults
from marker.referee.room import area_faults, edge_faults, overlap_faults
from marker.referee.shape import shape_faults
from marker.referee.shears import mode_faults, shears_faults
from marker.referee.strips import segment_faults
from marker.referee.tears import tear_faults
from marker.referee.wishes import match_faults, selvedge_faults


def findings(lay: Lay) -> tuple[str, ...]:
    """Every fault of a lay, one sentence each; an empty tuple passes it.

    Sentences name pieces by their ids and spell lengths exactly. Where a figure isn't a
    whole number, only such faults are told, since nothing can be measured with it.
    """
    return tuple(figure_faults(lay)) or tuple(_faults(lay))


def _faults(lay: Lay) -> Iterator[str]:
    pieces, goods = laid(lay), shop(lay)
    yield from list_faults(lay)
    yield from count_faults(lay)
    yield from shape_faults(lay)
    yield from grain_faults(lay, pieces)
    yield from cloth_faults(lay)
    yield from edge_faults(lay, goods.low, goods.high, pieces)
    yield from overlap_faults(lay, pieces)
    yield from margin_faults(lay, pieces)
    yield from fold_faults(lay, goods.width, pieces)
    yield from flaw_faults(lay, pieces)
    yield from match_faults(lay, pieces)
    yield from selvedge_faults(goods.low, goods.high, pieces)
    yield from segment_faults(lay.pieces)
    yield from area_faults(lay, pieces)
    yield from bolt_faults(lay, goods)
    yield from length_faults(lay, goods, pieces)
    yield from mode_faults(lay)
    if lay.mode == Mode.SHEARS:
        yield from shears_faults(lay)
    else:
        yield from tear_faults(lay, goods, pieces)
    yield from keep_faults(lay, goods)
    yield from proof_faults(lay, goods)
    yield from goal_faults(lay, goods, pieces)
