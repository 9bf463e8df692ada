"""Do pieces lie where print and selvedge ask: sets matched over the repeat, edges at a selvedge?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.lay import Lay
from marker.piece import AtSelvedge, Side, Wise
from marker.referee.laid import Laid, carry
from marker.referee.words import figure, plain, several, spell

_SHOWN = 4
"""Places in the repeat that one sentence names."""

Set = tuple[str, str]
"""A matched set: its name, and the way in which it is matched."""


def match_faults(lay: Lay, pieces: Sequence[Laid]) -> Iterator[str]:
    """Sets whose points don't all fall in one place of the repeat.

    Where in the repeat is free, and where the cloth has no repeat that way there is no rule.
    """
    repeats = {Wise.LENGTHWISE: lay.cloth.repeat.along, Wise.CROSSWISE: lay.cloth.repeat.across}
    falls: dict[Set, dict[int, dict[str, None]]] = {}
    # On the bias a point comes to the nearest unit, so there one unit off is in place; what
    # lies square to the cloth is taken first, and sets the place.
    for spot in sorted(pieces, key=lambda spot: spot.turn % 90):
        for match in spot.piece.matches:
            repeat = repeats[match.wise]
            if repeat <= 0:
                continue
            x, y = carry(spot, match.u, match.v)
            at = (x if match.wise == Wise.LENGTHWISE else y) % repeat
            places = falls.setdefault((match.name, match.wise), {})
            if spot.turn % 90:
                near = ((at + off) % repeat for off in (0, -1, 1))
                at = next((place for place in near if place in places), at)
            # An ordered set: a copy with two points of one set in one place is named once.
            places.setdefault(at, {})[spot.id] = None
    for (name, wise), found in falls.items():
        if len(found) > 1:
            told = [f"{several(list(ids))} at {spell(at)}" for at, ids in sorted(found.items())]
            more = f"; and {len(told) - _SHOWN} places more" if len(told) > _SHOWN else ""
            yield (
                f"In the {plain(wise)} repeat of {spell(repeats[Wise(wise)])} the match "
                f"{plain(name)} falls in {figure(len(told))} places: "
                f"{'; '.join(told[:_SHOWN])}{more}."
            )
    yield from _sense_faults(pieces, repeats)


def _sense_faults(pieces: Sequence[Laid], repeats: dict[Wise, int]) -> Iterator[str]:
    """Copies of one set that lie half a turn apart: away from the point the print runs back."""
    senses: dict[str, dict[bool, dict[str, None]]] = {}
    for spot in pieces:
        for match in spot.piece.matches:
            if repeats[match.wise] > 0:
                ids = senses.setdefault(match.name, {}).setdefault(spot.level >= 180, {})
                ids[spot.id] = None
    for name, found in senses.items():
        if len(found) > 1:
            yield (
                f"In the match {plain(name)} the print runs one way in "
                f"{several(list(found[False]))}, and the other, half a turn round, in "
                f"{several(list(found[True]))}."
            )


def selvedge_faults(low: int, high: int, pieces: Sequence[Laid]) -> Iterator[str]:
    """Edges that must lie at a selvedge and don't; `low` and `high` bound the usable cloth."""
    for spot in pieces:
        for wish in spot.piece.selvedges:
            either = (Side.LOW, Side.HIGH)
            edges = either if wish.edge == Side.EITHER_SIDE else (Side(wish.edge),)
            away = [_away(spot, edge, low, high) for edge in edges]
            near = [far for far in away if far is not None]
            if not near:
                yield (
                    f"{_edge(wish)} of {plain(spot.id)} runs across the cloth, "
                    "so it can't lie at a selvedge as it must."
                )
            elif min(near) > wish.within:
                yield (
                    f"{_edge(wish)} of {plain(spot.id)} lies {spell(min(near))} from the edge of "
                    f"the usable cloth, more than the {spell(wish.within)} that it may."
                )


def _edge(wish: AtSelvedge) -> str:
    if wish.edge == Side.EITHER_SIDE:
        return "The nearer side"
    return f"The {plain(wish.edge)} edge"


def _away(spot: Laid, edge: Side, low: int, high: int) -> int | None:
    """How far an edge lies from the nearer edge of the usable cloth; None where it runs across."""
    length, breadth = spot.piece.length, spot.piece.breadth
    ends = {
        Side.START: ((0, 0), (0, breadth)),
        Side.END: ((length, 0), (length, breadth)),
        Side.LOW: ((0, 0), (length, 0)),
        Side.HIGH: ((0, breadth), (length, breadth)),
    }[edge]
    (_, y), (_, other) = (carry(spot, u, v) for u, v in ends)
    # Past the usable cloth is a fault of its own, and no better than at a distance.
    return min(abs(y - low), abs(high - y)) if y == other else None
