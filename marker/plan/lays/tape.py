"""The tape that lies along the near side of the cloth."""

from __future__ import annotations

from marker.lay import Lay
from marker.plan.drawing import style
from marker.plan.drawing.lettering import width
from marker.plan.drawing.page import View
from marker.plan.drawing.verbs import Drawing
from marker.plan.words.phrases import side
from marker.units import CM, INCH, System, Units

LADDERS = {
    System.CM: tuple(step * 10**tens * CM for tens in range(5) for step in (1, 2, 5)),
    System.IN: tuple(step * INCH for step in (1, 3, 6, 12, 36, 72, 180, 360, 1800, 3600, 18000)),
}
LEAST_TICK, LEAST_FIGURE = 140, 1100
FOLD = "fold"
END = "free end"


def depth(units: Units) -> int:
    """The paper that the tape takes across: a scale for every measure told."""
    return style.TAPE * len(units.systems)


def draw_tape(drawing: Drawing, view: View, units: Units, leaders: list[int]) -> None:
    """Draw the tape from the squared end, with figures wherever no leader passes.

    `leaders` are the places on the page where leaders run down over the tape. Where both
    measures are told it has two scales, the leading one along the cloth.
    """
    for number, system in enumerate(units.systems):
        _scale(drawing, view, system, leaders, view.y(view.bolt.y0) + number * style.TAPE)


def _scale(drawing: Drawing, view: View, system: System, leaders: list[int], top: int) -> None:
    unit = CM if system is System.CM else INCH
    start = max(0, view.bolt.x0)  # a stretch of a long bolt begins anywhere on the tape
    left, right = view.x(start), view.x(view.bolt.x1)
    bottom = top + style.TAPE
    ladder = LADDERS[system]
    tick = next((step for step in ladder if view.length(step) >= LEAST_TICK), ladder[-1])
    figure = next((step for step in ladder if view.length(step) >= LEAST_FIGURE), ladder[-1])
    runs = []
    for at in range(-(-start // tick) * tick, view.bolt.x1 + 1, tick):
        x = view.x(at)
        runs.append(((x, top), (x, top + (130 if at % figure == 0 else 70))))
    drawing.path(*runs, weight=style.TICK)
    drawing.path(((left, bottom), (right, bottom), (right, top)), ((left, bottom), (left, top)),
                 weight=style.TICK)  # fmt: skip
    size = style.LEAST
    for at in range((start // figure + 1) * figure, view.bolt.x1, figure):
        text, x = f"{at // unit}", view.x(at)
        half = width(text, size) // 2 + 50
        if (
            left < x - half
            and x + half < right
            and not any(abs(x - leader) < half for leader in leaders)
        ):
            box = drawing.words((x, bottom - 85), text, size, anchor="middle", colour=style.SOFT)
            drawing.label("tape", text, box)
    box = drawing.words((left - 70, bottom - 85), system.value, size, anchor="end",
                        colour=style.SOFT)  # fmt: skip
    drawing.label("tape", system.value, box)


def name_sides(drawing: Drawing, view: View, lay: Lay, beyond: int = 0) -> None:
    """Name the free end, the two sides and the fold in the gutters beside the cloth.

    The sides are named `beyond` the far end, where more of the cloth is shown there.
    """
    cloth, size = view.box(view.bolt), style.LEAST
    left, right = cloth.x0 - 150, cloth.x1 + beyond + 150 + size * 3 // 4
    beside = f"near {side(lay)}", f"far {side(lay)}"
    end, near, far = (width(text, size) for text in (END, *beside))
    if end < cloth.height and view.bolt.x0 <= 0:
        box = drawing.words((left, cloth.middle[1]), END, size, anchor="middle", turned=True,
                            colour=style.SOFT)  # fmt: skip
        drawing.label("side", END, box)
    if near + far + 300 + (width(FOLD, size) + 300) * lay.cloth.folded < cloth.height:
        sides = [(beside[0], cloth.y1, "start"), (beside[1], cloth.y0, "end")]
        if lay.cloth.folded:
            sides.append((FOLD, cloth.middle[1], "middle"))
        for text, y, anchor in sides:
            box = drawing.words((right, y), text, size, anchor=anchor, turned=True,
                                colour=style.SOFT)  # fmt: skip
            drawing.label("side", text, box)
