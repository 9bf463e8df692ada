"""The referee on random lays of outlines: good ones pass, any one fault is found, and in time."""

from __future__ import annotations

import math
import random
import time
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
import shapely
from changes import again, moved, recloth, recut, regoal, retorn, without
from curved_lays import wedges
from hypothesis import given, settings
from hypothesis import strategies as st
from random_curved import doubled, parted, shapes, sheared

from marker.cloth import Cloth
from marker.geometry import Cubic, Outline, Rect
from marker.lay import Aim, Goal, Lay, Mode, Offcut, Placement, Proof
from marker.piece import TURNS, Grain, Piece
from marker.referee import findings
from marker.referee.laid import carry, laid

MAKERS = (sheared, parted, doubled)


@cache
def made(make: Callable[[int], Lay], seed: int) -> Lay:
    """A random lay, made once for all tests that draw the same seed."""
    return make(seed)


@settings(max_examples=20)
@given(st.integers(0, 10**9))
def test_random_lays_of_outlines_pass(seed: int) -> None:
    for make in MAKERS:
        assert findings(made(make, seed)) == ()


def _inner(lay: Lay, at: int) -> tuple[int, int]:
    """A whole place well inside a copy, as another library finds it."""
    spot = lay.placements[at]
    shape = shapely.Polygon(spot.polygon(lay.piece(spot.letter)).points)
    point = shapely.maximum_inscribed_circle(shape, tolerance=20).coords[0]
    return round(point[0]), round(point[1])


def _onto(lay: Lay, dice: random.Random) -> Lay:
    """One copy moved on to another, or over the edge of the usable cloth."""
    count = len(lay.placements)
    one = dice.randrange(count)
    spot = lay.placements[one]
    if count > 1 and dice.random() < 0.6:
        other = dice.choice([at for at in range(count) if at != one])
        (x, y), (u, v) = _inner(lay, one), _inner(lay, other)
        return moved(lay, one, x=spot.x + u - x, y=spot.y + v - y)
    box = spot.rect(lay.piece(spot.letter))
    usable = lay.cloth.usable
    past = {"y": spot.y + usable.y1 - box.y1 + 1}
    return moved(lay, one, **dice.choice(({"x": -1}, {"y": usable.y0 - 1}, past)))


def _turn(lay: Lay, dice: random.Random) -> Lay:
    """A copy turned as its grain forbids, by no eighth, or turned over unasked."""
    at = dice.randrange(len(lay.placements))
    spot = lay.placements[at]
    piece = lay.piece(spot.letter)
    wrong = sorted({*range(0, 360, 45), 30, -45} - set(TURNS[piece.grain]))
    changes: list[dict[str, Any]] = [{"turn": dice.choice(wrong)}]
    if piece.outline is not None or not spot.flip:
        changes.append({"flip": not spot.flip})
    return moved(lay, at, **dice.choice(changes))


def _list(lay: Lay, dice: random.Random) -> Lay:
    """A copy left out or laid twice, and a piece cut once more, turned over more, or folding."""
    at = dice.randrange(len(lay.placements))
    kind = dice.randrange(len(lay.pieces))
    piece = lay.pieces[kind]
    ways = [
        without(lay, "placements", at),
        again(lay, "placements", at),
        recut(lay, kind, count=piece.count + 1),
    ]
    if piece.outline is not None:
        other = piece.mirrored + 1 if piece.mirrored < piece.count else piece.mirrored - 1
        ways += [recut(lay, kind, mirrored=other), recut(lay, kind, folds=True)]
    return dice.choice(ways)


def _cloth(lay: Lay, dice: random.Random) -> Lay:
    """A flaw under a copy, or a margin that the nearest two don't keep."""
    at = dice.randrange(len(lay.placements))
    x, y = _inner(lay, at)
    changes: list[dict[str, Any]] = [{"flaws": (Rect(x, y, x + 1, y + 1),)}]
    if lay.mode is Mode.SHEARS and len(lay.placements) > 1:
        changes.append({"margin": lay.bolt.x1 + lay.bolt.y1})
    return recloth(lay, **dice.choice(changes))


def _claim(lay: Lay, dice: random.Random) -> Lay:
    """A length, a bound or a goal told wrong."""
    at = dice.choice((0, 1, 2, 3))
    goal, by = lay.goals[at], dice.choice((-1, 1))
    return dice.choice(
        [
            replace(lay, length=lay.length + by),
            replace(lay, bound=lay.length + 1),
            replace(lay, bolt=replace(lay.bolt, x1=lay.bolt.x1 + by)),
            regoal(lay, at, value=goal.value + by),
            regoal(lay, at, bound=goal.value + (-1 if at == 2 else 1)),
        ]
    )


def _left(lay: Lay, dice: random.Random) -> Lay:
    """An offcut over a copy, off the bolt, of no breadth, twice, or kept though too small."""
    x, y = _inner(lay, dice.randrange(len(lay.placements)))
    rects = [Rect(x, y, x + 1, y + 1), Rect(x, y, x, y + 1), replace(lay.bolt, x1=lay.bolt.x1 + 1)]
    made = [replace(lay, offcuts=(*lay.offcuts, Offcut(rect, False))) for rect in rects]
    for at, cut in enumerate(lay.offcuts):
        marked = replace(cut, keep=not cut.keep)
        made.append(replace(lay, offcuts=(*lay.offcuts[:at], marked, *lay.offcuts[at + 1 :])))
        made.append(again(lay, "offcuts", at))
    return dice.choice(made)


def _region(lay: Lay, dice: random.Random) -> Lay:
    """A region left out, twice, or a unit short; a tear left out or told otherwise."""
    if lay.mode is Mode.SHEARS:
        return replace(lay, regions=(*lay.regions, lay.bolt))
    made = [without(lay, "tears", at) for at in range(len(lay.tears))]
    made += [retorn(lay, at, frees=(*tear.frees, "P0-1")) for at, tear in enumerate(lay.tears)]
    for at, region in enumerate(lay.regions):
        short = replace(region, x1=region.x1 - 1)
        regions = (*lay.regions[:at], short, *lay.regions[at + 1 :])
        made += [
            without(lay, "regions", at), again(lay, "regions", at), replace(lay, regions=regions)
        ]  # fmt: skip
    # A lone column that fills the bolt is torn from nothing.
    return dice.choice(made) if made else _claim(lay, dice)


SPOILERS: tuple[Callable[[Lay, random.Random], Lay], ...] = (
    _onto, _turn, _list, _cloth, _claim, _left, _region,
)  # fmt: skip


@settings(max_examples=12)
@pytest.mark.parametrize("spoil", SPOILERS, ids=lambda spoil: spoil.__name__)
@given(seed=st.integers(0, 10**9))
@pytest.mark.slow
def test_any_one_fault_in_a_random_lay_of_outlines_is_found(
    spoil: Callable[[Lay, random.Random], Lay], seed: int
) -> None:
    for make in MAKERS:
        lay = made(make, seed)
        spoiled = spoil(lay, random.Random(seed))
        assert spoiled != lay
        assert findings(spoiled)


@settings(max_examples=25)
@given(st.integers(0, 10**9))
def test_any_one_fault_across_the_fold_is_found(seed: int) -> None:
    lay, dice = doubled(seed), random.Random(seed)
    at = dice.randrange(len(lay.placements))
    spot = lay.placements[at]
    piece = lay.piece(spot.letter)
    if piece.folds:
        spoiled = dice.choice((moved(lay, at, y=spot.y + 1), recut(lay, -1, folds=False)))
    else:
        # Either of two images a unit off; a copy without one across the fold.
        box, width = spot.rect(piece), lay.cloth.width
        over = replace(box, y0=width - box.y1, y1=width - box.y0)
        paired = any(
            other.letter == spot.letter and other.rect(piece) == over for other in lay.placements
        )
        spoiled = moved(lay, at, **({"x": spot.x + 1} if paired else {"y": width // 2 - 1}))
    assert any("fold" in told or "mirror" in told for told in findings(spoiled))


def _star(size: float) -> Outline:
    """A wavy outline of cubics, that comes to a hundred points or more."""
    ring = []
    for at in range(12):
        angles = [math.tau * (at + part / 3) / 12 for part in range(4)]
        reach = (1, 1.25, 0.8, 1) if at % 2 else (1, 0.8, 1.25, 1)
        spots = [
            (size * far * math.cos(angle), size * far * math.sin(angle))
            for far, angle in zip(reach, angles, strict=True)
        ]
        ring.append(spots)
    segments = [
        Cubic(spots[0], spots[1], spots[2], after[0])
        for spots, after in zip(ring, ring[1:] + ring[:1], strict=True)
    ]
    return Outline(tuple(segments))


@cache
def stars() -> tuple[Piece, ...]:
    """Four kinds of wavy pieces."""
    return tuple(
        Piece.shaped(f"S{kind}", "star", _star(15_000.0 + 100 * kind), 1, "main")
        for kind in range(4)
    )


def company(count: int, abreast: int) -> Lay:
    """Wavy pieces of a hundred points or more each, close together in rows."""
    pieces = [replace(piece, count=count // 4) for piece in stars()]
    side = max(max(piece.length, piece.breadth) for piece in pieces) + 160
    spots = []
    for at in range(count):
        piece = pieces[at % 4]
        row, place = divmod(at, abreast)
        spots.append(Placement(piece.letter, at // 4 + 1, row * side, place * side, 0))
    length = max(spot.x + pieces[at % 4].length for at, spot in enumerate(spots))
    cloth = Cloth("main", "cloth", width=abreast * side, step=length, margin=160)
    bolt = Rect(0, 0, length, abreast * side)
    goals = (
        Goal(Aim.BUY, length, length, "area"), Goal(Aim.LENGTH, length, 1, "area"),
        Goal(Aim.REMNANT, 0, 10**12, "area"), Goal(Aim.TEARS, count, count, "each"),
    )  # fmt: skip
    return Lay(
        cloth, tuple(pieces), length, bolt, tuple(spots), (), (), 1, "area", Proof.STEP,
        Mode.SHEARS, goals,
    )  # fmt: skip


@pytest.mark.parametrize(("count", "abreast"), [(100, 10), (100, 2), (200, 5)])
@pytest.mark.slow
def test_a_hundred_curved_pieces_are_judged_within_a_second(count: int, abreast: int) -> None:
    lay = company(count, abreast)
    assert min(len(piece.polygon.points) for piece in lay.pieces) >= 100
    started = time.process_time()
    assert findings(lay) == ()
    assert time.process_time() - started < count / 100


@pytest.mark.slow
def test_a_heap_of_outlines_is_told_in_bounds() -> None:
    lay = company(100, 10)
    spots = tuple(replace(spot, x=0, y=0) for spot in lay.placements)
    told = findings(replace(lay, placements=spots))
    assert sum("lie over one another" in sentence for sentence in told) == 201


@pytest.mark.slow
def test_pieces_too_close_are_told_in_bounds() -> None:
    lay = company(100, 10)
    assert findings(lay) == ()
    told = findings(recloth(lay, margin=lay.placements[1].y))
    close = [sentence for sentence in told if "nearer to one another" in sentence]
    assert len(close) == 200
    assert "More than 200 pairs lie too close; the rest aren't listed." in told


@settings(max_examples=30)
@given(
    st.deferred(lambda: st.sampled_from(shapes())),
    st.sampled_from(range(0, 360, 45)),
    st.booleans(),
    st.data(),
)
def test_a_copy_lies_where_the_placement_says(
    outline: Outline, turn: int, flip: bool, data: st.DataObject
) -> None:
    grain = Grain.BIAS if turn % 90 else Grain.EITHER
    piece = Piece.shaped("A", "blob", outline, 1, "main", grain=grain, mirrored=int(flip))
    x, y = data.draw(st.integers(-(10**6), 10**6)), data.draw(st.integers(-(10**6), 10**6))
    spot = Placement("A", 1, x, y, turn, flip)
    lay = replace(wedges(), pieces=(piece,), placements=(spot,))
    (found,) = laid(lay)
    assert found.polygon is not None
    assert set(found.polygon.points) == set(spot.polygon(piece).points)
    assert found.polygon.area2 == spot.polygon(piece).area2
    assert found.rect == spot.rect(piece)
    u, v = data.draw(st.integers(-(10**6), 10**6)), data.draw(st.integers(-(10**6), 10**6))
    near = spot.to_cloth(piece, u, v)
    there = carry(found, u, v)
    assert max(abs(near[0] - there[0]), abs(near[1] - there[1])) <= (1 if turn % 90 else 0)
