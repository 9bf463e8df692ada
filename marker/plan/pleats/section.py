"""The figures of pressed pleats: the section through them, and their folds on the flat cloth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from marker.gauging import Pressed
from marker.plan.drawing import style
from marker.plan.drawing.arrows import dimension
from marker.plan.drawing.lettering import width
from marker.plan.drawing.page import Box, Point
from marker.plan.drawing.verbs import Drawing
from marker.plan.pleats.spell import near
from marker.plan.pleats.together import alike
from marker.record import Direction, Method
from marker.units import MM, System

WIDE = 8400
SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100)
ROOM = 5700
"""The width that the pleats take of a figure."""
EDGE = 1000
READING = 340
"""Readings stand no closer."""
LAYER = 260
"""Between two layers of cloth in the section."""
TOP = 1500
SHOWN = 2
"""So many pleats are shown whole."""


def draw_section(
    plan: Pressed, units: System, others: Sequence[Pressed] = ()
) -> tuple[Drawing, Point, int]:
    """The pleats seen from above, right side up the page; size in 1/100 mm, n of its scale 1:n.

    Where it stands for `others` too, figures that differ give way to what they are of.
    """
    plans = (plan, *others)
    drawing, deep = Drawing(), plan.depth
    knife = plan.method is Method.KNIFE
    span = SHOWN * plan.spacing + (deep if knife else 2 * deep)
    n = next((n for n in SCALES if _paper(span, n) <= ROOM), SCALES[-1])
    runs = list(_knife(plan, n) if knife else _double(plan, n))
    left = min(x for run in runs for x, _ in run)
    runs = [tuple((x - left + EDGE, y + TOP) for x, y in run) for run in runs]
    for run in runs:
        drawing.path(run, weight=style.OUTLINE)
    low = max(y for run in runs for _, y in run)
    zero = EDGE - left
    apart, depth = _paper(plan.spacing, n), _paper(deep, n)
    first, last = _edges(plan, n)
    dimension(drawing, (zero + first, TOP), (zero + first + apart, TOP), TOP - 600,
              alike((near(each.spacing, units) for each in plans), "apart"))  # fmt: skip
    dimension(drawing, (zero + last, low), (zero + last + _back(plan) * depth, low), low + 700,
              alike((near(each.depth, units) for each in plans), "depth"))  # fmt: skip
    if plan.method is Method.BOX:
        dimension(drawing, (zero, TOP), (zero + _paper(plan.face, n), TOP), TOP - 1150,
                  alike((near(each.face, units) for each in plans), "face"))  # fmt: skip
    drawing.say("side", (0, TOP - 100), "outside", style.DIMENSION)
    return drawing, (WIDE, low + 1000), n


def _paper(length: Fraction | int, n: int) -> int:
    """A length of cloth at 1:n, in 1/100 mm."""
    return round(Fraction(length) * 100 / (MM * n))


def _back(plan: Pressed) -> int:
    """Which way the fold that is dimensioned goes back under."""
    return 1 if plan.direction is Direction.LEFT and plan.folds == 1 else -1


def _edges(plan: Pressed, n: int) -> tuple[int, int]:
    """The edge from which the spacing is dimensioned, and one further in for the depth.

    A shallow fold has its figure outside, for which there is room to the right.
    """
    apart = _paper(plan.spacing, n)
    if plan.method is Method.KNIFE:
        return (-apart, -apart) if _back(plan) > 0 else (0, apart)
    return 0, (_paper(plan.face, n) if plan.method is Method.BOX else 0)


def _knife(plan: Pressed, n: int) -> Iterator[tuple[Point, ...]]:
    """Layers that lean on one another: no leg crosses another, however deep the pleats.

    Every pleat is its face, with what of it goes on under the pleat before, the fold's back
    one layer below, and the turn inside. Drawn for pleats to the right; mirrored for the left.
    """
    apart, deep = _paper(plan.spacing, n), _paper(plan.depth, n)
    lean = Fraction(2 * LAYER, apart)
    sign = 1 if _back(plan) < 0 else -1

    def fall(x: int, edge: int) -> int:
        """How far down a face lies at x, which rises to nothing at its edge."""
        return round(lean * (edge - x))

    points: list[Point] = []
    for number in range(SHOWN + 1):
        edge = number * apart
        inner = edge - deep
        begin = edge - apart - (deep if number else 0)
        points += [(begin, fall(begin, edge)), (edge, 0)]
        points += [(edge, LAYER), (inner, LAYER + fall(inner, edge))]
    tail = points[-1][0], points[-1][1] + LAYER
    points += [tail, (points[-1][0] + deep + apart // 3, fall(points[-1][0] + deep + apart // 3,
                                                              (SHOWN + 1) * apart))]  # fmt: skip
    yield tuple((sign * x, y) for x, y in points)


def _double(plan: Pressed, n: int) -> Iterator[tuple[Point, ...]]:
    """Box pleats stand up from the cloth between them; inverted ones lie behind it."""
    apart, deep = _paper(plan.spacing, n), _paper(plan.depth, n)
    face = _paper(plan.face, n)
    points: list[Point] = []
    if plan.method is Method.BOX:
        gap = apart - face
        points.append((-max(gap, apart // 4), 2 * LAYER))
        for number in range(SHOWN):
            x = number * apart
            points += [(x + deep, 2 * LAYER), (x + deep, LAYER), (x, LAYER), (x, 0)]
            points += [(x + face, 0), (x + face, LAYER), (x + face - deep, LAYER)]
            points.append((x + face - deep, 2 * LAYER))
        points.append((points[-1][0] + deep + max(gap, apart // 4), 2 * LAYER))
    else:
        points.append((-apart // 2, 0))
        for number in range(SHOWN):
            x = number * apart
            points += [(x - 40, 0), (x - 40, LAYER), (x - deep, LAYER), (x - deep, 2 * LAYER)]
            points += [(x + deep, 2 * LAYER), (x + deep, LAYER), (x + 40, LAYER), (x + 40, 0)]
        points.append(((SHOWN - 1) * apart + apart // 2, 0))
    yield tuple(points)


def draw_folds(
    plan: Pressed, units: System, others: Sequence[Pressed] = ()
) -> tuple[Drawing, Point, int]:
    """The first folds of a panel on the flat cloth, each with its distance from the seam line.

    Gives the drawing, its size in 1/100 mm, and the n of its scale 1:n. Where it stands for
    `others` too, distances that differ are left to the table.
    """
    drawing = Drawing()
    pleats = SHOWN if plan.folds == 1 else 1
    end = min(pleats * plan.takes + plan.takes / 4, plan.panel)
    n = next((n for n in SCALES if _paper(end, n) <= ROOM), SCALES[-1])
    y0, y1 = 560, 2000
    box = Box(EDGE, y0, EDGE + _paper(end, n), y1)
    drawing.field(box, style.TINT, under=True)
    drawing.path(((EDGE, y0), (box.x1, y0)), weight=style.OUTLINE)
    drawing.path(((EDGE, y0), (EDGE, y1)), weight=style.CUT, dash=style.DASH_SEWN)
    drawing.say("seam", (EDGE, y0 - 200), "seam line", style.DIMENSION, anchor="middle")
    free = EDGE + READING
    same = all(each.creases() == plan.creases() for each in others)
    for crease in plan.creases():
        x = EDGE + _paper(crease.at, n)
        if not crease.at or crease.at > end:
            continue
        drawing.path(((x, y0), (x, y1)), weight=style.OUTLINE if crease.outer else style.THIN,
                     dash=() if crease.outer else style.DASH_FOLD)  # fmt: skip
        if x >= free and same:
            told = near(crease.at, units).removesuffix(f" {units.value}")
            told = told if crease.outer else f"({told})"
            drawing.words((x + 100, y1 + 150 + width(told, style.DIMENSION)), told, style.DIMENSION,
                          turned=True)  # fmt: skip
            free = x + READING
    told = f"{units.value} from the seam line" if same else "Distances: see the table"
    drawing.say("key", (0, y1 + 1650), f"{told}; solid: edge of a pleat,", style.DIMENSION)
    drawing.say("key", (0, y1 + 2020), "chain and in brackets: inside fold", style.DIMENSION)
    return drawing, (WIDE, y1 + 2150), n
