"""The outlines of the trade: rectangle, gore, panel of a circle, facing, flounce, bias strip.

All in units of 1/160 mm, in a piece's own frame: u runs from the top at the left to the hem
at the right, or along a strip. Edges are named as those of any piece: "start" is the top,
"end" the hem, "low" and "high" the sides. A recipe gives them the names of its garment.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

from marker.errors import BadInput
from marker.geometry.biarc import arcs_of
from marker.geometry.curves import NOISE, Arc, Cubic, Line, Segment, Spot, minus, unit
from marker.geometry.offset import SMOOTH
from marker.geometry.outline import Outline, closed_up
from marker.units import MM

FLAT = 1e-4
"""An arc that rises by less than this over its chord, in units, is drawn straight."""
SIDES = ("low", "end", "high", "start")
INNER = "inner"
"""The name of a shaped facing's free edge."""


def rectangle(length: float, breadth: float) -> Outline:
    """A rectangle, `length` along u and `breadth` across."""
    _above_nothing(length=length, breadth=breadth)
    return Outline.through([(0, 0), (length, 0), (length, breadth), (0, breadth)], SIDES)


def ring_sector(inner: float, outer: float, angle: float) -> Outline:
    """The part of a ring between two radii and over an angle (radians), its middle along u.

    With an inner radius of nought it comes to a point. Raises `BadInput` from a whole ring on.
    """
    _above_nothing(depth=outer - inner, angle=angle)
    if angle >= math.tau - 1e-9:
        least = math.floor(angle / math.tau + 1e-9) + 1
        raise BadInput(
            f"a flare of {math.degrees(angle):.1f} degrees closes the ring, so it can't be cut "
            f"flat in one; cut it in {least} panels or more"
        )

    def on(radius: float, side: int) -> Spot:
        half = side * angle / 2
        # 1 - cos by its half angle, which keeps its digits where the circle is very wide.
        rise = 2 * radius * math.sin(half / 2) ** 2
        return radius - inner - rise, radius * math.sin(half)

    centre = -inner, 0.0
    ring: list[Segment] = [
        Line(on(inner, -1), on(outer, -1), "low"),
        _arc_or_line(on(outer, -1), on(outer, 1), centre, True, "end", outer * angle * angle / 8),
        Line(on(outer, 1), on(inner, 1), "high"),
    ]
    if inner > 0:
        rise = inner * angle * angle / 8
        ring.append(_arc_or_line(on(inner, 1), on(inner, -1), centre, False, "start", rise))
    return Outline(tuple(ring)).at_nought()


def gore(top: float, hem: float, length: float) -> Outline:
    """A gore: a ring sector whose arcs measure `top` and `hem`, `length` apart everywhere.

    The inner radius is top x length / (hem - top), so side seams and centre measure the same;
    with equal ends it is a rectangle. A gore narrower at the hem flares the other way.
    """
    _above_nothing(length=length, hem=hem)
    if top < 0:
        raise BadInput("the top of a gore is negative; give nought, for a point, or more")
    if top > hem:
        names = {"start": "end", "end": "start", "low": "low", "high": "high"}
        return gore(hem, top, length).mirrored().renamed(names).at_nought()
    angle = (hem - top) / length
    if hem * angle / 8 < FLAT:
        low = (hem - top) / 2
        corners = [(0, low), (length, 0), (length, hem), (0, low + top)]
        return Outline.through(corners, SIDES)
    inner = top / angle
    return ring_sector(inner, inner + length, angle)


def ring_flounce(top: float, bottom: float, depth: float, panels: int = 1) -> Outline:
    """One of `panels` of a flounce that measures `top` where it is sewn on and `bottom` below.

    The radius of the top curve is top x depth / (bottom - top) (Baldt, Clothing for Women,
    1916, fig. 56); as bottom nears top the flounce straightens.
    """
    return gore(top / panels, bottom / panels, depth)


def circle_radius(drawn: float, fraction: float, seams: float = 0.0) -> float:
    """Radius of the waist curve, (drawn + seams) / (2 pi fraction) of the whole circle."""
    _above_nothing(fraction=fraction, waist=drawn + seams)
    return (drawn + seams) / (math.tau * fraction)


def circle_panel(
    drawn: float, length: float, fraction: float, panels: int, seams: float = 0.0
) -> Outline:
    """One of the panels of a full (1), half or quarter circle skirt or cape.

    `seams` is what all panels' seams take at the waist together.
    """
    inner = circle_radius(drawn, fraction, seams)
    return ring_sector(inner, inner + length, math.tau * fraction / panels)


def bias_strip(length: float, width: float) -> Outline:
    """A strip of true bias along u, its ends on the straight thread: a parallelogram.

    Both long edges measure `length`; each end, where strips are joined, width x sqrt 2.
    Turned by 45 degrees its ends lie along a thread.
    """
    _above_nothing(length=length, width=width)
    corners = [(0, 0), (length, 0), (length + width, width), (width, width)]
    return Outline.through(corners, SIDES)


def facing(panel: Outline, edge: str, depth: float) -> Outline:
    """A shaped facing: the strip of `depth` inside an edge, with that very edge as its own.

    Its edges are the panel's `edge`, "high", "inner" and "low", and it lies where the panel's
    edge lies. A cubic's inner edge is arcs. Raises `BadInput` where the edge has a corner, or
    curves more sharply than the depth allows.
    """
    _above_nothing(depth=depth)
    hem = panel.edge(edge).segments
    for before, after in pairwise(hem):
        come, go = before.heading(before.length), after.heading(0.0)
        if math.dist(come, go) > SMOOTH:
            raise BadInput(
                f"edge {edge!r} has a corner, so no one facing follows it; "
                "name its parts apart and face each"
            )
    parts = [part for seg in hem for part in (arcs_of(seg) if isinstance(seg, Cubic) else [seg])]
    inside = [_inside(part, depth, edge) for part in reversed(parts)]
    high = Line(hem[-1].end, inside[0].start, "high")
    low = Line(inside[-1].end, hem[0].start, "low")
    return Outline(closed_up([*hem, high, *inside, low]))


def unfolded(half: Outline, fold: str, names: Mapping[str, str] | None = None) -> Outline:
    """The whole piece from the half that lies on a fold: the half and its mirror image.

    Edges that meet the fold run on as one; `names` names anew the other half's edges, which
    otherwise keep the half's. Raises `BadInput` where the fold edge is not straight, or the
    halves run into each other.
    """
    edge = half.edge(fold)
    spine = edge.segments[0]
    if len(edge.segments) > 1 or not isinstance(spine, Line):
        raise BadInput(f"the fold edge {fold!r} is not one straight line; no cloth folds on it")
    at = half.segments.index(spine)
    kept = [*half.segments[at + 1 :], *half.segments[:at]]
    x, y = spine.heading(0)

    def over(spot: Spot) -> Spot:
        way = minus(spot, spine.start)
        off = 2 * (x * way[1] - y * way[0])
        return spot[0] + off * y, spot[1] - off * x

    named = names or {}
    other = [seg.moved(over, flips=True).backwards() for seg in reversed(kept)]
    other = [replace(seg, name=named.get(seg.name, seg.name)) for seg in other]
    ring = closed_up(kept + other)
    try:
        return Outline(_run_together(ring, len(kept)))
    except BadInput as fault:
        raise BadInput(f"unfolded along {fold!r}, {fault}") from None


def _run_together(ring: tuple[Segment, ...], middle: int) -> tuple[Segment, ...]:
    """Make one segment of the two that meet at either end of the fold, if they are one."""
    first, second = list(ring[:middle]), list(ring[middle:])
    whole = _one(first[-1], second[0])
    if whole and middle > 1:
        first[-1:], second[:1] = [whole], []
    whole = _one(second[-1], first[0]) if second and len(first) > 1 else None
    if whole:
        first[:1], second[-1:] = [whole], []
    return (*first, *second)


def _one(before: Segment, after: Segment) -> Segment | None:
    """The one line or arc that two segments make together, if they do."""
    if before.name != after.name or type(before) is not type(after):
        return None
    if math.dist(before.heading(before.length), after.heading(0.0)) > SMOOTH:
        return None
    if isinstance(before, Line):
        return Line(before.start, after.end, before.name)
    if isinstance(before, Arc) and isinstance(after, Arc):
        apart = math.dist(before.centre, after.centre)
        if before.ccw == after.ccw and apart <= NOISE * max(1.0, before.radius / MM):
            return replace(before, end=after.end)
    return None


def _inside(part: Segment, depth: float, edge: str) -> Segment:
    """A line or arc of the edge set inwards, run the other way."""
    if isinstance(part, Line):
        x, y = part.heading(0)
        dx, dy = -y * depth, x * depth
        a, b = part.start, part.end
        return Line((b[0] + dx, b[1] + dy), (a[0] + dx, a[1] + dy), INNER)
    assert isinstance(part, Arc)
    radius = part.radius - depth if part.ccw else part.radius + depth
    if radius <= NOISE:
        raise BadInput(
            f"edge {edge!r} has a radius of {part.radius / MM:.1f} mm, too small for a facing "
            f"{depth / MM:.1f} mm deep; make the facing narrower, or cut it on the bias"
        )

    def on(spot: Spot) -> Spot:
        x, y = unit(minus(spot, part.centre))
        return part.centre[0] + x * radius, part.centre[1] + y * radius

    return Arc(on(part.end), on(part.start), part.centre, not part.ccw, INNER)


def _arc_or_line(
    start: Spot, end: Spot, centre: Spot, ccw: bool, name: str, rise: float
) -> Segment:
    return Line(start, end, name) if rise < FLAT else Arc(start, end, centre, ccw, name)


def _above_nothing(**sizes: float) -> None:
    for name, size in sizes.items():
        if size <= 0:
            raise BadInput(f"the {name} of a shape must be above nothing; give one")
