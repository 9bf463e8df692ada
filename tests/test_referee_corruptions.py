"""Every lay of the gallery, spoiled in every way at every place: the referee must see each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from changes import again, moved, recloth, recut, regoal, retorn, swapped, without

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
    """A torn copy one unit off its tears; a copy to be cut, on to the one after it."""
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
    """Cloth of another repeat, in which matched copies no longer fall in one phase."""
    repeat = lay.cloth.repeat
    for wise, changed in (
        (Wise.LENGTHWISE, replace(repeat, along=repeat.along + 1)),
        (Wise.CROSSWISE, replace(repeat, across=repeat.across + 1)),
    ):
        lengthwise = wise is Wise.LENGTHWISE
        places = {
            (spot.x if lengthwise else spot.y) // (repeat.along if lengthwise else repeat.across)
            for spot in lay.placements
            for match in lay.piece(spot.letter).matches
            if match.wise is wise
        }
        if len(places) > 1:
            yield recloth(lay, repeat=changed)


def misproved(lay: Lay) -> Iterator[Lay]:
    """Another word of proof, a bound above the length, or none; another length."""
    for proof in Proof:
        if proof is not lay.proof:
            yield replace(lay, proof=proof)
    yield replace(lay, bound=lay.length + 1)
    yield replace(lay, bound=0)
    yield replace(lay, bound_by="")
    yield replace(lay, length=lay.length + 1)
    yield replace(lay, length=lay.length - 1)
    yield replace(lay, bolt=replace(lay.bolt, x1=lay.bolt.x1 + 1))


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


KINDS: tuple[Callable[[Lay], Iterator[Lay]], ...] = (
    shifted, swaps, turned, dropped, doubled, miscounted, resized, short_tears, through,
    misnumbered, mismatched, misproved, misaimed,
)  # fmt: skip


def missed(kind: Callable[[Lay], Iterator[Lay]], lay: Lay, tried: Counter[str]) -> list[Lay]:
    """The spoiled lays of a kind in which the referee finds nothing."""
    found = []
    spoiled = kind(lay)
    while True:
        try:
            one = next(spoiled)
        except StopIteration:
            return found
        except BadInput:  # such a piece can't even be made
            return found
        tried[kind.__name__] += 1
        assert one != lay
        if not findings(one):
            found.append(one)


@pytest.mark.skipif(not GALLERY, reason="the gallery is not part of this copy")
@pytest.mark.slow
def test_every_corruption_of_a_good_lay_is_caught() -> None:
    tried: Counter[str] = Counter()
    for path in GALLERY:
        for lay in records.load(path).lays:
            assert findings(lay) == ()
            for kind in KINDS:
                for one in missed(kind, lay, tried):
                    raise AssertionError((path.parent.name, lay.cloth.key, kind.__name__, one))
    assert set(tried) == {kind.__name__ for kind in KINDS}
    assert tried.total() >= 300
