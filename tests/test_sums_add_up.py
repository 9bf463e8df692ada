"""Sums along the bolt add up as they stand in print, and never tell more left than there is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from example_lays import torn_at_random
from hypothesis import given, settings
from hypothesis import strategies as st
from sheet_lengths import STEP, UNITS, value

import marker
from marker.lay import Direction, Lay, Mode
from marker.plan.lays.pieces import remnant_words
from marker.plan.words.runs import reading, spare
from marker.plan.words.sums import check_sum, leftovers, rest, running_sum
from marker.units import INCH, Both, System, parse, set_fractions

OUT = Path(__file__).parents[1] / "out"
LAYS = [
    pytest.param(lay, id=f"{path.parent.name}-{lay.cloth.key}")
    for path in sorted(OUT.glob("*/lay.json"))
    for lay in marker.load_record(path).lays
    if lay.mode is Mode.TEAR
]


@given(
    off=st.integers(0, 10**7), left=st.integers(0, 10**7), system=st.sampled_from(list(System))
)  # fmt: skip
@settings(max_examples=200, deadline=None)
def test_what_is_left_and_what_is_off_make_the_whole(off: int, left: int, system: System) -> None:
    unit, step = UNITS[system.value], STEP[system.value]
    off_up = -(-off // step) * step
    told, whole = rest(off, off + left, system)
    if off_up > (off + left) // step * step:  # less than a step is left
        return
    sizes = [value(set_fractions(one), unit) for one in (told, whole)]
    assert off_up + sizes[0] == sizes[1]
    assert left - 2 * step < sizes[0] <= left


@pytest.mark.parametrize("lay", LAYS)
def test_every_running_sum_of_the_gallery_adds_up_in_both_measures(lay: Lay) -> None:
    whole = (lay.bolt.x1, lay.bolt.across, Direction.ACROSS)
    tears = [t for t in lay.tears if (t.in_hand.x1, t.in_hand.across, t.direction) == whole]
    assert tears
    for tear in tears:
        for line in set_fractions(running_sum(lay, tear.at, Both.CM_IN)).split("\n"):
            found = re.fullmatch(r"off (\S+) · left (\S+) · = (\S+) (cm|in)", line)
            assert found, line
            off, left, whole = (value(found[at], UNITS[found[4]]) for at in (1, 2, 3))
            assert off + left == whole, line
            assert left <= lay.bolt.x1 - tear.at
            assert whole <= lay.bolt.along


@pytest.mark.parametrize("lay", LAYS)
def test_a_sum_that_does_not_add_up_says_about(lay: Lay) -> None:
    for system in System:
        told = set_fractions(check_sum(lay, system)).partition(";")[0]
        found = re.match(rf"(.*?) = (about )?(\S+) {system.value}", told)
        if not found:
            continue
        unit, total = UNITS[system.value], 0
        for term in found[1].split(" + "):
            many = re.fullmatch(r"(?:(\d+) × )?(\S+)(?: [a-z]+)?", term)
            assert many, term
            total += int(many[1] or 1) * value(many[2], unit)
        assert (total == value(found[3], unit)) == (found[2] is None), told


@pytest.mark.parametrize("units", list(System))
def test_what_is_left_is_never_told_longer_than_it_is(units: System) -> None:
    """On the plan, in the steps, in the list of what is left and in the check sum."""
    for seed in range(6):
        lay = torn_at_random(seed)
        for rect in (offcut.rect for offcut in lay.offcuts if offcut.keep):
            along, _, across = remnant_words(rect.along, rect.across, units).partition(" × ")
            assert parse(f"{along} {units.value}") <= rect.along
            assert parse(across) <= rect.across
        told = " ".join((*leftovers(lay, units), check_sum(lay, units)))
        for along, across in re.findall(r"([\d ./]+) along × ([\d ./]+) ", told):
            sizes = parse(f"{along} {units.value}"), parse(f"{across} {units.value}")
            assert any(
                all(0 <= real - size < INCH // 8 for real, size in zip(
                    (offcut.rect.along, offcut.rect.across), sizes, strict=True))
                for offcut in lay.offcuts
            )  # fmt: skip


def test_the_sum_agrees_with_what_is_said_to_be_left() -> None:
    """10 1/2 in used of a yard, 25.574 in left: 25 1/2, so that both make 36."""
    assert spare(parse("36 in") - parse("10.426 in"), System.IN) == "25 1/2"
    assert reading(parse("10.426 in"), System.IN) == "10 1/2"
    assert spare(parse("44.88 cm"), System.CM) == "44.8"
