"""An outline from a drawing: the path of an .svg file by its id, in true units of cloth.

The file may come from anywhere: document types and entities are refused before they are read,
and so are files over 5 MB and paths of over 50,000 points.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from xml.parsers import expat

from marker.errors import BadInput
from marker.geometry.affine import NUMBER, Affine, parse_transform, scaling
from marker.geometry.outline import Outline
from marker.geometry.svgpath import MOST_TEXT, outlined
from marker.units import CM, INCH, MM

PHYSICAL = {"mm": float(MM), "cm": float(CM), "in": float(INCH), "pt": INCH / 72, "pc": INCH / 6}
PIXEL = INCH / 96
"""CSS: 1 in = 96 px (W3C)."""
MOST_DEEP = 200
"""Elements within elements that are followed; drawings of pieces have a handful."""
GROUPS = {"g", "a", "defs", "switch"}
_SIZE = re.compile(rf"\s*({NUMBER})\s*([a-zA-Z%]*)\s*")
REMEDY = 'give the drawing its size on paper, such as width="210mm", and save it again'


@dataclass
class _Found:
    """What is gathered while a drawing is read."""

    wanted: str
    open: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    hits: list[tuple[str, dict[str, str], Affine]] = field(default_factory=list)

    def enter(self, tag: str, attributes: dict[str, str]) -> None:
        """Take note of an element, and keep it where it is the one asked for."""
        if not self.open and tag != "svg":
            raise BadInput(f"the drawing is not SVG: it starts with <{tag}>; save it as SVG")
        self.open.append((tag, attributes))
        if len(self.open) > MOST_DEEP:
            raise BadInput(
                f"the drawing nests its elements more than {MOST_DEEP} deep; save the piece's "
                "path alone"
            )
        if "id" in attributes:
            self.ids.append(attributes["id"][:40])
            if attributes["id"] == self.wanted:
                if self.hits:
                    raise BadInput(
                        f"the drawing has two elements of id {self.wanted!r}; give each its own"
                    )
                self.hits.append((tag, attributes, self.place()))

    def place(self) -> Affine:
        """What the drawing's scale and all transforms make of the element at hand."""
        root, *inner = self.open
        place = _page(root[1])
        for depth, (tag, attributes) in enumerate(self.open):
            last = depth == len(self.open) - 1
            if depth and not last and tag not in GROUPS:
                raise BadInput(
                    f"{self.wanted!r} lies inside a <{tag}>, which draws it elsewhere; "
                    "move the path out of it"
                )
            if "transform" in attributes.get("style", "") or (
                not depth and "transform" in attributes
            ):
                raise BadInput(
                    f"{self.wanted!r} is moved by a style or by the whole drawing's transform; "
                    "apply it to the path and save again"
                )
        for _, attributes in inner:
            place = place.after(parse_transform(attributes.get("transform", "")))
        return place


def read_drawing(path: Path) -> bytes:
    """The bytes of a drawing; `BadInput` where it can't be read or is over 5 MB."""
    try:
        with path.open("rb") as file:
            data = file.read(MOST_TEXT + 1)
    except OSError as fault:
        reason = fault.strerror or "it can't be read"
        raise BadInput(f"the drawing {path.name} can't be read: {reason.lower()}") from None
    if len(data) > MOST_TEXT:
        raise BadInput(f"the drawing {path.name} is over 5 MB; save the piece's path alone")
    return data


def from_svg(data: bytes, path_id: str, names: Sequence[str] = ()) -> Outline:
    """The outline that the element `path_id` draws: a path, a polygon or a plain rectangle.

    Width, height and viewBox give the scale, the transforms of all elements round it are
    applied, and y is turned to run up. `names` as in `from_path`. Raises `BadInput`: no such
    id, no physical size, entities, a drawing that is not SVG, or an outline that is no piece.
    """
    if len(data) > MOST_TEXT:
        raise BadInput("the drawing is over 5 MB; save the piece's path alone")
    found = _read(data, path_id)
    if not found.hits:
        shown = ", ".join(repr(name) for name in found.ids[:8]) or "none at all"
        raise BadInput(f"the drawing has no path of id {path_id!r}; its ids are {shown}")
    tag, attributes, place = found.hits[0]
    if place.a * place.d == place.b * place.c:
        raise BadInput(
            f"the drawing's transforms flatten {path_id!r} to nothing; take them out, and save "
            "it again"
        )
    return outlined(_path_data(tag, attributes, path_id), place, names)


def _read(data: bytes, wanted: str) -> _Found:
    """Walk through the drawing with an eye on the transforms, and keep what was asked for."""
    found = _Found(wanted)
    parser = expat.ParserCreate(namespace_separator=" ")

    def refuse(*_: object) -> None:
        raise BadInput(
            "the drawing has a document type or entities, which are not read; save it as plain SVG"
        )

    parser.StartDoctypeDeclHandler = refuse
    parser.EntityDeclHandler = refuse
    parser.StartElementHandler = lambda name, attributes: found.enter(
        name.rpartition(" ")[2], attributes
    )
    parser.EndElementHandler = lambda _: found.open.pop()
    try:
        parser.Parse(data, True)
    except expat.ExpatError as fault:
        raise BadInput(
            f"the drawing is not sound XML (line {fault.lineno}); save it again as plain SVG"
        ) from None
    return found


def _page(attributes: dict[str, str]) -> Affine:
    """From the drawing's own figures to units of 1/160 mm, y up."""
    width, height = _size(attributes.get("width")), _size(attributes.get("height"))
    size = width or height
    if size is None:
        raise BadInput(f"the drawing has no size in mm, cm or in; {REMEDY}")
    if not attributes.get("viewBox", "").strip():
        return scaling(PIXEL, -PIXEL)
    parts = [p for p in re.split(r"[\s,]+", attributes["viewBox"].strip()) if p]
    if len(parts) != 4 or not all(re.fullmatch(NUMBER, part) for part in parts):
        raise BadInput("the drawing's viewBox can't be read; save it again as plain SVG")
    x, y, wide, high = (float(part) for part in parts)
    if wide <= 0 or high <= 0:
        raise BadInput("the drawing's viewBox is empty; save it again as plain SVG")
    scales = [real / drawn for real, drawn in ((width, wide), (height, high)) if real]
    if max(scales) > 1.001 * min(scales):
        raise BadInput(
            f"the drawing's width, height and viewBox don't agree on its scale; {REMEDY}"
        )
    # Which of two that agree but for the last digit printed does not matter: the first.
    return scaling(scales[0], -scales[0]).after(Affine(e=-x, f=-y))


def _size(text: str | None) -> float | None:
    """A width or height in units; None where it is not a physical length."""
    match = _SIZE.fullmatch(text or "")
    if match is None or match[2].lower() not in PHYSICAL:
        return None
    size = float(match[1]) * PHYSICAL[match[2].lower()]
    return size if 0 < size < 1e12 else None


def _path_data(tag: str, attributes: dict[str, str], path_id: str) -> str:
    if tag == "path":
        return attributes.get("d", "")
    if tag == "polygon":
        return f"M {attributes.get('points', '')} Z"
    if tag == "rect" and not {"rx", "ry"} & set(attributes):
        x, y = attributes.get("x", "0"), attributes.get("y", "0")
        wide, high = attributes.get("width", "0"), attributes.get("height", "0")
        return f"M {x} {y} h {wide} v {high} h -{wide} Z"
    raise BadInput(f"{path_id!r} is a <{tag}>, not a path; turn it into a path and save again")
