"""Case files: what is read, and what stands where nothing is said."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from example_cases import case_of, text_of
from hypothesis import given
from hypothesis import strategies as st

from marker.casefile import parse, read
from marker.units import CM, INCH, YARD, System
from marker.units import parse as length


def test_a_case_is_read_into_units() -> None:
    case = case_of("in")
    assert case.title == "A skirt" and case.units is System.IN
    assert case.wearers["ada"].measures == {"waist": 26 * INCH, "length": 39 * INCH}
    assert case.cloths["main"].width == 45 * INCH
    assert [order.key for order in case.orders] == ["skirt"]


def test_what_is_not_said_has_a_usual_value() -> None:
    inches = case_of("in", cloth='width = "45 in"').cloths["main"]
    assert (inches.step, inches.selvedge, inches.squaring) == (YARD // 8, 0, 0)
    assert not inches.keep_selvedges and not inches.one_way and inches.name == "cloth main"
    assert case_of("cm").cloths["main"].step == 10 * CM


def test_a_cloth_with_everything_said() -> None:
    cloth = case_of(
        "cm",
        cloth='name = "Blue"\nwidth = "140 cm"\nselvedge = "8 mm"\nselvedges = "kept"\n'
        'step = "25 cm"\nsquaring = "2 cm"\none_way = true\n'
        'shrinkage = { warp = "3.5 %", weft = "2%" }\n'
        'price = "12.50 EUR/m"\nweight = "150 g/m2"',
    ).cloths["main"]
    assert (cloth.name, cloth.step, cloth.squaring) == ("Blue", 25 * CM, 2 * CM)
    assert cloth.keep_selvedges and cloth.one_way
    assert (cloth.warp_shrinkage, cloth.weft_shrinkage) == (Decimal("3.5"), Decimal(2))
    assert cloth.price and (cloth.price.amount, cloth.price.currency) == (Decimal("12.50"), "EUR")
    assert cloth.grams == 150


def test_ounces_to_the_square_yard() -> None:
    # 1 oz/yd2 = 33.9057 g/m2 (computed: SOURCES, "Cloth and shop")
    cloth = case_of("in", cloth='width = "45 in"\nweight = "1 oz/yd2"').cloths["main"]
    assert cloth.grams == Decimal("33.9057")


def test_one_table_orders_a_garment_for_several_wearers() -> None:
    text = text_of("in", garment='wearers = ["ada", "bea"]')
    case = parse(text + '[wearer.bea]\nwaist = "30 in"\nlength = "37 in"\n', "a.toml")
    assert [(o.key, o.table, o.wearer.key) for o in case.orders] == [
        ("skirt-ada", "skirt", "ada"),
        ("skirt-bea", "skirt", "bea"),
    ]
    cut = [order.drafts()[0].garment.cut_length for order in case.orders]
    assert cut[0] - cut[1] == 2 * INCH


def test_a_mark_of_byte_order_and_dos_line_ends_are_taken(tmp_path: Path) -> None:
    path = tmp_path / "dos.toml"
    path.write_bytes(b"\xef\xbb\xbf" + text_of("in").replace("\n", "\r\n").encode())
    assert read(path).title == "A skirt"


def test_markup_in_a_title_is_only_text() -> None:
    text = text_of("in").replace("A skirt", "<script>alert(1)</script> & co")
    assert parse(text, "a.toml").title == "<script>alert(1)</script> & co"


def test_the_garment_takes_the_cloth_called_main() -> None:
    case = parse(text_of("in") + '[cloth.lawn]\nwidth = "1 m"\n', "a.toml")
    assert case.orders[0].panel_cloth == "main"


@given(st.integers(min_value=1, max_value=400))
def test_a_measure_reads_the_same_in_either_unit(eighths: int) -> None:
    wearer = f'waist = "26 in"\nlength = "{eighths}/8 in"'
    read_back = case_of("in", wearer=wearer).wearers["ada"].measures["length"]
    assert read_back == eighths * INCH // 8 == length(f"{Decimal('3.175') * eighths} mm")
