"""The referee on random lays and random faults, on overlaps counted slowly, and in time."""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations
from typing import Any

import pytest
from changes import again, moved, recloth, recut, regoal, retorn, swapped, without
from hypothesis import example, given, settings
from hypothesis import strategies as st
from lays import ACROSS, ALONG, Bench, whole
from random_lays import sheared, torn

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Aim, Goal, Lay, Mode, Offcut, Placement, Proof
from marker.piece import AtSelvedge, Grain, Piece, Side, Wise
from marker.referee import findings
from marker.referee.room import overlaps
from marker.referee.shears import largest_gap


@settings(max_examples=100)
@given(st.integers(0, 10**9))
def test_random_lays_pass(seed: int) -> None:
    assert findings(torn(seed)) == ()
    assert findings(sheared(seed)) == ()


def _shift(lay: Lay, dice: random.Random) -> Lay:
    at = dice.randrange(len(lay.placements))
    spot, by = lay.placements[at], dice.choice((-1, 1))
    return moved(lay, at, **dice.choice(({"x": spot.x + by}, {"y": spot.y + by})))


def _drop(lay: Lay, dice: random.Random) -> Lay:
    field = dice.choice([name for name in ("placements", "tears", "offcuts") if getattr(lay, name)])
    return without(lay, field, dice.randrange(len(getattr(lay, field))))


def _double(lay: Lay, dice: random.Random) -> Lay:
    field = dice.choice([name for name in ("placements", "tears", "offcuts") if getattr(lay, name)])
    return again(lay, field, dice.randrange(len(getattr(lay, field))))


def _swap(lay: Lay, dice: random.Random) -> Lay:
    """Two copies changed over; equal ones that one tear frees together would be no fault.

    With shears, equal ones may change places whatever they are.
    """
    sizes = [spot.rect(lay.piece(spot.letter)) for spot in lay.placements]
    together = [set(tear.frees) for tear in lay.tears]
    pairs = [
        (one, other)
        for one, first in enumerate(lay.placements)
        for other, second in enumerate(lay.placements[:one])
        if {first.id, second.id} not in together
        and (lay.tears or _size(sizes[one]) != _size(sizes[other]))
    ]
    return swapped(lay, *dice.choice(pairs)) if pairs else _shift(lay, dice)


def _size(rect: Rect) -> tuple[int, int]:
    return rect.along, rect.across


def _resize(lay: Lay, dice: random.Random) -> Lay:
    at = dice.randrange(len(lay.pieces))
    piece = lay.pieces[at]
    side = dice.choice(("length", "breadth", "count"))
    return recut(lay, at, **{side: getattr(piece, side) + 1})


def _retear(lay: Lay, dice: random.Random) -> Lay:
    if not lay.tears:
        return _resize(lay, dice)
    at = dice.randrange(len(lay.tears))
    tear = lay.tears[at]
    other = ACROSS if tear.direction is ALONG else ALONG
    hand = replace(tear.in_hand, x1=tear.in_hand.x1 - 1)
    changes: list[dict[str, Any]] = [
        {"at": tear.at + dice.choice((-1, 1))}, {"direction": other}, {"in_hand": hand},
        {"number": tear.number + 1}, {"frees": (*tear.frees, "P0-1")},
    ]  # fmt: skip
    return retorn(lay, at, **dice.choice(changes))


def _reclaim(lay: Lay, dice: random.Random) -> Lay:
    proof = dice.choice([proof for proof in Proof if proof is not lay.proof])
    changes: list[dict[str, Any]] = [
        {"proof": proof}, {"length": lay.length + dice.choice((-1, 1))},
        {"bound": lay.length + 1}, {"bound": 0},
        {"bolt": replace(lay.bolt, x1=lay.bolt.x1 + dice.choice((-1, 1)))},
    ]  # fmt: skip
    return replace(lay, **dice.choice(changes))


def _reorder(lay: Lay, dice: random.Random) -> Lay:
    """Two tears done in the wrong order, numbered as they then stand."""
    later = [
        (at, by)
        for at, tear in enumerate(lay.tears)
        for by in range(at)
        if lay.tears[by].in_hand.holds(tear.in_hand)
    ]
    if not later:
        return _retear(lay, dice)
    one, other = dice.choice(later)
    order = list(lay.tears)
    order[one], order[other] = order[other], order[one]
    order = [replace(tear, number=at) for at, tear in enumerate(order, 1)]
    return replace(lay, tears=tuple(order))


def _recloth(lay: Lay, dice: random.Random) -> Lay:
    """Cloth that a lay of this mode can't be laid on, or with a flaw under a piece."""
    spot = dice.choice(lay.placements)
    rect = spot.rect(lay.piece(spot.letter))
    flaw = Rect(rect.x0 - 1, rect.y1 - 1, rect.x0 + 1, rect.y1 + 1)
    changes: list[dict[str, Any]] = [
        {"flaws": (*lay.cloth.flaws, flaw)}, {"flaws": (Rect(0, 0, 0, 0),)},
        {"repeat": replace(lay.cloth.repeat, across=-1)}, {"least_strip": -1},
        {"torn_edge": -1}, {"length": 2 * (lay.cloth.length or lay.goals[0].value)},
    ]  # fmt: skip
    if lay.mode is Mode.TEAR:
        changes.append({"tears": False})
    return recloth(lay, **dice.choice(changes))


def _unwish(lay: Lay, dice: random.Random) -> Lay:
    """A wish for a selvedge one unit nearer than the piece lies, or for one that it can't have."""
    at = dice.randrange(len(lay.pieces))
    wishes = lay.pieces[at].selvedges
    turns = [spot.turn for spot in lay.placements if spot.letter == lay.pieces[at].letter]
    edge = Side.START if turns[0] % 180 == 0 else Side.LOW
    nearer = tuple(replace(wish, within=wish.within - 1) for wish in wishes)
    return recut(lay, at, selvedges=nearer or (AtSelvedge(edge, lay.bolt.x1),))


def _unmatch(lay: Lay, dice: random.Random) -> Lay:
    """A match that falls one unit beside its set, or a piece whose cloth is still open."""
    repeats = {Wise.LENGTHWISE: lay.cloth.repeat.along, Wise.CROSSWISE: lay.cloth.repeat.across}
    for wise, repeat in repeats.items():
        found = [
            (at, match)
            for at, piece in enumerate(lay.pieces)
            for match in piece.matches
            if match.name == "set" and match.wise is wise
        ]
        if repeat > 1 and len(found) > 1:
            at, match = dice.choice(found)
            piece = lay.pieces[at]
            turn = next(spot.turn for spot in lay.placements if spot.letter == piece.letter)
            along = (turn % 180 == 0) == (wise is Wise.LENGTHWISE)
            off = replace(match, u=match.u + 1) if along else replace(match, v=match.v + 1)
            return recut(lay, at, matches=(off,))
    return recut(lay, dice.randrange(len(lay.pieces)), also=("lining",))


def _reaim(lay: Lay, dice: random.Random) -> Lay:
    """A goal told wrong, with a bound on its wrong side, without a ground, or out of order."""
    at = dice.randrange(4)
    goal = lay.goals[at]
    changes: list[dict[str, Any]] = [
        {"value": goal.value + dice.choice((-1, 1))}, {"bound_by": ""},
        {"aim": lay.goals[at - 1].aim},
        {"bound": goal.value + (-1 if at == 2 else 1)},
    ]  # fmt: skip
    return regoal(lay, at, **dice.choice(changes))


def _remark(lay: Lay, dice: random.Random) -> Lay:
    """A step marked as a tear that is cut, or the other way about; or an offcut kept or not."""
    if lay.tears and (dice.random() < 0.7 or not lay.offcuts):
        at = dice.randrange(len(lay.tears))
        return retorn(lay, at, cut=not lay.tears[at].cut)
    if not lay.offcuts:
        return _reaim(lay, dice)
    at = dice.randrange(len(lay.offcuts))
    cut = lay.offcuts[at]
    offcuts = (*lay.offcuts[:at], replace(cut, keep=not cut.keep), *lay.offcuts[at + 1 :])
    return replace(lay, offcuts=offcuts)


SPOILERS: tuple[Callable[[Lay, random.Random], Lay], ...] = (
    _shift, _drop, _double, _swap, _resize, _retear, _reclaim, _reorder,
    _recloth, _unwish, _unmatch, _reaim, _remark,
)  # fmt: skip


@settings(max_examples=60)
@pytest.mark.parametrize("spoil", SPOILERS, ids=lambda spoil: spoil.__name__)
@given(seed=st.integers(0, 10**9))
def test_any_one_fault_in_a_random_lay_is_found(
    spoil: Callable[[Lay, random.Random], Lay], seed: int
) -> None:
    for make in (torn, sheared):
        lay = make(seed)
        spoiled = spoil(lay, random.Random(seed))
        assert spoiled != lay
        assert findings(spoiled)


sides = st.tuples(st.integers(0, 12), st.integers(0, 12), st.integers(-1, 8), st.integers(-1, 8))


@settings(max_examples=200)
@given(st.lists(sides, max_size=12))
def test_overlap_agrees_with_a_slow_count_of_cells(boxes: list[tuple[int, int, int, int]]) -> None:
    shapes = [(f"{at}", Rect(x, y, x + w, y + h), None) for at, (x, y, w, h) in enumerate(boxes)]

    def cells(rect: Rect) -> set[tuple[int, int]]:
        return {(x, y) for x in range(rect.x0, rect.x1) for y in range(rect.y0, rect.y1)}

    slow = {
        (one, other): cells(a) & cells(b)
        for one, a, _ in shapes
        for other, b, _ in shapes
        if one < other and cells(a) & cells(b)
    }
    swept = list(overlaps(shapes))
    fast = {(min(one, other), max(one, other)): cells(both) for one, other, both in swept}
    assert fast == slow
    assert len(swept) == len(slow)


@settings(max_examples=150)
@given(st.lists(sides, max_size=5), st.integers(1, 3), st.integers(-1, 30))
@example([(0, 0, 0, 0), (3, 4, 3, 2)], 3, -1)
def test_the_largest_gap_agrees_with_a_slow_search(
    boxes: list[tuple[int, int, int, int]], least: int, over: int
) -> None:
    rects = [Rect(x - 2, y - 2, x - 1 + max(w, 0), y - 1 + max(h, 0)) for x, y, w, h in boxes]
    ends = list(combinations(range(8), 2))
    free = [
        (x1 - x0) * (y1 - y0)
        for x0, x1 in ends for y0, y1 in ends
        if x1 - x0 >= least and y1 - y0 >= least
        and not any(rect.overlaps(Rect(x0, y0, x1, y1)) for rect in rects)
    ]  # fmt: skip
    assert largest_gap(Rect(0, 0, 7, 7), rects, least, over) == max([over, *free])


def test_a_heap_of_pieces_is_told_in_bounds() -> None:
    lay = recut(whole(), 0, count=1000)
    spots = tuple(Placement("J", copy, 0, 0, 0) for copy in range(1, 1001))
    told = findings(replace(lay, placements=spots))
    over = [sentence for sentence in told if "lie over one another" in sentence]
    assert len(over) == 201
    assert over[-1].startswith("More than 200 pairs")


def company(drops: int, abreast: int) -> Lay:
    """Many equal pieces: drops torn off one after another, each torn along into pieces."""
    cloth = Cloth("main", "linen", width=abreast * 100, step=100)
    bench = Bench([Piece("A", "square", 100, 100, drops * abreast, "main", grain=Grain.EITHER)])
    rest = bolt = Rect(0, 0, drops * 100, abreast * 100)
    bands = []
    for drop in range(1, drops):
        band, rest = bench.tear(rest, ACROSS, drop * 100)
        bands.append(band)
    for band in (*bands, rest):
        part = band
        for at in range(abreast):
            name = bench.put("A", band.x0, at * 100, 0)
            last = f"A-{len(bench.placements) + 1}"
            if at < abreast - 1:
                frees = (name, last) if at == abreast - 2 else (name,)
                _, part = bench.tear(part, ALONG, (at + 1) * 100, *frees)
    return bench.lay(cloth, drops * 100, bolt, drops * 100, Proof.LENGTH, (drops * 100,) * 2)


@pytest.mark.parametrize(("drops", "abreast"), [(100, 10), (20, 50), (500, 2)])
def test_a_thousand_pieces_are_judged_within_a_second(drops: int, abreast: int) -> None:
    lay = company(drops, abreast)
    started = time.process_time()
    assert findings(lay) == ()
    assert time.process_time() - started < 1


@pytest.mark.slow
@pytest.mark.parametrize(("drops", "abreast"), [(100, 10), (20, 50), (500, 2), (1000, 1)])
def test_a_thousand_pieces_for_shears_are_judged_within_a_second(drops: int, abreast: int) -> None:
    # Bound on the remnant nought, so that every gap is gone through: pieces stand a unit apart.
    lay = company(drops, abreast)
    spots = tuple(replace(spot, x=spot.x + spot.x // 100) for spot in lay.placements)
    gaps = tuple(
        Offcut(Rect(at * 101 + 100, 0, at * 101 + 101, abreast * 100), False) for at in range(drops)
    )
    cloth = replace(lay.cloth, step=drops * 101)
    length = drops * 101 - 1
    cuts = 2 * drops - 1 + (abreast - 1) * drops
    goals = (
        Goal(Aim.BUY, drops * 101, drops * 101, "area"), Goal(Aim.LENGTH, length, 1, "area"),
        Goal(Aim.REMNANT, 0, 0, "nothing left"), Goal(Aim.TEARS, cuts, 0, "none at all"),
    )  # fmt: skip
    lay = replace(
        lay, cloth=cloth, mode=Mode.SHEARS, tears=(), offcuts=gaps, placements=spots,
        bolt=Rect(0, 0, drops * 101, abreast * 100), length=length, bound=1, proof=Proof.STEP,
        goals=goals,
    )  # fmt: skip
    started = time.process_time()
    assert findings(lay) == ()
    assert time.process_time() - started < 1
