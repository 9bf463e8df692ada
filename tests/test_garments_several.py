"""Panels from several cloths, bands joined from strips, and skirts longer than measured."""

from __future__ import annotations

import pytest

from marker import casefile, decide
from marker.errors import BadInput
from marker.piece import Piece
from marker.units import parse

TEXT = """
title = "Goose fair"
units = "cm"
[wearer.asa]
waist = "70 cm"
length = "90 cm"
[cloth.one]
width = "{one}"
length = "115 cm"
[cloth.two]
width = "110 cm"
length = "125 cm"
[garment.skirt]
cloth = ["one", "two"]
{keys}
panels = {panels}
band = {band}
"""
PANELS = '{ count = 3, width = "70 cm" }'
BAND = '{ width = "3 cm", underlap = "8 cm" }'


def text_of(one: str = "150 cm", keys: str = "", panels: str = PANELS, band: str = BAND) -> str:
    return TEXT.format(one=one, keys=keys, panels=panels, band=band)


def pieces_of(text: str) -> dict[str, Piece]:
    ((draft,),) = decide.draft(casefile.parse(text, "goose.toml"))
    return {piece.name: piece for piece in draft.pieces}


def test_panels_come_from_every_cloth_that_is_wide_enough() -> None:
    panel = pieces_of(text_of())["panel"]
    assert (panel.cloth, panel.also) == ("one", ("two",))
    narrow = pieces_of(text_of(one="60 cm"))["panel"]
    assert (narrow.cloth, narrow.also) == ("two", ())
    strip = pieces_of(text_of())["band"]
    assert (strip.cloth, strip.also) == ("one", ("two",))


def test_whole_breadths_are_those_of_the_narrowest() -> None:
    panel = pieces_of(text_of(panels='{ count = 3, width = "full" }'))["panel"]
    assert panel.breadth == parse("110 cm")


def test_two_remnants_hold_what_neither_holds_alone() -> None:
    record = decide.plan(casefile.parse(text_of(), "goose.toml"), iterations=4)
    assert {lay.cloth.key for lay in record.lays} == {"one", "two"}
    assert sum(p.count for lay in record.lays for p in lay.pieces if p.name == "panel") == 3
    assert "Of the panels, 2 from cloth one and 1 from cloth two are cut." in record.choices


@pytest.mark.parametrize("key", ['match = "lengthwise"', 'selvedge = "one"', 'border = "1 cm"'])
def test_what_several_cloths_cannot_give_alike_is_refused(key: str) -> None:
    with pytest.raises(BadInput, match=rf"panels\.{key.split()[0]} .* 2 cloths"):
        pieces_of(text_of(panels='{ count = 3, width = "70 cm", ' + key + " }"))


def test_a_gored_skirt_comes_from_one_cloth() -> None:
    text = text_of(keys='kind = "gored skirt"\ngores = { count = 6, round = "3 m" }')
    with pytest.raises(BadInput, match=r"skirt\.cloth names 2 cloths.*name one"):
        pieces_of(text.replace(f"panels = {PANELS}\n", ""))


def test_a_band_of_strips_measures_as_much_once_joined() -> None:
    """Strips of L joined with k - 1 seams of 2s: k L - 2s(k - 1); common practice, no source."""
    whole = pieces_of(text_of())["band"]
    strip = pieces_of(text_of(band=BAND.replace("{", "{ strips = 3,")))["band strip"]
    seam = parse("1 cm")
    joined = 3 * strip.length - 2 * 2 * seam
    assert whole.length <= joined < whole.length + 3 * parse("1 mm")
    assert (strip.count, strip.breadth) == (3, whole.breadth)
    assert not any(mark.name == "underlap begins" for mark in strip.marks)


def test_a_band_in_free_strips_and_its_lining_are_strips_of_their_own() -> None:
    band = BAND.replace("{", '{ strips = "free", lining = "two",')
    pieces = pieces_of(text_of(band=band))
    strips = [pieces["band strip"].pieced, pieces["band lining strip"].pieced]
    assert all(strips)
    assert len({strip.strip for strip in strips if strip}) == 2


def test_strips_of_a_band_in_one_are_refused() -> None:
    with pytest.raises(BadInput, match=r'band\.shortest is for strips.*band\.strips = "free"'):
        pieces_of(text_of(band=BAND.replace("{", '{ shortest = "20 cm",')))


def test_longer_is_as_much_longer() -> None:
    plain = pieces_of(text_of())["panel"]
    longer = pieces_of(text_of(keys='longer = "4.5 cm"'))["panel"]
    assert longer.length - plain.length == parse("4.5 cm")
    with pytest.raises(BadInput, match="shorter and longer are both given"):
        pieces_of(text_of(keys='longer = "4 cm"\nshorter = "4 cm"'))
