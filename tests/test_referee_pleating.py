"""The referee's own look at how tops are drawn up."""

from __future__ import annotations

from dataclasses import replace

import pytest
from example_cases import draft_of

from marker.record import Direction, Garment, Method, Swatch
from marker.referee.pleating import pleating_faults
from marker.units import CM, MM

GAUGED = draft_of("cm").garment
KEYS = 'top = "{}"\nseam = "1.25 cm"'
NARROW = 'count = 3\nwidth = "62.5 cm"'
WAIST = 'waist = "60 cm"\nlength = "100 cm"'


def pressed(top: str) -> Garment:
    return draft_of("cm", garment=KEYS.format(top), panels=NARROW, wearer=WAIST).garment


TOPS = [GAUGED, *(pressed(f"{kind} pleated") for kind in ("knife", "box", "inverted"))]


@pytest.mark.parametrize("garment", TOPS, ids=lambda garment: garment.pleating.method.value)
def test_what_recipes_make_is_passed(garment: Garment) -> None:
    assert list(pleating_faults(garment)) == []
    assert list(pleating_faults(replace(garment, pleating=None))) == []


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"stitch": 0}, "a stitch, a row or the place of the first is missing"),
        ({"rows": 0}, "a stitch, a row or the place of the first is missing"),
        ({"stitch": 60 * CM}, "A panel takes no whole pleat of stitches of"),
        ({"spacing": 0}, "Its 3 rows of stitches lie on one another."),
        ({"ease": -1}, "The ease of its pleats is"),
        ({"method": Method.STROKE}, "doesn't agree with its turn-down"),
        ({"opening_at": "top"}, "is worn at 'top', which is no place"),
        ({"measured": Swatch(10 * CM, 10 * CM, 5 * MM)}, "Its practice swatch can't have come out"),
        ({"measured": Swatch(10 * CM, 2 * CM, 6 * CM)}, "Its practice swatch can't have come out"),
    ],
)
def test_stitches_that_do_not_come_out(change: dict[str, object], told: str) -> None:
    assert GAUGED.pleating is not None
    wrong = replace(GAUGED, pleating=replace(GAUGED.pleating, **change))  # type: ignore[arg-type]
    (found,) = pleating_faults(wrong)
    assert told in found


@pytest.mark.parametrize(
    ("top", "change", "told"),
    [
        ("knife", {"pleats": 25}, "Its 25 pleats are not as many in each of 3 panels."),
        ("knife", {"pleats": 0}, "Its 0 pleats are not as many in each of 3 panels."),
        ("knife", {"pleats": 27, "direction": Direction.FRONT}, "between the places where they"),
        ("box", {"face": 30 * CM}, "don't fit"),
        ("box", {"face": 1 * CM}, "The folds of its 6 box pleats lie over one another."),
    ],
)
def test_folds_that_do_not_come_out(top: str, change: dict[str, object], told: str) -> None:
    garment = pressed(f"{top} pleated")
    assert garment.pleating is not None
    wrong = replace(garment, pleating=replace(garment.pleating, **change))  # type: ignore[arg-type]
    assert any(told in found for found in pleating_faults(wrong))


def test_cloth_that_leaves_nothing_to_pleat() -> None:
    knife, inverted = TOPS[1], TOPS[3]
    for garment, told in (
        (replace(knife, drawn=knife.round_hem), "has nothing to spare for pleats"),
        (replace(inverted, drawn=50 * CM), "The folds of its 6 inverted pleats lie over"),
        (replace(knife, panels=0), "Its pleats have no panels"),
    ):
        (found,) = pleating_faults(garment)
        assert told in found
