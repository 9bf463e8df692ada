"""What the sheet is told in words, and how recipes are found."""

from __future__ import annotations

import pytest
from example_cases import draft_of

from marker.garments import registry
from marker.garments.order import Draft, Order, Spec
from marker.garments.registry import garment, recipes
from marker.garments.straight_skirt import StraightSkirt

# --- advice: common practice, no source ---------------------------------------------------------


def test_heavy_and_scant_skirts_are_told() -> None:
    heavy = draft_of("in", panels="count = 4").garment.advice
    assert heavy == ("The hem goes 172 in round; over 4 yd a skirt grows heavy.",)
    scant = draft_of("cm", panels='round = "1.79 m"').garment.advice
    assert scant[0].endswith("under 1.80 m a skirt hangs like a petticoat.")
    assert draft_of("cm", panels='round = "3.60 m"\ncount = 5').garment.advice == ()


def test_a_short_opening_is_told() -> None:
    def advice(length: str) -> tuple[str, ...]:
        return draft_of("in", f'[garment.skirt.opening]\nlength = "{length}"\n').garment.advice

    assert advice("9 7/8 in")[0].startswith("The opening of 9 7/8 in is short; 10 in")
    assert advice("10 in") == ()


def test_joins_that_miss_the_seams_are_told() -> None:
    def told(strips: int) -> bool:
        more = f"[garment.skirt.facing]\nstrips = {strips}\n"
        return any("joins do not all meet" in said for said in draft_of("in", more).garment.advice)

    assert told(4) and told(5)
    assert not told(3) and not told(6)


def test_an_unusual_facing_is_told() -> None:
    def advice(depth: str) -> tuple[str, ...]:
        more = f'[garment.skirt.facing]\ndepth = "{depth}"\n'
        return draft_of("in", more).garment.advice

    assert advice("5 in") == advice("10 in") == ()
    assert "mostly 5 in to 10 in" in advice("4 7/8 in")[0]
    assert "mostly 5 in to 10 in" in advice("10 1/8 in")[0]


def test_sizes_that_print_rounded_are_told_exactly() -> None:
    advice = draft_of("cm", wearer='waist = "26 in"\nlength = "39 in"').garment.advice
    assert advice == (
        "Sizes that print rounded to the millimetre, exactly: panel 1070.6 mm, band 760.4 mm.",
    )


# --- the registry -----------------------------------------------------------------------------


def test_recipes_register_themselves() -> None:
    assert recipes()["straight skirt"] is StraightSkirt


def test_a_new_garment_is_one_class(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(registry, "_RECIPES", {})

    @garment("sash")
    class Sash(Spec):
        def drafts(self, order: Order) -> tuple[Draft, ...]:
            raise order.fault("kind: a sash is not drafted here")

    assert {"sash": Sash} == registry._RECIPES
