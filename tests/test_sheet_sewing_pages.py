"""The order of work, the pleats and the thread of every printed sheet, judged from the record."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from sheet_pleats import pleats_faults
from sheet_text import NUMBER
from sheet_thread import thread_faults
from sheet_work import work_faults
from test_sheet_figures import EVERY, read, record_of

from marker.record import Garment, Record
from marker.units import MM

COMPANY, ALONE, PRESSED, BOTH = (
    "village-company", "plain-skirt", "pleated-skirt", "guest-skirt"
)  # fmt: skip


@EVERY
def test_every_step_of_work_is_told_to_everybody(name: str) -> None:
    assert work_faults(record_of(name), read(name).work) == []


@EVERY
def test_every_figure_of_the_pleats_is_that_of_the_garment(name: str) -> None:
    assert pleats_faults(record_of(name), read(name).pleats) == []


@EVERY
def test_thread_and_weight_are_those_of_the_garment(name: str) -> None:
    assert thread_faults(record_of(name), read(name).thread) == []


# --- what is wrong is seen ----------------------------------------------------------------------


def changed(record: Record, change: Callable[[Garment], Garment]) -> Record:
    """The record with its last garment changed."""
    *before, last = record.garments
    return replace(record, garments=(*before, change(last)))


def retold(garment: Garment) -> Garment:
    """The garment with one figure of its work another."""
    at, task = next((n, t) for n, t in enumerate(garment.work) if NUMBER.search(t.text))
    work = list(garment.work)
    work[at] = replace(task, text=NUMBER.sub("9.9", task.text, count=1))
    return replace(garment, work=tuple(work))


def looser(garment: Garment) -> Garment:
    return replace(garment, drawn=garment.drawn + MM)


def fuller(garment: Garment) -> Garment:
    return replace(garment, round_hem=garment.round_hem + 12 * MM)


def longer(garment: Garment) -> Garment:
    """The garment with 1 cm more to sew."""
    at = next(n for n, one in enumerate(garment.sewing) if not one.pushed)
    sewing = list(garment.sewing)
    sewing[at] = replace(sewing[at], length=sewing[at].length + 10 * MM)
    return replace(garment, sewing=tuple(sewing))


@pytest.mark.parametrize("name", [COMPANY, ALONE, BOTH])
def test_another_step_of_work_is_seen(name: str) -> None:
    sheet = read(name)
    assert work_faults(changed(record_of(name), retold), sheet.work)
    strange = sheet.work.replace("3 Join\n", "3 Join\n17.3 cm\n", 1)
    assert work_faults(record_of(name), strange) == ["nobody's step tells 17.3"]


def test_a_wrong_figure_in_a_wearer_s_row_is_seen() -> None:
    record, sheet = record_of(COMPANY), read(COMPANY)
    hers = next(row for row in sheet.work.split("\n") if row.startswith("D Keta "))
    wrong = sheet.work.replace(hers, hers.replace("63", "64"))
    assert any(fault.startswith("skirt-keta") for fault in work_faults(record, wrong))


@pytest.mark.parametrize("name", [COMPANY, ALONE, PRESSED, BOTH])
@pytest.mark.parametrize("change", [looser, fuller])
def test_other_pleats_are_seen(name: str, change: Callable[[Garment], Garment]) -> None:
    assert pleats_faults(changed(record_of(name), change), read(name).pleats)


@pytest.mark.parametrize("name", [COMPANY, ALONE, BOTH])
def test_other_thread_is_seen(name: str) -> None:
    record, thread = record_of(name), read(name).thread
    assert thread_faults(changed(record, longer), thread)
    assert thread_faults(changed(record, fuller), thread)


def test_a_lighter_cloth_is_seen() -> None:
    record = record_of(ALONE)
    lays = tuple(
        replace(lay, cloth=replace(lay.cloth, grams=(lay.cloth.grams or 0) - 5))
        for lay in record.lays
    )
    assert thread_faults(replace(record, lays=lays), read(ALONE).thread)
