"""Every lay of the gallery, spoiled in every way at every place: the referee must see each.

It must also say what is wrong: among its sentences is one of those that the kind of fault asks.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from changes import again, moved, recloth, recut, regoal, retorn, swapped, without
from random_lays import sheared

from marker import record as records
from marker.errors import BadInput
from marker.lay import Aim, Direction, Lay, Mode, Proof
from marker.piece import Wise
from marker.referee import findings

GALLERY = sorted((Path(__file__).parents[1] / "out").glob("*/lay.json"))
MOST = 8
"""So many places of a kind are spoiled in a lay; a company's lay has hundreds."""


def spread(number: int) -> range:
    """Places in a list of so many, evenly spread where there are too many."""
    return range(0, number, max(1, -(-number // MOST)))


def shifted(lay: Lay) -> Iterator[Lay]:
    """A torn copy one unit off its tears; a copy to be cut, on to the one before it."""
    for at in spread(len(lay.placements)):
        spot = lay.placements[at]
        if lay.mode is Mode.TEAR and lay.piece(spot.letter).outline is None and not lay.regions:
            yield moved(lay, at, x=spot.x + 1)
            yield moved(lay, at, y=spot.y - 1)
        elif len(lay.placements) > 1:
            other = lay.placements[at - 1]
            yield moved(lay, at, x=other.x + 1, y=other.y + 1)
        yield moved(lay, at, x=lay.bolt.x1)
        yield moved(lay, at, y=-1 - lay.cloth.width)


def swaps(lay: Lay) -> Iterator[Lay]:
    """Two torn copies of unlike sizes changed over."""
    for at in spread(len(lay.placements)):
        one, other = lay.placements[at - 1], lay.placements[at]
        sizes = [spot.rect(lay.piece(spot.letter)) for spot in (one, other)]
        if lay.mode is Mode.TEAR and len({(r.along, r.across) for r in sizes}) > 1:
            yield swapped(lay, at - 1, at)


def turned(lay: Lay) -> Iterator[Lay]:
    """A copy turned against its grain, and on one-way cloth upside down."""
    for at in spread(len(lay.placements)):
        spot = lay.placements[at]
        allowed = {turn for turn, _ in lay.piece(spot.letter).ways(lay.cloth.one_way)}
        for turn in {0, 90, 180, 270} - allowed - {(turn + 180) % 360 for turn in allowed}:
            yield moved(lay, at, turn=turn)


def dropped(lay: Lay) -> Iterator[Lay]:
    """A copy, a tear or a leftover not told of; of curved lays only some leftovers are told."""
    for field in ("placements", "tears", *(() if lay.shaped else ("offcuts",))):
        for at in spread(len(getattr(lay, field))):
            yield without(lay, field, at)


def doubled(lay: Lay) -> Iterator[Lay]:
    """The same told twice."""
    for field in ("placements", "tears", "offcuts"):
        for at in spread(len(getattr(lay, field))):
            yield again(lay, field, at)


def miscounted(lay: Lay) -> Iterator[Lay]:
    """One copy more or fewer asked for than lie there."""
    for at in spread(len(lay.pieces)):
        for count in (lay.pieces[at].count - 1, lay.pieces[at].count + 1):
            if count:
                yield recut(lay, at, count=count)


def resized(lay: Lay) -> Iterator[Lay]:
    """A torn piece one unit longer or broader than its place."""
    for at in spread(len(lay.pieces)):
        piece = lay.pieces[at]
        if piece.outline is None and lay.mode is Mode.TEAR and not lay.regions:
            yield recut(lay, at, length=piece.length + 1)
            yield recut(lay, at, breadth=piece.breadth + 1)


def short_tears(lay: Lay) -> Iterator[Lay]:
    """A tear that stops short of the edge of what is in hand."""
    for at in spread(len(lay.tears)):
        tear = lay.tears[at]
        across = tear.direction is Direction.ACROSS
        hand = tear.in_hand
        yield retorn(
            lay,
            at,
            in_hand=replace(hand, y1=hand.y1 - 1) if across else replace(hand, x1=hand.x1 - 1),
        )


def through(lay: Lay) -> Iterator[Lay]:
    """A tear one unit off its mark, into a piece; or along, where it should run across."""
    for at in spread(len(lay.tears)):
        tear = lay.tears[at]
        yield retorn(lay, at, at=tear.at + 1)
        yield retorn(lay, at, at=tear.at - 1)
        other = Direction.ALONG if tear.direction is Direction.ACROSS else Direction.ACROSS
        yield retorn(lay, at, direction=other)


def misnumbered(lay: Lay) -> Iterator[Lay]:
    """A tear out of its turn, or said to free what it doesn't."""
    for at in spread(len(lay.tears)):
        tear = lay.tears[at]
        yield retorn(lay, at, number=tear.number + 1)
        yield retorn(lay, at, frees=(*tear.frees, "ZZ-1"))


def mismatched(lay: Lay) -> Iterator[Lay]:
    """One of several matched copies one unit off, along or across, and so out of their phase."""
    repeat = lay.cloth.repeat
    for wise, every, axis in (
        (Wise.LENGTHWISE, repeat.along, "x"),
        (Wise.CROSSWISE, repeat.across, "y"),
    ):
        matched = [
            (at, match.name)
            for at, spot in enumerate(lay.placements)
            for match in lay.piece(spot.letter).matches
            if match.wise is wise and every > 1
        ]
        sets = Counter(name for _, name in matched)
        for at in dict.fromkeys(at for at, name in matched if sets[name] > 1):
            yield moved(lay, at, **{axis: getattr(lay.placements[at], axis) + 1})


def overclaimed(lay: Lay) -> Iterator[Lay]:
    """Another word of proof than the bound makes it."""
    for proof in Proof:
        if proof is not lay.proof:
            yield replace(lay, proof=proof)


def misbounded(lay: Lay) -> Iterator[Lay]:
    """A bound above the length, or of nothing, or found nobody knows how."""
    yield replace(lay, bound=lay.length + 1)
    yield replace(lay, bound=0)
    yield replace(lay, bound_by="")


def mismeasured(lay: Lay) -> Iterator[Lay]:
    """The lay, the bolt or the squaring told one unit longer or shorter."""
    yield replace(lay, length=lay.length + 1)
    yield replace(lay, length=lay.length - 1)
    yield replace(lay, bolt=replace(lay.bolt, x1=lay.bolt.x1 + 1))
    yield replace(lay, bolt=replace(lay.bolt, x1=lay.bolt.x1 - 1))
    yield replace(lay, bolt=replace(lay.bolt, y1=lay.bolt.y1 + 1))
    yield recloth(lay, squaring=lay.cloth.squaring + 1)


def misaimed(lay: Lay) -> Iterator[Lay]:
    """A goal's figure off by one, its bound on the wrong side, its ground left out."""
    for at, goal in enumerate(lay.goals):
        yield regoal(lay, at, value=goal.value + 1)
        if goal.value:
            yield regoal(lay, at, value=goal.value - 1)
        yield regoal(lay, at, bound=goal.value + (-1 if goal.aim is Aim.REMNANT else 1))
        yield regoal(lay, at, bound_by="")
    yield replace(lay, goals=lay.goals[1:])
    yield replace(lay, goals=lay.goals[::-1])


KINDS: dict[Callable[[Lay], Iterator[Lay]], str] = {
    shifted: "never torn free|lie over one another|outside the|goes through|which isn't in hand",
    swaps: "never torn free|lie over one another|goes through|isn't what the tears leave over",
    turned: "has its length|laid both ways|lies crosswise|print runs one way|can't lie at a selv",
    dropped: "Never laid|has the number|it frees|isn't listed as an offcut|less than the bolt",
    doubled: "is laid 2 times|has the number|is listed before|lie over one another",
    miscounted: "is laid [0-9]+ times?, but is cut|isn't one of its",
    resized: "never torn free|lie over one another|goes through|outside the",
    short_tears: "doesn't run from edge to edge",
    through: "goes through|never torn free|isn't inside the part|it frees|isn't listed as",
    misnumbered: "has the number|is said to free",
    mismatched: "falls in [0-9]+ places",
    overclaimed: "The claim is",
    misbounded: "is above the length|must be more than nothing|Nothing says how",
    mismeasured: "is said to be|The bolt lies at",
    misaimed: "The goals of a lay are|is told to be|The bound on the goal|Nothing says how",
}
"""Every kind of fault, with the words of which one must be among what the referee says."""


def spoiled(kind: Callable[[Lay], Iterator[Lay]], lay: Lay) -> Iterator[Lay]:
    """The lays of a kind, up to a piece that can't even be made."""
    try:
        yield from kind(lay)
    except BadInput:
        return


def all_seen(lay: Lay) -> Counter[str]:
    """How many faults of each kind were put into a good lay, one at a time, all of them seen."""
    tried: Counter[str] = Counter()
    assert findings(lay) == ()
    for kind, words in KINDS.items():
        for one in spoiled(kind, lay):
            assert one != lay
            told = findings(one)
            assert any(re.search(words, fault) for fault in told), (kind.__name__, told, one)
            tried[kind.__name__] += 1
    return tried


FEW = ("plain-skirt", "faced-skirt", "flawed-bolt", "matched-check", "remnant-skirt", "apron")
"""Cases whose lays are judged in every run; among them are all kinds of fault."""


@pytest.mark.skipif(not GALLERY, reason="the gallery is not part of this copy")
def test_hundreds_of_corruptions_are_caught() -> None:
    lays = [lay for path in GALLERY if path.parent.name in FEW for lay in records.load(path).lays]
    tried = sum(map(all_seen, [*lays, *map(sheared, range(4))]), Counter[str]())
    assert set(tried) == {kind.__name__ for kind in KINDS}
    assert tried.total() >= 900


@pytest.mark.skipif(not GALLERY, reason="the gallery is not part of this copy")
@pytest.mark.slow
def test_every_corruption_of_the_gallery_is_caught() -> None:
    lays = [lay for path in GALLERY if path.parent.name not in FEW
            for lay in records.load(path).lays]  # fmt: skip
    assert sum(map(all_seen, lays), Counter[str]()).total() >= 2000
