"""What the sheet tells of a garment, once all its parts are made."""

from __future__ import annotations

from marker.garments.advice import rounding_advice
from marker.garments.allowance import allowance_advice
from marker.garments.made import Made
from marker.garments.order import Order
from marker.record import Garment, Pleating, TurnDown


def garment_told(
    order: Order,
    made: Made,
    *,
    panels: int = 0,
    cut_length: int = 0,
    round_hem: int = 0,
    drawn: int = 0,
    opening: int = 0,
    turn_downs: tuple[TurnDown, ...] = (),
    pleating: Pleating | None = None,
) -> Garment:
    """The garment that is `made` for an order, with what to mind about the sizes of its pieces.

    The rest is as `Garment` has it.
    """
    return Garment(
        key=order.key,
        name=order.name,
        wearer=order.wearer.name,
        panels=panels,
        cut_length=cut_length,
        round_hem=round_hem,
        drawn=drawn,
        opening=opening,
        turn_downs=turn_downs,
        notions=made.notions,
        advice=(
            *made.advice,
            *allowance_advice(order, made.pieces),
            *rounding_advice(order, made.pieces),
        ),
        figures=made.figures,
        pleating=pleating,
        bias_joins=made.bias_joins,
    )
