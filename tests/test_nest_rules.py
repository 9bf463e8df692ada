"""Rules in the nest: pins, zones and matched repeats, held to checks that share nothing with it."""

from __future__ import annotations

from itertools import product

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import BadInput, CannotLay
from marker.geometry import Polygon, Rect
from marker.piece import Wise
from marker.solver.nest import Nested, NestKind, NestSpot, Phase, ShapeRule, nest
from marker.solver.nest.bounds import least_of
from marker.solver.nest.frame import Frame
from marker.solver.nest.hand import Hand
from marker.solver.nest.judge import obeys
from marker.solver.nest.starts import Start
from marker.solver.nest.task import Task
from marker.solver.nest.tighten import whole_nest

WIDTH = 30_000
REPEATS = (7_000, 4_300)
SKETCHES = (
    ((0, 0), (4, 0), (4, 3), (0, 3)),
    ((0, 0), (5, 0), (4, 4), (1, 4)),
    ((0, 1), (2, 0), (5, 0), (6, 2), (3, 4), (1, 3)),
    ((0, 0), (3, 0), (4, 2), (3, 4), (0, 4), (2, 2)),
    ((0, 0), (2, 0), (2, 1), (1, 1), (1, 3), (0, 3)),
)


def faults(
    kinds: list[NestKind],
    found: Nested,
    width: int,
    repeat: tuple[int, int] = (0, 0),
    margin: int = 0,
    flaws: tuple[Rect, ...] = (),
) -> list[str]:
    """All that is wrong with a nest, as another library sees it and by the words of the rules."""
    told = []
    counts = [sum(spot.kind == at for spot in found.spots) for at in range(len(kinds))]
    if counts != [kind.count for kind in kinds]:
        told.append(f"copies {counts}")
    laid = [
        shapely.Polygon([(x + p.x, y + p.y) for x, y in kinds[p.kind].shapes[p.shape].points])
        for p in found.spots
    ]
    if not all(shapely.box(0, 0, found.length, width).covers(outline) for outline in laid):
        told.append("off the cloth")
    zones = [shapely.box(flaw.x0, flaw.y0, flaw.x1, flaw.y1) for flaw in flaws]
    if any(outline.intersection(zone).area > 0 for outline, zone in product(laid, zones)):
        told.append("on a flaw")
    for at, outline in enumerate(laid):
        for other in laid[:at]:
            if outline.intersection(other).area >= 1 or outline.distance(other) < margin - 1e-6:
                told.append(f"too close {outline.distance(other)}")
    return told + broken(kinds, found, repeat)


def broken(kinds: list[NestKind], found: Nested, repeat: tuple[int, int]) -> list[str]:
    """The rules that a nest breaks."""
    told = []
    places: dict[tuple[str, str], set[int]] = {}
    for p in found.spots:
        rule = kinds[p.kind].rules[p.shape] if kinds[p.kind].rules else ShapeRule()
        if rule.across and not rule.across[0] <= p.y <= rule.across[1]:
            told.append(f"{p} across")
        if rule.along and not rule.along[0] <= p.x <= rule.along[1]:
            told.append(f"{p} along")
        for match in rule.matches:
            if match.wise in ("along", Wise.LENGTHWISE):
                places.setdefault((match.name, "x"), set()).add((p.x + match.at) % repeat[0])
            else:
                places.setdefault((match.name, "y"), set()).add((p.y + match.at) % repeat[1])
    told += [f"{key} falls in {places[key]}" for key in places if len(places[key]) > 1]
    return told


@st.composite
def rules(draw: st.DrawFn, shape: Polygon, width: int, matched: tuple[bool, bool]) -> ShapeRule:
    """Pins and zones across the cloth, and the ways in which an outline is matched."""
    highest = max(0, width - shape.box.across)
    across = None
    if not matched[1] and draw(st.booleans()):
        low = draw(st.sampled_from((0, highest, highest // 2)))
        across = (low, draw(st.sampled_from((low, highest))))
    matches = []
    for wise, ask in zip(Wise, matched, strict=True):
        if ask:
            matches.append(Phase(draw(st.sampled_from("ab")), wise, draw(st.integers(-500, 9000))))
    along = (draw(st.integers(0, 9_000)), 10**9) if draw(st.integers(0, 9)) == 0 else None
    return ShapeRule(across, along, tuple(matches))


@st.composite
def kinds(draw: st.DrawFn, width: int) -> list[NestKind]:
    """A few kinds of piece, free, pinned or matched, each in one or two turns."""
    found = []
    for _ in range(draw(st.integers(1, 4))):
        size = draw(st.integers(700, 2_400))
        points = draw(st.sampled_from(SKETCHES))
        outline = Polygon.of((x * size + 37 * y, y * size) for x, y in points).turned(0)
        turns = draw(st.sampled_from(((0,), (0, 180), (0, 90))))
        shapes = tuple(outline.turned(turn) for turn in turns)
        matched = draw(st.booleans()), draw(st.booleans())
        count = draw(st.integers(1, 4))
        ruled = draw(st.booleans())
        found.append(
            NestKind(
                count,
                shapes,
                tuple(draw(rules(shape, width, matched)) for shape in shapes) if ruled else (),
            )
        )
    return found


@settings(max_examples=45)
@given(st.data(), st.sampled_from((0, 0, 150)), st.booleans(), st.integers(0, 99))
@pytest.mark.slow
def test_rules_hold_exactly(data: st.DataObject, margin: int, flawed: bool, seed: int) -> None:
    width = data.draw(st.sampled_from((30_000, 15_000)))
    asked = data.draw(kinds(width))
    flaws = (Rect(4_000, 9_000, 6_000, 13_000), Rect(15_000, 0, 15_500, 30_000))[: 2 * flawed]
    try:
        found = nest(
            asked, width, margin=margin, flaws=flaws, repeat=REPEATS, iterations=60, seed=seed
        )
    except CannotLay as refusal:
        assert "repeat" in str(refusal) or "across" in str(refusal)
        return
    assert faults(asked, found, width, REPEATS, margin, flaws) == []
    assert found.bound <= found.length


def box(along: int, across: int) -> Polygon:
    return Polygon.of_rect(Rect(0, 0, along, across))


def pinned(y: int) -> ShapeRule:
    return ShapeRule(across=(y, y))


def test_pieces_on_the_fold_lie_one_after_another() -> None:
    # two pieces must lie at the fold, so the four can't share the width by twos
    kinds = [NestKind(2, (box(600, 400),), (pinned(0),)), NestKind(2, (box(500, 400),))]
    found = nest(kinds, 900, iterations=400)
    assert faults(kinds, found, 900) == []
    assert found.length == 1200
    kinds[1] = NestKind(2, (box(500, 400),), (pinned(0),))
    assert nest(kinds, 900, iterations=400).length == 2200


def test_one_of_several_zones() -> None:
    # at either selvedge: one outline, given once for each
    kinds = [NestKind(4, (box(500, 200),) * 2, (pinned(0), pinned(800)))]
    found = nest(kinds, 1000, iterations=400)
    assert faults(kinds, found, 1000) == []
    assert found.length == 1000
    assert sorted(spot.y for spot in found.spots) == [0, 0, 800, 800]


def test_matched_pieces_fall_alike() -> None:
    kinds = [
        NestKind(2, (box(500, 500),), (ShapeRule(matches=(Phase("seam", "along", 0),)),)),
        NestKind(1, (box(400, 500),), (ShapeRule(matches=(Phase("seam", "lengthwise", -40),)),)),
    ]
    found = nest(kinds, 1000, repeat=(300, 0), iterations=600)
    assert faults(kinds, found, 1000, (300, 0)) == []
    # the short one begins 40 beyond a place of the long ones, or a repeat further on. Last: long
    # ones at 0, it at 640. First: it at 0, the nearest place for both long ones is at 560; it
    # beside one of them: at 0 with long ones at 260 and 560
    assert found.length == 1040


def test_two_points_of_one_piece_tie_two_sets() -> None:
    both = ShapeRule(matches=(Phase("a", "across", 0), Phase("b", "across", 130)))
    kinds = [
        NestKind(2, (box(500, 300),), (both,)),
        NestKind(2, (box(400, 100),), (ShapeRule(matches=(Phase("b", "crosswise", 0),)),)),
    ]
    found = nest(kinds, 1000, repeat=(0, 200), iterations=600)
    assert faults(kinds, found, 1000, (0, 200)) == []


def test_a_place_along_the_cloth() -> None:
    ahead = NestKind(3, (box(300, 500),), (ShapeRule(along=(0, 300)),))
    rest = NestKind(2, (box(900, 400),))
    found = nest([rest, ahead], 1000, iterations=400)
    assert faults([rest, ahead], found, 1000) == []
    late = NestKind(1, (box(300, 500),), (ShapeRule(along=(5000, 9000)),))
    assert nest([late], 1000, iterations=0).length == 5300
    with pytest.raises(CannotLay, match="only so far along"):
        nest([NestKind(5, (box(300, 500),), (ShapeRule(along=(0, 300)),))], 1000, iterations=0)


@pytest.mark.parametrize(
    ("rule", "repeat", "words"),
    [
        (ShapeRule(across=(600, 900)), (0, 0), "no place across"),
        (ShapeRule(across=(-50, -10)), (0, 0), "no place across"),
        (ShapeRule((0, 0), None, (Phase("a", "across"),)), (0, 70), None),
    ],
)
def test_pins_that_leave_no_place(
    rule: ShapeRule, repeat: tuple[int, int], words: str | None
) -> None:
    kinds = [NestKind(2, (box(300, 500),), (rule,))]
    if words:
        with pytest.raises(CannotLay, match=words):
            nest(kinds, 1000, repeat=repeat, iterations=0)
    else:
        # pinned at 35 too, which is half a repeat off
        kinds.append(NestKind(1, (box(200, 100),), (ShapeRule((35, 35), None, rule.matches),)))
        with pytest.raises(CannotLay, match="in the repeat"):
            nest(kinds, 1000, repeat=repeat, iterations=0)
        assert nest(kinds, 1000, repeat=(0, 35), iterations=0).length == 800


def test_rules_that_make_no_sense() -> None:
    with pytest.raises(BadInput, match="lies beyond"):
        ShapeRule(across=(5, 4))
    with pytest.raises(BadInput, match="'down'"):
        Phase("a", "down")
    with pytest.raises(BadInput, match="or none"):
        NestKind(1, (box(1, 1),), (ShapeRule(), ShapeRule()))
    matched = NestKind(2, (box(9, 9),), (ShapeRule(matches=(Phase("a", "across"),)),))
    with pytest.raises(BadInput, match="the cloth has not"):
        nest([matched], 100, repeat=(50, 0), iterations=0)


def test_a_start_that_breaks_a_rule_is_not_taken() -> None:
    kinds = [NestKind(2, (box(300, 500),), (pinned(0),))]
    free = [NestKind(2, (box(300, 500),))]
    beside = nest(free, 1000, iterations=100)
    assert beside.length == 300
    assert nest(kinds, 1000, iterations=0, start=beside.spots).length == 600


def off(place: float, step: float) -> float:
    """How far a place is from a whole number of steps."""
    return abs(place - step * round(place / step))


@settings(max_examples=40)
@given(kinds(WIDTH), st.integers(0, 99))
def test_the_search_itself_keeps_the_rules(asked: list[NestKind], seed: int) -> None:
    task = Task.of(Frame.framed(asked, WIDTH, repeat=REPEATS))
    first = min(Start.of(task, None).layouts, key=lambda layout: layout.length)
    hand = Hand(task, first, least_of(task)[0], seed, afresh=bool(seed % 2))
    for _ in range(8):
        hand.advance()
        state = hand.state
        for p, kind in enumerate(task.table.kind.tolist()):
            owner, shape = task.origins[state.s[p]]
            assert owner == kind
            rule = asked[kind].rule(shape)
            x, y = float(state.x[p]), float(state.y[p])
            low, high = rule.across or (0, WIDTH)
            assert low - 0.01 <= y <= high + 0.01
            assert (rule.along or (0, 0))[0] - 0.01 <= x
            for match in rule.matches:
                key = next(
                    (
                        k
                        for k, known in enumerate(task.ground.sets)
                        if known == (match.axis, match.name)
                    ),
                    None,
                )
                if key is not None:
                    place = (x, y)[match.axis] + match.at - float(state.phase[key])
                    assert off(place, REPEATS[match.axis]) < 0.01
    # what the search holds for a nest becomes one at whole places, hardly longer
    spots = whole_nest(task, hand.best)
    assert spots is not None
    assert max(outline.box.x1 for outline in task.placed(spots)) <= hand.best.length + 10


def test_the_judgement_of_rules() -> None:
    rule = ShapeRule((10, 20), (0, 90), (Phase("a", "along", 3), Phase("a", "across", 0)))
    either = (ShapeRule(), ShapeRule(matches=rule.matches))
    kinds = [NestKind(1, (box(5, 5),), (rule,)), NestKind(1, (box(5, 5),) * 2, either)]

    def told(x: int, y: int, shape: int, ox: int, oy: int) -> bool:
        return obeys(kinds, [NestSpot(0, 0, x, y), NestSpot(1, shape, ox, oy)], (40, 7))

    assert told(0, 10, 0, 1, 1)
    assert told(90, 20, 0, 1, 1)
    assert not told(91, 10, 0, 1, 1)
    assert not told(0, 9, 0, 1, 1)
    assert not told(0, 21, 0, 1, 1)
    assert told(5, 10, 1, 45, 17)
    assert told(5, 10, 1, 45, 3)
    assert not told(5, 10, 1, 44, 17)
    assert not told(5, 10, 1, 45, 16)
    assert not told(5, 10, 1, 25, 17)
