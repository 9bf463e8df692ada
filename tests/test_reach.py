"""`decide.reach`: what cloth in hand gives, by how much it misses, and what would fit."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker import casefile, decide
from marker.casefile import Case
from marker.casefile.changes import changed
from marker.decide.desk import Desk
from marker.decide.reach import Reached, Standing, having, reach
from marker.decide.reach import dial as dialing
from marker.decide.reach.dial import Dial, Turned
from marker.decide.reach.effort import Effort
from marker.decide.reach.loss import part, turn_down
from marker.decide.reach.losses import What, loss
from marker.decide.reach.stands import stands
from marker.errors import BadInput
from marker.plan.reach import words as reach_words
from marker.units import CM, MM, parse

# Three panels of 40 cm by 90 + 5 + 5 = 100 cm: two abreast on 100 cm, and one behind them.
TEXT = """
title = "Bonfire night"
units = "cm"
[wearer.liv]
waist = "70 cm"
length = "90 cm"
[cloth.main]
width = "100 cm"
length = "2 m"
[garment.skirt]
turn_down = "5 cm"
take_up = "5 cm"
panels = { count = 3, width = "40 cm" }
tape = {}
"""


def case_of(length: str = "2 m", *changes: tuple[str, str]) -> Case:
    text = TEXT.replace("2 m", length)
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return casefile.parse(text, "bonfire.toml")


def reached(length: str = "2 m", *changes: tuple[str, str], most: str | None = None) -> Reached:
    return reach(case_of(length, *changes), most=most, iterations=1)


@pytest.fixture(scope="module")
def missed() -> Reached:
    """Ten centimetres too short."""
    return reached("1.9 m")


def test_it_fits_to_the_last_thread() -> None:
    found = reached()
    assert found.standing is Standing.FITS
    assert found.record is not None
    assert found.record.lays[0].length == parse("2 m")
    assert not found.misses and not found.offers


def test_what_misses_is_told_and_proved(missed: Reached) -> None:
    assert missed.standing is Standing.REFUTED
    (miss,) = missed.misses
    assert (miss.there, miss.least, miss.bound) == (190 * CM, 200 * CM, 200 * CM)
    assert miss.record is not None
    assert "10 cm too short" in " ".join(reach_words.verdict(missed))


def test_the_nearest_changes_are_the_least_that_will_do(missed: Reached) -> None:
    found = {offer.name: offer for offer in missed.offers}
    skirt = ("garment", "skirt")
    shorter = found["a shorter hem"]
    assert shorter.changes == {(*skirt, "shorter"): "5 cm"}
    narrower = found["narrower panels"]
    assert narrower.changes[(*skirt, "panels", "width")] == "33.3 cm"
    assert shorter.refuted and narrower.refuted
    # 5 of 90 cm and 5 turned in, and 6.7 of 38 cm in each panel's width.
    assert [round(float(offer.lost), 3) for offer in (shorter, narrower)] == [0.053, 0.176]
    assert not missed.several


def test_fewer_panels_are_as_wide_as_they_then_can_be(missed: Reached) -> None:
    """Two of 50 cm lie abreast and make 96 cm round, one of 100 cm makes 98."""
    key = ("garment", "skirt", "panels", "width")
    found = {offer.name: offer for offer in missed.offers}
    assert found["only 2 panels"].changes[key] == "50 cm"
    assert found["only 1 panel"].changes[key] == "full"
    assert found["only 1 panel"].lost < found["only 2 panels"].lost
    told = {change.what: change.takes for change in reach_words.changes(missed)}
    assert told["1 panel 100 cm wide"] == (
        "Takes away 16 cm of the 114 cm round the hem: 14 % of the finished cloth."
    )


@pytest.mark.parametrize("length", ["1 m", "1.3 m", "1.9 m"])
def test_what_the_search_for_the_most_finds_stands_among_the_changes(length: str) -> None:
    found = reached(length, most="round")
    assert found.most is not None and not found.several
    alone = [offer for offer in found.offers if offer.changes == found.most.changes]
    assert len(alone) == 1
    assert alone[0].lost <= min(
        (o.lost for o in found.offers if {loss.what for loss in o.losses} == {What.ROUND}),
    )


def test_a_change_that_was_found_worse_is_put_right_by_the_most(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """As if the search for a shorter hem had come out 3 cm shorter than need be."""
    real = dialing.turn

    def missing(case: Case, dial: Dial, effort: Effort) -> Turned:
        found = real(case, dial, effort)
        if dial.name != "a shorter hem" or found.at is None:
            return found
        return replace(found, at=found.at + 30, refuted=False)

    monkeypatch.setattr("marker.decide.reach.turn", missing)
    (shorter,) = [o for o in reached("1.9 m").offers if o.name == "a shorter hem"]
    assert list(shorter.changes.values()) == ["8 cm"]
    mended = reached("1.9 m", most="length").offers
    (shorter,) = [o for o in mended if o.name == "a shorter hem"]
    assert list(shorter.changes.values()) == ["5 cm"]


def test_nothing_takes_more_than_all_and_a_facing_counts(missed: Reached) -> None:
    """10 cm of facing under 90 cm of length, and a turn-down, are weighed with the round hem."""
    facing = ('turn_down = "5 cm"\ntake_up = "5 cm"\n', 'facing = { depth = "10 cm" }\n')
    case = case_of("2 m", facing)
    found = stands(case)
    whole = loss("skirt", What.FACING, 10 * CM, 0)
    lost = [
        whole,
        loss("skirt", What.LENGTH, 90 * CM, 30 * CM),
        loss("skirt", What.ROUND, 114 * CM, 57 * CM),
    ]
    inside = 10 * CM + turn_down(found[0])
    all_of_it = 90 * CM + inside
    assert part(found, lost[0]) == Fraction(10 * CM, all_of_it)
    assert part(found, lost[2]) == Fraction(1, 2)
    assert part(found, lost[1] + lost[2]) == 1 - Fraction(30 * CM + inside, 2 * all_of_it)
    assert part(found, lost[0] + lost[0] + lost[1] + lost[2] + lost[2]) <= 1
    gone = replace(missed.offers[0], losses=whole, lost=part(found, whole))
    assert reach_words.takes_away(gone, case.units) == (
        "the whole facing of 10 cm: 9 % of the finished cloth"
    )


def test_what_must_be_bought_for_a_change_is_told() -> None:
    bolt = ("[garment", '[cloth.other]\nwidth = "1 m"\nstep = "10 cm"\n[garment')
    found = reached("1.9 m", bolt)
    told = {change.what: change.buys for change in reach_words.changes(found)}
    assert "of cloth other." in told["Panels from cloth other too, whichever suits"]
    assert told["5 cm shorter"] == ""


def test_too_little_for_anything_is_no_fault_of_the_garment() -> None:
    found = reached("2 cm", most="round")
    assert (found.standing, found.most, found.anything) == (Standing.REFUTED, None, True)
    assert reach_words.most_words(found) == (
        "The greatest round hem: nothing was found that fits.",
    )


APRON = """
title = "Two cooks"
units = "cm"
[wearer.liv]
waist = "70 cm"
length = "85 cm"
[cloth.main]
width = "90 cm"
length = "1.2 m"
[garment.apron]
kind = "apron"
"""


def test_the_longest_apron_is_called_one_and_its_length_told() -> None:
    found = reach(casefile.parse(APRON, "cooks.toml"), most="length", iterations=1)
    assert reach_words.most_told(found)[0] == ("The longest apron: 84 cm, 1 cm shorter than asked.")
    assert found.most is not None
    assert found.most.changes == {("garment", "apron", "length"): "84 cm"}
    two = APRON.replace("[cloth", '[wearer.una]\nwaist = "66 cm"\nlength = "70 cm"\n[cloth')
    two += 'wearers = ["liv", "una"]\n'
    with pytest.raises(BadInput, match=r"its wearers differ, so write garment\.apron\.length"):
        reach(casefile.parse(two, "cooks.toml"), most="length", iterations=1)


def test_what_takes_less_away_comes_first(missed: Reached) -> None:
    lost = [offer.lost for offer in missed.offers]
    assert lost == sorted(lost)
    assert lost[0] < lost[-1]


def test_a_change_that_is_offered_fits_when_it_is_planned(missed: Reached) -> None:
    for offer in missed.offers:
        assert decide.plan(changed(missed.case, offer.changes), iterations=1) == offer.record


def test_the_longest_skirt() -> None:
    found = reached("2.2 m", most="length").most
    assert found is not None
    assert found.changes == {("garment", "skirt", "longer"): "10 cm"}
    assert (found.figure, found.refuted, found.limit) == (10 * CM, True, 10 * CM)


def test_what_does_not_fit_still_gives_the_longest_skirt() -> None:
    found = reached("1.9 m", most="length").most
    assert found is not None
    assert found.changes == {("garment", "skirt", "shorter"): "5 cm"}


def test_the_greatest_round_hem_of_any_number_of_panels() -> None:
    """2 x (100 - 2), against 3 x (50 - 2), 4 x (50 - 2), or 5 x (33.3 - 2) three abreast."""
    found = reached(most="round").most
    assert found is not None
    assert (found.figure, found.words) == (196 * CM, "2 panels 100 cm wide")
    assert found.changes[("garment", "skirt", "panels", "width")] == "full"
    assert found.refuted
    assert [other.figure for other in found.others] == [144 * CM, 192 * CM, 1565 * MM]
    assert found.record.garments[0].round_hem == found.figure


def test_the_deepest_facing() -> None:
    """Two strips of (114 + 4) / 2 = 59 cm lie across the 60 cm beside the third panel of 96 cm."""
    facing = ('take_up = "5 cm"', 'facing = { depth = "6 cm", strips = 2 }')
    found = reached("1.92 m", facing, most="facing").most
    assert found is not None
    assert found.changes == {("garment", "skirt", "facing", "depth"): "46 cm"}
    assert (found.figure, found.refuted) == (46 * CM, True)


def test_panels_too_wide_for_the_cloth() -> None:
    found = reached("3 m", ("40 cm", "120 cm"))
    assert found.standing is Standing.REFUTED
    (miss,) = found.misses
    assert (miss.wide, miss.there, miss.least) == (True, 100 * CM, 120 * CM)
    (narrower,) = [offer for offer in found.offers if offer.name == "narrower panels"]
    assert narrower.changes[("garment", "skirt", "panels", "width")] == "full"


def test_two_changes_at_once_where_no_single_one_does() -> None:
    found = reached("0.9 m")
    assert found.several
    assert found.offers
    assert all(len(offer.changes) >= 2 for offer in found.offers)
    best = found.offers[0]
    assert decide.plan(changed(found.case, best.changes), iterations=1) == best.record


def test_nothing_is_claimed_that_was_not_proved(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Desk, "holds", lambda *_: (False, False))
    found = reached("1.9 m")
    assert found.standing is Standing.OPEN
    assert "none is proved impossible" in reach_words.verdict(found)[0]


def test_a_band_from_a_remnant_of_its_own_is_joined_where_it_is_short() -> None:
    """70 + 7.5 + 2 = 79.5 cm do not lie on 60 by 40 cm; two strips of (77.5 + 4) / 2 do."""
    band = ("tape = {}", 'band = { cloth = "scrap" }')
    scrap = ("[garment", '[cloth.scrap]\nwidth = "40 cm"\nlength = "60 cm"\n[garment')
    found = reached("2 m", band, scrap)
    assert found.standing is Standing.REFUTED
    # The wool lies to the last thread, and nothing is lacking there.
    assert [miss.cloth for miss in found.misses] == ["scrap"]
    names = {offer.name: offer for offer in found.offers}
    assert names["a pieced band"].changes == {("garment", "skirt", "band", "strips"): 2}
    assert names["a pieced band"].lost == 0


@settings(max_examples=2)
@given(st.integers(90, 230), st.integers(0, 60))
@pytest.mark.slow
def test_more_cloth_never_fits_less_and_never_gives_less(there: int, more: int) -> None:
    less, greater = (reached(f"{length} cm", most="length") for length in (there, there + more))
    if less.standing is Standing.FITS:
        assert greater.standing is Standing.FITS
    if less.most:
        assert greater.most is not None
        assert greater.most.figure >= less.most.figure


@pytest.mark.parametrize(
    ("length", "most", "changes", "said"),
    [
        ("0 cm", None, (), r"cloth\.main\.length: '0 cm' is nothing; give a length above nought"),
        ("2 m", "facing", (), r"reach\.most .* 'facing', but no garment of the case has a facing"),
        (
            "2 m",
            "length",
            (("[garment", '[reach]\ngarment = "cape"\n[garment'),),
            r"reach\.garment names 'cape', which is not in the file",
        ),
        (
            "2 m",
            None,
            (("[garment", '[reach]\nmost = "width"\n[garment'),),
            r"reach\.most is 'width'; write 'round', 'length' or 'facing'",
        ),
        (
            "2 m",
            None,
            (("[garment", '[reach]\nmots = "round"\n[garment'),),
            r"reach\.mots is not a key; did you mean 'most'",
        ),
        (
            "2 m",
            "round",
            (
                ("[garment.skirt]", '[garment.skirt]\ncloth = "bolt"'),
                ("[garment", '[cloth.bolt]\nwidth = "1 m"\n[garment'),
            ),
            r"garment\.skirt takes it from cloth sold by length",
        ),
        ("2 m", None, (('length = "2 m"', ""),), r"no cloth has a length.*--have"),
    ],
)
def test_what_is_refused(
    length: str, most: str | None, changes: tuple[tuple[str, str], ...], said: str
) -> None:
    with pytest.raises(BadInput, match=said):
        reached(length, *changes, most=most)


def test_several_garments_that_have_it() -> None:
    other = TEXT[TEXT.index("[garment.skirt]") :].replace("skirt", "second")
    with pytest.raises(BadInput, match=r"name one in reach\.garment: skirt, second"):
        reach(casefile.parse(TEXT + other, "bonfire.toml"), most="round", iterations=1)


def test_a_bolt_taken_as_a_remnant() -> None:
    case = case_of("2 m", ('length = "2 m"', 'price = "9 EUR/m"\nstep = "5 cm"'))
    cloth = having(case, {"main": "1.5 m"}).cloths["main"]
    assert (cloth.length, cloth.price) == (150 * CM, None)
    with pytest.raises(BadInput, match="--have names the cloth 'red', which is not in the file"):
        having(case, {"red": "1 m"})
    with pytest.raises(BadInput, match=r"cloth\.main\.length: '0 m' is nothing"):
        having(case, {"main": "0 m"})


def test_the_most_is_told_as_proved_only_where_it_is() -> None:
    found = reached("2.2 m", most="length")
    assert found.most is not None
    told = reach_words.most_words(found)
    assert told[:2] == (
        "The longest skirt: 100 cm, 10 cm longer than asked.",
        "It is proved that no more can be had, cut to whole millimetres.",
    )
    guessed = replace(found, most=replace(found.most, refuted=False, limit=12 * CM))
    assert reach_words.most_words(guessed)[1] == (
        "That is the most found; it is proved that no more than 102 cm, 12 cm longer than asked, "
        "can be had."
    )
    unknown = replace(found, most=replace(found.most, refuted=False, limit=None))
    assert "not known" in reach_words.most_words(unknown)[1]
