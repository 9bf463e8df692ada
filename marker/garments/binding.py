"""The binding that covers a hem edge: bought by length, or cut on the bias."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import Field, PlainValidator, model_validator

from marker.garments.bias import Bias, bias
from marker.garments.bias_keys import CUTS, OnBias
from marker.garments.made import Made
from marker.garments.notions import Money, by_length
from marker.garments.order import Order, Usual
from marker.garments.words import Length, Size, picks, refuse
from marker.garments.work.hems import Rim, bound
from marker.piece import MarkKind

BOUGHT = "bought"
LAP = Usual("2 cm", "1 in")
WIDTH = Usual("1 cm", "3/8 in")
SEAM = Usual("6 mm", "1/4 in")
FOLDS = 4
"""A binding is cut four times as wide as it shows (common practice, no source)."""


BindingCuts = Annotated[tuple[str, ...], PlainValidator(picks(BOUGHT, *CUTS))]


class Binding(OnBias):
    """The keys of a binding that covers the hem edge: bought by length, or cut on the bias."""

    lap: Length | None = Field(default=None, description='how far its ends lap, such as "2 cm"')
    width: Size | None = Field(default=None, description='the width to ask for, such as "2 cm"')
    cut: BindingCuts = Field(
        default=(BOUGHT,), description="how it is had, or a list of ways to compare"
    )
    cut_width: Size | None = Field(
        default=None, description='the width to cut, such as "4 cm"; else four times the width'
    )
    seam: Size | None = Field(
        default=None, description='the seam of the joins of a cut one, such as "6 mm"'
    )

    price: Money | None = Field(default=None, description='what it costs, such as "0.80 EUR/m"')

    @model_validator(mode="after")
    def _made(self) -> Self:
        """Refuse the keys of a cut binding where it is bought."""
        for key in ("cut_width", "seam", "cloth"):
            if getattr(self, key) is not None and self.cut == (BOUGHT,):
                refuse(f'{key} is for a binding that is cut; write cut = "{CUTS[0]}"')
        if self.price is not None and BOUGHT not in self.cut:
            refuse(f'price is for a binding that is bought; write cut = "{BOUGHT}", or take it out')
        return self


def binding_made(order: Order, binding: Binding, around: int, rim: Rim, *, ring: bool) -> Made:
    """The binding, had in one way, of a hem edge that is `around` long, and how it is sewn on.

    Bought it takes the edge and a lap; cut it is closed by a join, or open with a lap to turn
    in. Raises `BadInput` naming the key.
    """
    lap = order.usual(binding.lap, LAP)
    if binding.only == BOUGHT:
        bought = by_length(order, "hem binding", around + lap, binding.width, binding.price)
        return Made(notions=(bought,)) + bound(order, (), rim, lap, 0, ring=ring)
    shows = order.usual(binding.width, WIDTH)
    width = binding.cut_width or FOLDS * shows
    seam = order.usual(binding.seam, SEAM)
    quarter = width // FOLDS
    wanted = Bias(
        part="binding",
        name="hem binding",
        joined=around if ring else around + lap,
        width=width,
        seam=seam,
        ring=ring,
        strips=binding.count,
        shortest=binding.shortest,
        across=binding.across,
        lines=tuple((MarkKind.FOLD, "fold", k * quarter) for k in range(1, FOLDS)),
    )
    if width < 2 * shows:
        raise order.fault(
            f"binding.cut_width is {order.spell(width)}, too narrow to show "
            f"{order.spell(shows)} on both sides; give a greater one"
        )
    made = bias(order, wanted, binding.only, binding.cloth)
    return made + bound(order, made.pieces, rim, lap, quarter, ring=ring)
