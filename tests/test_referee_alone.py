"""What each wearer would take alone is judged, to the unit, beside what all take together."""

from __future__ import annotations

from dataclasses import replace

import pytest
from lays import record

from marker.lay import Mode
from marker.record import Alone, Record
from marker.referee.alone import alone_faults
from marker.referee.bought import shop

LONGER = "more than the wearers' lays one behind the other"


def wearers(case: Record, *over: int) -> tuple[Alone, ...]:
    """Two wearers on every cloth, who take half of its lay each, the second so much over that."""
    found = []
    for lay, more in zip(case.lays, over, strict=True):
        for letter, length in (("A", lay.length // 2), ("B", lay.length - lay.length // 2 + more)):
            found.append(Alone(letter, lay.cloth.key, length, length, shop(lay).buy(length)))
    return tuple(found)


def told(*alone: Alone, case: Record | None = None) -> list[str]:
    return list(alone_faults(replace(case or record(), alone=alone)))


def fine(**changes: object) -> Record:
    """The record on cloth sold by the unit, so that what is bought is what is used."""
    return replace(
        record(),
        lays=tuple(
            replace(lay, cloth=replace(lay.cloth, step=1, squaring=0, warp_shrinkage=0), **changes)  # type: ignore[arg-type]
            for lay in record().lays
        ),
    )


def test_lays_no_longer_than_the_wearers_own_pass() -> None:
    case = fine()
    assert told(*wearers(case, 0, 0), case=case) == []
    assert told(*wearers(case, 7, 0), case=case) == []


@pytest.mark.parametrize("over", [(-1, 0), (0, -1), (1, -2), (-1, -1)])
def test_a_unit_more_than_theirs_is_told(over: tuple[int, int]) -> None:
    case = fine()
    (fault,) = told(*wearers(case, *over), case=case)
    assert LONGER in fault


def test_more_may_be_used_where_less_is_bought_of_several_cloths() -> None:
    case = record()
    step = case.lays[0].cloth.step
    alone = wearers(case, -1, 0)
    bought = sum(one.buy for one in alone)
    assert bought >= sum(shop(lay).buy(lay.length) for lay in case.lays) + step
    assert told(*alone, case=case) == []
    only = replace(case, lays=case.lays[:1])
    assert (
        LONGER in told(*(one for one in alone if one.cloth == only.lays[0].cloth.key), case=only)[0]
    )


def test_shears_keep_a_margin_between_the_wearers_lays() -> None:
    case = fine(mode=Mode.SHEARS)
    first = replace(case.lays[0], cloth=replace(case.lays[0].cloth, margin=5))
    case = replace(case, lays=(first,))
    for over, faults in ((-5, 0), (-6, 1)):
        alone = wearers(case, over)
        assert len(told(*alone, case=case)) == faults


def test_what_is_told_amiss_is_told_once() -> None:
    case = record()
    one, *others = wearers(case, 0, 0)
    name = f"What wearer A takes alone of cloth {one.cloth}"
    assert told(one, one, *others) == [f"{name} is told twice."]
    assert told(replace(one, cloth="lawn"), *others) == [
        "What wearer A takes alone of cloth lawn can't be judged, since the record has no such "
        "cloth."
    ]
    for wrong in ({"length": 5.0}, {"bound": 0.5}, {"buy": True}):
        assert told(replace(one, **wrong), *others) == [
            f"{name} isn't told in whole numbers of units."
        ]
    for bound in (0, -1, one.length + 1):
        (fault,) = told(replace(one, bound=bound), *others)
        assert fault.endswith("is no bound of it.")
    (fault,) = told(replace(one, buy=one.buy + 1), *others)
    assert fault.startswith(f"{name} is ")
    assert " is bought, not " in fault


def test_nothing_is_compared_where_a_cloth_is_left_out() -> None:
    case = record()
    assert told(*wearers(case, -99, 0)[:2], case=case) == []
