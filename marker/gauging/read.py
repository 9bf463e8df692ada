"""From a garment in the record to the plan of its pleats."""

from __future__ import annotations

from marker.cloth import Cloth
from marker.gauging.pressed import Pressed
from marker.gauging.stitched import Gauging
from marker.record import Garment


def gauging(garment: Garment, cloth: Cloth) -> Gauging | None:
    """The stitched pleats of a garment whose panels are cut from this cloth, if it has any."""
    pleating = garment.pleating
    if pleating is None or not (garment.drawn and pleating.stitch and garment.panels):
        return None
    return Gauging(
        garment.round_hem,
        garment.panels,
        garment.drawn,
        pleating.stitch,
        4 if garment.turn_downs else 2,
        pleating.thickness or cloth.thickness,
        tuple(pleating.first + row * pleating.spacing for row in range(pleating.rows)),
        pleating.ease,
        pleating.measured,
    )


def pressed(garment: Garment, cloth: Cloth) -> Pressed | None:
    """The pressed pleats of a garment whose panels are cut from this cloth, if it has any."""
    pleating = garment.pleating
    if pleating is None or pleating.method.stitched or not garment.panels:
        return None
    return Pressed(
        garment.round_hem,
        garment.panels,
        garment.drawn,
        pleating.pleats,
        pleating.method,
        pleating.face,
        pleating.direction,
        pleating.opening_at,
        pleating.thickness or cloth.thickness,
    )
