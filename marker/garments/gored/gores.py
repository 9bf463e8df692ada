"""Gores: how the waist and the round hem are shared out among them, and where each is worn.

Where the wearer is longer behind than in front, the hem stays level and the waist slopes: every
place of the waist has its own length, so that gores that meet have seams of one length.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from pydantic import Field

from marker.garments.order import Order
from marker.garments.words import Length, Size, Strict
from marker.units import ceil_to

MOST = 100
"""More gores than any skirt has: a larger figure is a slip."""
PLACES = {"front": Fraction(0), "side": Fraction(1, 4), "back": Fraction(1, 2)}
"""Where each place of the waist is, as a part of the way round from the middle of the front."""
INGALLS = {"front": Fraction(1, 4), "side": Fraction(1, 3), "back": Fraction(5, 12)}
"""Shares of the whole waist: front W/8 on the half, each side W/6, back the rest of W/2
(Ingalls, Text-Book on Domestic Art, 1911)."""
USUAL = {"front": 1, "side": 2, "back": 2}


class Gore(Strict):
    """The keys of one kind of gore; all have a usual value."""

    count: int | None = Field(
        default=None, ge=1, le=MOST, description="how many gores of the kind there are"
    )
    top: Size | None = Field(
        default=None, description='what one measures at the waist, such as "12 cm"'
    )
    hem: Size | None = Field(
        default=None, description='what one measures at the hem, such as "45 cm"'
    )


class Gores(Strict):
    """The keys of all gores together: how many are alike, and what they come to."""

    count: int | None = Field(
        default=None, ge=1, le=MOST, description="how many gores there are, all alike"
    )
    round: Size | None = Field(
        default=None, description='the round hem that they come to, such as "3 m"'
    )
    gathers: Length = Field(
        default=0, description='what the top measures over the waist, such as "15 cm"'
    )


@dataclass(frozen=True)
class Kind:
    """Gores of one width: what each measures at the waist and at the hem, units."""

    name: str
    count: int
    top: Fraction
    hem: Fraction


@dataclass(frozen=True)
class Worn:
    """One gore of the wearer's half: its kind, and from where to where round the waist it goes.

    Places are parts of the whole round from the middle of the front, so that the half goes to
    1/2. A gore that is `middle` lies half on the other half, as a front gore on the fold does.
    """

    kind: Kind
    begins: Fraction
    ends: Fraction
    middle: bool = False


def kinds(order: Order, gores: Gores, tables: Mapping[str, Gore | None], top: int) -> list[Kind]:
    """The kinds of gores with their widths; `top` is what all of them come to at the waist.

    Widths that the file leaves out share what the others leave, the tops of front, side and
    back gores as Ingalls shares the waist. Raises `BadInput` where the sums don't close.
    """
    there = _tables(order, gores, tables)
    counts = {name: table.count or USUAL.get(name, 1) for name, table in there.items()}
    if counts.get("side", 0) % 2:
        raise order.fault(
            f"side.count is {counts['side']}, and side gores come in pairs; give an even number"
        )
    widths = {name: table.top for name, table in there.items()}
    tops = _shared(order, counts, widths, top, "the waist", "top")
    hems = {name: table.hem for name, table in there.items()}
    around = gores.round
    if around is None:
        around = _added_up(order, counts, hems)
    found = _shared(order, counts, hems, around, "gores.round", "hem")
    made = [Kind(name, counts[name], tops[name], found[name]) for name in there]
    for kind in made:
        if kind.hem < kind.top:
            whose = "gores.round" if kind.name == "gore" else f"{kind.name}.hem"
            raise order.fault(
                f"{whose} gives a gore {_told(order, kind.hem)} at the hem, narrower than its top "
                f"of {_told(order, kind.top)}; give a wider hem"
            )
    return made


def _tables(order: Order, gores: Gores, tables: Mapping[str, Gore | None]) -> dict[str, Gore]:
    """The tables of the kinds that there are; gores that are all alike are called "gore"."""
    there = {name: table for name, table in tables.items() if table is not None}
    if gores.count and there:
        raise order.fault(
            "gores.count is for gores that are all alike, but there is a table "
            f"{next(iter(there))} too; take one out"
        )
    if not gores.count and not there:
        raise order.fault(
            "gores.count is missing; give how many gores are alike, or the tables front, side "
            "and back"
        )
    return {"gore": Gore(count=gores.count)} if gores.count else there


def _added_up(order: Order, counts: Mapping[str, int], hems: Mapping[str, int | None]) -> int:
    """The round hem that the hems of all gores add up to."""
    missing = next((name for name, hem in hems.items() if hem is None), None)
    if missing:
        key = "gores.round" if missing == "gore" else f"{missing}.hem"
        what = "it" if missing == "gore" else "it, or the round hem as gores.round"
        raise order.fault(f'{key} is missing; give {what}, such as "3 m"')
    return sum(counts[name] * (hem or 0) for name, hem in hems.items())


def _shared(
    order: Order,
    counts: Mapping[str, int],
    given: Mapping[str, int | None],
    whole: int,
    of: str,
    key: str,
) -> dict[str, Fraction]:
    """What one gore of each kind measures, so that all of them come to `whole`."""
    left = whole - sum(counts[name] * (size or 0) for name, size in given.items())
    open_ = [name for name, size in given.items() if size is None]
    what = f"{of} is {order.spell(whole)}"
    if not open_ and left:
        raise order.fault(
            f"{next(iter(given))}.{key}: the gores come to {_told(order, Fraction(whole - left))} "
            f"in all, but {what}; leave out the {key} of those that are to take the rest"
        )
    if open_ and left <= 0:
        raise order.fault(
            f"{open_[0]}.{key}: the other gores take {order.spell(whole - left)} and leave "
            f"nothing of it, where {what}; give them less"
        )
    if key == "top" and open_ == list(INGALLS):
        return {name: INGALLS[name] * whole / counts[name] for name in open_}
    each = Fraction(left, sum(counts[name] for name in open_)) if open_ else Fraction(0)
    return {name: each if size is None else Fraction(size) for name, size in given.items()}


def _told(order: Order, length: Fraction) -> str:
    return order.spell(round(length))


def half(found: Sequence[Kind]) -> list[Worn]:
    """The gores of one half in their order, from the middle of the front to that of the back.

    An odd front gore lies in the middle of the front, an odd back gore in that of the back;
    gores that are all alike begin with one in the middle of the front.
    """
    row: list[tuple[Kind, bool]] = []
    for kind in found:
        pairs, odd = divmod(kind.count, 2)
        if kind.name == "gore" and not odd:
            row += [(kind, True), *[(kind, False)] * (pairs - 1), (kind, True)]
        elif kind.name == "back":
            row += [*[(kind, False)] * pairs, *[(kind, True)] * odd]
        else:
            row += [*[(kind, True)] * odd, *[(kind, False)] * pairs]
    around = sum((kind.count * kind.top for kind in found), Fraction(0))
    made, at = [], Fraction(0)
    for kind, middle in row:
        ends = at + kind.top / around / (2 if middle else 1)
        made.append(Worn(kind, at, ends, middle))
        at = ends
    return made


@dataclass(frozen=True)
class Waistline:
    """The finished length at every place of the waist, given at the front, the side and the back.

    It goes over the three in one smooth wave, level where it crosses the middle of the front and
    of the back.
    """

    front: int
    side: int
    back: int

    def at(self, place: Fraction) -> float:
        """The length at a place, to a thousandth of a unit."""
        middle, swing, lift = self._waves
        turn = math.tau * float(place)
        return round(middle + swing * math.cos(turn) + lift * math.cos(2 * turn), 3)

    def steepest(self, around: int) -> float:
        """No part of a waist of that girth falls more steeply than this."""
        _, swing, lift = self._waves
        return math.tau * (abs(swing) + 2 * abs(lift)) / around

    @property
    def _waves(self) -> tuple[float, float, float]:
        ends = (self.front + self.back) / 2
        return (ends + self.side) / 2, (self.front - self.back) / 2, (ends - self.side) / 2


def seams(worn: Sequence[Worn]) -> Iterator[tuple[Fraction, tuple[int, str], tuple[int, str]]]:
    """The seams of one half: where each lies, and the gore and side on either side of it.

    A seam in the middle of the front or the back joins a gore to its own mirror image.
    """
    if not worn[0].middle:
        yield Fraction(0), (0, "low"), (0, "low")
    for index in range(len(worn) - 1):
        yield worn[index].ends, (index, "high"), (index + 1, "low")
    last = len(worn) - 1
    if not worn[-1].middle:
        yield worn[-1].ends, (last, "high"), (last, "high")
    elif not last:  # one gore alone is joined to itself
        yield worn[-1].ends, (last, "high"), (last, "low")


def opening_seam(worn: Sequence[Worn], at: str) -> tuple[Fraction, tuple[tuple[int, str], ...]]:
    """The seam nearest to the front, the side or the back: its place, and both sides of it."""
    place, *sides = min(seams(worn), key=lambda seam: abs(seam[0] - PLACES[at]))
    return place, tuple(dict.fromkeys(sides))


def measurable(
    found: Sequence[Kind], tables: Mapping[str, Gore | None], seam: int, grid: int
) -> list[Kind]:
    """Straight gores cut to a breadth that can be measured and torn, rounded up to the grid.

    Only widths that were shared out are rounded, not those that a table gives.
    """
    made = []
    for kind in found:
        table = tables.get(kind.name)
        if kind.top == kind.hem and not (table and (table.top or table.hem)):
            wide = Fraction(ceil_to(math.ceil(kind.hem) + 2 * seam, grid) - 2 * seam)
            kind = replace(kind, top=wide, hem=wide)
        made.append(kind)
    return made
