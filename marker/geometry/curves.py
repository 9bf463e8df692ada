"""What an outline is made of: straight lines, circular arcs and cubic curves.

Points and lengths are floating-point numbers in units of 1/160 mm. Every kind of segment
knows its length, the area between it and the origin, the point and direction at a length
along it, and its own box; each carries the name of the edge that it belongs to.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from marker.errors import BadInput
from marker.geometry.segments import told
from marker.units import MM

Spot = tuple[float, float]
NOISE = 1e-6
"""Two floating-point places nearer than this, in units, are one: 6 millionths of a micron."""

GAUSS = (
    (0.1834346424956498, 0.3626837833783620), (0.5255324099163290, 0.3137066458778873),
    (0.7966664774136267, 0.2223810344533745), (0.9602898564975363, 0.1012285362903763),
)  # fmt: skip
"""Half of the 8-point Gauss-Legendre rule on -1 to 1: places and weights (from memory)."""


def cross(a: Spot, b: Spot) -> float:
    """The cross product: above nought where b points to the left of a."""
    return a[0] * b[1] - a[1] * b[0]


def minus(a: Spot, b: Spot) -> Spot:
    """The way from b to a."""
    return a[0] - b[0], a[1] - b[1]


def unit(a: Spot) -> Spot:
    """The same direction at length one."""
    size = math.hypot(*a)
    return a[0] / size, a[1] / size


@dataclass(frozen=True)
class Line:
    """A straight line from start to end."""

    start: Spot
    end: Spot
    name: str = ""

    @cached_property
    def length(self) -> float:
        """Length in units."""
        return math.dist(self.start, self.end)

    @property
    def area_to_origin(self) -> float:
        """Signed area swept by the ray from the origin, square units."""
        return cross(self.start, self.end) / 2

    def at(self, length: float) -> Spot:
        """The point at a length from the start."""
        part = length / self.length
        return tuple2(a + (b - a) * part for a, b in zip(self.start, self.end, strict=True))

    def heading(self, length: float) -> Spot:  # noqa: ARG002
        """The direction at a length from the start, of length one."""
        return unit(minus(self.end, self.start))

    def extremes(self) -> list[Spot]:
        """Points that reach as far as the segment does along either axis."""
        return [self.start, self.end]

    def backwards(self) -> Line:
        """The same line from end to start."""
        return replace(self, start=self.end, end=self.start)

    def moved(self, move: Callable[[Spot], Spot], flips: bool) -> Line:  # noqa: ARG002
        """The line with every point moved."""
        return replace(self, start=move(self.start), end=move(self.end))


@dataclass(frozen=True)
class Arc:
    """A circular arc from start to end round a centre, counter-clockwise or clockwise.

    Raises `BadInput` where the end does not lie on the start's circle, or is the start.
    """

    start: Spot
    end: Spot
    centre: Spot
    ccw: bool = True
    name: str = ""

    def __post_init__(self) -> None:
        first, last = math.dist(self.start, self.centre), math.dist(self.end, self.centre)
        if abs(first - last) > NOISE * max(1.0, first / MM):
            raise BadInput(
                f"an arc round {told(self.centre)} can't reach: its start is "
                f"{first / MM:.2f} mm off and its end {last / MM:.2f} mm; give both one radius"
            )
        if math.dist(self.start, self.end) <= NOISE:
            raise BadInput(
                f"an arc starts and ends at {told(self.start)}; write a whole circle as two arcs"
            )

    @classmethod
    def reaching(
        cls, start: Spot, end: Spot, radius: float, ccw: bool, large: bool = False, name: str = ""
    ) -> Arc:
        """The arc of a radius between two points; `large` for the way of over half a circle.

        A radius short by under 1/1000, as printed figures may be, is lengthened to reach.
        Raises `BadInput` where it is shorter.
        """
        half = math.dist(start, end) / 2
        if radius * 1.001 < half or radius <= 0 or half == 0:
            raise BadInput(
                f"an arc of radius {radius / MM:.2f} mm can't reach from {told(start)} to "
                f"{told(end)}; give it {half / MM:.2f} mm at least and two ends apart"
            )
        along = unit(minus(end, start))
        rise = math.sqrt(max(0.0, radius * radius - half * half))
        if ccw == large:
            rise = -rise
        middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        return cls(
            start, end, (middle[0] - along[1] * rise, middle[1] + along[0] * rise), ccw, name
        )

    @cached_property
    def radius(self) -> float:
        """Radius in units."""
        return math.dist(self.start, self.centre)

    @cached_property
    def first_angle(self) -> float:
        """Direction from the centre to the start, radians."""
        return math.atan2(self.start[1] - self.centre[1], self.start[0] - self.centre[0])

    @cached_property
    def sweep(self) -> float:
        """Angle from start to end, radians; below nought where it runs clockwise."""
        a, b = minus(self.start, self.centre), minus(self.end, self.centre)
        angle = math.atan2(cross(a, b), a[0] * b[0] + a[1] * b[1])
        if self.ccw:
            return angle if angle > 0 else angle + math.tau
        return angle if angle < 0 else angle - math.tau

    @cached_property
    def length(self) -> float:
        """Length in units."""
        return self.radius * abs(self.sweep)

    @property
    def area_to_origin(self) -> float:
        """Signed area swept by the ray from the origin, square units."""
        a, b = minus(self.start, self.centre), minus(self.end, self.centre)
        under = self.radius**2 * self.sweep - cross(a, b)
        return (under + cross(self.start, self.end)) / 2

    def spoke(self, angle: float, radius: float) -> Spot:
        """The point at a direction (radians) and a distance from the centre."""
        return (
            self.centre[0] + radius * math.cos(angle),
            self.centre[1] + radius * math.sin(angle),
        )

    def at(self, length: float) -> Spot:
        """The point at a length from the start."""
        part = length / self.length
        return self.spoke(self.first_angle + self.sweep * part, self.radius)

    def heading(self, length: float) -> Spot:
        """The direction at a length from the start, of length one."""
        angle = self.first_angle + self.sweep * length / self.length
        way = 1.0 if self.ccw else -1.0
        return -math.sin(angle) * way, math.cos(angle) * way

    def extremes(self) -> list[Spot]:
        """Points that reach as far as the segment does along either axis."""
        low = min(self.first_angle, self.first_angle + self.sweep)
        high = max(self.first_angle, self.first_angle + self.sweep)
        quarters = range(math.ceil(low / (math.pi / 2)), math.floor(high / (math.pi / 2)) + 1)
        tops = [
            (self.centre[0] + self.radius * x, self.centre[1] + self.radius * y)
            for x, y in (((1, 0), (0, 1), (-1, 0), (0, -1))[quarter % 4] for quarter in quarters)
        ]
        return [self.start, self.end, *tops]

    def backwards(self) -> Arc:
        """The same arc from end to start."""
        return replace(self, start=self.end, end=self.start, ccw=not self.ccw)

    def moved(self, move: Callable[[Spot], Spot], flips: bool) -> Arc:
        """The arc with every point moved by a motion that keeps circles round."""
        return replace(
            self,
            start=move(self.start),
            end=move(self.end),
            centre=move(self.centre),
            ccw=self.ccw != flips,
        )


@dataclass(frozen=True)
class Cubic:
    """A cubic curve from start to end, drawn towards two control points."""

    start: Spot
    first: Spot
    second: Spot
    end: Spot
    name: str = ""

    @cached_property
    def length(self) -> float:
        """Length in units, to a part in 10^9."""
        return self.length_to(1.0)

    @property
    def area_to_origin(self) -> float:
        """Signed area swept by the ray from the origin, square units; exact for the curve."""
        a, b, c, d = self.start, self.first, self.second, self.end
        return (
            6 * cross(a, b) + 3 * cross(a, c) + cross(a, d)
            + 3 * cross(b, c) + 3 * cross(b, d) + 6 * cross(c, d)
        ) / 20  # fmt: skip

    def point(self, t: float) -> Spot:
        """The point at the parameter t, 0 to 1."""
        s = 1 - t
        return tuple2(
            s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d
            for a, b, c, d in zip(self.start, self.first, self.second, self.end, strict=True)
        )

    def speed(self, t: float) -> Spot:
        """The derivative by the parameter."""
        s = 1 - t
        return tuple2(
            3 * (s * s * (b - a) + 2 * s * t * (c - b) + t * t * (d - c))
            for a, b, c, d in zip(self.start, self.first, self.second, self.end, strict=True)
        )

    def direction(self, t: float) -> Spot:
        """Direction of length one at t, also where the curve stands still at an end."""
        speed = self.speed(t)
        if math.hypot(*speed) <= NOISE:
            towards = (self.first, self.second, self.end) if t < 0.5 else ()
            ways = [minus(spot, self.start) for spot in towards] or [
                minus(self.end, spot) for spot in (self.second, self.first, self.start)
            ]
            speed = next((way for way in ways if math.hypot(*way) > NOISE), (1.0, 0.0))
        return unit(speed)

    def length_to(self, t: float) -> float:
        """Length from the start to the parameter t."""

        def gauss(low: float, high: float) -> float:
            half, middle = (high - low) / 2, (high + low) / 2
            return half * sum(
                weight * math.hypot(*self.speed(middle + side * half * place))
                for place, weight in GAUSS
                for side in (-1, 1)
            )

        def refined(low: float, high: float, rough: float, depth: int) -> float:
            middle = (low + high) / 2
            left, right = gauss(low, middle), gauss(middle, high)
            if depth == 0 or abs(left + right - rough) <= 1e-11 * max(whole, NOISE):
                return left + right
            return refined(low, middle, left, depth - 1) + refined(middle, high, right, depth - 1)

        whole = gauss(0.0, t)
        return refined(0.0, t, whole, 24)

    def parameter(self, length: float) -> float:
        """The parameter at a length from the start: Newton's step, or halving where that leaps."""
        low, high = 0.0, 1.0
        t = length / self.length
        for _ in range(60):
            over = self.length_to(t) - length
            if abs(over) <= NOISE / 10:
                break
            low, high = (low, t) if over > 0 else (t, high)
            speed = math.hypot(*self.speed(t))
            t = t - over / speed if speed else high
            if not low < t < high:
                t = (low + high) / 2
        return t

    def at(self, length: float) -> Spot:
        """The point at a length from the start."""
        return self.point(self.parameter(length))

    def heading(self, length: float) -> Spot:
        """The direction at a length from the start, of length one."""
        return self.direction(self.parameter(length))

    def extremes(self) -> list[Spot]:
        """Points that reach as far as the segment does along either axis."""
        tops = []
        for a, b, c, d in zip(self.start, self.first, self.second, self.end, strict=True):
            for t in roots(d - c - 2 * (c - b) + b - a, 2 * (c - b - (b - a)), b - a):
                tops.append(self.point(t))
        return [self.start, self.end, *tops]

    def split(self, low: float, high: float) -> Cubic:
        """The part from one parameter to another, a cubic again."""
        start, end = self.point(low), self.point(high)
        span = (high - low) / 3
        out, back = self.speed(low), self.speed(high)
        first = start[0] + out[0] * span, start[1] + out[1] * span
        second = end[0] - back[0] * span, end[1] - back[1] * span
        return replace(self, start=start, first=first, second=second, end=end)

    def backwards(self) -> Cubic:
        """The same curve from end to start."""
        return replace(self, start=self.end, first=self.second, second=self.first, end=self.start)

    def moved(self, move: Callable[[Spot], Spot], flips: bool) -> Cubic:  # noqa: ARG002
        """The curve with every point moved."""
        return replace(
            self,
            start=move(self.start),
            first=move(self.first),
            second=move(self.second),
            end=move(self.end),
        )


Segment = Line | Arc | Cubic


def has_length(segment: Segment) -> bool:
    """Whether a segment leads anywhere; without measuring a curve, which takes long."""
    if isinstance(segment, Arc):
        return True
    spots = (segment.first, segment.second) if isinstance(segment, Cubic) else ()
    return any(math.dist(segment.start, spot) > NOISE for spot in (*spots, segment.end))


def tuple2(values: Iterable[float]) -> Spot:
    """Two numbers as a point."""
    x, y = values
    return x, y


def roots(a: float, b: float, c: float) -> list[float]:
    """Roots of a t^2 + b t + c strictly between 0 and 1, rising."""
    if abs(a) <= 1e-12 * (abs(b) + abs(c)):
        found = [-c / b] if b else []
    else:
        under = b * b - 4 * a * c
        if under < 0:
            return []
        # The larger root first, and the other by their product, so that nothing cancels.
        far = -(b + math.copysign(math.sqrt(under), b)) / 2
        found = [far / a] + ([c / far] if far else [])
    return sorted({t for t in found if 0 < t < 1})
