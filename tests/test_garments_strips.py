"""Strips of free number and lengths, and parts that any of several cloths may give."""

from __future__ import annotations

import pytest
from example_cases import draft_of, drafts_of, fault, piece_of
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.garments.order import Draft
from marker.piece import MarkKind, Piece, Pieced
from marker.units import CM, INCH, parse

FREE = '[garment.skirt.facing]\nstrips = "free"\n'
SCRAPS = (
    '[cloth.red]\nwidth = "60 cm"\nlength = "1 m"\n'
    '[cloth.blue]\nwidth = "90 cm"\nlength = "40 cm"\n'
)
TRADE_HEM = 'count = 3\nwidth = "43 in"'
"""126 in round with seams of 1/2 in."""
ODD = 'count = 3\nwidth = "43 1/64 in"'


def strip_of(draft: Draft) -> Piece:
    return piece_of(draft, "facing strip")


def test_a_free_facing_is_one_piece_that_stands_for_all_its_strips() -> None:
    strip = strip_of(draft_of("in", FREE, panels=TRADE_HEM))
    # C + 2s = 126 + 1 in; at least 8 in each and 12 of them
    assert strip.pieced == Pieced("skirt/facing", 127 * INCH, INCH // 2, 8 * INCH, 12)
    assert (strip.count, strip.length, strip.also) == (1, 127 * INCH, ())
    metric = strip_of(draft_of("cm", FREE, panels='count = 3\nwidth = "74 cm"')).pieced
    assert metric == Pieced("skirt/facing", 217 * CM, parse("1.25 cm"), 20 * CM, 12)


def test_what_a_free_facing_may_be_asked() -> None:
    more = FREE + 'shortest = "30 cm"\nmost = 5\njoins = "meet seams"\n'
    strip = strip_of(draft_of("cm", more, panels='count = 3\nwidth = "74 cm"'))
    # from seam to seam 74 - 2.5
    assert strip.pieced == Pieced(
        "skirt/facing", 217 * CM, parse("1.25 cm"), 30 * CM, 5, parse("71.5 cm")
    )
    anywhere = strip_of(draft_of("cm", FREE + 'joins = "anywhere"\n')).pieced
    assert anywhere and anywhere.pitch == 0


def test_the_strip_of_each_garment_has_a_name_of_its_own() -> None:
    names = set()
    for order in ("ada", "bea"):
        draft = draft_of(
            "cm",
            FREE + f'[wearer.{order}s]\nwaist = "66 cm"\nlength = "1 m"\n',
            garment=f'wearers = ["{order}s"]',
        )
        strip = strip_of(draft).pieced
        names.add(strip.strip if strip else "")
    assert names == {"skirt-adas/facing", "skirt-beas/facing"}


@settings(max_examples=60)
@given(st.integers(1, 8), st.integers(300, 1100), st.booleans())
def test_segments_from_seam_to_seam_close_the_ring_exactly(
    count: int, width: int, torn: bool
) -> None:
    edge = '\ntorn_edge = "2 mm"' if torn else ""
    draft = draft_of(
        "cm",
        FREE + 'joins = "meet seams"\n',
        wearer='waist = "20 cm"\nlength = "90 cm"',
        cloth=f'width = "114 cm"{edge}',
        band='underlap = "0 cm"',
        panels=f'count = {count}\nwidth = "{width} mm"',
    )
    pieced = strip_of(draft).pieced
    assert pieced and pieced.pitch == draft.garment.round_hem // count
    segment = pieced.pitch + 2 * pieced.seam
    assert count * segment - 2 * pieced.seam * (count - 1) == pieced.total


def test_a_free_facing_is_let_out_with_the_panels() -> None:
    more = FREE + 'joins = "meet seams"\n'
    flex = draft_of("cm", more, panels='count = 3\nwidth = ["66 cm", "74 cm"]').flex
    assert flex
    for width, pitch in ((66, "63.5 cm"), (74, "71.5 cm")):
        pieced = strip_of(flex.at(width * CM)).pieced
        assert pieced and pieced.pitch == parse(pitch)
        assert pieced.total == 3 * parse(pitch) + parse("2.5 cm")


def test_a_segment_keeps_its_marks_at_both_ends() -> None:
    strip = strip_of(draft_of("cm", FREE, panels='count = 3\nwidth = "74 cm"'))
    segment = strip.of_length(50 * CM)
    joins = [m.u0 for m in segment.marks if m.name == "join"]
    assert joins == [parse("1.25 cm"), 50 * CM - parse("1.25 cm")]
    hem = next(m for m in segment.marks if m.kind is MarkKind.HEM)
    assert (hem.u0, hem.u1, segment.length) == (0, 50 * CM, 50 * CM)
    assert segment.of_length(strip.length) == strip


def test_a_free_facing_may_lie_across_whatever_it_is_long() -> None:
    strip = strip_of(draft_of("cm", FREE + 'lie = "across"\n'))
    assert strip.length == 331 * CM  # on cloth 112 cm wide


def test_free_strips_are_not_told_to_miss_the_seams() -> None:
    advice = draft_of("in", FREE).garment.advice
    assert not any("joins" in said for said in advice)
    # a breadth of 4 1/16 + 1/2 + 1/2 prints rounded; the length is not known yet
    advice = draft_of("in", FREE + 'depth = "4 1/16 in"\n', panels=ODD).garment.advice
    assert advice[-1].endswith("exactly: panel 1092.6 mm, facing strip 128.5875 mm.")


# --- several cloths ---------------------------------------------------------------------------


def test_strips_may_come_from_any_of_several_cloths() -> None:
    facing = '[garment.skirt.facing]\nstrips = {}\ncloth = ["red", "blue", "main"]\n'
    for strips in ('"free"', "6"):
        strip = strip_of(draft_of("cm", facing.format(strips) + SCRAPS))
        assert (strip.cloth, strip.also) == ("red", ("blue", "main"))
    one = strip_of(draft_of("cm", '[garment.skirt.facing]\ncloth = ["red"]\n' + SCRAPS))
    assert (one.cloth, one.also) == ("red", ())


def test_the_fewest_strips_fit_every_cloth_they_may_come_from() -> None:
    facing = '[garment.skirt.facing]\ncloth = ["red", "main"]\n'
    # 328.5 round, and red gives 60 - 2.5 a strip: six
    assert strip_of(draft_of("cm", facing + SCRAPS)).count == 6


def test_a_cloth_too_narrow_for_a_strip_gives_none() -> None:
    facing = '[garment.skirt.facing]\nlie = "across"\nstrips = 4\ncloth = ["red", "blue", "main"]\n'
    # 328.5 / 4 + 2.5 = 84.625, more than the 60 of the red
    strip = strip_of(draft_of("cm", facing + SCRAPS))
    assert (strip.cloth, strip.also) == ("blue", ("main",))
    told = fault("cm", facing.replace('"blue", "main"', '"red2"').replace("4", "3") + SCRAPS
                 + '[cloth.red2]\nwidth = "70 cm"\n')  # fmt: skip
    assert "facing.strips is 3, and each would be 112 cm long across the cloth 'red2'" in told


def test_a_band_may_come_from_any_of_several_cloths() -> None:
    band = 'cloth = ["red", "main"]\nlining = "blue"\n'
    draft = draft_of("cm", SCRAPS, band=band)
    assert (piece_of(draft, "band").cloth, piece_of(draft, "band").also) == ("red", ("main",))
    lining = piece_of(draft, "band lining")
    assert (lining.cloth, lining.also) == ("blue", ())


def test_the_greatest_allowance_of_several_cloths_holds_for_all() -> None:
    more = (
        '[garment.skirt.facing]\nstrips = 6\ncloth = ["red", "main"]\n'
        '[cloth.red]\nwidth = "90 cm"\ntorn_edge = "3 mm"\n'
    )
    plain = strip_of(draft_of("cm", more.replace('torn_edge = "3 mm"\n', "")))
    assert strip_of(draft_of("cm", more)).length == plain.length + parse("6 mm")


def test_kept_selvedges_of_every_cloth_must_vanish_in_the_seam() -> None:
    more = '[cloth.red]\nwidth = "60 cm"\nselvedge = "2 cm"\nselvedges = "kept"\n'
    told = fault("cm", '[garment.skirt.facing]\ncloth = ["main", "red"]\n' + more)
    assert "but the cloth 'red' keeps selvedges of 2 cm, which would show" in told


# --- what can't be ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("facing", "said"),
    [
        (
            'shortest = "20 cm"',
            "facing.shortest is for strips of free lengths; write facing.strips = ",
        ),
        ("strips = 3\nmost = 4", "facing.most is for strips of free lengths"),
        ('joins = "anywhere"', "facing.joins is for strips of free lengths"),
        (
            'strips = "free"\nshortest = "2.5 cm"',
            "facing.shortest is 2.5 cm, and two seams of 1.3 cm leave nothing of it",
        ),
        (
            'strips = "free"\nshortest = "9 m"',
            "facing.shortest is 900 cm, and all of it takes ",
        ),
        ('strips = "free"\nmost = 0', "facing.most is 0, but should be greater than or equal to 1"),
        ('strips = "free"\nmost = 101', "facing.most is 101, but should be less than or equal to"),
        ('strips = "free"\njoins = "seams"', "facing.joins is 'seams'; write 'anywhere' or 'meet"),
        (
            'strips = "many"',
            "facing.strips: 'many' is not a number of strips; write a whole number from 1 to "
            '1000, or "free"',
        ),
        ("strips = 0", "facing.strips: 0 is not a number of strips"),
        ("strips = true", "facing.strips: true is not a number of strips"),
        ("strips = 1001", "facing.strips: 1001 is not a number of strips"),
        ("cloth = []", "facing.cloth: [] is empty or names one twice; name each once"),
        ('cloth = ["main", "main"]', "facing.cloth: ['main', 'main'] is empty or names one twice"),
        ("cloth = [3]", "facing.cloth: 3 is not text; put it in quotes"),
        ('cloth = ["main", "silk"]', "facing.cloth names the cloth 'silk', but the file has only"),
        (
            'strips = "free"\nlie = "across"\nshortest = "1.2 m"',
            "facing: the facing strip of 120 cm by 17.3 cm doesn't lie within the 112 cm",
        ),
    ],
)
def test_facings_that_can_not_be(facing: str, said: str) -> None:
    told = fault("cm", f"[garment.skirt.facing]\n{facing}\n")
    assert f"garment.skirt.{said}" in told


def test_joins_can_not_meet_seams_nearer_than_the_shortest_strip() -> None:
    more = FREE + 'shortest = "70 cm"\njoins = "meet seams"\n'
    told = fault("cm", more, panels='count = 3\nwidth = ["66 cm", "74 cm"]')
    assert "facing.shortest is 70 cm, longer than from one seam to the next" in told
    assert drafts_of("cm", more, panels='count = 3\nwidth = "66 cm"')  # two panels to a strip


def test_one_way_cloth_among_several_is_named() -> None:
    more = '[cloth.nap]\nwidth = "90 cm"\none_way = true\n'
    facing = '[garment.skirt.facing]\nlie = "along"\ncloth = ["main", "nap"]\n'
    assert "facing.lie is 'along', but the cloth 'nap' has an up and a down" in fault(
        "cm", facing + more
    )
