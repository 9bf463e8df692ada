"""Cloth: usable width, shrinkage, squaring and the shop's cutting step."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marker.cloth import Cloth, Price
from marker.errors import BadInput
from marker.geometry import Rect
from marker.units import CM, INCH, METRE, YARD


def cloth(**changes: object) -> Cloth:
    base: dict[str, object] = {"key": "main", "name": "linen", "width": 140 * CM, "step": 10 * CM}
    return Cloth(**(base | changes))  # type: ignore[arg-type]


def test_trimmed_selvedges_narrow_the_cloth_and_kept_ones_do_not() -> None:
    assert cloth(selvedge=CM).usable == Rect(0, CM, 0, 139 * CM)
    assert cloth(selvedge=CM, keep_selvedges=True).usable == Rect(0, 0, 0, 140 * CM)


def test_washing_narrows_the_cloth_before_it_is_laid() -> None:
    washed = cloth(weft_shrinkage=Decimal(5))
    assert washed.washed
    assert washed.laid_width == 133 * CM


def test_shrinkage_divides_what_is_kept() -> None:
    # ISO 5077: the change is a percentage of the length before washing, so 9 m wanted at
    # 10 % take 10 m, and not the 9.90 m that adding the percentage gives.
    assert cloth(warp_shrinkage=Decimal(10)).need(9 * METRE) == 10 * METRE


def test_squaring_comes_off_the_bolt_before_the_lay() -> None:
    squared = cloth(squaring=2 * CM)
    assert squared.need(98 * CM) == METRE
    assert squared.buy(98 * CM) == METRE
    assert squared.buy(98 * CM + 1) == METRE + 10 * CM
    assert squared.bolt(98 * CM) == Rect(-2 * CM, 0, 98 * CM, 140 * CM)


def test_a_remnant_goes_on_the_table_whole_and_nothing_is_bought() -> None:
    remnant = cloth(length=METRE, squaring=2 * CM, warp_shrinkage=Decimal(10))
    assert remnant.buy(30 * CM) == 0
    assert remnant.taken(30 * CM) == METRE
    # 100 cm shrink to 90, and 2 of them square the end
    assert remnant.longest_lay(remnant.length) == 88 * CM
    assert remnant.bolt(30 * CM) == Rect(-2 * CM, 0, 88 * CM, 140 * CM)


def test_a_remnant_that_is_all_squaring_is_refused() -> None:
    with pytest.raises(BadInput, match="leave nothing of its length"):
        cloth(length=2 * CM, squaring=2 * CM)


@given(
    st.integers(1, 20 * METRE), st.integers(0, 10 * CM), st.decimals(0, 20, places=1),
    st.sampled_from([10 * CM, YARD // 8, 1]),
)  # fmt: skip
def test_what_is_bought_always_holds_the_lay(
    length: int, squaring: int, shrinks: Decimal, step: int
) -> None:
    made = cloth(squaring=squaring, warp_shrinkage=shrinks, step=step)
    assert made.longest_lay(made.buy(length)) >= length
    assert made.longest_lay(made.buy(length) - step) < length


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"width": 0}, "width and step"),
        ({"step": 0}, "width and step"),
        ({"selvedge": 70 * CM}, "nothing of its width"),
        ({"warp_shrinkage": Decimal(50)}, "shrinkage"),
        ({"weft_shrinkage": Decimal(-1)}, "shrinkage"),
    ],
)
def test_clashing_figures_are_refused(changes: dict[str, object], says: str) -> None:
    with pytest.raises(BadInput, match=says):
        cloth(**changes)


def test_price_by_the_metre_and_by_the_yard() -> None:
    assert Price(Decimal("12.50"), "EUR").cost(340 * CM) == Decimal("42.50")
    assert Price(Decimal("9.99"), "USD", "yd").cost(YARD * 29 // 8) == Decimal("36.21")
    assert Price(Decimal("8"), "USD", "yd").cost(INCH * 9) == Decimal("2")
