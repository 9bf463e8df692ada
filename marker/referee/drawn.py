"""One element of a written plan against the one thing of the lay that it must show."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marker.geometry import Rect
from marker.referee.laid import Point
from marker.referee.words import figure, place, plain, spell

SVG = "{http://www.w3.org/2000/svg}"
_WHOLE = re.compile(r"-?\d{1,15}", re.ASCII)
_PAIR = r"\s*-?\d{1,15}(?:\s+|\s*,\s*)-?\d{1,15}\s*"
_PATH = re.compile(rf"\s*M{_PAIR}(?:L{_PAIR})*Z\s*", re.ASCII)
_FIELDS = {"rect": ("x", "y", "width", "height"), "line": ("x1", "y1", "x2", "y2")}


@dataclass(frozen=True)
class Shape:
    """A rectangle, a tear's line as a rectangle of no breadth, or a ring within its box.

    `tag` is the element that draws it.
    """

    tag: str
    rect: Rect
    ring: Sequence[Point] = ()


def tag(node: ET.Element) -> str:
    """What kind of element this is, as a word for a sentence."""
    return plain(str(node.tag).removeprefix(SVG))


def shape_faults(name: str, node: ET.Element, shape: Shape) -> Iterator[str]:
    """How an element fails to show its shape; coordinates agree to the unit."""
    if node.tag != f"{SVG}{shape.tag}":
        yield f"{plain(name)} is drawn as a {tag(node)}, not as a {shape.tag}."
    elif shape.ring:
        yield from _ring_faults(name, node, shape.ring)
    else:
        yield from _rect_faults(name, node, shape)


def _rect_faults(name: str, node: ET.Element, shape: Shape) -> Iterator[str]:
    fields = [node.get(field, "") for field in _FIELDS[shape.tag]]
    for field, text in zip(_FIELDS[shape.tag], fields, strict=True):
        if not _WHOLE.fullmatch(text):
            yield f"{plain(name)} has {text[:40]!r} for its {field}, not a whole number of units."
    if not all(map(_WHOLE.fullmatch, fields)):
        return
    a, b, c, d = map(int, fields)
    rect = Rect(a, b, a + c, b + d) if shape.tag == "rect" else _ordered(a, b, c, d)
    if rect != shape.rect:
        yield f"{plain(name)} is drawn at {place(rect)}, but lies at {place(shape.rect)}."


def _ordered(x1: int, y1: int, x2: int, y2: int) -> Rect:
    """A line from either end."""
    return Rect(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))


def _ring_faults(name: str, node: ET.Element, ring: Sequence[Point]) -> Iterator[str]:
    """A path through the corners of a ring, from whichever of them and either way round."""
    text = node.get("d", "")
    if not _PATH.fullmatch(text):
        yield (
            f"The path of {plain(name)} begins {text[:20]!r}; it must be M x y, L x y for every "
            "further corner, and Z, all in whole units."
        )
        return
    numbers = [int(number) for number in _WHOLE.findall(text)]
    drawn = list(zip(numbers[::2], numbers[1::2], strict=True))
    if len(drawn) != len(ring):
        yield (
            f"{plain(name)} is drawn with {figure(len(drawn))} corners, "
            f"but has {figure(len(ring))}."
        )
    elif strange := next(iter(set(drawn) - set(ring)), None):
        yield (
            f"{plain(name)} is drawn with a corner at {spell(strange[0])} along and "
            f"{spell(strange[1])} across, where it has none."
        )
    elif not _turned(drawn, list(ring)) and not _turned(drawn[::-1], list(ring)):
        yield f"{plain(name)} is drawn with its corners in another order."


def _turned(drawn: list[Point], ring: list[Point]) -> bool:
    """Whether two rings are one, begun at any corner."""
    start = ring.index(drawn[0])
    return drawn == ring[start:] + ring[:start]
