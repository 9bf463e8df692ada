"""What a garment weighs on its wearer, part by part, and when its band has much to bear."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from example_lays import skirt

from marker.buying.weight import cut_grams, part_of, per_square_metre, weight
from marker.cloth import Cloth
from marker.decide.weighed import with_weight
from marker.lay import Lay
from marker.piece import Piece
from marker.record import Counter, Garment, Notion, Record, Sewn, Stage, Stitch, Thread
from marker.units import CM, METRE, System

LINEN = Cloth("main", "linen", 150 * CM, 10 * CM, grams=Decimal(200))


def piece(name: str, length: int, breadth: int, count: int = 1) -> Piece:
    return Piece(name, name, length, breadth, count, "main", garment="skirt")


def record(cloth: Cloth, *pieces: Piece, garment: Garment | None = None) -> Record:
    lay = replace(skirt(), cloth=cloth, pieces=pieces)
    told = garment or Garment("skirt", "Skirt", "Ada", panels=1)
    return Record("A", System.CM, (told,), (lay,), thread=Thread())


PIECES = (
    piece("panel", METRE, METRE, 2),
    piece("band", 80 * CM, 10 * CM),
    piece("facing strip", METRE, 20 * CM, 2),
)


def test_parts_weigh_what_their_cut_pieces_do() -> None:
    case = record(LINEN, *PIECES)
    found = weight(case, case.garments[0])
    # 2 m2, 0.08 m2 and 0.4 m2 at 200 g/m2
    assert [(part.name, part.grams) for part in found.parts] == [
        ("panels", 400), ("band", 16), ("facing", 80),
    ]  # fmt: skip
    assert (found.grams, found.unknown, found.heavy) == (496, (), False)
    assert cut_grams(case.lays[0]) == 496


def test_washed_cloth_is_weighed_as_it_is_after_washing() -> None:
    # 200 g in a metre of 100 cm as bought; 4 % and 10 % less each way: 0.864 m2 of the same mass
    washed = replace(LINEN, warp_shrinkage=Decimal(4), weft_shrinkage=Decimal(10))
    assert per_square_metre(washed) == Fraction(200) / Fraction("0.864")
    case = record(washed, *PIECES)
    assert weight(case, case.garments[0]).grams == 574  # 2.48 x 231.48


def test_what_is_not_known_is_named_and_left_out() -> None:
    case = record(replace(LINEN, grams=None), PIECES[0])
    found = weight(case, case.garments[0])
    assert (found.grams, found.unknown) == (0, ("panels",))
    assert per_square_metre(replace(LINEN, grams=None)) is None
    assert cut_grams(case.lays[0]) is None


def test_thread_and_notions_weigh_too_where_they_are_known() -> None:
    row = Sewn(Stage.GAUGE, "row 1", Stitch.RUNNING, 3 * METRE, 200, 25 * METRE, METRE)
    told = Garment(
        "skirt", "Skirt", "Ada", 1, sewing=(row,),
        notions=(Notion("beads", count=9, grams=Decimal("12.5")), Notion("tape", METRE)),
    )  # fmt: skip
    case = record(LINEN, PIECES[0], garment=told)
    found = weight(case, told)
    assert [(part.name, part.grams) for part in found.parts] == [
        ("panels", 400), ("thread", 1), ("beads", Fraction(25, 2)), ("tape", None),
    ]  # fmt: skip
    assert (found.grams, found.unknown) == (414, ("tape",))  # 413.5, halves up


def test_another_garments_pieces_are_not_worn() -> None:
    other = replace(PIECES[1], garment="other")
    case = record(LINEN, PIECES[0], other)
    assert weight(case, case.garments[0]).grams == 400


def test_parts_are_called_by_the_words_in_their_pieces_names() -> None:
    names = (
        "front gore",
        "first flounce strip",
        "cloth for the bias facing",
        "band lining",
        "yoke",
    )
    assert [part_of(name) for name in names] == [
        "gores", "flounces", "facing", "band lining", "yoke",
    ]  # fmt: skip


def test_a_heavy_skirt_is_told_of_its_band() -> None:
    # over 2 kg: common practice, no source
    heavy = record(LINEN, piece("panel", 5 * METRE, 2 * METRE), piece("band", 10 * CM, 10 * CM))
    (told,) = with_weight(heavy).garments
    assert told.advice[-1].startswith(
        "It weighs 2 kg, and over 2 kg a band has much to bear: stiffen"
    )
    stiff = replace(heavy.garments[0], notions=(Notion("petersham", METRE, Counter.STIFFENING),))
    (told,) = with_weight(replace(heavy, garments=(stiff,))).garments
    assert told.advice[-1].startswith("It weighs at least 2 kg, and over 2 kg a band has much to")
    assert "stiffen" not in told.advice[-1]
    light = record(LINEN, piece("panel", 5 * METRE, 2 * METRE))
    assert with_weight(light).garments[0].advice == ()  # 2,000 g and no more
    lay: Lay = light.lays[0]
    assert lay.used == 10 * METRE**2
