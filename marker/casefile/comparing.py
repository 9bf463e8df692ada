"""The table [compare]: which options are compared, and by what they are ranked."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, PlainValidator

from marker.casefile.complaints import nearest
from marker.garments.words import Strict, refuse, shown

MOST = 60
"""So many options are laid unless the table says otherwise."""
MOST_ASKED = 1000
ORDER = ("cost", "buy", "length", "remnant", "tears")
"""The order of goals: what it costs, then those of every lay."""
KEYS = (*ORDER, "round", "fulness", "seams", "joins", "mass", "waste")
RANGE = "such as [2, 4]"


def _range(value: Any) -> tuple[int, int]:
    """A least and a greatest number of panels; one number stands for both."""
    found = value if isinstance(value, list) else [value, value]
    if len(found) != 2:
        refuse(f"{shown(value)} is not a range; write the least and the greatest, {RANGE}")
    for count in found:
        if isinstance(count, bool) or not isinstance(count, int) or count < 1:
            refuse(f"{shown(count)} is not a number of panels; write whole numbers, {RANGE}")
    low, high = found
    if low > high:
        refuse(f"{shown(value)} runs backwards; write the smaller number first, {RANGE}")
    return low, high


def _list(value: Any) -> tuple[str, ...]:
    """One word, or a list of several different ones."""
    found = value if isinstance(value, list) else [value]
    if not found:
        refuse("the list is empty; name at least one, or take the key out")
    for word in found:
        if not isinstance(word, str):
            refuse(f"{shown(word)} is not text; put it in quotes")
    if len(set(found)) < len(found):
        refuse(f"{shown(value)} names one twice; name each once")
    return tuple(found)


def order_of(words: tuple[str, ...]) -> str:
    """What is wrong with an order of ranking; empty if nothing is."""
    if not words:
        return f"the order is empty; name one or more of: {', '.join(KEYS)}"
    for word in words:
        if word not in KEYS:
            return f"{shown(word)} is nothing to rank by; " + nearest(word, list(KEYS)).replace(
                "the keys here are", "there are"
            )
    return "" if len(set(words)) == len(words) else f"{shown(list(words))} names one twice"


def _order(value: Any) -> tuple[str, ...]:
    found = _list(value)
    if fault := order_of(found):
        refuse(fault)
    return found


Range = Annotated[tuple[int, int], PlainValidator(_range)]
Names = Annotated[tuple[str, ...], PlainValidator(_list)]
Order = Annotated[tuple[str, ...], PlainValidator(_order)]


class CompareTable(Strict):
    """The keys of the table; each narrows or widens what is compared, all may be left out."""

    panels: Range | None = Field(
        default=None, description=f"the least and the greatest number of panels, {RANGE}"
    )
    cloths: Names | None = Field(
        default=None, description="a list of the keys of cloths to cut the panels from"
    )
    lie: Names | None = Field(
        default=None, description='how the panels lie, ["along", "across"] or one of them'
    )
    facing: Names | None = Field(
        default=None, description='how the facing is cut, such as ["straight", "bias strips"]'
    )
    facing_cloths: Names | None = Field(
        default=None, description="a list of the keys of cloths to cut the facing from"
    )
    band_cloths: Names | None = Field(
        default=None, description="a list of the keys of cloths to cut the band from"
    )
    garments: Names | None = Field(
        default=None, description="a list of the keys of the garments that are changed"
    )
    order: Order | None = Field(
        default=None, description=f"a list of what to rank by, from: {', '.join(KEYS)}"
    )
    most: int = Field(
        default=MOST,
        ge=1,
        le=MOST_ASKED,
        description=f"how many options are laid at most, from 1 to {MOST_ASKED}",
    )
