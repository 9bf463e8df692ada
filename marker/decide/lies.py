"""Which way a band or a facing lies where the file leaves that open, and what the other would take.

The search on the cloth chooses, since it turns pieces as suits; so the reason is found by planning
the case once more with the other way written into it. That is done where the file says "either",
not where it says nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from marker.casefile import Case
from marker.casefile.changes import Key, value_at
from marker.decide.desk import Desk, Laid
from marker.decide.otherwise import UNTOLD, Rest, otherwise, taken
from marker.lay import Lay
from marker.solver.stop import asked
from marker.units import Rounding, Units, format_bought, format_length

PARTS = {"band": ("band", "band strip"), "facing": ("facing strip",)}
"""Parts that may lie either way, and what their pieces are called."""
WAYS = ("along", "across")


@dataclass(frozen=True)
class OpenLie:
    """A part of a garment, by its table, that the file lets lie either way."""

    table: str
    name: str
    part: str
    garments: tuple[str, ...]


def open_lies(case: Case) -> tuple[OpenLie, ...]:
    """The parts whose direction the file leaves open in so many words."""
    names = {order.table: order.name for order in case.orders}
    return tuple(
        OpenLie(table, name, part, tuple(o.key for o in case.orders if o.table == table))
        for table, name in names.items()
        for part in PARTS
        if value_at(case, ("garment", table, part, "lie")) == "either"
    )


def lies_told(desk: Desk, best: Laid, wanted: tuple[OpenLie, ...], rest: Rest) -> Iterator[str]:
    """A sentence for each way that such a part could lie and doesn't."""
    for one in wanted:
        for lay, how in _lying(one, best):
            for other in (way for way in WAYS if way != how):
                if asked():
                    return
                if rest.over:
                    yield f"{_begin(one, how)}; what it takes {other} was not reckoned: {UNTOLD}."
                    continue
                key: Key = ("garment", one.table, one.part, "lie")
                found = otherwise(desk, lay.cloth.key, {key: other}, rest)
                yield _sentence(one, how, other, lay, found and found[0], desk.case.units)


def _lying(one: OpenLie, best: Laid) -> Iterator[tuple[Lay, str]]:
    """How the part lies on each cloth that it is cut from: one way, or both."""
    for lay in best.lays:
        letters = {
            piece.letter
            for piece in lay.pieces
            if piece.garment in one.garments and piece.name in PARTS[one.part]
        }
        turns = {WAYS[spot.turn // 90 % 2] for spot in lay.placements if spot.letter in letters}
        if turns:
            yield lay, next(iter(turns)) if len(turns) == 1 else "both ways on"


def _begin(one: OpenLie, how: str) -> str:
    return f"The {one.part} of {one.name} lies {how} the bolt"


def _sentence(
    one: OpenLie, how: str, other: str, lay: Lay, found: Lay | None, system: Units
) -> str:
    begin = _begin(one, how)
    if found is None:
        return f"{begin}: it can't lie {other}."
    if lay.cloth.length:
        mine, theirs = (format_length(taken(x), system, Rounding.UP) for x in (lay, found))
        return f"{begin}: {mine} used against {theirs} {other}."
    mine, theirs = (format_bought(x.buy, system) for x in (lay, found))
    if lay.buy != found.buy:
        return f"{begin}: {mine} to buy against {theirs} {other}."
    used, theirs = (format_length(x.length, system, Rounding.UP) for x in (lay, found))
    if used == theirs:
        return f"{begin}: {mine} to buy and {used} used, as {other} too."
    return f"{begin}: {mine} to buy either way, and {used} used against {theirs} {other}."
