"""Flounces: strips gathered on to a skirt's edge, or rings that flare from it without gathers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from marker.garments.curved.ring import Ring, ring_panels
from marker.garments.joined import Asked, Joined, equal, fewest, free, free_only
from marker.garments.made import Made
from marker.garments.order import Order, Usual
from marker.garments.strips import Lie, strip
from marker.garments.tucks import Tucked, Tucks, tucked, tucks_made
from marker.garments.words import Length, Size, Texts, Times
from marker.garments.work.flounces import NEXT, Hung, flounce_met, ring_worked, strips_worked
from marker.garments.work.hems import Rim
from marker.piece import Edges, Mark, MarkKind
from marker.record import Item

FULNESS = Fraction(3, 2)
"""Ingalls, Text-Book on Domestic Art, 1911; Kinne and Cooley, Clothing and Health, 1916."""
SCANT = Fraction(5, 4)
"""A dust ruffle has 1 1/4 to 1 1/3 times its length (Baldt, Clothing for Women, 1916)."""
HEM = Usual("1.5 cm", "5/8 in")
MOST_PANELS = 100


class Flounce(Asked):
    """The keys of a flounce; `depth` alone must be given."""

    depth: Size = Field(description='the finished depth, such as "20 cm"')
    cut: Literal["gathered", "ring"] = Field(
        default="gathered", description="strips that are gathered, or a ring that flares"
    )
    sewn: Literal["to the edge", "over"] = Field(
        default="to the edge",
        description="whether it makes the skirt's lower part, or lies over it down to the hem",
    )
    fulness: Times | None = Field(
        default=None, description="how many times as long its lower edge is as what it goes on"
    )
    bottom: Size | None = Field(
        default=None, description='the finished lower edge of a ring, such as "4 m"'
    )
    panels: int | None = Field(
        default=None,
        ge=1,
        le=MOST_PANELS,
        description=f"how many panels a ring is cut in, from 1 to {MOST_PANELS}",
    )
    hem: Length | None = Field(default=None, description='what its own hem takes, such as "1.5 cm"')
    tucks: Tucks | None = Field(default=None, description="a table for tucks in it")
    lie: Lie | None = Field(default=None, description="which way its length lies on the cloth")
    cloth: Texts | None = Field(
        default=None, description="the key of the cloth it is cut from, or a list of them"
    )
    torn: bool = Field(default=True, description="false where no edge of it may be torn")


def _as_list(value: Any) -> Any:
    return [value] if isinstance(value, dict) else value


ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
Flounces = Annotated[list[Flounce], Field(max_length=len(ORDINALS)), BeforeValidator(_as_list)]
"""One table, or a list of tables for several flounces, the uppermost first."""


@dataclass(frozen=True)
class Round:
    """The finished round that a flounce goes on: now, and with open panels at their widest."""

    now: int
    widest: int

    def times(self, fulness: Fraction) -> Round:
        """Both, so many times as long, up to a whole unit."""
        return Round(math.ceil(self.now * fulness), math.ceil(self.widest * fulness))


@dataclass(frozen=True)
class Tier:
    """One flounce among others: its table and name, the seam it is sewn on with, and whether its
    lower edge takes the next one, and so a seam in place of a hem. It is sewn to `rim`."""

    part: str
    name: str
    seam: int
    carries: bool
    rim: Rim

    def hem(self, order: Order, flounce: Flounce) -> int:
        """What its lower edge takes."""
        return self.seam if self.carries else order.usual(flounce.hem, HEM)

    @property
    def lower(self) -> tuple[str, MarkKind, str]:
        """What its lower edge is called, and the finished line above it."""
        return (NEXT, MarkKind.SEAM, NEXT) if self.carries else ("hem", MarkKind.HEM, "hem line")


def shortened(flounces: Sequence[Flounce]) -> int:
    """What flounces make of the finished length, so that the panels are cut the shorter."""
    return sum(flounce.depth for flounce in flounces if flounce.sewn == "to the edge")


def flounced(
    order: Order, flounces: Sequence[Flounce], around: Round, seam: int, rim: Rim
) -> tuple[Made, Round, Rim]:
    """All flounces of a garment, and the lowest edge there is, with its round.

    Each is sewn to the edge of the last, or over the panels, whose lower edge, `rim`, goes
    `around`. Raises `BadInput` naming the key.
    """
    edge, made, lowest = around, Made(), rim
    for index, flounce in enumerate(flounces):
        several = len(flounces) > 1
        part = f"flounce (number {index + 1})" if several else "flounce"
        name = f"{ORDINALS[index]} flounce" if several else "flounce"
        over = flounce.sewn == "over"
        carries = not over and any(each.sewn != "over" for each in flounces[index + 1 :])
        tier = Tier(part, name, seam, carries, rim if over else lowest)
        _agree(order, flounce, tier)
        make = _ring if flounce.cut == "ring" else _gathered
        one, lower = make(order, flounce, tier, around if over else edge)
        if not over:
            edge = lower
            lowest = Rim(tuple(piece.name for piece in one.pieces), tier.lower[0])
        made += one
    return made, edge, lowest


RING_ONLY = ("bottom", "panels")
STRIPS_ONLY = ("strips", "shortest", "most", "tucks", "lie")


def _agree(order: Order, flounce: Flounce, tier: Tier) -> None:
    """Refuse keys that say nothing of the way it is cut, or of what becomes of its edge."""
    part, ring = tier.part, flounce.cut == "ring"
    if tier.carries and flounce.hem is not None:
        raise order.fault(
            f"{part}.hem is given, but the next flounce is sewn to its lower edge; take it out"
        )
    for key in STRIPS_ONLY if ring else RING_ONLY:
        if getattr(flounce, key) is not None:
            raise order.fault(
                f"{part}.{key} is for a flounce that is {'gathered' if ring else 'a ring'}; write "
                f'{part}.cut = "{"gathered" if ring else "ring"}", or take it out'
            )
    if ring and (flounce.bottom is None) == (flounce.fulness is None):
        told = "both missing" if flounce.bottom is None else "both given"
        raise order.fault(
            f"{part}: fulness and bottom are {told}; "
            "give the ring's lower edge, or how many times as long it is as the upper one"
        )
    free_only(order, part, flounce)
    whole = flounce.strips is None and not ring
    if whole and flounce.lie not in (None, "across"):
        raise order.fault(
            f"{part}.lie is {flounce.lie!r}, but whole breadths lie across the cloth; give "
            f'{part}.strips a number, or "free"'
        )


def _gathered(order: Order, flounce: Flounce, tier: Tier, top: Round) -> tuple[Made, Round]:
    part, name, seam = tier.part, tier.name, tier.seam
    fulness = flounce.fulness or FULNESS
    wanted = top.times(fulness)
    whole = flounce.strips is None
    lie = "across" if whole else flounce.lie or "either"
    cloths = order.cloths_of(f"{part}.cloth", flounce.cloth)
    joined = Joined(part, cloths, lie, flounce.torn, seam, wanted.now, wanted.widest)
    length, count, edge = _joined(order, flounce, joined)
    pieced = free(order, joined, flounce) if flounce.strips == "free" else None
    hem = tier.hem(order, flounce)
    made = tucked(order, f"{part}.tucks", flounce.tucks, flounce.depth)
    depth = flounce.depth + seam + hem + made.takes
    piece = strip(
        order,
        part,
        cloths,
        lie,
        (length, depth),
        name=f"{name} strip",
        edges=Edges(start="join", end="join", low=tier.lower[0], high="gathered"),
        marks=_strip_marks(length, depth, tier, hem, made),
        count=count,
        torn=flounce.torn,
        pieced=pieced,
    )
    figures = (Item(f"{name} before gathering", edge.now),)
    tucks = tucks_made(order, f"the {name}", made, (piece.name,), NEXT if tier.carries else "")
    said = *tucks.advice, *_fulness_advice(name, edge.now, top.now)
    own = 0 if tier.carries else hem
    hung = Hung(name, piece, tier.rim, edge.now, top.now, seam, own, flounce.sewn == "over")
    work = tuple(strips_worked(order, hung, tucks.work))
    sewn = tuple(flounce_met(hung, tier.lower[0], "gathered", "join"))
    return Made((piece,), figures=figures, advice=said, work=work, sewn=sewn), edge


def _joined(order: Order, flounce: Flounce, joined: Joined) -> tuple[int, int, Round]:
    """Cut length and number of the strips, and the round that they make once joined.

    Of free strips one stands for all.
    """
    if flounce.strips == "free":
        return joined.sewn + 2 * joined.seam, 1, Round(joined.sewn, joined.widest)
    longest, seams = joined.across, 2 * joined.seam
    if isinstance(flounce.strips, int):
        count = flounce.strips
        each, widest = (
            equal(order, replace(joined, sewn=sewn), count, longest)
            for sewn in (joined.sewn, joined.widest)
        )
    else:
        count = fewest(order, joined, longest)
        each = widest = longest
    return each, count, Round(count * (each - seams), count * (widest - seams))


def _strip_marks(length: int, depth: int, tier: Tier, hem: int, made: Tucked) -> tuple[Mark, ...]:
    seam, (_, kind, name) = tier.seam, tier.lower
    joins = tuple(Mark(MarkKind.SEAM, "join", u, 0, u, depth) for u in (seam, length - seam))
    top = Mark(MarkKind.SEAM, "gathering line", 0, depth - seam, length, depth - seam)
    low = (Mark(kind, name, 0, hem, length, hem),) if hem else ()
    folds = tuple(Mark(MarkKind.FOLD, "tuck", 0, hem + up, length, hem + up) for up in made.folds())
    return (*joins, top, *low, *folds)


def _fulness_advice(name: str, edge: int, top: int) -> tuple[str, ...]:
    """Whether the gathers are scant."""
    if edge >= SCANT * top:
        return ()
    return (
        f"The {name} is only {edge / top:.2f} times as long as what it goes on; "
        "flounces mostly have 1 1/2 times.",
    )


def _ring(order: Order, flounce: Flounce, tier: Tier, top: Round) -> tuple[Made, Round]:
    part, name = tier.part, tier.name
    if top.widest != top.now:
        raise order.fault(
            f'{part}.cut is "ring", and its curve hangs on the panels\' width, which is left '
            "open; give one width"
        )
    bottom = flounce.bottom or top.times(flounce.fulness or FULNESS).now
    if bottom <= top.now:
        raise order.fault(
            f"{part}.bottom is {order.spell(bottom)}, no more than the {order.spell(top.now)} that "
            "it goes on, so that it doesn't flare; give a longer lower edge"
        )
    cloths = order.cloths_of(f"{part}.cloth", flounce.cloth)
    hem = tier.hem(order, flounce)
    ring = Ring(top.now, bottom, flounce.depth, tier.seam, hem, *tier.lower)
    piece = ring_panels(order, part, name, ring, cloths, flounce.panels)
    figures = (
        Item(f"{name} round its lower edge", bottom),
        Item(f"{name} radius of the upper seam line", round(ring.radius)),
    )
    said = () if tier.carries else _eased(order, name, math.ceil(2 * hem * ring.angle))
    own = 0 if tier.carries else hem
    hung = Hung(name, piece, tier.rim, bottom, top.now, tier.seam, own, flounce.sewn == "over")
    work = tuple(ring_worked(order, hung, eased=bool(said)))
    sewn = tuple(flounce_met(hung, tier.lower[0], "upper edge", "seam"))
    return Made((piece,), figures=figures, advice=said, work=work, sewn=sewn), Round(bottom, bottom)


def _eased(order: Order, name: str, surplus: int) -> tuple[str, ...]:
    """How much longer the cut edge of a ring is than the place that its hem is sewn to.

    Both lie a hem's depth from the hem line, the one outside and the other inside it.
    """
    if surplus < order.grid:
        return ()
    return (
        f"The cut edge of the {name} is {order.spell(surplus)} longer than the place its hem is "
        "sewn to; ease it in evenly, or take a narrower hem.",
    )
