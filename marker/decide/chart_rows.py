"""The rows of a chart: sizes, and what each of them changes in the case."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marker.casefile import Case
from marker.casefile.changes import Changes, Key
from marker.casefile.chart import ChartTable, SizeTable
from marker.errors import BadInput
from marker.garments.lengths import PLACES
from marker.garments.order import Wearer
from marker.units import Units, format_exact, format_length, parse

MEASURE = {"lengths": "length", "waists": "waist", "hips": "hip"}


@dataclass(frozen=True)
class Row:
    """A size: its name, if it has one, the measures that tell it, and how it changes the case."""

    name: str
    measures: Mapping[str, int]
    changes: Changes


def wearer_of(case: Case, table: ChartTable) -> Wearer:
    """The wearer whose measures the rows change; raises `BadInput` where that isn't plain."""
    at = f"{case.file}: chart.wearer"
    dressed = {order.wearer.key: order.wearer for order in case.orders if order.wearer.key}
    if not dressed:
        raise BadInput(f"{case.file}: chart changes the measures of a wearer, and there is none")
    if table.wearer is None:
        if len(dressed) > 1:
            raise BadInput(f"{at} is missing; name one of: {', '.join(dressed)}")
        return next(iter(dressed.values()))
    if table.wearer not in dressed:
        raise BadInput(
            f"{at} is {table.wearer!r}, and things are made only for: {', '.join(dressed)}"
        )
    return dressed[table.wearer]


def rows(case: Case, table: ChartTable, wearer: Wearer) -> tuple[Row, ...]:
    """All rows in their order; raises `BadInput` where one leaves nothing of a measure."""
    if table.sizes is not None:
        return tuple(_sized(case, wearer, size) for size in table.sizes)
    measure = MEASURE[table.kind]
    return tuple(
        Row("", {measure: value}, _changes(case, wearer, {measure: value}))
        for value in getattr(table, table.kind)
    )


def _sized(case: Case, wearer: Wearer, size: SizeTable) -> Row:
    return Row(size.name, size.measures, _changes(case, wearer, size.measures))


def _changes(case: Case, wearer: Wearer, measures: Mapping[str, int]) -> Changes:
    """What the file would say of a wearer of these measures."""
    found: dict[Key, str] = {}
    taken = dict(measures)
    if "length" in taken:
        length = taken.pop("length")
        own = _own_lengths(case, wearer)
        found |= {("garment", key, "length"): spelled(length, case.units) for key in own}
        taken = taken if own else {**_lengths(case, wearer, length), **taken}
    return found | {
        ("wearer", wearer.key, name): spelled(value, case.units) for name, value in taken.items()
    }


def _lengths(case: Case, wearer: Wearer, length: int) -> dict[str, int]:
    """The wearer's lengths, the longest of them made `length` and the rest as much changed."""
    given = {place: wearer.measures[place] for place in PLACES if place in wearer.measures}
    if "length" in wearer.measures and len(given) < len(PLACES):
        given["length"] = wearer.measures["length"]
    more = length - max(given.values(), default=0)
    if given and min(given.values()) + more <= 0:
        raise BadInput(
            f"{case.file}: chart has a length of {spelled(length, case.units)}, which leaves "
            "nothing where the wearer is shortest; give a greater one"
        )
    return {place: value + more for place, value in given.items()} or {"length": length}


def _own_lengths(case: Case, wearer: Wearer) -> tuple[str, ...]:
    """Garments with a length of their own, as aprons and capes, where there are no others."""
    tables = case.tables.get("garment", {})
    hers = [order.table for order in case.orders if order.wearer.key == wearer.key]
    own = all("length" in tables.get(key, {}) for key in hers)
    return tuple(dict.fromkeys(hers)) if own else ()


def spelled(value: int, units: Units) -> str:
    """A length as the file may say it: in the case's own measure if that is exact."""
    told = format_length(value, units.lead)
    return told if parse(told) == value else format_exact(value)
