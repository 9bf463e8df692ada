"""New cases: whatever the answers, the file either plans or is refused in one sentence."""

from __future__ import annotations

import doctest

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker import newcase
from marker.casefile import Case, parse
from marker.errors import BadInput
from marker.newcase import HEMS, QUESTIONS, TOPS, compose
from marker.units import CM, INCH, System


def case(units: str = "cm", title: str = "Harvest", **answers: str) -> Case:
    return parse(compose(title, units, answers), "new.toml")


def test_usual_answers_make_a_case() -> None:
    for units, waist in (("cm", 72 * CM), ("in", 28 * INCH)):
        made = case(units)
        assert made.units is System(units)
        assert made.wearers["first"].measures["waist"] == waist
        along, across = made.orders[0].drafts()
        assert along.garment.advice == across.garment.advice == ()
        assert [piece.name for piece in along.pieces] == ["panel", "band"]


def test_answers_stand_in_the_file() -> None:
    made = case(
        waist="80 cm", length="1 m", width="160 cm", selvedge="0 cm", panels="2", hem="Facing"
    )
    assert made.wearers["first"].measures == {"waist": 80 * CM, "length": 100 * CM}
    assert (made.cloths["main"].width, made.cloths["main"].selvedge) == (160 * CM, 0)
    draft = made.orders[0].drafts()[0]
    assert draft.garment.panels == 2
    assert "facing strip" in [piece.name for piece in draft.pieces]


@pytest.mark.parametrize("units", ["cm", "in"])
@pytest.mark.parametrize("hem", HEMS)
@pytest.mark.parametrize("top", TOPS)
def test_every_choice_makes_a_case(units: str, hem: str, top: str) -> None:
    draft = case(units, hem=hem, top=top).orders[0].drafts()[0]
    names = [piece.name for piece in draft.pieces]
    assert ("facing strip" in names) == (hem == "facing")
    assert ("band" in names) == (top == "band")
    (notion,) = draft.garment.notions
    assert notion.name == ("waist tape" if top == "tape" else "hooks and eyes")


def test_keys_in_comments_are_keys_that_can_be_used() -> None:
    for units in ("cm", "in"):
        head, body = compose("Harvest", units, {}).split("[cloth.main]")
        opened = f"{head}[cloth.main]{body.replace(chr(10) + '# ', chr(10))}"
        cloth = parse(opened, "new.toml").cloths["main"]
        assert cloth.price and cloth.grams and cloth.washed
        assert not cloth.tears and cloth.repeat.along and cloth.flaws
        assert cloth.folded and cloth.margin


def test_the_piece_in_comments_is_one_that_can_be_cut() -> None:
    for units in ("cm", "in"):
        head, body = compose("Harvest", units, {}).split("# [piece.")
        opened = f"{head}[piece.{body.replace(chr(10) + '# ', chr(10))}"
        _, own = parse(opened, "new.toml").orders
        (pocket,) = own.drafts()[0].pieces
        assert (pocket.name, pocket.count) == ("pocket", 2)


@pytest.mark.parametrize(
    "title", ['A "quoted" skirt', "C:\\new\\table", "<script>", "été #1", "a = [b]", "'''"]
)
def test_any_printable_title_comes_back(title: str) -> None:
    assert case(title=title).title == title


@settings(max_examples=60)
@given(st.text(max_size=220))
def test_any_title_is_a_case_or_a_sentence(title: str) -> None:
    try:
        made = case(title=title)
    except BadInput as error:
        assert str(error).startswith("title: ") and "\n" not in str(error)
    else:
        assert made.title == title.strip()


@settings(max_examples=150)
@given(st.sampled_from([q.key for q in QUESTIONS]), st.text(max_size=20))
def test_any_answer_is_a_case_or_a_sentence(key: str, answer: str) -> None:
    try:
        case(**{key: answer})
    except BadInput as error:
        assert str(error).startswith((f"{key}: ", "the new case: ")) and "\n" not in str(error)


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"waist": "72"}, "waist: '72' has no unit"),
        ({"waist": "0 cm"}, "waist: '0 cm' is nothing; give a length above nought"),
        ({"panels": "3.5"}, "panels: '3.5' is not a whole number from 1 to 1000"),
        ({"panels": "1001"}, "panels: '1001' is not a whole number from 1 to 1000"),
        ({"panels": "³"}, "panels: '³' is not a whole number"),
        ({"hem": "lace"}, "hem: 'lace' is not among the answers; write own hem or facing"),
        ({"hip": "1 m"}, "'hip' is not a question; the questions are: waist, length"),
        ({"waist": "9 m"}, "the new case: garment.skirt.panels go 292 cm round, less than"),
        ({"selvedge": "80 cm"}, "the new case: cloth.main.selvedge is half the width"),
    ],
)
def test_answers_that_can_not_be_used(answers: dict[str, str], said: str) -> None:
    with pytest.raises(BadInput) as raised:
        compose("Harvest", "cm", answers)
    assert str(raised.value).startswith(said)


def test_an_unknown_measure() -> None:
    with pytest.raises(BadInput, match="'ell' is not a measure; write cm or in"):
        compose("Harvest", "ell", {})


def test_every_question_can_be_asked() -> None:
    assert len({question.key for question in QUESTIONS}) == len(QUESTIONS)
    for question in QUESTIONS:
        assert question.prompt and question.help.endswith(".")
        for system in System:
            assert question.check(question.usual(system))


def test_the_example_in_the_module_holds() -> None:
    result = doctest.testmod(newcase)
    assert result.attempted and not result.failed
