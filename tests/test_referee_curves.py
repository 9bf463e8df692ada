"""The referee on lays of pieces with outlines: good ones pass, and every fault is told."""

from __future__ import annotations

from dataclasses import replace

import pytest
from changes import again, moved, recloth, recut, regoal, retorn, without
from curved_lays import CURVED, folded, phased, region, shaped, slanted, spaced, wedges
from lays import Bench
from random_lays import kept_clear

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.geometry.shapes import gore
from marker.lay import Direction, Lay, Offcut, Proof, Tear
from marker.piece import AtSelvedge, Grain, Mark, MarkKind, Piece, Side
from marker.record import Record, dump, parse
from marker.referee import check_record, findings
from marker.units import CM, MM, System


@pytest.mark.parametrize("name", CURVED)
def test_good_lays_of_outlines_pass(name: str) -> None:
    lay = CURVED[name]()
    assert findings(lay) == ()
    record = Record("Harvest dance", System.CM, (), (lay,))
    bare = replace(lay, pieces=tuple(replace(piece, garment="") for piece in lay.pieces))
    assert check_record(parse(dump(replace(record, lays=(bare,))), "lay.json")) == ()


def forced(lay: Lay, at: int, /, **changes: object) -> Lay:
    """The lay with a piece of figures that no piece can be made with."""
    piece = replace(lay.pieces[at])
    for field, value in changes.items():
        object.__setattr__(piece, field, value)
    return replace(lay, pieces=(*lay.pieces[:at], piece, *lay.pieces[at + 1 :]))


def thinned(lay: Lay) -> Lay:
    """The lay on a cloth with a margin that no cloth can be made with."""
    cloth = replace(lay.cloth)
    object.__setattr__(cloth, "margin", -1)
    return replace(lay, cloth=cloth)


def flawed(lay: Lay, *flaws: Rect) -> Lay:
    return recloth(lay, flaws=flaws)


NOTCH = Mark(MarkKind.NOTCH, "hip", 0, 50 * CM, 0, 50 * CM + 1)


def with_two_panels() -> Lay:
    """The torn lay, its panel in two that a tear parts, and what is cut well apart."""
    lay = recut(recut(region(), 0, breadth=49 * CM, count=2), 1, count=1)
    panel, _, wedge, band = lay.placements
    spots = (panel, replace(panel, copy=2, y=50 * CM), replace(wedge, copy=1),
             replace(band, y=CM))  # fmt: skip
    last = Tear(8, Rect(0, CM, 50 * CM, 99 * CM), Direction.ALONG, 50 * CM, ("P-1", "P-2"))
    tears = (*(replace(tear, frees=()) for tear in lay.tears), last)
    return regoal(replace(lay, placements=spots, tears=tears), 3, value=8 + 2)


def shortened(lay: Lay, at: int) -> Lay:
    """The lay with its last copy a unit nearer to the squared end."""
    lay = moved(lay, at, x=lay.placements[at].x - 1)
    return regoal(replace(lay, length=lay.length - 1), 1, value=lay.length - 1)


def widened(lay: Lay, by: int) -> Lay:
    """The folded lay on cloth a little wider: what lies beyond the fold moves with it."""
    half = lay.cloth.width // 2
    spots = tuple(
        replace(spot, y=spot.y + by) if spot.y >= half else spot for spot in lay.placements
    )
    bolt = replace(lay.bolt, y1=lay.bolt.y1 + by)
    return replace(recloth(lay, width=lay.cloth.width + by), placements=spots, bolt=bolt)


def split(lay: Lay) -> Lay:
    """The lay with a mirrored pair listed as two pieces of one garment."""
    left = replace(lay.pieces[1], count=1, mirrored=0, garment="skirt")
    right = replace(left, letter="L", mirrored=1)
    lay = replace(lay, pieces=(lay.pieces[0], left, right, *lay.pieces[2:]))
    return moved(lay, 3, letter="L", copy=1)


def across(lay: Lay, turn: int) -> Lay:
    """The folded lay with a straight piece on the fold in place of the kite."""
    sides = (40 * CM, 20 * CM) if turn == 0 else (20 * CM, 40 * CM)
    kite = Piece("K", "belt", *sides, 1, "wool", grain=Grain.EITHER, folds=True)
    lay = replace(lay, pieces=(lay.pieces[0], kite, *lay.pieces[2:]))
    return moved(lay, 2, turn=turn)


def godets(up: int = 0) -> Lay:
    """Two symmetric gores on the bias, the one the image of the other but for a unit's rounding."""
    cloth = Cloth("wool", "wool", width=100 * CM, step=CM, folded=True)
    godet = shaped("G", gore(100 * MM + 1, 30 * CM, 30 * CM), 2, grain=Grain.BIAS, folds=True)
    box = godet.laid(45).box
    over = godet.laid(315).box
    bench = Bench([godet])
    bench.put("G", 0, 0, 45)
    bench.put("G", 0, cloth.width - over.y1 - up, 315)
    length = max(box.x1, over.x1)
    bought = -(-length // CM) * CM
    bolt = Rect(0, 0, bought, cloth.width)
    return bench.lay(cloth, length, bolt, CM, Proof.OPEN, (bought, CM), cuts=2)


# Each line: what is wrong, the lay with that one fault, and the sentence that tells it.
BROKEN: list[tuple[str, Lay, str]] = [
    # The piece itself.
    ("a mark off the piece", recut(wedges(), 0, marks=(NOTCH,)),
     "The notch mark 'hip' runs off piece A: 0 mm to 0 mm along it and 500 mm to "
     "500.00625 mm over its breadth."),
    ("a length that isn't the outline's", forced(wedges(), 0, length=60 * CM + 1),
     "Piece A measures 0 mm to 600 mm along and 0 mm to 500 mm across in its own frame, but is "
     "said to measure 0 mm to 600.00625 mm along and 0 mm to 500 mm across."),
    ("more turned over than cut", forced(wedges(), 1, mirrored=3),
     "Piece B is to be turned over 3 times, but is cut 2 times."),
    ("fewer turned over than none", forced(wedges(), 1, mirrored=-1),
     "Piece B is to be turned over -1 times, but is cut 2 times."),
    ("a fold through an uneven shape", recut(wedges(), 0, folds=True),
     "Piece A is said to fold, but it isn't the same on both sides of its middle line."),
    ("a straight piece on the bias", forced(wedges(), 3, grain=Grain.BIAS),
     "Piece D has no outline of its own, so it can't lie on the bias."),
    ("a letter of the drawing's", recut(region(), 1, letter="region"),
     "region can't be the letter of a piece; use letters and figures."),
    ("one piece listed twice", again(recut(wedges(), 0, garment="skirt"), "pieces", 0),
     "The letter A is given to 2 pieces."),
    # Counts, turns, grain.
    ("a copy left out", without(wedges(), "placements", 1),
     "Piece A is laid 1 times, but is cut 2 times."),
    ("a crooked turn", moved(wedges(), 0, turn=30),
     "A-1 is turned by 30 degrees, which isn't an eighth turn."),
    ("a turn past the whole", moved(wedges(), 0, turn=360),
     "A-1 is turned by 360 degrees, which isn't an eighth turn."),
    ("an eighth turn of a band", moved(wedges(), 5, turn=45),
     "D-1 is turned by 45 degrees, which isn't a quarter turn."),
    ("not turned over", moved(wedges(), 3, flip=False),
     "Piece B is laid turned over 0 times, but is cut so 1 times."),
    ("turned over for nothing", moved(wedges(), 0, flip=True),
     "Piece A is laid turned over 1 times, but is cut so 0 times."),
    ("a band turned over for nothing", moved(wedges(), 5, flip=True),
     "Piece D is laid turned over 1 times, but is cut so 0 times."),
    ("on the bias against its grain", moved(wedges(), 0, turn=45),
     "A-1 has its length on the bias, but its grain is along; it lies at "
     "0 mm to 777.825 mm along and 0 mm to 565.6875 mm across."),
    ("across against its grain", moved(wedges(), 0, turn=90),
     "A-1 has its length across the bolt, but its grain is along; it lies at "
     "0 mm to 500 mm along and 0 mm to 600 mm across."),
    ("off the bias", moved(slanted(), 0, turn=0),
     "S-1 has its length along the bolt, but its grain is bias; it lies at "
     "0 mm to 450 mm along and 0 mm to 50 mm across."),
    ("a free piece on the bias", moved(wedges(), 4, turn=45, x=60 * CM),
     "C-1 has its length on the bias, but its grain is either; it lies at "
     "600 mm to 770.8 mm along and 750 mm to 920.8 mm across."),
    ("on its head on one-way cloth", moved(slanted(), 2, turn=180),
     "One-way cloth is laid both ways: S-1 and S-2 one way, K-1 the other."),
    ("the other way round on the bias", moved(slanted(), 0, turn=225),
     "One-way cloth is laid both ways: S-2 and K-1 one way, S-1 the other."),
    ("the other bias", moved(slanted(), 0, turn=135),
     "S-1 lies on the other bias than the one that one-way cloth leaves it."),
    ("the same bias though turned over", moved(slanted(), 1, turn=45),
     "S-2 lies on the other bias than the one that one-way cloth leaves it."),
    ("crosswise on one-way cloth", moved(recut(slanted(), 1, grain=Grain.EITHER), 2, turn=90),
     "K-1 lies crosswise on one-way cloth; its up must follow the warp."),
    # Room.
    ("a corner over the edge", moved(wedges(), 2, y=80 * CM + 1),
     "B-1 lies at 800.00625 mm to 1000.00625 mm across, "
     "outside the usable cloth of 0 mm to 1000 mm."),
    ("a corner beyond the length", moved(wedges(), 1, x=20 * CM + 1),
     "A-2 lies at 200.00625 mm to 800.00625 mm along, outside the lay of 0 mm to 800 mm."),
    ("one unit over a slant", moved(wedges(), 1, y=20 * CM - 1),
     "A-1 and A-2 lie over one another at 200 mm to 600 mm along and "
     "199.99375 mm to 500 mm across."),
    ("one outline over another's corner", moved(wedges(), 3, x=30 * CM - 1),
     "B-1 and B-2 lie over one another at 299.99375 mm to 300 mm along and "
     "700 mm to 900 mm across."),
    ("a band over an outline", moved(wedges(), 5, y=92 * CM - 3 * CM),
     "B-1 and D-1 lie over one another at 0 mm to 300 mm along and 890 mm to 900 mm across."),
    ("an offcut over a slant",
     replace(wedges(), offcuts=(
         Offcut(Rect(0, 50 * CM - 1, 20 * CM + 1, 70 * CM), True), *wedges().offcuts[1:])),
     "A-1 and offcut-1 lie over one another at 0 mm to 200.00625 mm along and "
     "499.99375 mm to 500 mm across."),
    ("offcuts over one another", again(wedges(), "offcuts", 1),
     "offcut-2 and offcut-4 lie over one another at 0 mm to 200 mm along and "
     "500 mm to 700 mm across."),
    ("an offcut beyond the bolt",
     replace(wedges(), offcuts=(
         *wedges().offcuts[:2], Offcut(Rect(60 * CM, 96 * CM, 80 * CM + 1, 100 * CM), False))),
     "offcut-3 lies at 600 mm to 800.00625 mm along and 960 mm to 1000 mm across, "
     "beyond the bolt at 0 mm to 800 mm along and 0 mm to 1000 mm across."),
    # Margin.
    ("a slant nearer than the margin", moved(spaced(), 1, y=20 * CM + 1279),
     "A-1 and A-2 lie nearer to one another than the 10 mm that shears need between them."),
    ("a corner nearer than the margin", moved(spaced(), 3, x=60 * CM + 959),
     "D-1 and E-1 lie nearer to one another than the 10 mm that shears need between them."),
    ("a band nearer than the margin", moved(spaced(), 2, y=71 * CM + 1279),
     "D-1 and A-2 lie nearer to one another than the 10 mm that shears need between them."),
    ("a larger margin", recloth(spaced(), margin=CM + 1),
     "A-1 and A-2 lie nearer to one another than the 10.00625 mm that shears need between them."),
    ("no room for a margin in a region", recloth(region(), margin=1),
     "A-1 and A-2 lie nearer to one another than the 0.00625 mm that shears need between them."),
    # Flaws.
    ("a flaw one unit over a slant",
     flawed(wedges(), Rect(40 * CM, 35 * CM - 1, 40 * CM + 1, 35 * CM)),
     "A-1 lies over flaw 1 of the cloth at 400 mm to 400.00625 mm along and "
     "349.99375 mm to 350 mm across."),
    # The fold.
    ("cloth folded to be torn", recloth(region(), folded=True),
     "The lay is to be torn, but this cloth is laid folded, to be cut in two layers."),
    ("an uneven piece on the fold", recut(folded(), 1, folds=False),
     "K-1 lies across the fold, but isn't a piece that folds."),
    ("the fold beside the middle", moved(folded(), 2, y=40 * CM + 1),
     "K-1 lies across the fold, but its middle is 0.00625 mm off it."),
    ("the fold across the middle",
     moved(recut(folded(), 1, grain=Grain.EITHER), 2, x=60 * CM, y=30 * CM, turn=90),
     "K-1 lies across the fold, but its middle line doesn't run along it."),
    ("an image one unit off", moved(folded(), 1, x=1),
     "A-1 and A-2 have no mirror images across the fold; of piece A one copy at most may lack it."),
    ("an image that isn't one", moved(folded(), 1, turn=180),
     "A-2 lies where the fold puts the mirror image of A-1, but isn't its mirror image."),
    ("an image on the bias, a unit off", godets(1),
     "G-1 and G-2 have no mirror images across the fold; of piece G one copy at most may lack it."),
    ("a copy for an image", moved(recut(folded(), 0, mirrored=0), 1, flip=False),
     "A-2 lies where the fold puts the mirror image of A-1, but isn't its mirror image."),
    ("a band without its image", moved(folded(), 7, y=89 * CM),
     "R-1 and R-2 have no mirror images across the fold; of piece R one copy at most may lack it."),
    ("a copy under a free one", moved(folded(), 7, x=75 * CM),
     "R-2 lies where the other layer is cut with M-3, which has no mirror image there."),
    ("an offcut under a free one",
     replace(folded(), offcuts=(*folded().offcuts, Offcut(Rect(70 * CM + 99, 90 * CM,
                                                               75 * CM + 9 * CM, 91 * CM), False))),
     "offcut-3 lies where the other layer is cut with M-3, which has no mirror image there."),
    # Regions.
    ("a region for shears", replace(wedges(), regions=(Rect(0, 0, 80 * CM, 100 * CM),)),
     "The lay is for shears, but it lists a region to be torn free."),
    ("two regions for shears", replace(wedges(), regions=(Rect(0, 0, 1, 1), Rect(1, 0, 2, 1))),
     "The lay is for shears, but it lists 2 regions to be torn free."),
    ("no region", replace(region(), regions=()),
     "A-1 is cut with shears, but lies in no region; it lies at 500 mm to 1100 mm along and "
     "10 mm to 510 mm across."),
    ("a region that no tear frees", without(region(), "tears", 6),
     "region-1 is never torn free; it lies at 500 mm to 1300 mm along and 10 mm to 990 mm across."),
    ("a region told too large", replace(region(), regions=(Rect(50 * CM, CM, 130 * CM, 100 * CM),)),
     "region-1 is never torn free; it lies at 500 mm to 1300 mm along and "
     "10 mm to 1000 mm across."),
    ("a region twice", again(region(), "regions", 0),
     "region-2 is listed before, as region-1."),
    ("an empty region", replace(region(), regions=(*region().regions, Rect(0, 0, 50 * CM, CM))),
     "region-2 at 0 mm to 500 mm along and 0 mm to 10 mm across holds no piece to be cut out "
     "of it."),
    ("half out of the region", moved(region(), 1, x=49 * CM),
     "A-1 is cut with shears, but lies in no region; it lies at 490 mm to 1090 mm along and "
     "10 mm to 510 mm across."),
    ("a band half out of the region", moved(region(), 3, x=49 * CM),
     "Tear 2 at 500 mm goes through D-1."),
    ("a band that no tear frees", moved(region(), 3, x=49 * CM),
     "D-1 is never torn free; it lies at 490 mm to 1090 mm along and 710 mm to 790 mm across."),
    ("a tear through an outline", retorn(region(), 2, at=129 * CM),
     "Tear 3 at 1290 mm goes through A-2."),
    ("a region told as a piece", retorn(region(), 6, frees=("A-1",)),
     "Tear 7 is said to free A-1, but it frees nothing."),
    ("an offcut of no region",
     replace(region(), offcuts=(*region().offcuts, Offcut(Rect(130 * CM, 0, 131 * CM, CM), False))),
     "offcut-9, 1300 mm to 1310 mm along and 0 mm to 10 mm across, isn't what the tears leave "
     "over."),
    ("an offcut of no breadth in a region",
     replace(region(), offcuts=(*region().offcuts,
                                Offcut(Rect(110 * CM, 21 * CM, 111 * CM, 21 * CM), False))),
     "offcut-9 lies at 1100 mm to 1110 mm along and 210 mm to 210 mm across, "
     "which holds no cloth."),
    ("a strip not listed", without(region(), "offcuts", 3),
     "What is left at 1300 mm to 1350 mm along and 0 mm to 1000 mm across "
     "isn't listed as an offcut."),
    ("nothing torn and no region", recut(replace(region(), regions=()), 0, torn=False),
     "A-2 is cut with shears, but lies in no region; it lies at 700 mm to 1300 mm along and "
     "210 mm to 710 mm across."),
    # Repeat and selvedge.
    ("out of phase", moved(phased(), 1, x=64 * CM + 1),
     "In the lengthwise repeat of 160 mm the match hem falls in 2 places: "
     "A-1 and S-1 at 40 mm; A-2 at 40.00625 mm."),
    ("out of phase across", moved(phased(), 1, y=50 * CM - 1),
     "In the crosswise repeat of 100 mm the match bars falls in 2 places: "
     "A-1 at 0 mm; A-2 at 99.99375 mm."),
    ("out of phase on the bias", moved(phased(), 2, x=phased().placements[2].x + 2),
     "In the lengthwise repeat of 160 mm the match hem falls in 2 places: "
     "A-1 and A-2 at 40 mm; S-1 at 40.0125 mm."),
    ("half a turn apart", moved(phased(), 2, turn=225),
     "In the match hem the print runs one way in A-1 and A-2, and the other, half a turn "
     "round, in S-1."),
    ("off the selvedge", moved(phased(), 0, y=1),
     "The low edge of A-1 lies 0.00625 mm from the edge of the usable cloth, "
     "more than the 0 mm that it may."),
    ("the other side at the selvedge",
     recut(phased(), 0, selvedges=(AtSelvedge(Side.HIGH, 50 * CM - 1),)),
     "The high edge of A-1 lies 500 mm from the edge of the usable cloth, "
     "more than the 499.99375 mm that it may."),
    ("an end at the selvedge", recut(phased(), 0, selvedges=(AtSelvedge(Side.END),)),
     "The end edge of A-2 runs across the cloth, so it can't lie at a selvedge as it must."),
    ("the bias at a selvedge", recut(phased(), 1, selvedges=(AtSelvedge(Side.LOW),)),
     "The low edge of S-1 runs across the cloth, so it can't lie at a selvedge as it must."),
    # Figures.
    ("cuts miscounted", regoal(wedges(), 3, value=7),
     "The goal tears is told to be 7, but this lay makes it 6."),
    ("tears without the cuts", regoal(region(), 3, value=7),
     "The goal tears is told to be 7, but this lay makes it 10."),
    ("a length told too long", replace(wedges(), length=80 * CM + 1),
     "The lay is said to be 800.00625 mm long, but the furthest piece ends at 800 mm."),
    ("less area than the outlines", replace(wedges(), length=59 * CM),
     "590 mm of this cloth has less area than its pieces."),
    # The strip, 40 cm along its edges, reaches 400 / root 2 = 282.84 mm either way.
    ("shorter than a strip on the bias", replace(slanted(), length=282 * MM),
     "Piece S takes 282.8375 mm along the cloth, more than the 282 mm of the lay."),
    ("a remnant claimed, and a larger one left",
     regoal(without(without(wedges(), "offcuts", 1), "offcuts", 0), 2, value=0, bound=0),
     f"The bound on the goal remnant is 0 square units, but the pieces leave a rectangle of "
     f"{20 * CM * 20 * CM} square units."),
    ("a negative margin", thinned(wedges()),
     "The margin between pieces of the cloth is -0.00625 mm."),
]  # fmt: skip


@pytest.mark.parametrize(("lay", "sentence"), [row[1:] for row in BROKEN],
                         ids=[row[0] for row in BROKEN])  # fmt: skip
def test_a_broken_lay_of_outlines_is_told(lay: Lay, sentence: str) -> None:
    assert sentence in findings(lay)


@pytest.mark.parametrize(
    "lay",
    [
        # A lay turned end for end is as good, napped or not.
        moved(moved(moved(slanted(), 0, turn=225), 1, turn=135), 2, turn=180),
        # What is matched on the bias may be one unit off, since it is rounded to a unit.
        shortened(phased(), 2),
        # A flaw that touches a slant, or lies in the box of an outline but beside it.
        kept_clear(flawed(wedges(), Rect(60 * CM, 0, 80 * CM, 20 * CM))),
        flawed(spaced(), Rect(40 * CM, 35 * CM, 40 * CM + 600, 35 * CM + 600)),
        # A margin is nothing to straight pieces that a tear parts.
        recloth(with_two_panels(), margin=CM),
        # Where the width is odd, the middle of an even piece is half a unit off.
        widened(folded(), 1),
        # Left and right of a pair, each listed for itself.
        split(wedges()),
        # Offcuts may be left unnamed.
        regoal(replace(wedges(), offcuts=()), 2, value=0),
        # A band turned over is a band.
        moved(recut(wedges(), 3, mirrored=1), 5, flip=True),
        recut(wedges(), 3, mirrored=1),
        # A straight piece on the fold lies either way.
        across(folded(), 0),
        across(folded(), 90),
        # On the bias a shape that is its own image lies in its image's place to the unit.
        godets(),
        # A kite on the fold may lie head to tail.
        moved(folded(), 2, turn=180),
    ],
)  # fmt: skip
def test_what_is_allowed_passes(lay: Lay) -> None:
    assert findings(lay) == ()
