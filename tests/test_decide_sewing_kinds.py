"""What is sewn of garments of every kind, read off drafts that nobody lays."""

from __future__ import annotations

from dataclasses import replace

import pytest
from curved_cases import hem_case, read_drafts
from example_cases import draft_of
from example_lays import skirt
from flounce_cases import flounced
from own_cases import own_draft

from marker.decide.sewing import with_sewing
from marker.garments.order import Draft
from marker.record import Record, Sewn, Stage, Stitch, Thread
from marker.units import INCH, MM, System

THREAD = Thread(stitch=INCH // 8)


def sewn(draft: Draft, thread: Thread = THREAD) -> dict[tuple[str, Stitch], Sewn]:
    """What is sewn of a draft, by what it is and the stitch; its pieces lie anywhere."""
    lay = skirt()
    lay = replace(lay, cloth=replace(lay.cloth, key="main", thickness=0), pieces=draft.pieces)
    record = with_sewing(Record("A", System.IN, (draft.garment,), (lay,)), thread)
    assert record.thread == thread
    return {(one.what, one.stitch): one for one in record.garments[0].sewing}


def test_a_flounce_is_gathered_by_two_rows_and_sewn_to_its_seam() -> None:
    # 132 in round; five breadths of 44 in: 5 x 45 in as they are cut, hemmed all along
    draft = flounced('depth = "8 in"\nhem = "1 in"')
    (piece,) = (piece for piece in draft.pieces if "flounce" in piece.name)
    cut = piece.length * piece.count
    found = sewn(draft)
    rows = found["gathering flounces", Stitch.RUNNING]
    assert (rows.length, rows.stage) == (2 * cut, Stage.JOIN)
    assert found["hem", Stitch.HEMMING].length == cut
    assert found["flounces", Stitch.BACK].length == 3 * 45 * INCH  # the panels, as they are cut
    # its joins are seams like those of the panels: as many as strips, each as deep
    panels = next(piece for piece in draft.pieces if piece.name == "panel")
    joins = piece.count * piece.breadth + panels.count * panels.length
    assert found["seams", Stitch.BACK].length == joins


def test_tucks_are_sewn_along_their_creases() -> None:
    more = '[garment.skirt.tucks]\ncount = 3\ndepth = "1/2 in"\ngap = "1 in"\n'
    tucks = sewn(draft_of("in", more))["tucks", Stitch.RUNNING]
    assert tucks.length == 3 * 3 * 44 * INCH


def test_a_placket_strip_is_sewn_on_and_hemmed_down() -> None:
    more = '[garment.skirt.opening]\nlength = "10 in"\nplacket = "strip"\n'
    found = sewn(draft_of("in", more))
    assert found["placket", Stitch.BACK].length == 21 * INCH
    assert found["placket", Stitch.HEMMING].length == 21 * INCH
    assert ("opening", Stitch.HEMMING) not in found
    turned = sewn(draft_of("in", '[garment.skirt.opening]\nlength = "10 in"\n'))
    assert turned["opening", Stitch.HEMMING].length == 20 * INCH


def test_a_lined_band_is_sewn_to_its_lining_above() -> None:
    more = '[cloth.lawn]\nwidth = "36 in"\n'
    found = sewn(draft_of("in", more, band='width = "1 in"\nunderlap = "3 in"\nlining = "lawn"'))
    assert found["band", Stitch.BACK].length == 30 * INCH  # their upper edges, once
    assert found["inside of the band", Stitch.HEMMING].length == 30 * INCH
    assert found["ends of the band", Stitch.BACK].length == 4 * INCH  # two layers, 2 in each


def test_a_casing_is_hemmed_and_has_no_rows() -> None:
    draft = draft_of("in", garment='kind = "petticoat"\nseam = "1/2 in"', band="")
    found = sewn(draft)
    assert found["casing", Stitch.HEMMING].length == draft.garment.round_hem == 129 * INCH
    assert not any(one.pushed for one in found.values())


def test_a_tape_holds_the_pleats_as_a_band_does() -> None:
    found = sewn(draft_of("in", "[garment.skirt.tape]\n", band=""))
    assert found["pleats to the tape", Stitch.WHIP].length == 26 * INCH
    assert ("tape", Stitch.BACK) not in found and ("pleats to the band", Stitch.WHIP) not in found


def test_a_stroke_gathered_top_is_sewn_on_by_its_raw_edge_not_whipped() -> None:
    stroke = 'seam = "1/2 in"\ntop = "stroke gathered"'
    taped = sewn(draft_of("in", "[garment.skirt.tape]\n", garment=stroke, band=""))
    for stitch in (Stitch.BACK, Stitch.HEMMING):  # along its edge, and felled inside
        assert taped["tape", stitch].length == 26 * INCH
    banded = sewn(draft_of("in", garment=stroke))
    assert banded["band", Stitch.BACK].length == 30 * INCH
    for found in (taped, banded):
        assert found["row 1", Stitch.RUNNING].pushed
        assert not any(stitch is Stitch.WHIP for _, stitch in found)


def test_pressed_pleats_are_basted_and_their_band_is_backstitched() -> None:
    keys = 'seam = "1/2 in"\ntop = "knife pleated"'
    found = sewn(draft_of("in", '[garment.skirt.pleats]\ndepth = "1 in"\n', garment=keys))
    assert found["basting pleats", Stitch.RUNNING].length == 2 * 26 * INCH
    assert found["band", Stitch.BACK].length == 30 * INCH
    assert not any(one.pushed for one in found.values())


def test_an_apron_has_sides_ties_and_pockets() -> None:
    keys = 'kind = "apron"\nseam = "1/2 in"\nlength = "30 in"'
    draft = draft_of("in", garment=keys, panels="count = 1", band="", cloth='width = "36 in"',
                     more="[garment.skirt.pocket]\n")  # fmt: skip
    found = sewn(draft)
    panel = next(piece for piece in draft.pieces if piece.name == "panel")
    assert found["sides", Stitch.HEMMING].length == 2 * panel.length
    assert found["hem", Stitch.HEMMING].length == panel.breadth
    pocket = next(piece for piece in draft.pieces if piece.name == "pocket")
    assert found["pockets", Stitch.HEMMING].length == pocket.breadth
    assert found["pockets", Stitch.BACK].length == 2 * pocket.length + pocket.breadth
    band = next(piece for piece in draft.pieces if piece.name == "band")
    assert found["ties", Stitch.BACK].length == 2 * band.breadth
    assert found["band", Stitch.BACK].length == band.length


@pytest.mark.parametrize("cut", ["bias strips", "bias rectangle"])
def test_a_cut_binding_is_sewn_as_long_as_it_is_joined(cut: str) -> None:
    (draft,) = read_drafts(hem_case(f'binding.width = "1/2 in"\nbinding.cut = "{cut}"'))
    found = sewn(draft)
    whole = draft.garment.round_hem
    for stitch in (Stitch.BACK, Stitch.HEMMING):
        # a strip's edges are as long as they are cut, slants and seams counted
        assert whole <= found["binding", stitch].length <= whole + 12 * INCH
    assert ("hem", Stitch.HEMMING) not in found


def test_a_curved_hem_is_as_long_as_its_arc() -> None:
    (draft,) = read_drafts(hem_case('take_up = "1 in"'))
    found = sewn(draft)
    hem = found["hem", Stitch.HEMMING]
    assert 0 <= hem.length - draft.garment.round_hem < 12 * INCH  # the cut edge, and its seams
    assert found["band", Stitch.BACK].length >= 28 * INCH


def test_nothing_is_told_of_pieces_of_the_users_own() -> None:
    edges = 'edges = ["side", "hem", "side", "seam"]'
    assert sewn(own_draft(f'length = "30 cm"\nbreadth = "20 cm"\n{edges}')) == {}


def test_stitches_are_counted_up() -> None:
    seams = sewn(draft_of("in"), Thread(stitch=3 * MM))["seams", Stitch.BACK]
    assert seams.length == 3 * 85 * INCH // 2  # 3238.5 mm, and a part of a stitch is one
    assert (seams.stitches, seams.thread) == (1080, 1080 * 9 * MM)
