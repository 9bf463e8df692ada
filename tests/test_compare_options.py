"""Which options a case has, and what the table [compare] says of them; what it may not say."""

from __future__ import annotations

from pathlib import Path

import pytest
from compare_cases import BOLTS, PRICED, case

from marker import casefile
from marker.casefile import Case, parse
from marker.decide.asked import asked
from marker.decide.comparison import compare
from marker.decide.options import Options, options
from marker.errors import BadInput

CASES = Path(__file__).parents[1] / "cases"


def of(asks: Case) -> Options:
    return options(asks, asked(asks))


def words(asks: Case) -> list[str]:
    return [option.words for option, _ in of(asks).able]


def fault(table: str, more: str = "", **parts: str) -> str:
    """The one sentence with which a table is refused."""
    with pytest.raises(BadInput) as raised:
        asks = case(f"{more}[compare]\n{table}\n", **parts)
        of(asks)
    told = str(raised.value)
    assert told.startswith("a.toml: ")
    assert "\n" not in told
    return told


# What is compared where the table says nothing.


def test_a_plain_skirt_is_compared_with_one_panel_more_and_fewer_and_railroaded() -> None:
    assert words(case()) == [
        "2 panels, along the bolt", "2 panels, railroaded",
        "3 panels, along the bolt", "3 panels, railroaded",
        "4 panels, along the bolt", "4 panels, railroaded",
    ]  # fmt: skip
    assert [option.own for option, _ in of(case()).able] == [False, False, True] + [False] * 3


def test_panels_that_cannot_be_railroaded_are_not_offered_so() -> None:
    nap = case(cloth='width = "114 cm"\none_way = true')
    assert words(nap) == ["2 panels", "3 panels", "4 panels"]


def test_bolts_that_no_part_names_are_compared() -> None:
    more = BOLTS + '[cloth.lawn]\nwidth = "90 cm"\n[cloth.scrap]\nwidth = "80 cm"\nlength = "1 m"\n'
    asks = case(more.replace('depth = "15 cm"', 'depth = "15 cm"\ncloth = "lawn"'), cloth=PRICED)
    bolts = {word for option, _ in of(asks).able for word in option.words.split(", ")}
    # The lawn is the facing's own cloth, and a scrap is no bolt.
    assert bolts >= {
        "cloth main",
        "Twill",
        "facing from cloth lawn",
        "facing from the panels' cloth",
    }
    assert not bolts & {"lawn", "scrap"}


def test_a_facing_may_be_straight_or_bias_and_from_the_panels_cloth() -> None:
    found = of(casefile.read(CASES / "faced-skirt.toml")).able
    assert len(found) == 24
    assert {option.written for option, _ in found} >= {
        "",
        "without garment.skirt.facing.cloth",
        'garment.skirt.facing.cut = "bias strips"',
    }
    (now,) = [option for option, _ in found if option.own]
    assert now.words == "3 panels, along the bolt, straight facing, facing from White lawn"


def test_a_facing_of_free_strips_loses_the_keys_that_bias_has_not() -> None:
    asks = case(
        '[garment.skirt.facing]\nstrips = "free"\nmost = 5\n[compare]\npanels = 3\nlie = "along"\n'
    )
    assert [option.written for option, _ in of(asks).able] == [
        "",
        'garment.skirt.facing.cut = "bias strips", without garment.skirt.facing.strips, '
        "without garment.skirt.facing.most",
    ]


def test_a_band_may_come_from_the_panels_cloth() -> None:
    asks = case(
        '[cloth.lawn]\nname = "Lawn"\nwidth = "90 cm"\n[compare]\npanels = 3\nlie = "along"\n',
        band='width = "2.5 cm"\ncloth = "lawn"',
    )
    assert words(asks) == ["band from Lawn", "band from the panels' cloth"]


def test_a_curved_hem_is_faced_in_its_shape_or_on_the_bias() -> None:
    asks = casefile.read(CASES / "gored-walking-skirt.toml")
    assert words(asks) == ["shaped facing", "facing of bias strips"]


def test_several_garments_are_changed_together_and_named_where_they_differ() -> None:
    asks = casefile.read(CASES / "two-on-one-bolt.toml")
    found = of(asks).able
    assert found[0][0].words.startswith("Oda's skirt 3 panels, Wenna's petticoat 2 panels")
    assert found[0][0].changes == {
        ("garment", "skirt", "panels", "count"): 3,
        ("garment", "petticoat", "panels", "count"): 2,
    }
    for option, each in found:
        assert {order.key for order in each.orders} == {"skirt", "petticoat"}
        if "railroaded" in option.words:
            lies = {order.spec.panels.lie for order in each.orders}  # type: ignore[attr-defined]
            assert lies == {"across"}


def test_one_garment_of_several_may_be_changed_alone() -> None:
    text = (CASES / "two-on-one-bolt.toml").read_text(encoding="utf-8")
    asks = parse(text + '[compare]\ngarments = ["petticoat"]\nfacing = "straight"\n', "a.toml")
    changed = {key[1] for option, _ in of(asks).able for key in option.changes}
    assert changed == {"petticoat"}


def test_a_company_is_one_change_for_all_its_wearers() -> None:
    text = (CASES / "railroaded-pair.toml").read_text(encoding="utf-8")
    asks = parse(text + '[compare]\nfacing = "straight"\n', "a.toml")
    found = of(asks).able
    assert [option.words for option, _ in found] == ["along the bolt", "railroaded"]
    assert all(len(each.orders) == 2 for _, each in found)


def test_a_case_with_nothing_to_choose_is_one_option() -> None:
    asks = casefile.read(CASES / "drawn-bodice.toml")
    assert words(asks) == ["as the case has it"]


def test_options_that_ask_for_the_same_pieces_are_one() -> None:
    # Of the lawn, a facing "from the panels' cloth" is a facing of lawn.
    more = BOLTS.replace('depth = "15 cm"', 'depth = "15 cm"\ncloth = "twill"')
    asks = case(
        more + '[compare]\ncloths = ["main", "twill"]\npanels = 3\nlie = "along"\n'
        'facing = "straight"\n',
        cloth=PRICED,
    )
    assert words(asks) == [
        "cloth main, facing from Twill", "cloth main, facing from the panels' cloth",
        "Twill, facing from Twill",
    ]  # fmt: skip


def test_panels_left_open_are_compared_as_they_are() -> None:
    asks = case(panels='round = "3 m"')
    assert words(asks) == ["along the bolt", "railroaded"]


def test_each_number_of_panels_that_the_file_leaves_open_is_an_option() -> None:
    asks = case('[compare]\nlie = "along"\n', panels="count = [2, 4]")
    found = of(asks).able
    assert [option.words for option, _ in found] == ["2 panels", "3 panels", "4 panels"]
    assert found[1][0].written == "garment.skirt.panels.count = 3"
    assert not any(option.own for option, _ in found)


# What the table narrows and widens.


def test_the_table_narrows_and_widens_each_axis() -> None:
    table = (
        '[compare]\npanels = [3, 5]\ncloths = ["twill"]\nlie = ["along"]\n'
        'facing = ["bias strips"]\n'
    )
    assert words(case(BOLTS + table, cloth=PRICED)) == ["3 panels", "4 panels", "5 panels"]


def test_an_asked_lie_that_cannot_be_is_listed_with_its_reason() -> None:
    asks = case('[compare]\nlie = ["along", "across"]\npanels = 3\n', cloth='width = "80 cm"')
    found = of(asks)
    assert [option.words for option, _ in found.able] == ["along the bolt"]
    (one,) = found.refused
    assert one.option.words == "railroaded"
    assert one.reason.startswith("garment.skirt.panels.lie can't be across: the cut length")


# What the table may not say.


@pytest.mark.parametrize(
    ("table", "says"),
    [
        ("panels = []", "is not a range; write the least and the greatest"),
        ("panels = [4, 2]", "compare.panels: [4, 2] runs backwards"),
        ("panels = [2, 3, 4]", "is not a range"),
        ("panels = [0, 2]", "0 is not a number of panels"),
        ('panels = "two"', "'two' is not a number of panels"),
        ("panels = [1, 1000000]", "there are 2000000 options to compare (1000000 numbers"),
        (f"panels = [1, {10**30}]", f"there are {2 * 10**30} options to compare"),
        ("cloths = []", "compare.cloths: the list is empty"),
        ('cloths = ["mian"]', "names 'mian', which is not in the file; did you mean 'main'?"),
        ('cloths = ["main", "main"]', "names one twice"),
        ("cloths = [3]", "3 is not text"),
        ('facing_cloths = ["none"]', "compare.facing_cloths names 'none'"),
        ('facing_cloths = ["main"]', "no garment here has a facing of cloth"),
        ('facing = "straight"', "compare.facing is given, but no garment here has a facing"),
        ('lie = "sideways"', "compare.lie names 'sideways'"),
        ('garments = ["cape"]', "compare.garments names 'cape', which is not in the file"),
        ('order = ["price"]', "'price' is nothing to rank by"),
        ("order = []", "the list is empty"),
        ('order = ["buy", "buy"]', "names one twice"),
        ("most = 0", "compare.most is 0"),
        ("width = 3", "compare.width is not a key"),
    ],
)
def test_a_table_that_cannot_be_meant_is_told_in_one_sentence(table: str, says: str) -> None:
    assert says in fault(table)


def test_too_many_options_are_counted_and_not_laid() -> None:
    told = fault("panels = [1, 31]")
    parts = "(31 numbers of panels x 2 cloths and lies)"
    assert f"there are 62 options to compare {parts}, and 60 are laid at most" in told
    assert told.endswith("write compare.most = 62")
    assert "write compare.most" not in fault("panels = [1, 1000000]")
    asks = case("[compare]\npanels = [2, 32]\nmost = 62\n")
    assert len(of(asks).able) + len(of(asks).refused) == 62


def test_a_facing_that_no_hem_here_can_have_is_refused() -> None:
    told = fault('facing = ["shaped"]', "[garment.skirt.facing]\n")
    assert "compare.facing names 'shaped', and no facing here is cut so" in told


def test_a_tape_is_no_band() -> None:
    tape = '[garment.skirt.tape]\ntie = "50 cm"\n'
    assert "no garment here has a band of cloth" in fault('band_cloths = ["main"]', tape, band="")


def test_an_order_on_the_command_line_is_checked_too() -> None:
    with pytest.raises(BadInput, match="--order: 'price' is nothing to rank by"):
        compare(case(), order=["price"])
    with pytest.raises(BadInput, match="--order: the order is empty"):
        compare(case(), order=[])
