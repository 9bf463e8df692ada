"""The referee on lays for shears, on what is kept, and on the goals and their bounds."""

from __future__ import annotations

from dataclasses import replace

import pytest
from asked_lays import bordered, checked, flawed, pinwheel, scrap, stepped, threads
from changes import again, moved, recloth, recut, regoal, without
from lays import GOOD, railroaded, skirt

from marker.cloth import Repeat
from marker.geometry import Rect
from marker.lay import Lay, Mode, Offcut
from marker.piece import Match, Wise
from marker.referee import findings
from marker.units import CM, MM

# Each line: what is wrong, the lay with that one fault, and the sentence that tells it.
BROKEN: list[tuple[str, Lay, str]] = [
    # Mode.
    ("a tear lay on cloth that doesn't tear", recloth(skirt(), tears=False),
     "The lay is to be torn, but this cloth doesn't tear."),
    ("a tear lay of nothing to be torn", recut(recut(skirt(), 0, torn=False), 1, torn=False),
     "The lay is to be torn, but none of its pieces may be."),
    ("a pinwheel to be torn", replace(recloth(pinwheel(), tears=True), mode=Mode.TEAR),
     "K-1 is never torn free; it lies at 0 mm to 600 mm along and 0 mm to 400 mm across."),
    ("shears with a tear", replace(pinwheel(), tears=skirt().tears[:1]),
     "The lay is for shears, but it lists a tear."),
    ("shears with tears", replace(skirt(), mode=Mode.SHEARS),
     "The lay is for shears, but it lists 12 tears."),
    # Shears: the offcuts are exactly what the pieces leave.
    ("an offcut missing", without(pinwheel(), "offcuts", 0),
     f"Pieces and offcuts add up to {(200 * MM) ** 2} square units less than the bolt, "
     f"which has {(1000 * MM) ** 2}."),
    ("an offcut twice", again(pinwheel(), "offcuts", 0),
     "offcut-1 and offcut-2 lie over one another at "
     "400 mm to 600 mm along and 400 mm to 600 mm across."),
    ("an offcut over a piece",
     replace(pinwheel(), offcuts=(Offcut(Rect(400 * MM - 1, 400 * MM, 600 * MM, 600 * MM), True),)),
     "K-4 and offcut-1 lie over one another at "
     "399.99375 mm to 400 mm along and 400 mm to 600 mm across."),
    ("an offcut beyond the bolt",
     replace(stepped(), offcuts=(
         *stepped().offcuts[:-1], Offcut(Rect(70 * CM, CM, 75 * CM + 1, 50 * CM), False))),
     "offcut-5 lies at 700 mm to 750.00625 mm along and 10 mm to 500 mm across, "
     "beyond the bolt at -50 mm to 750 mm along and 0 mm to 1000 mm across."),
    ("an empty offcut",
     replace(pinwheel(), offcuts=(*pinwheel().offcuts, Offcut(Rect(5, 5, 5, 9), False))),
     "offcut-2 lies at 0.03125 mm to 0.03125 mm along and 0.03125 mm to 0.05625 mm across, "
     "which holds no cloth."),
    ("an offcut of no breadth",
     replace(pinwheel(), offcuts=(*pinwheel().offcuts, Offcut(Rect(5, 9, 7, 9), False))),
     "offcut-2 lies at 0.03125 mm to 0.04375 mm along and 0.05625 mm to 0.05625 mm across, "
     "which holds no cloth."),
    ("a selvedge kept", replace(stepped(), offcuts=(
        *stepped().offcuts[:2], replace(stepped().offcuts[2], keep=True),
        *stepped().offcuts[3:])),
     "offcut-3 is marked to be kept, but its usable cloth is 750 mm by 0 mm; "
     "what has 100 mm or more either way is kept."),
    ("an offcut inside out",
     replace(pinwheel(), offcuts=(
         Offcut(Rect(60 * CM, 60 * CM, 40 * CM, 40 * CM), False),)),
     "offcut-1 lies at 600 mm to 400 mm along and 600 mm to 400 mm across, "
     "which holds no cloth."),
    ("shears in the selvedge", moved(stepped(), 0, y=CM - 1),
     "L-1 lies at 9.99375 mm to 499.99375 mm across, "
     "outside the usable cloth of 10 mm to 990 mm."),
    ("shears in the squaring", moved(stepped(), 1, x=-1),
     "M-1 lies at -0.00625 mm to 299.99375 mm along, outside the lay of 0 mm to 700 mm."),
    ("shears over another piece", moved(pinwheel(), 1, x=60 * CM - 1),
     "K-1 and K-2 lie over one another at "
     "599.99375 mm to 600 mm along and 0 mm to 400 mm across."),
    # What is kept.
    ("kept, though small", replace(scrap(), offcuts=(
        replace(scrap().offcuts[0], keep=True), scrap().offcuts[1])),
     "offcut-1 is marked to be kept, but its usable cloth is 0 mm by 600 mm; "
     "what has 100 mm or more either way is kept."),
    ("not kept, though large", replace(scrap(), offcuts=(
        scrap().offcuts[0], replace(scrap().offcuts[1], keep=False))),
     "offcut-2 isn't marked to be kept, but its usable cloth is 192 mm by 600 mm; "
     "what has 100 mm or more either way is kept."),
    # Goals.
    ("no goals", replace(skirt(), goals=()),
     "The goals of a lay are buy, length, remnant and tears, in this order; this one tells "
     "nothing."),
    ("goals out of order", replace(skirt(), goals=skirt().goals[::-1]),
     "The goals of a lay are buy, length, remnant and tears, in this order; this one tells "
     "tears, remnant, length and buy."),
    ("a goal too many", again(skirt(), "goals", 3),
     "The goals of a lay are buy, length, remnant and tears, in this order; this one tells "
     "buy, length, remnant, tears and tears."),
    ("a goal too few", without(skirt(), "goals", 2),
     "The goals of a lay are buy, length, remnant and tears, in this order; this one tells "
     "buy, length and tears."),
    ("too little bought", regoal(skirt(), 0, value=339 * CM),
     "The goal buy is told to be 3390 mm, but this lay makes it 3400 mm."),
    ("a length told wrong", regoal(skirt(), 1, value=3315 * MM - 1),
     "The goal length is told to be 3314.99375 mm, but this lay makes it 3315 mm."),
    ("a remnant told too large", regoal(bordered(), 2, value=100 * CM * 30 * CM + 1),
     f"The goal remnant is told to be {1000 * MM * 300 * MM + 1} square units, "
     f"but this lay makes it {1000 * MM * 300 * MM} square units."),
    ("a remnant told with its selvedge", regoal(threads(), 2, value=20 * CM * 45 * CM),
     f"The goal remnant is told to be {200 * MM * 450 * MM} square units, "
     f"but this lay makes it {200 * MM * 440 * MM} square units."),
    ("tears miscounted", regoal(skirt(), 3, value=11),
     "The goal tears is told to be 11, but this lay makes it 12."),
    ("cuts miscounted", regoal(pinwheel(), 3, value=8),
     "The goal tears is told to be 8, but this lay makes it 4."),
    ("a bound on what is bought", regoal(flawed(), 0, bound=130 * CM),
     "The bound on the goal buy is 1300 mm, but the lay's bound of 1200 mm makes it 1200 mm."),
    ("a bound on the length", regoal(flawed(), 1, bound=135 * CM),
     "The bound on the goal length is 1350 mm, but the lay's bound of 1200 mm makes it 1200 mm."),
    ("a remnant past its bound", regoal(scrap(), 2, bound=192 * MM * 600 * MM - 1),
     f"The bound on the goal remnant is {192 * MM * 600 * MM - 1} square units, less than the "
     f"{192 * MM * 600 * MM} square units told, so one of them is false."),
    ("fewer tears than the fewest", regoal(skirt(), 3, bound=13),
     "The bound on the goal tears is 13, more than the 12 told, so one of them is false."),
    ("fewer tears than none", regoal(skirt(), 3, bound=-1),
     "The bound on the goal tears is -1; it can't be under nought."),
    ("a goal without a ground", regoal(skirt(), 2, bound_by=" "),
     "Nothing says how the bound on the goal remnant was found."),
    ("a remnant claimed, and a larger one left",
     regoal(replace(stepped(), offcuts=(
         Offcut(Rect(30 * CM, 50 * CM, 70 * CM, 99 * CM), True),
         Offcut(Rect(70 * CM, CM, 75 * CM, 99 * CM), False), *stepped().offcuts[1:4])),
         2, value=40 * CM * 49 * CM, bound=40 * CM * 49 * CM),
     f"The bound on the goal remnant is {400 * MM * 490 * MM} square units, but the pieces "
     f"leave a rectangle of {450 * MM * 490 * MM} square units."),
    ("a remnant claimed, and a larger one left at the squared end",
     regoal(moved(stepped(), 1, x=45 * CM), 2, value=0, bound=45 * CM * 49 * CM - 1),
     f"The bound on the goal remnant is {450 * MM * 490 * MM - 1} square units, but the pieces "
     f"leave a rectangle of {450 * MM * 490 * MM} square units."),
    # Facts that no lay can undercut.
    ("in less than their phase allows", replace(checked(), length=114 * CM - 1),
     "2 copies of piece A in one place of the 160 mm repeat take 1140 mm, "
     "more than the 1139.99375 mm of the lay."),
    ("in less than their phase allows, on cloth that has no up",
     replace(recloth(checked(), one_way=False), length=114 * CM - 1),
     "2 copies of piece A in one place of the 160 mm repeat take 1140 mm, "
     "more than the 1139.99375 mm of the lay."),
    ("in less than their phase allows, railroaded",
     recut(recloth(railroaded(), repeat=Repeat(200 * CM, 0)), 0, count=2,
           matches=(Match("hem", Wise.LENGTHWISE, 0, 150 * CM),)),
     "2 copies of piece H in one place of the 2000 mm repeat take 7000 mm, "
     "more than the 3000 mm of the lay."),
    ("in less than one after another", replace(recloth(flawed(), flaws=()), length=119 * CM),
     "Pieces broader than half the cloth take 1200 mm one after another, "
     "more than the 1190 mm of the lay."),
]  # fmt: skip


@pytest.mark.parametrize(("lay", "sentence"), [row[1:] for row in BROKEN],
                         ids=[row[0] for row in BROKEN])  # fmt: skip
def test_a_broken_lay_is_told(lay: Lay, sentence: str) -> None:
    assert sentence in findings(lay)


@pytest.mark.parametrize(
    "lay",
    [
        regoal(skirt(), 3, value=11),
        regoal(pinwheel(), 3, value=8),
        replace(skirt(), goals=()),
    ],
)
def test_one_slip_is_told_once(lay: Lay) -> None:
    assert len(findings(lay)) == 1


@pytest.mark.parametrize(
    "lay",
    [
        # Shears are always allowed, on cloth that tears and for pieces that may be torn.
        recut(recloth(pinwheel(), tears=True), 0, torn=True),
        recut(recloth(stepped(), tears=False), 0, torn=True),
        # Panels that close up though the repeat is long: they match crosswise only.
        recut(recloth(skirt(), one_way=True, repeat=Repeat(50 * CM, CM)), 0,
              matches=(Match("seam", Wise.CROSSWISE, 0, 0),)),
        # A bound may be loose.
        regoal(skirt(), 2, bound=10**18),
        # What is left may be parted otherwise, as long as no larger remnant is claimed away.
        replace(pinwheel(), offcuts=(
            Offcut(Rect(40 * CM, 40 * CM, 60 * CM, 50 * CM), True),
            Offcut(Rect(40 * CM, 50 * CM, 60 * CM, 60 * CM), True),
        ), goals=regoal(pinwheel(), 2, value=200 * MM * 100 * MM).goals),
    ],
)  # fmt: skip
def test_what_is_allowed_passes(lay: Lay) -> None:
    assert findings(lay) == ()


@pytest.mark.parametrize("name", GOOD)
def test_every_lay_may_be_cut_with_shears_instead(name: str) -> None:
    # Shears may follow any tear: only the count of straight cuts is another.
    lay = GOOD[name]()
    sheared = replace(lay, mode=Mode.SHEARS, tears=())
    told = findings(regoal(sheared, 3, value=10**6))
    assert len(told) == 1
    cuts = int(told[0].removesuffix(".").rsplit(" ", 1)[1])
    assert cuts <= len(lay.tears)
    assert findings(regoal(recloth(sheared, tears=False), 3, value=cuts)) == ()


@pytest.mark.parametrize(
    ("along", "across", "kept"),
    [(100, 100, True), (100, 300, True), (300, 100, True), (100, 99, False), (99, 300, False)],
)
def test_ten_centimetres_either_way_are_kept(along: int, across: int, kept: bool) -> None:
    rect = Rect(0, 0, along * MM, across * MM)
    for marked in (True, False):
        told = findings(replace(pinwheel(), offcuts=(Offcut(rect, marked),)))
        assert any("marked to be kept" in sentence for sentence in told) == (marked != kept)


# Straight cuts of each lay, counted by hand on a sketch.
@pytest.mark.parametrize(
    ("lay", "cuts"),
    [
        # and B end across; sides of A in one line each, and B ends below the far.
        (GOOD["skirt"](), 4 + 2 + 1),
        # Squared; across at 90, 105, 120; along at 45, at 90 beside C, and at 49 between D.
        (GOOD["squared"](), 1 + 3 + 3),
        (GOOD["whole"](), 0),
        (pinwheel(), 4),
    ],
)
def test_straight_cuts_agree_with_a_count_by_hand(lay: Lay, cuts: int) -> None:
    bare = replace(recloth(lay, tears=False), mode=Mode.SHEARS, tears=())
    assert findings(regoal(bare, 3, value=cuts)) == ()
