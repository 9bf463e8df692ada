"""The referee on what a record tells of garments with curved panels."""

from __future__ import annotations

from dataclasses import replace

import pytest
from curved_lays import shaped
from lays import Bench

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.geometry.shapes import gore
from marker.lay import Lay, Proof
from marker.piece import Edges, Piece
from marker.record import Garment, Item, Record, TurnDown, dump, parse
from marker.referee import check_record, findings
from marker.units import CM, System

SEWN = Edges("waist", "hem", "seam", "seam")
# Each hem measures 40 cm: 38 and a seam of 1 cm on either side, four times round.
GORE = shaped("A", gore(16 * CM, 40 * CM, 80 * CM), 4, edges=SEWN, garment="skirt")
TOLD = Garment(
    key="skirt", name="gored skirt", wearer="Anna", panels=4, cut_length=80 * CM,
    round_hem=4 * 38 * CM, drawn=60 * CM, figures=(Item("waist curve", 56 * CM),),
)  # fmt: skip


def laid(*pieces: Piece) -> Lay:
    """The pieces in one column, as many as there are: no more than a record asks."""
    bench = Bench(list(pieces))
    y = 0
    for piece in pieces:
        for _ in range(piece.count):
            bench.put(piece.letter, 0, y)
            y += piece.breadth
    length = max(piece.length for piece in pieces)
    bolt = Rect(0, 0, length, y)
    cloth = Cloth("wool", "wool", width=y, step=length, tears=False)
    count = len(bench.placements)
    return bench.lay(cloth, length, bolt, 1, Proof.STEP, (length, length), cuts=count)


def told(piece: Piece = GORE, **changes: object) -> Record:
    """The record of four gores, the garment told otherwise."""
    return Record("Harvest dance", System.CM, (replace(TOLD, **changes),), (laid(piece),))  # type: ignore[arg-type]


NARROW = shaped("A", gore(40 * CM, 16 * CM, 80 * CM), 4, edges=SEWN, garment="skirt")


@pytest.mark.parametrize(
    "record",
    [
        told(),
        # Hems just as long as the round hem, where nothing is taken up by seams.
        told(round_hem=4 * 40 * CM),
        # A cape or an apron counts no panels, is drawn into nothing and goes round nothing.
        told(panels=0, cut_length=0, round_hem=0, drawn=0),
        told(round_hem=0, drawn=70 * CM, opening=20 * CM, cut_length=0),
        # A panel that narrows is wider where it is sewn than where it is cut.
        told(NARROW, round_hem=4 * 17 * CM),
        # The waist of gores slopes as it is cut, and is turned down as deep all round.
        told(turn_downs=(TurnDown("front", 74 * CM, 3 * CM), TurnDown("back", 77 * CM, 3 * CM))),
        # Or it is level, and turned down the deeper where the wearer is shorter.
        told(turn_downs=(TurnDown("front", 74 * CM, 6 * CM), TurnDown("back", 77 * CM, 3 * CM))),
    ],
)
def test_curved_garments_pass(record: Record) -> None:
    assert findings(record.lays[0]) == ()
    assert check_record(record) == ()
    assert check_record(parse(dump(record), "lay.json")) == ()


@pytest.mark.parametrize(
    ("record", "sentence"),
    [
        (told(round_hem=4 * 40 * CM + CM),
         "Garment skirt: The hems of its panels measure 1600 mm as they are cut, less than a "
         "round hem of 1610 mm."),
        (told(panels=6), "Garment skirt: It has 6 panels, but 4 are cut."),
        (told(drawn=4 * 38 * CM + 1),
         "Garment skirt: A round hem of 1520 mm can't be drawn into 1520.00625 mm."),
        (told(opening=80 * CM),
         "Garment skirt: An opening of 800 mm doesn't fit a cut length of 800 mm."),
        (told(turn_downs=(TurnDown("front", 74 * CM, 3 * CM), TurnDown("back", 77 * CM, 2 * CM))),
         "Garment skirt: Finished length and turn-down don't make one sum, nor is the turn-down "
         "of one depth: 770 mm at front, 790 mm at back."),
        (told(turn_downs=(TurnDown("front", 74 * CM, 4 * CM), TurnDown("back", 77 * CM, 4 * CM))),
         "Garment skirt: Finished length and turn-down make 810 mm, more than the cut length of "
         "800 mm."),
        (told(figures=(Item("waist curve", 0),)),
         "Garment skirt: 'waist curve' is 0 mm long."),
    ],
)  # fmt: skip
def test_a_curved_garment_told_wrong(record: Record, sentence: str) -> None:
    assert check_record(record) == (sentence,)
