"""The cape: part of a circle round the neck, open in front."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import Field

from marker.garments.circular.circles import (
    LAY,
    MIDDLE,
    Circular,
    fewest,
    panel_outline,
    quarters,
    radii,
)
from marker.garments.curved.drafted import drafted, top_figures, top_made
from marker.garments.curved.hem import Finish, finishes, hemmed
from marker.garments.curved.shape import Shape
from marker.garments.made import Made
from marker.garments.order import SEAM, Draft, Order, Usual
from marker.garments.registry import garment
from marker.garments.waist import Band
from marker.garments.words import Length, Size
from marker.garments.work.curves import Curved, curves_marked, fronts_turned, quartered
from marker.garments.work.job import Sewn
from marker.garments.work.seams import Round, joined
from marker.piece import Edges

FRONT = Usual("3 cm", "1 1/4 in")
BOTH = Edges(start="neck", end="hem", low="front edge", high="front edge")
ONE = Edges(start="neck", end="hem", low="front edge", high="seam")
NONE = Edges(start="neck", end="hem", low="seam", high="seam")


@garment("cape")
class Cape(Circular):
    """The keys of a cape; `circle` and `length` must be given."""

    length: Size = Field(description='the length from the neck to the hem, such as "80 cm"')
    front: Length | None = Field(
        default=None, description='what is turned in at either front edge, such as "3 cm"'
    )

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """One draft for each lie of the panels and each way to finish the hem."""
        front = order.usual(self.front, FRONT)
        return tuple(
            _draft(self, order, grain, finish, front)
            for grain in self.grain
            for finish in finishes(order, self, ring=False, ends=front)
        )


def _draft(spec: Cape, order: Order, grain: str, finish: Finish, front: int) -> Draft:
    seam = order.usual(spec.seam, SEAM)
    neck = order.measure("neck", 'the girth at the base of the neck, such as "38 cm"')
    inner = neck + spec.ease + spec.gathers

    def shapes(panels: int) -> tuple[Shape, ...]:
        outline = panel_outline(order, spec, inner, spec.length, panels, grain)
        middle = grain == MIDDLE

        def shape(name: str, count: int, low: int, high: int, edges: Edges) -> Shape:
            even = middle and low == high
            fronts = edges is ONE
            made = Shape(
                name,
                outline,
                count=count,
                mirrored=count // 2 if fronts or not middle else 0,
                folds=even and not fronts,
                added={"low": low, "high": high, "start": seam},
                edges=edges,
                notches=quarters(outline),
            )
            return hemmed(made, finish)

        if panels == 1:
            return (shape("panel", 1, front, front, BOTH),)
        pair = shape("front panel", 2, front, seam, ONE)
        if panels == 2:
            return (pair,)
        return pair, shape("back panel", panels - 2, seam, seam, NONE)

    # A neck band meets edge to edge unless the file asks for an underlap.
    band = (spec.band or Band()).model_copy(
        update={} if spec.band and spec.band.underlap is not None else {"underlap": 0}
    )
    topped = spec if spec.tape else spec.model_copy(update={"band": band})
    panels = fewest(order, spec, shapes)
    names = tuple(shape.name for shape in panels)
    count = sum(shape.count for shape in panels)
    long, drawn = round(inner), neck + spec.ease
    curved = Curved(names, "neck", long, drawn, seam, seam, finish.hem.take_up)
    tube = Round(names, count, seam, closed=False, curved=True, matched=bool(spec.match))
    # A facing runs out to the cut front edges, and is turned in with them.
    fronts = tuple(fronts_turned(order, names[:1], front))
    before = Made(
        work=(
            *curves_marked(order, curved),
            *joined(order, tube),
            *(() if finish.facing else fronts),
            quartered(order, curved, "the fronts"),
        ),
        sewn=tuple(_sides_met(order, names, count, front)),
    )
    rest = Made(work=fronts if finish.facing else ())
    rest += top_made(order, topped, neck, seam, curved)
    rest += Made(figures=top_figures("neck", neck + spec.ease, inner))
    rest += Made(figures=radii(spec, inner, spec.length, "neck"))
    return drafted(
        order,
        spec,
        finish,
        "panels",
        panels,
        rest,
        spec.length,
        way=[LAY[grain]] * (len(spec.grain) > 1),
        before=before,
    )


def _sides_met(order: Order, names: tuple[str, ...], count: int, front: int) -> Iterator[Sewn]:
    """The fronts are turned in; a front and a back, or two backs, are sewn together."""
    turned = f"itself, turned in {order.spell(front)}" if front else "nothing; it stays as it is"
    yield Sewn(names[0], "front edge", turned)
    if count == 2:
        yield Sewn(names[0], "seam", "the other front panel's seam")
    if len(names) > 1:
        front_panel, back = names
        yield Sewn(front_panel, "seam", "a back panel's seam", back, "seam", "a front panel's seam")
        if count > 3:
            yield Sewn(back, "seam", "the next back panel's seam")
