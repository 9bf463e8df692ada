"""The referee on all that cloth and pieces may ask: good lays pass, and every fault is told."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from asked_lays import (
    ASKED,
    bordered,
    checked,
    flawed,
    pinwheel,
    scrap,
    threads,
    two,
)
from changes import moved, recloth, recut, regoal, retorn
from lays import GOOD, skirt

from marker.cloth import Repeat
from marker.geometry import Rect
from marker.lay import Lay, Proof
from marker.piece import AtSelvedge, Grain, Match, Side, Wise
from marker.referee import check, findings
from marker.units import CM, MM

HEM = Match("hem", Wise.LENGTHWISE, 50 * CM, 0)


@pytest.mark.parametrize("name", ASKED)
def test_good_lays_pass(name: str) -> None:
    lay = ASKED[name]()
    assert findings(lay) == ()
    check(lay)


def wishing(at: int, *wishes: AtSelvedge) -> Lay:
    """The border print with other wishes of one piece."""
    return recut(bordered(), at, selvedges=wishes)


def segment(**changes: Any) -> Lay:
    """The two segments of a strip on other terms."""
    lay = two()
    terms = lay.pieces[0].pieced
    assert terms is not None
    return recut(lay, 0, pieced=replace(terms, **changes))


PIECED = "Piece S, a segment of strip 'hem facing',"

# Each line: what is wrong, the lay with that one fault, and the sentence that tells it.
BROKEN: list[tuple[str, Lay, str]] = [
    # Steps cut with shears along a thread.
    ("a narrow strip torn off", retorn(threads(), 10, cut=False),
     "Tear 11 isn't marked to be cut with shears, but the strip of 30 mm that comes off "
     "is under the 40 mm that may be torn."),
    ("a narrow strip left by a tear", recloth(threads(), least_strip=8 * CM + 1),
     "Tear 4 isn't marked to be cut with shears, but the strip of 80 mm that stays "
     "is under the 80.00625 mm that may be torn."),
    ("a collar torn", retorn(threads(), 1, cut=False),
     "Tear 2 isn't marked to be cut with shears, but no edge of N-1 may be torn."),
    ("a collar's side torn", retorn(threads(), 5, cut=False),
     "Tear 6 isn't marked to be cut with shears, but no edge of N-1 may be torn."),
    ("squaring torn beside a collar", retorn(threads(), 0, cut=False),
     "Tear 1 isn't marked to be cut with shears, but no edge of N-1 may be torn."),
    ("a selvedge cut", retorn(threads(), 6, cut=True),
     "Tear 7 is marked to be cut with shears, but it may be torn."),
    ("cut where any strip may be torn", retorn(skirt(), 4, cut=True),
     "Tear 5 is marked to be cut with shears, but it may be torn."),
    ("a cut of the least that may be torn", recloth(threads(), least_strip=3 * CM),
     "Tear 11 is marked to be cut with shears, but it may be torn."),
    # Flaws.
    ("over a flaw", moved(flawed(), 1, x=75 * CM - 1),
     "A-2 lies over flaw 1 of the cloth at "
     "749.99375 mm to 750 mm along and 200 mm to 300 mm across."),
    ("over a flaw that hangs off the cloth", moved(flawed(), 1, x=75 * CM + 1),
     "A-2 lies over flaw 3 of the cloth at "
     "1350 mm to 1350.00625 mm along and 950 mm to 1000 mm across."),
    ("over a flaw before the squared end", moved(flawed(), 0, x=-1),
     "A-1 lies over flaw 2 of the cloth at -0.00625 mm to 0 mm along and 0 mm to 1000 mm across."),
    ("a flaw within a piece", recloth(flawed(), flaws=(Rect(5, 5, 6, 6),)),
     "A-1 lies over flaw 1 of the cloth at "
     "0.03125 mm to 0.0375 mm along and 0.03125 mm to 0.0375 mm across."),
    ("a flaw in a lay for shears", recloth(pinwheel(), flaws=(
        Rect(40 * CM, 40 * CM, 60 * CM, 60 * CM), Rect(60 * CM, 60 * CM, 60 * CM + 1, 61 * CM))),
     "K-3 lies over flaw 2 of the cloth at "
     "600 mm to 600.00625 mm along and 600 mm to 610 mm across."),
    ("a flaw of no cloth", recloth(flawed(), flaws=(Rect(9, 9, 9, 12),)),
     "Flaw 1 of the cloth lies at 0.05625 mm to 0.05625 mm along and "
     "0.05625 mm to 0.075 mm across, which holds no cloth."),
    ("a flaw of no cloth, crosswise", recloth(flawed(), flaws=(Rect(9, 9, 12, 9),)),
     "Flaw 1 of the cloth lies at 0.05625 mm to 0.075 mm along and "
     "0.05625 mm to 0.05625 mm across, which holds no cloth."),
    ("a flaw inside out", recloth(flawed(), flaws=(Rect(0, 5, 9, -5),)),
     "Flaw 1 of the cloth lies at 0 mm to 0.05625 mm along and "
     "0.03125 mm to -0.03125 mm across, which holds no cloth."),
    # Matches.
    ("out of phase lengthwise", moved(checked(), 3, x=64 * CM + 1),
     "In the lengthwise repeat of 160 mm the match hem falls in 2 places: "
     "A-1, B-1 and B-2 at 20 mm; A-2 at 20.00625 mm."),
    ("out of phase crosswise", moved(checked(), 2, y=50 * CM - MM),
     "In the crosswise repeat of 100 mm the match bars falls in 2 places: "
     "A-1, B-1 and A-2 at 0 mm; B-2 at 99 mm."),
    ("a match at another point of a copy", recut(checked(), 1, matches=(
        Match("hem", Wise.LENGTHWISE, 0, 0), Match("hem", Wise.LENGTHWISE, 14 * CM, 0))),
     "In the lengthwise repeat of 160 mm the match hem falls in 2 places: "
     "B-1 and B-2 at 0 mm; A-1, B-1, B-2 and A-2 at 20 mm."),
    ("a half turn that moves the point",
     recut(recloth(moved(checked(), 3, turn=180), one_way=False), 0, matches=(HEM,)),
     "In the lengthwise repeat of 160 mm the match hem falls in 2 places: "
     "A-2 at 0 mm; A-1, B-1 and B-2 at 20 mm."),
    ("a half turn that leaves the point where it was", recut(
        recloth(moved(checked(), 3, turn=180), one_way=False), 0,
        matches=(Match("middle", Wise.LENGTHWISE, 25 * CM, 0),)),
     "In the match middle the print runs one way in A-1, and the other, half a turn round, "
     "in A-2."),
    ("another repeat", recloth(checked(), repeat=Repeat(15 * CM, 0)),
     "In the lengthwise repeat of 150 mm the match hem falls in 2 places: "
     "A-1, B-1 and B-2 at 50 mm; A-2 at 90 mm."),
    ("a repeat of less than nothing", recloth(checked(), repeat=Repeat(-1, -2)),
     "The lengthwise repeat of the cloth is -0.00625 mm."),
    ("a crosswise repeat of less than nothing", recloth(checked(), repeat=Repeat(-1, -2)),
     "The crosswise repeat of the cloth is -0.0125 mm."),
    # Selvedges.
    ("off the near selvedge", moved(bordered(), 0, y=CM + 1),
     "The low edge of C-1 lies 0.00625 mm from the edge of the usable cloth, "
     "more than the 0 mm that it may."),
    ("off the far selvedge", moved(bordered(), 1, y=61 * CM - 1),
     "The low edge of C-2 lies 0.00625 mm from the edge of the usable cloth, "
     "more than the 0 mm that it may."),
    ("not turned to the far selvedge", moved(bordered(), 1, turn=0),
     "The low edge of C-2 lies 300 mm from the edge of the usable cloth, "
     "more than the 0 mm that it may."),
    ("turned from the near selvedge", moved(bordered(), 0, turn=180),
     "The low edge of C-1 lies 300 mm from the edge of the usable cloth, "
     "more than the 0 mm that it may."),
    ("one selvedge of two", recut(bordered(), 1, breadth=90 * CM - 1),
     "The high edge of D-1 lies 0.00625 mm from the edge of the usable cloth, "
     "more than the 0 mm that it may."),
    ("a start past what it may", moved(bordered(), 3, y=3 * CM + 1),
     "The start edge of E-1 lies 20.00625 mm from the edge of the usable cloth, "
     "more than the 20 mm that it may."),
    ("a start turned away", moved(bordered(), 3, turn=270),
     "The start edge of E-1 lies 420 mm from the edge of the usable cloth, "
     "more than the 20 mm that it may."),
    ("an end turned away", wishing(2, AtSelvedge(Side.END, 2 * CM)),
     "The end edge of E-1 lies 420 mm from the edge of the usable cloth, "
     "more than the 20 mm that it may."),
    ("either side too far in", moved(bordered(), 4, y=66 * CM - 1),
     "The nearer side of F-1 lies 50.00625 mm from the edge of the usable cloth, "
     "more than the 50 mm that it may."),
    ("an end that runs across", wishing(0, AtSelvedge(Side.END, 100 * CM)),
     "The end edge of C-1 runs across the cloth, so it can't lie at a selvedge as it must."),
    ("a side that runs across", wishing(2, AtSelvedge(Side.HIGH, 100 * CM)),
     "The high edge of E-1 runs across the cloth, so it can't lie at a selvedge as it must."),
    ("either side across", wishing(2, AtSelvedge(Side.EITHER_SIDE, 100 * CM)),
     "The nearer side of E-1 runs across the cloth, so it can't lie at a selvedge as it must."),
    ("nearer than near", wishing(0, AtSelvedge(Side.LOW, -1)),
     "Piece C wants an edge within -0.00625 mm of a selvedge."),
    # Letters that the drawing needs for itself.
    ("a piece called flaw", recut(skirt(), 0, letter="flaw"),
     "flaw can't be the letter of a piece; use letters and figures."),
    ("a piece called repeat", recut(skirt(), 0, letter="repeat"),
     "repeat can't be the letter of a piece; use letters and figures."),
    # Cloths still open.
    ("a cloth not settled", recut(skirt(), 1, also=("lining", "scrap")),
     "Piece B may still be cut from lining and scrap; in a lay its cloth is settled."),
    # Remnants.
    ("a remnant cut into", replace(scrap(), bolt=Rect(-2 * CM, 0, 80 * CM, 60 * CM)),
     "The bolt lies at -20 mm to 800 mm along and 0 mm to 600 mm across, but the remnant in "
     "hand is 950 mm, which leaves -20 mm to 892 mm along and 0 mm to 600 mm across."),
    ("a remnant too short", recloth(scrap(), length=74 * CM),
     "The lay is 700 mm long, but the remnant in hand leaves only 690.4 mm for it."),
    ("open, though nothing is bought", replace(scrap(), proof=Proof.OPEN),
     "The claim is open, but a bound of 600 mm under a length of 700 mm makes it step."),
    ("a remnant bought", regoal(scrap(), 0, value=80 * CM),
     "The goal buy is told to be 800 mm, but this lay makes it 0 mm."),
    # The segments of a strip.
    ("a segment too short", segment(least=50 * CM + 1),
     f"{PIECED} is 500 mm long, under the shortest of 500.00625 mm."),
    ("a segment off the pitch", segment(pitch=5 * CM),
     f"{PIECED} is 480 mm long between its seams, "
     "which isn't a whole number of pitches of 50 mm."),
    ("a segment lost in its seams", segment(seam=25 * CM),
     f"{PIECED} is 0 mm long between its seams, which isn't a whole number of pitches of 30 mm."),
    ("a strip of nothing", segment(total=0), f"{PIECED} gives 0 mm for its total."),
    ("a seam of less than nothing", segment(seam=-1), f"{PIECED} gives -0.00625 mm for its seam."),
    ("a least of less than nothing", segment(least=-1),
     f"{PIECED} gives -0.00625 mm for its least."),
    ("no segment allowed", segment(most=0), f"{PIECED} gives 0 for its most."),
    ("a pitch of less than nothing", segment(pitch=-3),
     f"{PIECED} gives -0.01875 mm for its pitch."),
    # Figures of the cloth.
    ("an allowance of less than nothing", recloth(skirt(), torn_edge=-1),
     "The allowance for a torn edge of the cloth is -0.00625 mm."),
    ("a least strip of less than nothing", recloth(skirt(), least_strip=-1),
     "The least strip to tear of the cloth is -0.00625 mm."),
]  # fmt: skip


@pytest.mark.parametrize(("lay", "sentence"), [row[1:] for row in BROKEN],
                         ids=[row[0] for row in BROKEN])  # fmt: skip
def test_a_broken_lay_is_told(lay: Lay, sentence: str) -> None:
    assert sentence in findings(lay)


# One slip in a good lay that touches nothing else gives one sentence and no more.
@pytest.mark.parametrize(
    "lay",
    [
        recloth(skirt(), tears=False),
        retorn(threads(), 10, cut=False),
        retorn(threads(), 6, cut=True),
        recloth(checked(), repeat=Repeat(15 * CM, 0)),
        moved(bordered(), 3, turn=270),
        recut(skirt(), 1, also=("lining",)),
        segment(least=51 * CM),
        recloth(flawed(), flaws=(*flawed().cloth.flaws, Rect(5, 5, 6, 6))),
    ],
)
def test_one_slip_is_told_once(lay: Lay) -> None:
    assert len(findings(lay)) == 1


# What may be so, though it stands close to a fault.
@pytest.mark.parametrize(
    "lay",
    [
        # A match on cloth without a repeat that way is no rule.
        moved(recloth(checked(), repeat=Repeat(0, 10 * CM)), 1, x=50 * CM),
        recut(skirt(), 0, matches=(Match("any", Wise.LENGTHWISE, 5, 5),)),
        # Sets of another name, or matched the other way, are sets of their own.
        recut(checked(), 1, matches=(Match("top", Wise.LENGTHWISE, 3, 0),)),
        recut(checked(), 1, matches=(Match("hem", Wise.CROSSWISE, 0, 7),)),
        # Points whole repeats off the piece, either way.
        recut(checked(), 0, matches=(Match("hem", Wise.LENGTHWISE, 50 * CM - 160 * CM, 9),)),
        # A segment just long enough; a strip without seams, pitch or shortest segment.
        segment(least=50 * CM),
        segment(total=1, seam=0, least=0, most=1, pitch=0),
        # A strip of just the least breadth may be torn; the band is 75 mm.
        recloth(skirt(), least_strip=75 * MM),
        # A piece that may not be torn, in a lay to be torn, whose edges are all cut.
        threads(),
    ],
)
def test_what_is_allowed_passes(lay: Lay) -> None:
    assert findings(lay) == ()


def test_a_wish_is_judged_with_the_turn_of_every_copy() -> None:
    # All four edges of a strip, in all four turns: which side of the cloth each comes to.
    near = {0: Side.LOW, 90: Side.START, 180: Side.HIGH, 270: Side.END}
    far = {0: Side.HIGH, 90: Side.END, 180: Side.LOW, 270: Side.START}
    for turn in (0, 90, 180, 270):
        for edge in (Side.START, Side.END, Side.LOW, Side.HIGH):
            lay = recut(GOOD["whole"](), 0, grain=Grain.EITHER, breadth=40 * CM, length=40 * CM,
                        selvedges=(AtSelvedge(edge, 0),))  # fmt: skip
            low = [told for told in findings(moved(lay, 0, turn=turn)) if "edge of J-1" in told]
            high = [told for told in findings(moved(lay, 0, turn=turn, y=50 * CM))
                    if "edge of J-1" in told]  # fmt: skip
            assert (low == []) == (near[turn] == edge), (turn, edge)
            assert (high == []) == (far[turn] == edge), (turn, edge)
            across = near[turn] != edge and far[turn] != edge
            assert all(("runs across" in told) == across for told in (*low, *high))


def test_a_match_in_many_places_is_told_in_bounds() -> None:
    lay = moved(recloth(checked(), repeat=Repeat(90 * CM, 0)), 3, x=65 * CM)
    wild = tuple(Match("wild", Wise.LENGTHWISE, at, 0) for at in range(50))
    told = [row for row in findings(recut(lay, 0, matches=wild)) if "match wild" in row]
    assert len(told) == 1
    assert "falls in 100 places" in told[0]
    assert told[0].endswith("; and 96 places more.")
    # Four places are all named.
    told = [row for row in findings(recut(lay, 0, matches=wild[:2])) if "match wild" in row]
    assert told == [
        "In the lengthwise repeat of 900 mm the match wild falls in 4 places: A-1 at 0 mm; "
        "A-1 at 0.00625 mm; A-2 at 650 mm; A-2 at 650.00625 mm."
    ]
