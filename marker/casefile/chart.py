"""The table of a yardage chart: the sizes down its side, and the cloth's widths across its head."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any

from pydantic import Field, PlainValidator, model_validator

from marker import units
from marker.errors import BadInput
from marker.garments.words import Size, Strict, Text, refuse, shown

KINDS = ("lengths", "waists", "hips", "sizes")
RANGE = '{ from = "80 cm", to = "100 cm", step = "5 cm" }'
LIST = '["80 cm", "90 cm"]'
MEASURES = ("waist", "hip", "neck", "length", "front", "side", "back")


def _run(value: Any) -> Sequence[int]:
    """Sizes in a row: those of a list, or from one to another by steps, never all made at once."""
    if isinstance(value, Mapping):
        return _range(value)
    if not isinstance(value, list):
        refuse(f"{shown(value)} is neither a list nor a range; write {LIST} or {RANGE}")
    if not value:
        refuse(f"it is empty; write {LIST} or {RANGE}")
    found = tuple(_size(f"number {number}", entry) for number, entry in enumerate(value, 1))
    if len(set(found)) < len(found):
        refuse(f"{shown(value)} names one twice; name each once")
    return found


def _range(value: Mapping[str, Any]) -> range:
    for key in value:
        if key not in ("from", "to", "step"):
            refuse(f"{shown(key)} is not a key of a range; write {RANGE}")
    for key in ("from", "to", "step"):
        if key not in value:
            refuse(f"{key} is missing; write {RANGE}")
    first, last, step = (_size(key, value[key]) for key in ("from", "to", "step"))
    if first > last:
        refuse(
            f"it runs backwards, from {shown(value['from'])} to {shown(value['to'])}; write the "
            "smaller size first"
        )
    return range(first, last + 1, step)


def _size(where: str, value: Any) -> int:
    if not isinstance(value, str):
        refuse(f"{where} is {shown(value)}, not a length; write it as {units.CHOICE}")
    try:
        size = units.parse(value)
    except BadInput as error:
        refuse(f"{where}: {error}")
    if not size:
        refuse(f"{where} is {shown(value)}, which is nothing; give a length above nought")
    return size


Run = Annotated[Sequence[int], PlainValidator(_run)]
"""Several sizes in order, as a list, or as a table of from, to and step."""


class SizeTable(Strict):
    """A size: its name, and the measures that it changes."""

    name: Text = Field(description='a name, such as "M"')
    waist: Size | None = Field(default=None, description="the girth at the waist")
    hip: Size | None = Field(default=None, description="the girth at the hips")
    neck: Size | None = Field(default=None, description="the girth at the base of the neck")
    length: Size | None = Field(default=None, description="the length from waist to hem")
    front: Size | None = Field(default=None, description="waist to hem at the front")
    side: Size | None = Field(default=None, description="waist to hem at the side")
    back: Size | None = Field(default=None, description="waist to hem at the back")

    @property
    def measures(self) -> dict[str, int]:
        """The measures that are given, in the order of the table."""
        return self.model_dump(exclude={"name"}, exclude_none=True)

    @model_validator(mode="after")
    def _measured(self) -> SizeTable:
        if not self.measures:
            refuse(f"{self.name!r} has no measure; give one of {', '.join(MEASURES)}")
        return self


class ChartTable(Strict):
    """What a chart of the case shows: widths across, and one of four kinds of rows down."""

    widths: Run = Field(description=f"the widths of the cloth, as a list {LIST} or {RANGE}")
    lengths: Run | None = Field(default=None, description=f"a list {LIST} or {RANGE}")
    waists: Run | None = Field(default=None, description=f"a list {LIST} or {RANGE}")
    hips: Run | None = Field(default=None, description=f"a list {LIST} or {RANGE}")
    sizes: list[SizeTable] | None = Field(
        default=None, description='a list of tables, such as { name = "M", waist = "72 cm" }'
    )
    cloth: Text | None = Field(default=None, description="the key of the cloth that is charted")
    wearer: Text | None = Field(
        default=None, description="the key of the wearer whose measures the rows change"
    )

    @property
    def kind(self) -> str:
        """Which kind of rows it has."""
        return self._kinds()[0]

    def _kinds(self) -> list[str]:
        return [kind for kind in KINDS if getattr(self, kind) is not None]

    @model_validator(mode="after")
    def _one_kind_of_rows(self) -> ChartTable:
        if len(kinds := self._kinds()) != 1:
            told = f"has {' and '.join(kinds)}" if kinds else "has no rows"
            refuse(f"the chart {told}; give one of {', '.join(KINDS[:-1])} or {KINDS[-1]}")
        if self.sizes is not None:
            if not self.sizes:
                refuse('sizes is empty; give tables, such as { name = "M", waist = "72 cm" }')
            names = [size.name.casefold() for size in self.sizes]
            if len(set(names)) < len(names):
                refuse("two of its sizes have the same name; give each a name of its own")
        return self
