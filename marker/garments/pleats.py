"""A top in pressed pleats, knife, box or inverted: its keys, and how many pleats there are.

Cloth round the top = 2 x depth x folds + the length it is pleated into; a knife pleat has one
fold of the depth, a box pleat and an inverted one have two (National Instructional Media
Institute, Dress Making, pp. 202-205: pattern = 2 x depth x number + section).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from pydantic import Field

from marker.garments.opening import Opening
from marker.garments.order import Order, Usual
from marker.garments.panel import Panels, Tube
from marker.garments.words import Size, Strict
from marker.record import Direction, Method, Pleating
from marker.units import format_length, nearest

MOST = 1000
"""More pleats than any skirt has: a larger figure is a slip."""
WIDTH = {
    Method.KNIFE: Usual("2.5 cm", "1 in"),
    Method.BOX: Usual("10 cm", "4 in"),
    Method.INVERTED: Usual("10 cm", "4 in"),
}
FOLDS = {Method.KNIFE: 1, Method.BOX: 2, Method.INVERTED: 2}


class Pleats(Strict):
    """The keys of pressed pleats: one of `count`, `depth` and `width` settles them."""

    count: int | None = Field(
        default=None, ge=1, le=MOST, description=f"how many pleats go round, from 1 to {MOST}"
    )
    depth: Size | None = Field(
        default=None, description='how deep a fold is, from its edge to its inside, as "4 cm"'
    )
    width: Size | None = Field(
        default=None, description='from one pleat to the next, once folded, such as "2.5 cm"'
    )
    face: Size | None = Field(
        default=None, description='the width of the face of a box pleat, such as "6 cm"'
    )
    direction: Direction | None = Field(
        default=None, strict=False, description="which way knife pleats turn"
    )


def pressed(
    order: Order, pleats: Pleats | None, method: Method, tube: Tube, drawn: int, opening: Opening
) -> Pleating:
    """What the record keeps of pressed pleats, a whole number of them in every panel.

    Raises `BadInput` naming the key where they don't come out, or lie over one another.
    """
    keys = pleats or Pleats()
    if tube.round <= drawn:
        raise order.fault(
            f"panels go {order.spell(tube.round)} round, which leaves nothing for pleats over the "
            f"{order.spell(drawn)} they are folded into; give more panels or wider ones"
        )
    turned = keys.direction or Direction.RIGHT
    if method is not Method.KNIFE and keys.direction:
        raise order.fault(
            f"pleats.direction is for knife pleats, and {method.value} ones turn both ways; "
            "take it out"
        )
    number = _number(order, keys, method, tube, drawn, _step(tube.panels, turned, opening.at))
    _faces(order, keys, method, tube, drawn, number)
    return Pleating(
        method,
        pleats=number,
        face=keys.face or 0,
        direction=turned,
        opening_at=opening.at,
        seam=tube.seam,
    )


def _step(panels: int, turned: Direction, at: str) -> int:
    """Pleats come in multiples of this: alike in every panel, and in every part between turns.

    Pleats that turn to the front or the back turn over at both; where the opening lies at the
    side, each quarter between them holds a whole number.
    """
    if turned in (Direction.RIGHT, Direction.LEFT):
        return panels
    return math.lcm(panels, 4 if at == "side" else 2)


def _number(order: Order, keys: Pleats, method: Method, tube: Tube, drawn: int, step: int) -> int:
    """How many pleats go round: the count given, or what comes nearest to the width or depth."""
    if keys.count is not None:
        return _counted(order, keys.count, tube.panels, step)
    if keys.depth and not keys.width:
        name, size = "depth", keys.depth
        wanted = Fraction(tube.round - drawn, 2 * FOLDS[method] * size)
    else:
        name, size = "width", order.usual(keys.width, WIDTH[method])
        wanted = Fraction(drawn, size)
    number = step * nearest(wanted / step)
    if number > MOST:
        raise order.fault(
            f"pleats.{name} is {_fine(order, size)}, which takes {number} pleats; give a greater "
            f"one, {MOST} are the most"
        )
    if not number and name == "depth":
        deepest = Fraction(tube.round - drawn, 2 * FOLDS[method] * step)
        raise order.fault(
            f"pleats.depth is {order.spell(size)}, and the {order.spell(tube.round - drawn)} that "
            f"the panels have to spare make {step} pleats of only {order.spell(nearest(deepest))}; "
            "give less depth, or more cloth round the top"
        )
    if not number and keys.width:
        raise order.fault(
            f"pleats.width is {order.spell(size)}, and {step} pleats, the fewest that come out "
            f"alike, lie {order.spell(nearest(Fraction(drawn, step)))} apart; give less width, or "
            "fewer panels"
        )
    return number or step


def _counted(order: Order, count: int, panels: int, step: int) -> int:
    below, above = count // step * step, -(-count // step) * step
    if below == above:
        return count
    near = f"{below} or {above}" if below else f"{above}"
    alike = f"{panels} panels hold as many" if step == panels else "all parts are alike"
    raise order.fault(
        f"pleats.count is {count}, and {alike} only where it is a multiple of {step}; write {near}"
    )


def _faces(order: Order, keys: Pleats, method: Method, tube: Tube, drawn: int, number: int) -> None:
    """Refuse box and inverted pleats whose folds would lie over one another."""
    if keys.face and method is not Method.BOX:
        raise order.fault("pleats.face is the width of a box pleat; take it out")
    if method is Method.KNIFE:
        return
    apart = Fraction(drawn, number)
    depth = Fraction(tube.round - drawn, 2 * FOLDS[method] * number)
    if keys.face and keys.face > apart:
        raise order.fault(
            f"pleats.face is {order.spell(keys.face)}, and the pleats lie only "
            f"{order.spell(nearest(apart))} apart; give a narrower face, or fewer pleats"
        )
    room = keys.face or apart
    if 2 * depth > room:
        said = f"faces of {order.spell(keys.face)}" if keys.face else "the cloth between them"
        remedy = "give a wider face, or leave it out" if keys.face else (
            f"give panels that go no more than {order.spell(3 * drawn)} round, or write "
            'top = "knife pleated"'
        )  # fmt: skip
        raise order.fault(
            f"pleats: {number} {method.value.removesuffix(' pleated')} pleats would be "
            f"{order.spell(nearest(depth))} deep, and their folds would lie over one another "
            f"under {said}; {remedy}"
        )


def widened(order: Order, pleats: Pleats | None, method: Method, panels: Panels, drawn: int,
            at: str) -> Panels:  # fmt: skip
    """The panels that pleats of a given depth *and* width ask for, where the file gives both.

    Then the round hem follows from the pleats; else the panels stay as they are.
    """
    if pleats is None:
        return panels
    if pleats.count and (pleats.depth or pleats.width):
        raise order.fault(
            "pleats has a count beside a depth or a width, and one follows from the other; take "
            "one out"
        )
    if not (pleats.depth and pleats.width):
        return panels
    given = [key for key in ("width", "round", "most_round") if getattr(panels, key) is not None]
    if given or not isinstance(panels.count, int):
        what = f"panels.{given[0]} is given" if given else "panels.count is not one number"
        raise order.fault(
            f"pleats has both depth and width, which settle how far the panels go round, but "
            f"{what}; give panels.count alone, or leave out depth or width"
        )
    step = _step(panels.count, pleats.direction or Direction.RIGHT, at)
    number = max(step, step * nearest(Fraction(drawn, pleats.width * step)))
    wanted = drawn + 2 * FOLDS[method] * number * pleats.depth
    return panels.model_copy(update={"round": wanted})


def pressed_advice(
    order: Order, pleats: Pleats | None, made: Pleating, tube: Tube, drawn: int
) -> tuple[str, ...]:
    """What comes out otherwise than asked, overlaps, and an underlap too short for a pleat."""
    depth = Fraction(tube.round - drawn, 2 * FOLDS[made.method] * made.pleats)
    apart = Fraction(drawn, made.pleats)
    said = list(_corrected(order, pleats or Pleats(), depth, apart))
    if depth > apart:
        layers = 1 + 2 * math.ceil(depth / apart)
        said.append(
            f"The pleats overlap: each is {order.spell(nearest(depth))} deep and they lie "
            f"{order.spell(nearest(apart))} apart, so that up to {layers} layers lie on one "
            "another."
        )
    if made.underlap < depth:
        said.append(
            f"The pleat over the opening reaches {order.spell(nearest(depth))} under the next, "
            f"further than the underlap of {order.spell(made.underlap)}; give the band as long an "
            "underlap."
        )
    return tuple(said)


def _corrected(order: Order, keys: Pleats, depth: Fraction, apart: Fraction) -> Iterator[str]:
    """What was asked for where print shows that it comes out otherwise."""
    for told, asked, found in (
        ("from pleat to pleat", keys.width, apart),
        ("deep", keys.depth, depth),
    ):
        if asked and _fine(order, asked) != _fine(order, nearest(found)):
            yield (
                f"Pleats asked for {_fine(order, asked)} {told} come out "
                f"{_fine(order, nearest(found))}, so that every panel holds as many."
            )


def _fine(order: Order, length: int) -> str:
    return format_length(length, order.system, fine=True)
