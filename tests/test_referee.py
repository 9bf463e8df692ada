"""The referee passes good lays, and finds every fault put into them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from changes import again, moved, recloth, recut, retorn, swapped, without
from lays import ALONG, GOOD, nap, railroaded, skirt, squared, whole

from marker.errors import Refused
from marker.geometry import Rect
from marker.lay import Direction, Lay, Offcut, Part, Proof, tears
from marker.piece import Mark, MarkKind
from marker.referee import check, findings
from marker.units import CM, INCH, MM

LENGTH = 3315 * MM


@pytest.mark.parametrize("name", GOOD)
def test_good_lays_pass(name: str) -> None:
    lay = GOOD[name]()
    assert findings(lay) == ()
    check(lay)


# Each line: what is wrong, the lay with that one fault, and the sentence that tells it.
BROKEN: list[tuple[str, Lay, str]] = [
    # Pieces.
    ("no pieces", replace(whole(), pieces=()), "The lay lists no piece to be cut."),
    ("a letter twice", again(skirt(), "pieces", 0), "The letter A is given to 2 pieces."),
    ("an odd letter", recut(skirt(), 0, letter="A-1"),
     "A-1 can't be the letter of a piece; use letters and figures."),
    ("a letter of the drawing's", recut(skirt(), 0, letter="tear"),
     "tear can't be the letter of a piece; use letters and figures."),
    ("another cloth's piece", recut(skirt(), 0, cloth="lining"),
     "Piece A is cut from cloth lining, but lies on main."),
    ("a mark off the piece",
     recut(skirt(), 1, marks=(Mark(MarkKind.NOTCH, "opening", 0, 0, 0, 76 * MM),)),
     "The notch mark 'opening' runs off piece B: "
     "0 mm to 0 mm along it and 0 mm to 76 mm over its breadth."),
    ("a mark past the end",
     recut(skirt(), 1, marks=(Mark(MarkKind.SEAM, "seam", 0, 0, 760 * MM + 1, 0),)),
     "The seam mark 'seam' runs off piece B: "
     "0 mm to 760.00625 mm along it and 0 mm to 0 mm over its breadth."),
    # Counts.
    ("a piece dropped", without(skirt(), "placements", 1),
     "Piece A is laid 2 times, but is cut 3 times."),
    ("a piece dropped, named", without(skirt(), "placements", 1), "Never laid: A-2."),
    ("a piece twice", again(skirt(), "placements", 1),
     "Piece A is laid 4 times, but is cut 3 times."),
    ("a copy twice", moved(skirt(), 2, copy=2), "A-2 is laid 2 times."),
    ("a copy's number missed", moved(skirt(), 2, copy=2), "Never laid: A-3."),
    ("a copy too high", moved(skirt(), 2, copy=4), "A-4 isn't one of its 3 copies."),
    ("a copy of nought", moved(skirt(), 2, copy=0), "A-0 isn't one of its 3 copies."),
    ("one more to cut", recut(skirt(), 0, count=4), "Never laid: A-4."),
    ("many more to cut", recut(skirt(), 0, count=10**9),
     "Never laid: A-4, A-5 and A-6 (and 999999994 more)."),
    ("an unknown letter", moved(skirt(), 0, letter="Z"),
     "Z is laid, but no piece has that letter."),
    ("a crooked turn", moved(skirt(), 0, turn=45),
     "A-1 is turned by 45 degrees, which isn't a quarter turn."),
    # Grain and one way.
    ("grain along", moved(skirt(), 0, turn=90),
     "A-1 has its length across the bolt, but its grain is along; "
     "it lies at 0 mm to 1120 mm along and 10 mm to 1090 mm across."),
    ("grain across", moved(skirt(), 3, turn=180),
     "B-1 has its length along the bolt, but its grain is across; "
     "it lies at 3240 mm to 4000 mm along and 10 mm to 85 mm across."),
    ("crosswise on one-way cloth", moved(nap(), 1, turn=0),
     "F-1 lies crosswise on one-way cloth; its up must follow the warp."),
    ("on its head on one-way cloth", moved(nap(), 0, turn=180),
     "One-way cloth is laid both ways: F-1, G-1 and G-2 one way, E-1 the other."),
    ("a band on its head", moved(nap(), 1, turn=270),
     "One-way cloth is laid both ways: E-1, G-1 and G-2 one way, F-1 the other."),
    ("two-way lay on one-way cloth", recloth(squared(), one_way=True),
     "One-way cloth is laid both ways: "
     "C-1, D-1 and D-3 one way, C-2, D-2 and D-4 the other."),
    # Room.
    ("in the near selvedge", moved(skirt(), 0, y=CM - 1),
     "A-1 lies at 9.99375 mm to 1129.99375 mm across, "
     "outside the usable cloth of 10 mm to 1130 mm."),
    ("in the far selvedge", moved(skirt(), 0, y=CM + 1),
     "A-1 lies at 10.00625 mm to 1130.00625 mm across, "
     "outside the usable cloth of 10 mm to 1130 mm."),
    ("over the edge of kept selvedges", moved(squared(), 1, y=53 * CM + 1),
     "C-2 lies at 530.00625 mm to 980.00625 mm across, "
     "outside the usable cloth of 0 mm to 980 mm."),
    ("in the squaring", moved(squared(), 0, x=-1),
     "C-1 lies at -0.00625 mm to 899.99375 mm along, outside the lay of 0 mm to 1200 mm."),
    ("beyond the length", moved(skirt(), 3, x=LENGTH - 75 * MM + 1),
     "B-1 lies at 3240.00625 mm to 3315.00625 mm along, outside the lay of 0 mm to 3315 mm."),
    ("one unit over another", moved(skirt(), 1, x=108 * CM - 1),
     "A-1 and A-2 lie over one another at "
     "1079.99375 mm to 1080 mm along and 10 mm to 1130 mm across."),
    ("one unit over an offcut", moved(skirt(), 3, y=CM + 1),
     "B-1 and offcut-8 lie over one another at "
     "3240 mm to 3315 mm along and 770 mm to 770.00625 mm across."),
    ("less area than the bolt", without(skirt(), "offcuts", 8),
     f"Pieces and offcuts add up to {85 * MM * 1140 * MM} square units less than the bolt, "
     f"which has {3400 * MM * 1140 * MM}."),
    ("more area than the bolt", again(skirt(), "offcuts", 8),
     f"Pieces and offcuts add up to {85 * MM * 1140 * MM} square units more than the bolt, "
     f"which has {3400 * MM * 1140 * MM}."),
    # The bolt and what is bought.
    ("a bolt too short", replace(skirt(), bolt=Rect(0, 0, 339 * CM, 114 * CM)),
     "The bolt lies at 0 mm to 3390 mm along and 0 mm to 1140 mm across, but 3400 mm is "
     "bought for this lay, which leaves 0 mm to 3400 mm along and 0 mm to 1140 mm across."),
    ("one step too many", replace(skirt(), bolt=Rect(0, 0, 350 * CM, 114 * CM)),
     "The bolt lies at 0 mm to 3500 mm along and 0 mm to 1140 mm across, but 3400 mm is "
     "bought for this lay, which leaves 0 mm to 3400 mm along and 0 mm to 1140 mm across."),
    ("shrinkage forgotten", replace(squared(), bolt=Rect(-30 * MM, 0, 1270 * MM, 980 * MM)),
     "The bolt lies at -30 mm to 1270 mm along and 0 mm to 980 mm across, but 1300 mm is "
     "bought for this lay, which leaves -30 mm to 1218 mm along and 0 mm to 980 mm across."),
    ("squaring forgotten", recloth(squared(), squaring=10 * CM),
     "The bolt lies at -30 mm to 1218 mm along and 0 mm to 980 mm across, but 1400 mm is "
     "bought for this lay, which leaves -100 mm to 1244 mm along and 0 mm to 980 mm across."),
    # Length and proof.
    ("a length too long", replace(skirt(), length=LENGTH + 1),
     "The lay is said to be 3315.00625 mm long, but the furthest piece ends at 3315 mm."),
    ("a length too short", replace(skirt(), length=LENGTH - 1),
     "The lay is said to be 3314.99375 mm long, but the furthest piece ends at 3315 mm."),
    ("less than the area", replace(skirt(), length=324 * CM),
     "3240 mm of this cloth has less area than its pieces."),
    ("less than a panel", replace(railroaded(), length=2999 * MM),
     "Piece H takes 3000 mm along the cloth, more than the 2999 mm of the lay."),
    ("no bound", replace(nap(), bound=0), "The bound is 0 mm; it must be more than nothing."),
    ("a negative bound", replace(nap(), bound=-CM),
     "The bound is -10 mm; it must be more than nothing."),
    ("a bound above the length", replace(skirt(), bound=LENGTH + 1),
     "The bound of 3315.00625 mm is above the length of 3315 mm, so one of them is false."),
    ("a bound without a ground", replace(skirt(), bound_by=" "),
     "Nothing says how the bound was found."),
    ("length claimed, step proved", replace(squared(), proof=Proof.LENGTH),
     "The claim is length, but a bound of 1160 mm under a length of 1200 mm makes it step."),
    ("length claimed, nothing proved", replace(nap(), proof=Proof.LENGTH),
     "The claim is length, but a bound of 762 mm under a length of 1092.2 mm makes it open."),
    ("step claimed, nothing proved", replace(nap(), proof=Proof.STEP),
     "The claim is step, but a bound of 762 mm under a length of 1092.2 mm makes it open."),
    ("open claimed, length proved", replace(skirt(), proof=Proof.OPEN),
     "The claim is open, but a bound of 3315 mm under a length of 3315 mm makes it length."),
    ("step claimed, length proved", replace(skirt(), proof=Proof.STEP),
     "The claim is step, but a bound of 3315 mm under a length of 3315 mm makes it length."),
    ("open claimed, step proved", replace(squared(), proof=Proof.OPEN),
     "The claim is open, but a bound of 1160 mm under a length of 1200 mm makes it step."),
    # Tears.
    ("a tear left out", without(skirt(), "tears", 9), "The tear in place 10 has the number 11."),
    ("tears out of number", retorn(skirt(), 4, number=6), "The tear in place 5 has the number 6."),
    ("tears out of order",
     replace(skirt(), tears=(skirt().tears[1], skirt().tears[0], *skirt().tears[2:])),
     "Tear 2 doesn't run from edge to edge: it parts 1080 mm to 3400 mm along and 0 mm to "
     "1140 mm across, but the part in hand is 0 mm to 3400 mm along and 0 mm to 1140 mm across."),
    ("a tear done twice", again(nap(), "tears", 0),
     "Tear 1 parts 0 mm to 1143 mm along and 0 mm to 1143 mm across, "
     "which isn't in hand by then."),
    ("a tear that stops short", retorn(skirt(), 0, in_hand=Rect(0, 0, 340 * CM, 113 * CM)),
     "Tear 1 doesn't run from edge to edge: it parts 0 mm to 3400 mm along and 0 mm to 1130 mm "
     "across, but the part in hand is 0 mm to 3400 mm along and 0 mm to 1140 mm across."),
    ("a tear through a piece", retorn(skirt(), 0, at=108 * CM - 1),
     "Tear 1 at 1079.99375 mm goes through A-1."),
    ("a tear along through a piece", retorn(skirt(), 5, at=113 * CM - 1),
     "Tear 6 at 1129.99375 mm goes through A-1."),
    ("a tear through a piece, not in hand",
     retorn(skirt(), 5, at=113 * CM - 1, in_hand=Rect(0, CM + 1, 108 * CM, 114 * CM)),
     "Tear 6 at 1129.99375 mm goes through A-1."),
    ("a tear at the edge", retorn(skirt(), 0, at=0),
     "Tear 1 stands at 0 mm, which isn't inside the part in hand, "
     "0 mm to 3400 mm along and 0 mm to 1140 mm across."),
    ("a tear at the far edge", retorn(skirt(), 0, at=340 * CM),
     "Tear 1 stands at 3400 mm, which isn't inside the part in hand, "
     "0 mm to 3400 mm along and 0 mm to 1140 mm across."),
    ("a tear off the cloth", retorn(skirt(), 4, at=-CM),
     "Tear 5 stands at -10 mm, which isn't inside the part in hand, "
     "0 mm to 1080 mm along and 0 mm to 1140 mm across."),
    ("frees too much", retorn(skirt(), 0, frees=("A-1",)),
     "Tear 1 is said to free A-1, but it frees nothing."),
    ("frees too little", retorn(skirt(), 5, frees=()),
     "Tear 6 is said to free nothing, but it frees A-1."),
    ("frees another", retorn(skirt(), 5, frees=("A-2",)),
     "Tear 6 is said to free A-2, but it frees A-1."),
    ("frees one twice", retorn(skirt(), 5, frees=("A-1", "A-1")),
     "Tear 6 is said to free A-1 and A-1, but it frees A-1."),
    ("frees one of two", retorn(squared(), 6, frees=("D-1",)),
     "Tear 7 is said to free D-1, but it frees D-1 and D-2."),
    ("copies changed over", swapped(skirt(), 0, 1),
     "Tear 6 is said to free A-1, but it frees A-2."),
    ("never torn free", without(skirt(), "tears", 11),
     "B-1 is never torn free; it lies at 3240 mm to 3315 mm along and 10 mm to 770 mm across."),
    ("first tear along", retorn(skirt(), 0, direction=ALONG, at=CM),
     "The first tear runs along the cloth; the first must run across it."),
    ("not squared", retorn(squared(), 0, at=1),
     "No first tear at 0 mm squares the cloth, though 30 mm is to come off."),
    ("no tear to square it", replace(squared(), tears=()),
     "No first tear at 0 mm squares the cloth, though 30 mm is to come off."),
    ("lengths that don't add up", retorn(skirt(), 1, in_hand=Rect(107 * CM, 0, 340 * CM, 114 * CM)),
     "The lengths torn across the bolt add up to 3410 mm, but the bolt is 3400 mm long."),
    ("lengths that don't add up, squared",
     retorn(squared(), 1, in_hand=Rect(CM, 0, 1218 * MM, 980 * MM)),
     "The lengths torn across the bolt add up to 1238 mm, but the bolt is 1248 mm long."),
    # Offcuts.
    ("an offcut not listed", without(skirt(), "offcuts", 8),
     "What is left at 3315 mm to 3400 mm along and 0 mm to 1140 mm across "
     "isn't listed as an offcut."),
    ("an offcut twice", again(skirt(), "offcuts", 8), "offcut-10 is listed before, as offcut-9."),
    ("an offcut that isn't",
     replace(skirt(), offcuts=(*skirt().offcuts, Offcut(Rect(0, 0, 1, 1), True))),
     "offcut-10, 0 mm to 0.00625 mm along and 0 mm to 0.00625 mm across, "
     "isn't what the tears leave over."),
    ("a piece as an offcut",
     replace(whole(), offcuts=(Offcut(Rect(0, 0, 90 * CM, 90 * CM), True),)),
     "offcut-1, 0 mm to 900 mm along and 0 mm to 900 mm across, "
     "isn't what the tears leave over."),
]  # fmt: skip


@pytest.mark.parametrize(("lay", "sentence"), [row[1:] for row in BROKEN],
                         ids=[row[0] for row in BROKEN])  # fmt: skip
def test_a_broken_lay_is_told(lay: Lay, sentence: str) -> None:
    assert sentence in findings(lay)
    with pytest.raises(Refused) as refused:
        check(lay)
    assert sentence in refused.value.findings


def test_all_faults_are_told_not_the_first() -> None:
    lay = moved(replace(skirt(), bound=0, proof=Proof.STEP), 0, y=0)
    lay = retorn(lay, 11, frees=())
    told = findings(lay)
    for part in ("usable cloth", "bound is 0", "claim is step", "free nothing", "never torn free"):
        assert any(part in sentence for sentence in told), part


def test_a_single_fault_of_the_claim_is_told_once() -> None:
    assert len(findings(replace(squared(), proof=Proof.OPEN))) == 1
    assert len(findings(retorn(skirt(), 5, frees=()))) == 1


def test_a_tear_that_is_not_in_hand_goes_through_what_it_crosses_and_no_more() -> None:
    # G-1 lies between E-1 and G-2; a tear over its own breadth touches both and cuts neither.
    lay = retorn(nap(), 0, in_hand=Rect(0, 30 * INCH, 40 * INCH, 32 * INCH), at=20 * INCH)
    through = [told for told in findings(lay) if "goes through" in told]
    assert through == ["Tear 1 at 508 mm goes through G-1."]
    # F-1 begins where the drop ends: a tear along the drop alone leaves it whole.
    lay = retorn(nap(), 1, in_hand=Rect(0, 0, 40 * INCH, 45 * INCH - 1), direction=ALONG, at=INCH)
    through = [told for told in findings(lay) if told.startswith("Tear 2 at")]
    assert through == ["Tear 2 at 25.4 mm goes through E-1."]
    lay = retorn(nap(), 2, in_hand=Rect(40 * INCH, 0, 44 * INCH, 45 * INCH), at=INCH)
    through = [told for told in findings(lay) if told.startswith("Tear 3 at")]
    assert through == ["Tear 3 at 25.4 mm goes through F-1."]


# A cut tree as the solvers make it, walked by the tool's own walker: both must agree.
def test_the_tools_own_tears_pass() -> None:
    lay = nap()
    ends = [Part(Rect(0, 0, 40 * INCH, 30 * INCH), placed=lay.placements[0])]
    for at, (low, high) in enumerate(((30, 32), (32, 34)), 2):
        rect = Rect(0, low * INCH, 40 * INCH, high * INCH)
        ends.append(Part(rect, placed=lay.placements[at]))
    ends.append(Part(Rect(0, 34 * INCH, 40 * INCH, 45 * INCH)))
    drop = Part(Rect(0, 0, 40 * INCH, 45 * INCH), Direction.ALONG, tuple(ends))
    band = Part(Rect(40 * INCH, 0, 43 * INCH, 30 * INCH), placed=lay.placements[1])
    end = Part(Rect(40 * INCH, 30 * INCH, 43 * INCH, 45 * INCH))
    strip = Part(Rect(40 * INCH, 0, 43 * INCH, 45 * INCH), Direction.ALONG, (band, end))
    tail = Part(Rect(43 * INCH, 0, 45 * INCH, 45 * INCH))
    tree = Part(lay.bolt, Direction.ACROSS, (drop, strip, tail))
    assert findings(replace(lay, tears=tears(tree))) == ()
