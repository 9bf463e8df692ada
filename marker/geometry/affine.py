"""Affine maps of the plane: what a drawing's transforms and units come to."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from marker.errors import BadInput
from marker.geometry.curves import Spot

NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
LONGEST_LIST = 10_000
"""Characters of a list of transforms; drawings have a few hundred at most."""
_CALL = re.compile(r"\s*([A-Za-z]+)\s*\(([^()]*)\)\s*,?")


@dataclass(frozen=True)
class Affine:
    """x' = a x + c y + e, y' = b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __call__(self, spot: Spot) -> Spot:
        """The place that a spot is mapped to."""
        x, y = spot
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def after(self, first: Affine) -> Affine:
        """The map that does `first`, then this one."""
        a, b = self.a * first.a + self.c * first.b, self.b * first.a + self.d * first.b
        c, d = self.a * first.c + self.c * first.d, self.b * first.c + self.d * first.d
        return Affine(a, b, c, d, *self((first.e, first.f)))

    @property
    def flips(self) -> bool:
        """Whether left and right change places."""
        return self.a * self.d - self.b * self.c < 0

    @property
    def scale(self) -> float | None:
        """The one factor of a map that keeps circles round; None where it does not."""
        along, across = math.hypot(self.a, self.b), math.hypot(self.c, self.d)
        skew = abs(self.a * self.c + self.b * self.d)
        same = abs(along - across) <= 1e-9 * along and skew <= 1e-9 * along * along
        return along if same else None


def scaling(x: float, y: float) -> Affine:
    """The map that multiplies x and y."""
    return Affine(a=x, d=y)


def parse_transform(text: str) -> Affine:
    """Read an SVG transform list; the last one written acts first.

    Raises `BadInput` on any word or number that does not belong there.
    """
    found, at = Affine(), 0
    text = text.strip()
    if len(text) > LONGEST_LIST:
        raise BadInput(_unread(text))
    while at < len(text):
        match = _CALL.match(text, at)
        if match is None:
            raise BadInput(_unread(text))
        found = found.after(_one(match[1], match[2], text))
        at = match.end()
    return found


def _one(name: str, inside: str, text: str) -> Affine:
    parts = [part for part in re.split(r"[\s,]+", inside.strip()) if part]
    if not all(re.fullmatch(NUMBER, part) and math.isfinite(float(part)) for part in parts):
        raise BadInput(_unread(text))
    match name, [float(part) for part in parts]:
        case "matrix", [a, b, c, d, e, f]:
            return Affine(a, b, c, d, e, f)
        case "translate", [x, *rest] if len(rest) <= 1:
            return Affine(e=x, f=rest[0] if rest else 0.0)
        case "scale", [x, *rest] if len(rest) <= 1:
            return scaling(x, rest[0] if rest else x)
        case "rotate", [angle]:
            return _rotation(angle)
        case "rotate", [angle, x, y]:
            return Affine(e=x, f=y).after(_rotation(angle)).after(Affine(e=-x, f=-y))
        case "skewX", [angle]:
            return Affine(c=math.tan(math.radians(angle)))
        case "skewY", [angle]:
            return Affine(b=math.tan(math.radians(angle)))
    raise BadInput(_unread(text))


def _rotation(degrees: float) -> Affine:
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return Affine(cos, sin, -sin, cos)


def _unread(text: str) -> str:
    shown = text if len(text) <= 40 else text[:37] + "..."
    return f"the drawing's transform {shown!r} can't be read; apply it to the path and save again"
