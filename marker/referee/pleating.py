"""Does what the record keeps of a garment's pleats come out, by arithmetic of its own?"""

from __future__ import annotations

from collections.abc import Iterator

from marker.record import Direction, Garment, Method, Pleating
from marker.referee.words import spell

_LENGTHS = ("stitch", "spacing", "first", "ease", "thickness", "face", "underlap", "seam")
_SIDES = ("front", "side", "back")


def pleating_faults(garment: Garment) -> Iterator[str]:
    """Faults of how a garment's top is drawn up; none where nothing draws it up."""
    pleating = garment.pleating
    if pleating is None:
        return
    if min(garment.panels, garment.round_hem, garment.drawn) <= 0:
        yield "Its pleats have no panels, no cloth round the top or nothing to be drawn into."
        return
    for field in _LENGTHS:
        if getattr(pleating, field) < 0:
            yield f"The {field} of its pleats is {spell(getattr(pleating, field))}."
    if bool(garment.turn_downs) != (pleating.method is Method.GAUGED):
        yield f"Its top is {pleating.method.value}, which doesn't agree with its turn-down."
    if pleating.opening_at not in ("", *_SIDES):
        yield f"Its opening is worn at {pleating.opening_at!r}, which is no place."
    yield from (_sewn if pleating.method.stitched else _folded)(garment, pleating)


def _sewn(garment: Garment, pleating: Pleating) -> Iterator[str]:
    """One pleat takes two stitches, and a panel holds at least one."""
    if pleating.stitch <= 0 or pleating.rows <= 0 or pleating.first <= 0:
        yield "Its pleats are to be sewn, but a stitch, a row or the place of the first is missing."
    elif 2 * pleating.stitch * garment.panels > garment.round_hem:
        yield f"A panel takes no whole pleat of stitches of {spell(pleating.stitch)}."
    if pleating.rows > 1 and pleating.spacing <= 0:
        yield f"Its {pleating.rows} rows of stitches lie on one another."
    swatch = pleating.measured
    if swatch and not (0 < swatch.drawn < swatch.cloth and 0 < 2 * swatch.stitch <= swatch.cloth):
        yield "Its practice swatch can't have come out so."


def _folded(garment: Garment, pleating: Pleating) -> Iterator[str]:
    """As many pleats in every panel, cloth to spare, and no folds over one another.

    Cloth = drawn + 2 x depth x folds, two folds to a box or inverted pleat: what their folds
    need behind a face, twice the depth, is (cloth - drawn) / (2 x pleats).
    """
    count, spare = pleating.pleats, garment.round_hem - garment.drawn
    if count <= 0 or count % garment.panels:
        yield f"Its {count} pleats are not as many in each of {garment.panels} panels."
        return
    turns = pleating.direction in (Direction.FRONT, Direction.BACK)
    if turns and count % (4 if pleating.opening_at == "side" else 2):
        yield f"Its {count} pleats are not alike between the places where they turn."
    if spare <= 0:
        yield f"A round of {spell(garment.round_hem)} has nothing to spare for pleats."
    if pleating.face * count > garment.drawn:
        yield f"Its {count} faces of {spell(pleating.face)} don't fit {spell(garment.drawn)}."
    room = pleating.face * count if pleating.face else garment.drawn
    if pleating.method is not Method.KNIFE and spare > 2 * room:
        kind = pleating.method.value.removesuffix(" pleated")
        yield f"The folds of its {count} {kind} pleats lie over one another."
