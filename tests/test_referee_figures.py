"""The referee on figures that aren't whole numbers, and on figures beyond all sense."""

from __future__ import annotations

import math
import time
from copy import copy
from dataclasses import replace
from typing import Any

import pytest
from asked_lays import bordered, checked, flawed, pinwheel, two
from changes import moved, recloth, recut, regoal, retorn
from curved_lays import folded, phased, region, slanted, spaced, wedges
from lays import skirt

from marker.cloth import Repeat
from marker.geometry import Rect
from marker.lay import Lay, Offcut
from marker.piece import AtSelvedge, Mark, MarkKind, Match, Pieced, Side, Wise
from marker.referee import findings
from marker.units import CM, MM

LENGTH = 3315 * MM


# Figures that only look whole: a float, a true, a text, nothing at all.
@pytest.mark.parametrize(
    ("lay", "sentence"),
    [
        (moved(skirt(), 0, x=0.0), "the x of placement 1 is 0.0, not a whole number of units."),
        (moved(skirt(), 0, copy=True), "the copy of placement 1 is True, not a whole number"),
        (replace(skirt(), bound="1 m"), "the bound is '1 m', not a whole number of units."),
        (replace(skirt(), bolt=Rect(0, 0, 340 * CM, None)), "the bolt, y1, is None, not a whole"),  # type: ignore[arg-type]
        (retorn(skirt(), 0, at=1e400), "the reading of the tear in place 1 is inf, not a whole"),
        (retorn(skirt(), 0, direction="up"), "the direction of the tear in place 1 is 'up', not"),
        (replace(skirt(), proof="sure"), "the proof is 'sure', not one of length, step, open."),
        (moved(skirt(), 0, letter=7), "the letter of placement 1 is 7, not a text."),
    ],
)
def test_figures_that_only_look_whole(lay: Lay, sentence: str) -> None:
    assert any(sentence in told for told in findings(lay))


def reached(lay: Lay, centre: tuple[Any, Any]) -> Lay:
    """The lay with an arc of an outline round such a centre, as no outline is made."""
    piece = replace(lay.pieces[2])
    line, arc = piece.outline.segments  # type: ignore[union-attr]
    bent = copy(arc)
    object.__setattr__(bent, "centre", centre)
    outline = copy(piece.outline)
    object.__setattr__(outline, "segments", (line, bent))
    object.__setattr__(piece, "outline", outline)
    return replace(lay, pieces=(*lay.pieces[:2], piece, *lay.pieces[3:]))


# A float in any field at all, wherever it stands, with the words that must name the field.
@pytest.mark.parametrize(
    ("lay", "named"),
    [
        (replace(skirt(), length=float(LENGTH)), "the length is"),
        (recut(skirt(), 0, breadth=179200.0), "the breadth of piece A is"),
        (recut(skirt(), 0, marks=(Mark(MarkKind.HEM, "hem", 0, 0, 0.0, 0),)), "u1 of a mark on"),
        (recut(skirt(), 0, grain="slant"), "the grain of piece A is"),
        (recut(skirt(), 0, up="left"), "the way up of piece A is"),
        (recut(skirt(), 1, letter=None), "the letter of piece 2 is"),
        (retorn(skirt(), 1, number=2.0), "the number of the tear in place 2 is"),
        (retorn(skirt(), 0, in_hand=Rect(0, 0, 9.0, 9)), "of the tear in place 1, x1, is"),  # type: ignore[arg-type]
        (retorn(skirt(), 5, frees=(None,)), "what the tear in place 6 frees is"),
        (replace(skirt(), offcuts=(Offcut(Rect(0, 0.0, 1, 1), True),)), "offcut-1, y0, is"),  # type: ignore[arg-type]
        (recloth(skirt(), squaring=0.0), "the squaring of the cloth is"),
        (recloth(skirt(), key=5), "the key of the cloth is"),
        (replace(skirt(), bound_by=None), "the ground of the bound is"),
        (recloth(skirt(), length=1e6), "the length of the cloth is"),
        (recloth(skirt(), torn_edge=True), "the torn edge of the cloth is"),
        (recloth(skirt(), least_strip=0.0), "the least strip of the cloth is"),
        (recloth(skirt(), repeat=Repeat(0.5, 0)), "the lengthwise repeat of the cloth is"),
        (recloth(skirt(), repeat=Repeat(0, "1")), "the crosswise repeat of the cloth is"),
        (recloth(skirt(), flaws=(Rect(0, 0, 1, 1.0),)), "flaw 1, y1, is"),
        (recloth(skirt(), tears=1), "whether the cloth tears is"),
        (recloth(skirt(), one_way=0), "whether the cloth is one-way is"),
        (recloth(skirt(), keep_selvedges=None), "whether the selvedges are kept is"),
        (recut(skirt(), 0, torn="yes"), "whether piece A may be torn is"),
        (recut(skirt(), 0, cloth=3), "a key that piece 1 names is"),
        (recut(skirt(), 0, garment=3), "a key that piece 1 names is"),
        (recut(skirt(), 1, also=(3,)), "a key that piece 2 names is"),
        (recut(skirt(), 0, selvedges=(AtSelvedge(Side.LOW, 0.0),)), "how near a selvedge piece A"),
        (recut(skirt(), 0, selvedges=(AtSelvedge("top"),)), "the edge of piece A at a selvedge is"),
        (recut(skirt(), 0, matches=(Match("m", "round"),)), "the way of a match of piece A is"),
        (recut(skirt(), 0, matches=(Match(5, Wise.CROSSWISE),)), "the name of a match of piece 1"),
        (recut(skirt(), 0, matches=(Match("m", Wise.CROSSWISE, 0.0),)), "u of a match of piece A"),
        (recut(skirt(), 0, matches=(Match("m", Wise.CROSSWISE, 0, 0.0),)), "v of a match of"),
        (recut(skirt(), 0, pieced=Pieced("f", 1.0, 0, 0, 9)), "the total of the strip of piece A"),
        (recut(skirt(), 0, pieced=Pieced("f", 1, 0.0, 0, 9)), "the seam of the strip of piece A"),
        (recut(skirt(), 0, pieced=Pieced("f", 1, 0, 0.0, 9)), "the least of the strip of piece A"),
        (recut(skirt(), 0, pieced=Pieced("f", 1, 0, 0, 9.0)), "the most of the strip of piece A"),
        (recut(skirt(), 0, pieced=Pieced("f", 1, 0, 0, 9, 0.0)), "the pitch of the strip of"),
        (recut(skirt(), 0, pieced=Pieced(2, 1, 0, 0, 9)), "the strip of piece 1 is"),
        (retorn(skirt(), 0, cut=0), "whether the tear in place 1 is cut is"),
        (replace(skirt(), offcuts=(Offcut(Rect(0, 0, 1, 1), 0),)), "whether offcut-1 is kept is"),
        (replace(skirt(), mode="teeth"), "the mode is"),
        (recloth(skirt(), margin=1.0), "the margin of the cloth is"),
        (recloth(skirt(), folded=0), "whether the cloth is folded is"),
        (moved(skirt(), 0, flip=0), "whether placement 1 is turned over is"),
        (recut(skirt(), 0, mirrored=0.0), "how many copies of piece A are turned over is"),
        (recut(skirt(), 0, folds=None), "whether piece A folds is"),
        (replace(region(), regions=(Rect(0, 0, 1.0, 1),)), "region-1, x1, is"),  # type: ignore[arg-type]
        (reached(wedges(), (math.nan, 0.0)), "an ordinate of the outline of piece C is nan"),
        (reached(wedges(), (1e12, 0.0)), "an ordinate of the outline of piece C is 1000000000000"),
        (reached(wedges(), ("1", 0.0)), "an ordinate of the outline of piece C is '1'"),
        (regoal(skirt(), 1, aim="beauty"), "the aim of goal 2 is"),
        (regoal(skirt(), 0, value=1.0), "the value of goal 1 is"),
        (regoal(skirt(), 2, bound=None), "the bound of goal 3 is"),
        (regoal(skirt(), 3, bound_by=7), "the ground of goal 4 is"),
    ],
)  # fmt: skip
def test_every_figure_is_looked_at(lay: Lay, named: str) -> None:
    told = findings(lay)
    assert len(told) == 1
    assert named in told[0]


HUGE = 10**5000
"""Past what Python will print."""
MATCH = Match("hem", Wise.LENGTHWISE, HUGE, -HUGE)


@pytest.mark.parametrize(
    "lay",
    [
        replace(skirt(), length=HUGE),
        replace(skirt(), length=-HUGE, bound=HUGE),
        replace(skirt(), bolt=Rect(HUGE, -HUGE, -HUGE, HUGE)),
        moved(skirt(), 0, x=HUGE, y=-HUGE),
        moved(skirt(), 0, copy=HUGE, turn=-HUGE),
        moved(skirt(), 0, letter="<script>\n" * 1000),
        recut(skirt(), 0, length=HUGE, breadth=HUGE, count=HUGE),
        recut(skirt(), 0, letter=""),
        retorn(skirt(), 0, number=HUGE, at=HUGE, in_hand=Rect(-HUGE, 0, 0, HUGE)),
        replace(skirt(), offcuts=(Offcut(Rect(5, 5, -HUGE, 5), True),) * 3),
        replace(skirt(), placements=(), tears=(), offcuts=(), pieces=()),
        replace(skirt(), placements=skirt().placements * 100),
        replace(skirt(), tears=skirt().tears * 100),
        recloth(skirt(), squaring=HUGE),
        recloth(skirt(), selvedge=-HUGE),
        recloth(skirt(), length=HUGE),
        recloth(skirt(), torn_edge=-HUGE, least_strip=HUGE),
        recloth(skirt(), least_strip=-HUGE),
        recloth(checked(), repeat=Repeat(-1, -HUGE)),
        recloth(recut(checked(), 1, matches=(MATCH,)), repeat=Repeat(HUGE, 7)),
        recut(checked(), 0, matches=(MATCH,) * 1000),
        recut(checked(), 0, matches=(MATCH, Match("<b>\n" * 99, Wise.CROSSWISE, 0, HUGE + 1))),
        recut(bordered(), 1, selvedges=(AtSelvedge(Side.END, -HUGE),)),
        recut(bordered(), 1, selvedges=(AtSelvedge(Side.EITHER_SIDE, HUGE),), breadth=HUGE),
        recut(two(), 0, pieced=Pieced("<\n>" * 99, HUGE, HUGE, HUGE, HUGE, HUGE)),
        recut(two(), 0, pieced=Pieced("", -HUGE, -HUGE, -HUGE, -HUGE, -HUGE)),
        recut(skirt(), 0, also=("<\n>",) * 1000),
        recloth(flawed(), flaws=(Rect(-HUGE, -HUGE, HUGE, HUGE),)),
        recloth(flawed(), flaws=(Rect(HUGE, HUGE, -HUGE, -HUGE),)),
        replace(skirt(), goals=skirt().goals * 1000),
        regoal(regoal(skirt(), 0, value=HUGE, bound=-HUGE), 3, value=-HUGE, bound=HUGE),
        regoal(regoal(skirt(), 2, value=HUGE, bound=-HUGE), 1, value=-HUGE, bound=HUGE),
        regoal(pinwheel(), 2, value=-HUGE, bound=-HUGE),
        moved(pinwheel(), 0, x=HUGE, y=-HUGE),
        replace(pinwheel(), offcuts=(Offcut(Rect(HUGE, HUGE, -HUGE, -HUGE), True),) * 300),
        moved(wedges(), 0, x=HUGE, y=-HUGE),
        moved(wedges(), 0, turn=HUGE),
        moved(slanted(), 0, x=HUGE, y=HUGE),
        moved(slanted(), 0, copy=-HUGE, turn=-45),
        recut(phased(), 1, matches=(MATCH,) * 9),
        recut(phased(), 1, selvedges=(AtSelvedge(Side.END, -HUGE),)),
        recut(wedges(), 3, length=HUGE),
        recloth(spaced(), margin=HUGE),
        recloth(spaced(), flaws=(Rect(-HUGE, -HUGE, HUGE, HUGE),)),
        recloth(folded(), width=HUGE),
        moved(folded(), 2, x=-HUGE, y=HUGE),
        moved(folded(), 5, x=-HUGE, y=HUGE),
        replace(folded(), offcuts=(Offcut(Rect(HUGE, HUGE, -HUGE, -HUGE), True),) * 3),
        replace(region(), regions=(Rect(-HUGE, 0, HUGE, 0), Rect(HUGE, 1, -HUGE, -1)) * 50),
        replace(region(), regions=(Rect(-HUGE, -HUGE, HUGE, HUGE),)),
        replace(wedges(), bolt=Rect(HUGE, HUGE, -HUGE, -HUGE), length=-HUGE),
        replace(pinwheel(), bolt=Rect(HUGE, HUGE, -HUGE, -HUGE), length=-HUGE),
    ],
)
def test_nonsense_is_told_and_never_raises(lay: Lay) -> None:
    told = findings(lay)
    assert told
    assert all(sentence.endswith(".") and "\n" not in sentence for sentence in told)


def test_a_cloth_of_odd_figures_is_told() -> None:
    told = findings(recloth(skirt(), selvedge=-CM, squaring=-1))
    assert "The selvedge of the cloth is -10 mm." in told
    assert "The squaring of the cloth is -0.00625 mm." in told


def test_flaws_by_the_thousand_are_judged_in_good_time() -> None:
    # A grid of flaws in the gap between the drops and behind them, and stripes off the cloth.
    started = time.process_time()
    small = tuple(
        Rect(60 * CM + x, y, 60 * CM + x + 100, y + 100)
        for x in range(0, 15 * CM, 500)
        for y in range(0, 100 * CM, 1000)
    )
    long = tuple(Rect(-5, -at - 1, 135 * CM, -at) for at in range(2000))
    assert len(small) + len(long) > 9000
    # Nobody would keep what holds a grid of flaws.
    waste = tuple(replace(cut, keep=False) for cut in flawed().offcuts)
    lay = regoal(replace(flawed(), offcuts=waste), 2, value=0)
    assert findings(recloth(lay, flaws=small + long)) == ()
    told = findings(moved(recloth(lay, flaws=small), 1, x=60 * CM))
    assert sum("lies over flaw" in sentence for sentence in told) == 200
    assert any(row.startswith("More than 200 times a piece lies over a flaw") for row in told)
    assert time.process_time() - started < 3
