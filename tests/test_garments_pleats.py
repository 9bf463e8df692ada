"""Tops that are gauged, gathered or pleated: their keys, and what the record keeps of them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from example_cases import draft_of, fault, piece_of

from marker.cloth import Cloth
from marker.gauging import Pressed, gauging, pressed
from marker.record import Direction, Garment, Method, Pleating, Swatch
from marker.units import CM, INCH, MM, parse

WEARER = 'waist = "60 cm"\nlength = "100 cm"'
PANELS = 'count = 3\nwidth = "62.5 cm"'
"""Three panels of 60 cm from seam to seam: 180 cm round, three times the waist."""
CLOTH = Cloth("main", "main", 114 * CM, 10 * CM)


def skirt(top: str, keys: str = "", **parts: str) -> dict[str, str]:
    """The parts of a metric case of a pleated skirt, `keys` in its table of pleats or gauging."""
    table = "gauging" if top in ("gauged", "stroke gathered") else "pleats"
    more = f"[garment.skirt.{table}]\n{keys}\n" if keys else ""
    garment = f'top = "{top}"\nseam = "1.25 cm"\ntake_up = "2 cm"'
    return {"garment": garment, "wearer": WEARER, "panels": PANELS, "more": more, **parts}


def made(top: str, keys: str = "", **parts: str) -> Garment:
    return draft_of("cm", **skirt(top, keys, **parts)).garment


def plan(top: str, keys: str = "", **parts: str) -> Pressed:
    found = pressed(made(top, keys, **parts), CLOTH)
    assert found is not None
    return found


def sentence(top: str, keys: str = "", **parts: str) -> str:
    return fault("cm", **skirt(top, keys, **parts))


# --- stitched -----------------------------------------------------------------------------


def test_usual_rows_of_a_gauged_top() -> None:
    # Common practice, no source: three rows 1/2 in apart, stitches of 1/4 in; the first row 1/8 in
    # from the fold (Hand Sewing Lessons, Model 12; Hapgood, 1893, as a secondary copy has it).
    told = draft_of("in").garment.pleating
    assert told == Pleating(
        Method.GAUGED, INCH // 4, 3, INCH // 2, INCH // 8, INCH // 2,
        opening_at="side", underlap=3 * INCH, seam=INCH // 2,
    )  # fmt: skip
    gathered = made("stroke gathered").pleating
    assert gathered is not None
    assert (gathered.rows, gathered.first, gathered.spacing, gathered.ease) == (
        2, 6 * MM, 6 * MM, 0,
    )  # fmt: skip


def test_hapgoods_crease_holds_her_rows() -> None:
    # Hapgood, School Needlework (1893), as a secondary copy has it: creased over 1 in, the first
    # row 1/8 in from the fold, two rows or more.
    garment = 'seam = "1/2 in"\nturn_down = "1 in"'
    told = draft_of("in", "[garment.skirt.gauging]\nrows = 2\n", garment=garment).garment
    found = gauging(told, CLOTH)
    assert found is not None
    assert found.rows == (INCH // 8, 5 * INCH // 8)
    assert [turn.depth for turn in told.turn_downs] == [INCH]
    assert found.rows[-1] < INCH


def test_the_band_is_the_waist_its_seams_and_the_underlap() -> None:
    # Common practice, no source: band 30 in = 26 + 1 + 3.
    draft = draft_of("in")
    assert piece_of(draft, "band").length == 30 * INCH
    assert draft.garment.drawn == 26 * INCH


def test_keys_of_the_stitches() -> None:
    keys = (
        'stitch = "5 mm"\nrows = 4\nspacing = "8 mm"\nfirst = "4 mm"\nease = "2 cm"\n'
        'thickness = "0.5 mm"\nmeasured = { cloth = "10 cm", drawn = "2.1 cm" }'
    )
    told = made("gauged", keys)
    assert told.pleating == Pleating(
        Method.GAUGED, 5 * MM, 4, 8 * MM, 4 * MM, 2 * CM, 80, Swatch(10 * CM, 21 * MM, 5 * MM),
        opening_at="side", underlap=parse("7.5 cm"), seam=parse("1.25 cm"),
    )  # fmt: skip
    found = gauging(told, CLOTH)
    assert found is not None
    assert [row // MM for row in found.rows] == [4, 12, 20, 28]
    assert found.packed == 21 * MM / 10
    assert gauging(replace(told, pleating=replace(told.pleating, measured=None)), CLOTH).packed == (
        4 * 80
    )
    assert made("gauged", 'rows = 1\nstitch = "5 mm"').pleating.ease == 0


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        (
            "rows = 0",
            "rows is 0, but should be greater than or equal to 1; give how many rows, from 1 to 12",
        ),
        (
            'stitch = "31 cm"',
            "gauging.stitch is 31 cm, and a pleat takes two of them, more than the 60 cm from "
            "seam to seam of a panel; give a shorter stitch",
        ),
        (
            'rows = 1\nease = "1 cm"',
            "gauging.ease is given, but a single row has no looser one below it; give more rows, "
            "or take it out",
        ),
        (
            'measured = { cloth = "10 cm", drawn = "10 cm" }',
            "gauging.measured.drawn is 10 cm, no less than the 10 cm of its cloth; give the "
            "length once it is drawn up",
        ),
        (
            'measured = { cloth = "1 cm", drawn = "0.5 cm" }',
            "gauging.measured.cloth is 1 cm, less than the 1.2 cm that one pleat takes; sew a "
            "longer swatch",
        ),
        (
            'thickness = "2.1 cm"',
            "gauging.thickness is more than 2 cm, thicker than any cloth; give that of one layer, "
            'such as "0.4 mm"',
        ),
    ],
)
def test_stitches_that_cannot_be(keys: str, told: str) -> None:
    assert told in sentence("gauged", keys)


# --- pressed ------------------------------------------------------------------------------


@pytest.mark.parametrize("keys", ["count = 24", 'depth = "2.4 cm"', 'width = "2.45 cm"', ""])
def test_one_figure_settles_the_pleats(keys: str) -> None:
    # 180 cm into 60 cm: 24 pleats 2.5 cm apart, each 2.5 cm deep, 8 in a panel.
    found = plan("knife pleated", keys)
    assert (found.pleats, found.each) == (24, 8)
    assert found.spacing == found.depth == parse("2.5 cm")


def test_depth_and_width_settle_the_panels() -> None:
    # 24 pleats 2.5 cm apart, 2 cm deep: 60 + 2 x 2 x 24 = 156 cm, three panels of 52 and seams.
    keys = 'depth = "2 cm"\nwidth = "2.5 cm"'
    draft = draft_of("cm", **skirt("knife pleated", keys, panels="count = 3"))
    assert piece_of(draft, "panel").breadth == parse("54.5 cm")
    found = pressed(draft.garment, CLOTH)
    assert found is not None
    assert (found.pleats, found.depth, found.spacing) == (24, 2 * CM, parse("2.5 cm"))
    boxes = plan("box pleated", 'depth = "2.5 cm"\nwidth = "10 cm"', panels="count = 3")
    assert (boxes.pleats, boxes.round, boxes.face) == (6, 120 * CM, 5 * CM)


def test_pleats_take_a_seam_at_the_top_and_keep_where_the_opening_is() -> None:
    opening = '[garment.skirt.opening]\nat = "back"\n'
    keys = "[garment.skirt.pleats]\ncount = 12\n"
    draft = draft_of("cm", **skirt("inverted pleated", more=keys + opening))
    assert draft.garment.pleating == Pleating(
        Method.INVERTED, pleats=12, opening_at="back", underlap=parse("7.5 cm"),
        seam=parse("1.25 cm"),
    )  # fmt: skip
    panel = piece_of(draft, "panel")
    assert panel.length == parse("103.25 cm")  # 100 + 1.25 + 2
    assert "pleating line" in [mark.name for mark in panel.marks]
    assert draft.garment.turn_downs == ()


def test_pleats_that_turn_to_a_middle_are_alike_in_every_part() -> None:
    # Three panels, and four quarters between the side opening and the two middles: by twelves.
    turned = made("knife pleated", 'direction = "to the front"\nwidth = "2 cm"').pleating
    assert turned is not None
    assert (turned.pleats, turned.direction) == (36, Direction.FRONT)
    told = sentence("knife pleated", 'direction = "to the front"\ncount = 30')
    assert (
        "pleats.count is 30, and all parts are alike only where it is a multiple of 12; write 24 "
        "or 36"
    ) in told


def test_what_to_mind_about_knife_pleats() -> None:
    deep = made("knife pleated", "count = 12", wearer='waist = "45 cm"\nlength = "100 cm"')
    # 135 cm to spare in 12 folds: 5.625 cm deep, 3.75 cm apart.
    assert (
        "The pleats overlap: each is 5.6 cm deep and they lie 3.8 cm apart, so that up to 5 layers "
        "lie on one another."
    ) in deep.advice
    assert not [said for said in made("knife pleated", "count = 12").advice if "pleat" in said]
    short = made("knife pleated", "count = 6", band='underlap = "3 cm"')
    assert (
        "The pleat over the opening reaches 10 cm under the next, further than the underlap of "
        "3 cm; give the band as long an underlap."
    ) in short.advice


def test_what_comes_out_otherwise_than_asked_is_told() -> None:
    # As NIMI pp. 202-205 correct a width of 5 to 5.1: 60 cm in 2.4 are 25 pleats, by threes 24.
    assert (
        "Pleats asked for 2.4 cm from pleat to pleat come out 2.5 cm, so that every panel holds as "
        "many."
    ) in made("knife pleated", 'width = "2.4 cm"').advice
    assert (
        "Pleats asked for 2.4 cm deep come out 2.5 cm, so that every panel holds as many."
    ) in made("knife pleated", 'depth = "2.4 cm"').advice
    for keys in ('width = "2.5 cm"', 'depth = "2.5 cm"', "count = 24", ""):
        assert not [said for said in made("knife pleated", keys).advice if "asked for" in said]


SCANT = 'count = 3\nwidth = "22.5 cm"'


@pytest.mark.parametrize(
    ("top", "keys", "parts", "told"),
    [
        (
            "knife pleated", "count = 25", {},
            "pleats.count is 25, and 3 panels hold as many only where it is a multiple of 3; "
            "write 24 or 27",
        ),
        ("knife pleated", "count = 2", {}, "only where it is a multiple of 3; write 3"),
        (
            "knife pleated", 'count = 24\ndepth = "2 cm"', {},
            "pleats has a count beside a depth or a width, and one follows from the other; take "
            "one out",
        ),
        (
            "knife pleated", 'width = "2 cm"\ndepth = "2 cm"', {},
            "pleats has both depth and width, which settle how far the panels go round, but "
            "panels.width is given; give panels.count alone, or leave out depth or width",
        ),
        (
            "knife pleated", 'width = "50 cm"', {},
            "pleats.width is 50 cm, and 3 pleats, the fewest that come out alike, lie 20 cm "
            "apart; give less width, or fewer panels",
        ),
        (
            "knife pleated", 'depth = "50 cm"', {},
            "pleats.depth is 50 cm, and the 120 cm that the panels have to spare make 3 pleats of "
            "only 20 cm; give less depth, or more cloth round the top",
        ),
        (
            "knife pleated", 'width = "0.5 mm"', {},
            "pleats.width is 0.1 cm, which takes 1200 pleats; give a greater one, 1000 are the",
        ),
        (
            "knife pleated", "", {"panels": SCANT},
            "panels go 60 cm round, which leaves nothing for pleats over the 60 cm they are folded "
            "into; give more panels or wider ones",
        ),
        (
            "box pleated", "count = 6", {"wearer": 'waist = "59 cm"\nlength = "100 cm"'},
            "pleats: 6 box pleats would be 5 cm deep, and their folds would lie over one another "
            'under the cloth between them; give panels that go no more than 177 cm round, or write '
            'top = "knife pleated"',
        ),
        (
            "box pleated", 'count = 6\nface = "9 cm"', {},
            "pleats: 6 box pleats would be 5 cm deep, and their folds would lie over one another "
            "under faces of 9 cm; give a wider face, or leave it out",
        ),
        (
            "box pleated", 'count = 6\nface = "11 cm"', {},
            "pleats.face is 11 cm, and the pleats lie only 10 cm apart; give a narrower face, or "
            "fewer pleats",
        ),
        ("knife pleated", 'face = "3 cm"', {}, "pleats.face is the width of a box pleat; take it"),
        (
            "box pleated", 'direction = "left"', {},
            "pleats.direction is for knife pleats, and box pleated ones turn both ways; take it "
            "out",
        ),
        (
            "knife pleated", "", {"more": '[garment.skirt.gauging]\nstitch = "5 mm"\n'},
            "gauging is given, but a knife pleated top has none; describe it in a table pleats, or "
            "take it out",
        ),
        (
            "gauged", "", {"more": "[garment.skirt.pleats]\ncount = 24\n"},
            "pleats is given, but a gauged top has none; describe it in a table gauging, or take "
            "it out",
        ),
        (
            "knife pleated", "",
            {"garment": 'top = "knife pleated"\nturn_down = "5 cm"'},
            "turn_down is given, but a knife pleated top has none; take it out",
        ),
    ],
)  # fmt: skip
def test_pleats_that_cannot_be(top: str, keys: str, parts: dict[str, str], told: str) -> None:
    assert told in sentence(top, keys, **parts)


# --- petticoats ---------------------------------------------------------------------------


def test_a_petticoat_may_be_gauged_or_pleated() -> None:
    kind = 'kind = "petticoat"\nseam = "1.25 cm"\n'
    gauged = draft_of(
        "cm", garment=f'{kind}top = "gauged"\nturn_down = "5 cm"', wearer=WEARER, panels=PANELS
    )
    assert gauged.garment.pleating.method is Method.GAUGED
    assert [row.depth for row in gauged.garment.turn_downs] == [5 * CM]
    boxed = draft_of("cm", garment=f'{kind}top = "box pleated"', wearer=WEARER, panels=PANELS)
    assert boxed.garment.pleating.method is Method.BOX
    banded = draft_of("cm", garment=f'{kind}top = "band"', wearer=WEARER, panels=PANELS)
    assert banded.garment.pleating.method is Method.STROKE
    strung = draft_of("cm", garment=kind, band="", wearer=WEARER, panels=PANELS)
    assert strung.garment.pleating is None
    for key in ("gauging", "pleats"):
        told = fault("cm", garment=kind, band="", wearer=WEARER, panels=PANELS,
                     more=f"[garment.skirt.{key}]\n")  # fmt: skip
        assert f'{key} is given, but top is "drawstring"; write top = ' in told
    told = fault("cm", garment=f'{kind}top = "band"\nturn_down = "5 cm"')
    assert 'turn_down is given, but top is "band"; take it out' in told


def test_panels_narrower_than_the_hips_are_told() -> None:
    wearer = 'waist = "60 cm"\nhip = "181 cm"\nlength = "100 cm"'
    for garment in ('kind = "petticoat"\ntop = "band"', 'top = "gauged"'):
        keys = {"garment": f'{garment}\nseam = "1.25 cm"', "panels": PANELS}
        told = draft_of("cm", wearer=wearer, **keys).garment.advice
        assert (
            "The panels go 180 cm round, less than hips of 181 cm: it can't be worn so; give more "
            "panels or wider ones."
        ) in told
        told = draft_of("cm", wearer=wearer.replace("181", "180"), **keys).garment.advice
        assert not [said for said in told if "panels go" in said]
