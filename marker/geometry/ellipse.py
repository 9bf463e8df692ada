"""Parts of an ellipse as cubic curves."""

from __future__ import annotations

import math

from marker.errors import BadInput
from marker.geometry.affine import Affine
from marker.geometry.curves import Cubic, Spot
from marker.geometry.segments import told

STEP = math.pi / 8
"""A cubic over so little of a circle strays from it by under 1e-7 of the radius."""


def elliptical(
    start: Spot,
    end: Spot,
    radii: tuple[float, float],
    turn: float,
    large: bool,
    ccw: bool,
    place: Affine,
) -> list[Cubic]:
    """The elliptical arc of an SVG path as cubics, mapped by `place`.

    On the ellipse scaled to the unit circle the arc is circular, so its centre is found
    there (W3C, SVG 1.1, appendix F.6; from memory). Raises `BadInput` where the radii are too
    small to reach.
    """
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    rx, ry = radii
    to_ellipse = Affine(rx * cos, rx * sin, -ry * sin, ry * cos)

    def to_circle(spot: Spot) -> Spot:
        x, y = spot
        return (x * cos + y * sin) / rx, (y * cos - x * sin) / ry

    a, b = to_circle(start), to_circle(end)
    half = math.dist(a, b) / 2
    if half > 1.001:
        raise BadInput(
            f"an elliptical arc can't reach from {told(place(start))} to {told(place(end))}; "
            f"its radii must be {half:.3f} times as long"
        )
    # Figures printed to few digits may fall just short of half an ellipse.
    grown = max(1.0, half)
    rise = math.sqrt(max(0.0, grown * grown - half * half)) * (-1 if ccw == large else 1)
    along = (b[0] - a[0]) / (2 * half), (b[1] - a[1]) / (2 * half)
    centre = (a[0] + b[0]) / 2 - along[1] * rise, (a[1] + b[1]) / 2 + along[0] * rise
    first = math.atan2(a[1] - centre[1], a[0] - centre[0])
    sweep = (math.atan2(b[1] - centre[1], b[0] - centre[0]) - first) % math.tau
    if not ccw:
        sweep -= math.tau
    count = math.ceil(abs(sweep) / STEP)
    step = sweep / count
    handle = 4 / 3 * math.tan(step / 4) * grown

    def on(k: int) -> tuple[Spot, Spot]:
        """Point k on the circle, and the way on from it as long as a handle."""
        angle = first + k * step
        x, y = math.cos(angle), math.sin(angle)
        return (centre[0] + grown * x, centre[1] + grown * y), (-y * handle, x * handle)

    def mapped(spot: Spot, way: Spot, side: int) -> Spot:
        return place(to_ellipse((spot[0] + side * way[0], spot[1] + side * way[1])))

    made = []
    for k in range(count):
        (p, out), (q, back) = on(k), on(k + 1)
        # The path's own ends, to the last digit, so that the ring closes.
        head = place(start) if k == 0 else mapped(p, out, 0)
        tail = place(end) if k == count - 1 else mapped(q, back, 0)
        made.append(Cubic(head, mapped(p, out, 1), mapped(q, back, -1), tail))
    return made
