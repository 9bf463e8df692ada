"""The tables of a case file: wearers and cloths, and what their figures are spelled like."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator

from marker.cloth import THICKEST, Cloth, Repeat
from marker.errors import BadInput
from marker.garments.notions import Money
from marker.garments.order import Usual, Wearer
from marker.garments.words import Length, Size, Span, Strict, Text, refuse, shown
from marker.geometry import Rect
from marker.units import LONGEST, OUNCE, System, format_length

MOST_FLAWS = 1000
STEP = Usual("10 cm", "1/8 yd")
SQUARE_YARD = Fraction("0.9144") ** 2
"""In square metres."""

_FIGURE = r"(\d{1,9}(?:\.\d{1,6})?)"
_PERCENT = re.compile(rf"{_FIGURE}\s*(?:%|per cent)", re.ASCII)
_WEIGHT = re.compile(rf"{_FIGURE}\s*(g/m2|g/m²|oz/yd2|oz/yd²)", re.ASCII)


def _percent(value: Any) -> Decimal:
    match = _PERCENT.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        refuse(f'{shown(value)} is not a share of the length; write it as "3 %"')
    return Decimal(match[1])


def _weight(value: Any) -> Decimal:
    match = _WEIGHT.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        refuse(f'{shown(value)} is not a weight; write it as "150 g/m2" or "4.5 oz/yd2"')
    if match[2].startswith("g"):
        return Decimal(match[1])
    grams = Fraction(match[1]) * OUNCE / SQUARE_YARD
    return Decimal(int(grams * 10_000 + Fraction(1, 2))) / 10_000


Percent = Annotated[Decimal, PlainValidator(_percent)]
Weight = Annotated[Decimal, PlainValidator(_weight)]


class WearerTable(Strict):
    """One wearer: a name and her measures."""

    name: Text | None = Field(default=None, description='a name, such as "Anna"')
    waist: Size | None = Field(default=None, description="the girth at the waist")
    hip: Size | None = Field(
        default=None, description="the girth at the hips, where it is greatest"
    )
    neck: Size | None = Field(default=None, description="the girth at the base of the neck")
    length: Size | None = Field(default=None, description="the length from waist to hem")
    front: Size | None = Field(default=None, description="waist to hem at the front")
    side: Size | None = Field(default=None, description="waist to hem at the side")
    back: Size | None = Field(default=None, description="waist to hem at the back")

    def wearer(self, key: str) -> Wearer:
        """The wearer with the measures that were given."""
        measures = self.model_dump(exclude={"name"}, exclude_none=True)
        return Wearer(key, self.name or key, measures)


class Shrinkage(Strict):
    """What the cloth loses in the wash, in per cent of its size before."""

    warp: Percent = Field(default=Decimal(0), description='the loss in length, such as "3 %"')
    weft: Percent = Field(default=Decimal(0), description='the loss in width, such as "2 %"')


class RepeatTable(Strict):
    """After how much a pattern comes round again on the table; one way or both."""

    along: Size | None = Field(default=None, description='the lengthwise repeat, such as "12 cm"')
    across: Size | None = Field(default=None, description='the crosswise repeat, such as "8 cm"')


class FlawTable(Strict):
    """A zone that no piece may touch, measured on the table before the cloth is squared.

    `along` runs from the cut end, `across` from the outer edge of the near selvedge.
    """

    along: Span = Field(description='from where to where, such as ["40 cm", "46 cm"]')
    across: Span | None = Field(
        default=None, description='from where to where, such as ["10 cm", "15 cm"]'
    )


class ClothTable(Strict):
    """One cloth; its width alone must be given. With a `length` it is a remnant in hand."""

    name: Text | None = Field(default=None, description='a name, such as "Blue linen"')
    width: Size = Field(description='the width from edge to edge, such as "140 cm"')
    selvedge: Length = Field(default=0, description='the breadth of one selvedge, such as "1 cm"')
    selvedges: Literal["trimmed", "kept"] = Field(
        default="trimmed", description="whether the selvedges are torn off"
    )
    step: Size | None = Field(
        default=None, description='the step it is sold by, such as "10 cm" or "1/8 yd"'
    )
    squaring: Length = Field(default=0, description="the strip lost to square its cut end")
    one_way: bool = Field(default=False, description="true for a nap or a print with an up")
    shrinkage: Shrinkage = Field(
        default=Shrinkage(), description='a table, such as { warp = "3 %", weft = "2 %" }'
    )
    price: Money | None = Field(default=None, description='the price, such as "12.50 EUR/m"')
    weight: Weight | None = Field(default=None, description='the weight, such as "150 g/m2"')
    thickness: Size | None = Field(
        default=None, description='the thickness of one layer, such as "0.4 mm"'
    )
    tears: bool | None = Field(default=None, description="true where the cloth tears on the thread")
    folded: bool = Field(default=False, description="true where it is laid folded lengthwise")
    margin: Length = Field(default=0, description='what shears need between pieces, such as "5 mm"')
    length: Size | None = Field(
        default=None, description='all there is of a remnant, such as "1.20 m"'
    )
    repeat: RepeatTable | None = Field(
        default=None, description='a table, such as { along = "12 cm", across = "8 cm" }'
    )
    flaws: list[FlawTable] = Field(
        default=[],
        max_length=MOST_FLAWS,
        description='a list of zones, such as [{ along = ["40 cm", "46 cm"] }]',
    )
    torn_edge: Length = Field(
        default=0, description='what is torn larger at every torn edge, such as "2 mm"'
    )
    least_strip: Length = Field(
        default=0, description='the narrowest strip that is torn and not cut, such as "4 cm"'
    )

    def cloth(self, key: str, system: System, file: str) -> Cloth:
        """The cloth; raises `BadInput` naming file and key where its figures clash."""
        if 2 * self.selvedge >= self.width:
            raise BadInput(
                f"{file}: cloth.{key}.selvedge is half the width of the cloth or more; "
                "give the breadth of the firm edge on one side"
            )
        self._agree(f"{file}: cloth.{key}")
        try:
            cloth = self._plain(key, system)
        except BadInput as error:
            raise BadInput(f"{file}: {error}") from None
        at = f"{file}: cloth.{key}.flaws (number "
        return replace(
            cloth,
            flaws=tuple(
                _zone(flaw, cloth, f"{at}{number})", system)
                for number, flaw in enumerate(self.flaws, 1)
            ),
        )

    def _agree(self, at: str) -> None:
        """Refuse keys that say nothing together."""
        for sold in ("step", "price"):
            if self.length is not None and getattr(self, sold) is not None:
                raise BadInput(
                    f"{at}.{sold} is for cloth sold by length, and {at.split()[-1]}.length makes "
                    "this a remnant in hand; take one of the two out"
                )
        if self.folded and self.tears:
            raise BadInput(
                f"{at}.tears is true, but cloth laid folded is cut through both layers with "
                "shears; take tears or folded out"
            )
        if (self.thickness or 0) > THICKEST:
            raise BadInput(
                f"{at}.thickness is more than 2 cm, thicker than any cloth; give that of one "
                'layer, such as "0.4 mm"'
            )
        if self.repeat and self.repeat.along is None and self.repeat.across is None:
            raise BadInput(f"{at}.repeat is empty; give along, across or both, or take it out")

    def _plain(self, key: str, system: System) -> Cloth:
        """The cloth without its flaws."""
        repeat = self.repeat or RepeatTable()
        return Cloth(
            key=key,
            name=self.name or f"cloth {key}",
            width=self.width,
            step=self.step or STEP.of(system),
            selvedge=self.selvedge,
            keep_selvedges=self.selvedges == "kept",
            squaring=self.squaring,
            one_way=self.one_way,
            warp_shrinkage=self.shrinkage.warp,
            weft_shrinkage=self.shrinkage.weft,
            price=self.price,
            grams=self.weight,
            tears=not self.folded if self.tears is None else self.tears,
            length=self.length or 0,
            repeat=Repeat(repeat.along or 0, repeat.across or 0),
            torn_edge=self.torn_edge,
            least_strip=self.least_strip,
            margin=self.margin,
            folded=self.folded,
            thickness=self.thickness or 0,
        )


def _zone(flaw: FlawTable, cloth: Cloth, at: str, system: System) -> Rect:
    """A flaw from the table's measures to those of the lay, whose x runs from the squared end."""
    across = flaw.across or (0, cloth.laid_width)
    if across[1] > cloth.laid_width:
        raise BadInput(
            f"{at}.across goes to {format_length(across[1], system)}, but the cloth lies "
            f"{format_length(cloth.laid_width, system)} wide; measure it from the outer edge of "
            "the near selvedge"
        )
    there = cloth.longest_lay(cloth.length) + cloth.squaring if cloth.length else LONGEST
    if flaw.along[1] > there:
        raise BadInput(
            f"{at}.along goes to {format_length(flaw.along[1], system)}, but the remnant lies "
            f"{format_length(there, system)} long; measure it from the cut end"
        )
    begins, ends = (x - cloth.squaring for x in flaw.along)
    return Rect(begins, across[0], ends, across[1])
