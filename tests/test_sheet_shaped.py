"""The sheet for pieces of any outline: sizes by edge, the bias, folded cloth."""

from __future__ import annotations

from dataclasses import replace

import pytest
from plan_shapes import SHAPED
from test_sheet import pages, plain, set_sheet

from marker.geometry import Rect
from marker.lay import Offcut, prove
from marker.plan.sheet.bias import JOINING, MARKING
from marker.plan.sheet.cloths import MANNER_FOLDED, MANNER_REGION
from marker.plan.sheet.words import cautions
from marker.plan.words.tearing import full_steps
from marker.record import WITH_FLOUNCES, Garment, Item, TurnDown
from marker.units import CM, System


@pytest.fixture(scope="module")
def told() -> dict[str, list[str]]:
    return {name: pages(set_sheet(make())) for name, make in SHAPED.items()}


def test_the_piece_list_gives_the_edges_of_shaped_pieces(told: dict[str, list[str]]) -> None:
    first = told["bias"][0]
    assert "edges: 2 × seam 52, hem 116.7, waist 35 cm" in first
    assert "waist 16 cm; 1 of these turned over" in first
    assert "hem binding strip 5 × 70 × 4 cm on the bias" in first
    assert "edges: hem 70, 2 × join 5.7, top 70 cm" in first


def test_a_straight_piece_has_no_edges_told(told: dict[str, list[str]]) -> None:
    row = told["gores"][0].partition("band 1 ×")[2]
    assert row.startswith(" 78 × 8 cm either way")
    assert "edges" not in row


def test_the_bias_is_told_where_something_lies_on_it(told: dict[str, list[str]]) -> None:
    first = next(page for page in told["bias"] if "On the bias" in page)
    assert "piece cards" in first
    assert "true bias, at 45 degrees to the warp" in first, "the figure's own words"
    assert plain(MARKING) in first
    assert plain(JOINING) in first
    assert not any("On the bias" in page for name in ("gores", "folded") for page in told[name])


@pytest.mark.parametrize("name", SHAPED)
def test_every_step_stands_on_the_sheet(name: str, told: dict[str, list[str]]) -> None:
    lay = SHAPED[name]().lays[0]
    everything = " ".join(told[name])
    for step in full_steps(lay, System.CM):
        assert plain(step.text) in everything


def test_how_to_set_about_folded_and_mixed_cloth(told: dict[str, list[str]]) -> None:
    assert plain(MANNER_FOLDED.format(side="selvedge")) in " ".join(told["folded"])
    assert "laid folded lengthwise, 0.5 cm between pieces that shears part" in told["folded"][0]
    assert plain(MANNER_REGION) in " ".join(told["mixed"])
    assert plain(MANNER_REGION) not in " ".join(told["gores"])


def test_a_bound_by_area_alone_is_told_as_no_better(told: dict[str, list[str]]) -> None:
    record = SHAPED["gores"]()
    lay = record.lays[0]
    said = "No bound better than the area of the pieces is known."
    assert said not in " ".join(told["gores"])
    area = -(-lay.used // lay.cloth.usable.across)
    alone = replace(lay, bound=area, proof=prove(lay.cloth, lay.length, area))
    assert said in " ".join(pages(set_sheet(replace(record, lays=(alone,)))))


def test_tears_and_cuts_are_counted_together_in_a_mixed_lay(told: dict[str, list[str]]) -> None:
    assert "tears and cuts 18" in " ".join(told["mixed"])
    assert "tears and cuts" not in " ".join(told["gores"])


def test_what_does_not_apply_to_a_garment_is_left_out() -> None:
    apron = Garment("skirt", "apron", "Ilse", figures=(Item("finished length", 68 * CM),))
    record = replace(SHAPED["gores"](), garments=(apron,))
    first = pages(set_sheet(record))[0]
    assert "finished length 68 cm" in first
    for fact in ("panels", "cut length of a panel", "round the hem", "opening", "fulness"):
        assert fact not in first
    bare = pages(set_sheet(replace(record, garments=(replace(apron, figures=()),))))[0]
    assert "apron, for Ilse" in bare


@pytest.mark.slow
def test_a_shaped_piece_and_its_edges_stay_on_one_page() -> None:
    """Twenty shapes fill the list beyond a page; no row of edges may be torn off its piece."""
    record = SHAPED["gores"]()
    lay = record.lays[0]
    many = tuple(replace(lay.pieces[0], letter=f"P{n}", name=f"gore number {n}") for n in range(40))
    found = pages(set_sheet(replace(record, lays=(replace(lay, pieces=lay.pieces + many),))))
    found[0] = found[0].replace("edges: 2 × seam 84", "", 1)  # that of the gore in the lay
    for page in found:
        assert page.count("gore number") == page.count("edges: 2 × seam 84")
    assert sum(page.count("gore number") for page in found[:-2]) == 40
    assert found[1].count("gore number") > 0


@pytest.mark.slow
def test_the_lengths_of_a_flounced_petticoat_are_told_to_the_flounce() -> None:
    petticoat = Garment("skirt", "petticoat", "Ilse", turn_downs=(TurnDown("front", CM, CM),))
    flounced = replace(petticoat, figures=(Item(WITH_FLOUNCES, 86 * CM),))
    for garment, head in ((petticoat, "finished length"), (flounced, "to the flounce")):
        first = pages(set_sheet(replace(SHAPED["gores"](), garments=(garment,))))[0]
        assert f"at the waist {head} turn down front" in first


@pytest.mark.parametrize("many", range(4, 20, 3))
@pytest.mark.slow
def test_the_cautions_stay_together_on_one_page(many: int) -> None:
    """However many remnants stand above them."""
    record = SHAPED["gores"]()
    lay = record.lays[0]
    rects = (Rect(0, n * 100, (20 + n) * CM, n * 100 + 50) for n in range(many))
    left = tuple(Offcut(rect, keep=True) for rect in rects)
    lays = (replace(lay, offcuts=left),)
    told = pages(set_sheet(replace(record, lays=lays)))
    wanted = cautions(record)
    assert sum(all(plain(line) in page for line in wanted) for page in told) == 1
