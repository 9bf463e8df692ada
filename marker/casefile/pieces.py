"""The tables of pieces that the user brings: what they may say, and their outlines as read."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator

from marker import units
from marker.errors import BadInput
from marker.garments.brought.piece import Matched, OwnPiece
from marker.garments.matching import WISE
from marker.garments.words import Length, Size, Strict, Text, Texts, refuse, shown, text_fault
from marker.geometry import Outline
from marker.geometry.curves import Spot
from marker.geometry.offset import Corner
from marker.geometry.shapes import SIDES, rectangle
from marker.geometry.svgfile import from_svg, read_drawing
from marker.geometry.svgpath import from_path, from_points
from marker.piece import Grain
from marker.units import CM, INCH, MM

WAYS = {
    "length": "length and breadth",
    "breadth": "length and breadth",
    "points": "points",
    "d": "d",
    "svg": "svg",
}
"""The keys that give an outline, and what each is told as; just one of them may be given."""
BESIDES = {"unit": "d", "id": "svg"}
"""Keys that only say something beside another."""
SCALE = {"mm": MM, "cm": CM, "in": INCH}
MOST = 1000
PLACE = 'such as ["12 cm", "4.5 cm"]'


def _place(value: Any, number: int) -> Spot:
    if not isinstance(value, list) or len(value) != 2:
        refuse(
            f"number {number} is {shown(value)}, not a place; write how far along and how far "
            f"across it lies, {PLACE}"
        )
    along, across = (_signed(length, number) for length in value)
    return along, across


def _signed(value: Any, number: int) -> float:
    """A length that may run back from 0, 0."""
    try:
        text = value.strip() if isinstance(value, str) else shown(value)
        back = text.startswith("-")
        length = units.parse(text.removeprefix("-"))
    except BadInput as error:
        refuse(f"number {number}: {error}")
    return float(-length if back else length)


def _points(value: Any) -> tuple[Spot, ...]:
    if not isinstance(value, list) or len(value) < 3:
        refuse(f"{shown(value)} is not an outline; give three places or more, each {PLACE}")
    return tuple(_place(place, number) for number, place in enumerate(value, 1))


def _names(value: Any) -> tuple[str, ...]:
    """Names of edges in order; an empty text leaves one without."""
    if not isinstance(value, list) or not value:
        refuse(f'{shown(value)} is not a list of names; write one for each edge, as ["hem", ""]')
    for number, name in enumerate(value, 1):
        if not isinstance(name, str):
            refuse(f"number {number} is {shown(name)}, not text; put it in quotes")
        if name and (fault := text_fault(name)):
            refuse(f"number {number}: {fault}")
    return tuple(name.strip() for name in value)


def _data(value: Any) -> str:
    if not isinstance(value, str):
        refuse(f'{shown(value)} is not path data; write it in quotes, as "M 0 0 H 30 V 20 Z"')
    return value


def _spot(value: Any) -> Spot:
    if not isinstance(value, list) or len(value) != 2:
        refuse(
            f"{shown(value)} is not a place; write how far along and how far across it lies, "
            f"{PLACE}"
        )
    along, across = (_signed(length, number) for number, length in enumerate(value, 1))
    return along, across


Points = Annotated[tuple[Spot, ...], PlainValidator(_points)]
Names = Annotated[tuple[str, ...], PlainValidator(_names)]
Data = Annotated[str, PlainValidator(_data)]
Place = Annotated[Spot, PlainValidator(_spot)]


class MatchTable(Strict):
    """The point by which a piece matches others of one set, or its own copies."""

    set: Text = Field(description="a name that all pieces share that match")
    at: Place = Field(description=f"a place on the outline, {PLACE}")
    wise: Literal["lengthwise", "crosswise", "both"] = Field(
        default="lengthwise", description='which way: "lengthwise", "crosswise" or "both"'
    )


class PieceTable(Strict):
    """A piece that the user brings. Its outline is given in one of four ways; u runs along it.

    The first figure of a place is u, which `grain` lays; drawings have u to the right.
    """

    name: Text | None = Field(default=None, description='a name, such as "Yoke"')
    cloth: Texts | None = Field(default=None, description="the key of a cloth, or a list of keys")
    wearer: Text | None = Field(default=None, description="the key of a wearer")
    count: int | None = Field(
        default=None, ge=1, le=MOST, description=f"how many are cut, from 1 to {MOST}"
    )
    pairs: bool = Field(default=False, description="true where half of them are turned over")
    grain: Literal["along", "across", "either", "bias"] = Field(
        default="along", description="how its length lies"
    )
    length: Size | None = Field(default=None, description='a length, such as "40 cm"')
    breadth: Size | None = Field(default=None, description='a breadth, such as "20 cm"')
    points: Points | None = Field(default=None, description="a list of places")
    d: Data | None = Field(default=None, description="the data of an SVG path")
    unit: Literal["mm", "cm", "in"] | None = Field(
        default=None, description='the unit of its figures, "mm", "cm" or "in"'
    )
    svg: Text | None = Field(default=None, description='the file of a drawing, such as "yoke.svg"')
    id: Text | None = Field(default=None, description="the id of the path in the drawing")
    edges: Names | None = Field(default=None, description="a list of names, one for each edge")
    fold: Text | None = Field(default=None, description="the name of the edge on the fold")
    seam: Length | None = Field(default=None, description='the seam allowance, such as "1 cm"')
    seams: dict[str, Length] | None = Field(
        default=None, description='allowances of edges by name, such as { hem = "4 cm" }'
    )
    seam_included: bool | None = Field(
        default=None, description="true where the outline holds its seam allowance"
    )
    corners: Literal["mitred", "square"] | None = Field(
        default=None, description="how the allowance goes round corners"
    )
    torn: bool | None = Field(default=None, description="false where no edge of it may be torn")
    match: MatchTable | None = Field(
        default=None, description='a table, such as { set = "front", at = ["0 cm", "4 cm"] }'
    )

    def piece(self, key: str, cloths: tuple[str, ...], file: str, folder: Path) -> OwnPiece:
        """The piece, its outline read; `folder` is where drawings are looked for.

        Raises `BadInput` naming file, key and value.
        """
        at = f"{file}: piece.{key}"
        self._agree(at)
        return OwnPiece(
            key=key,
            name=self.name or key,
            outline=self._outline(at, folder),
            cloths=cloths,
            count=self.count or (2 if self.pairs else 1),
            grain=Grain(self.grain),
            pairs=self.pairs,
            fold=self.fold or "",
            seam=self.seam,
            seams=self.seams,
            included=bool(self.seam_included),
            corners=Corner(self.corners or "mitred"),
            torn=self.torn,
            plain_names=self.length is not None and self.edges is None,
            matched=self._matched(),
        )

    def _matched(self) -> Matched | None:
        """The point to match, in places of the outline as it is set against 0, 0."""
        if self.match is None:
            return None
        u, v = self.match.at
        # Points are told where the user counts them from; drawings from their own corner.
        corners = self.points or ((0.0, 0.0),)
        at = u - min(corner[0] for corner in corners), v - min(corner[1] for corner in corners)
        return Matched(self.match.set, at, WISE[self.match.wise])

    def _agree(self, at: str) -> None:
        """Refuse keys that contradict each other, or say nothing together."""
        self._one_outline(at)
        if self.pairs and (self.count or 2) % 2:
            raise BadInput(
                f"{at}.count is {self.count}, but pairs = true turns half of them over; give an "
                "even count"
            )
        if self.seam_included and self.seams:
            raise BadInput(
                f"{at}.seams is given, but seam_included = true says that nothing is added; "
                "take one out"
            )
        if self.seam_included is False and not self.seam and not self.seams:
            raise BadInput(
                f"{at}.seam is missing, though seam_included = false; give the seam allowance "
                'that is added, such as "1 cm"'
            )
        if self.corners and (self.seam_included or not (self.seam or self.seams)):
            raise BadInput(
                f"{at}.corners says how added seam allowance goes round, and none is added; "
                "take it out"
            )

    def _one_outline(self, at: str) -> None:
        """Refuse no outline, a second one, and what only goes with another way."""
        given = [key for key in WAYS if getattr(self, key) is not None]
        ways = list(dict.fromkeys(WAYS[key] for key in given))
        if not ways:
            raise BadInput(
                f"{at} has no outline; give length and breadth, points, d and unit, or svg and id"
            )
        if len(ways) > 1:
            raise BadInput(
                f"{at} has {' and '.join(given)}, but an outline is given in one way; take the "
                "others out"
            )
        for key in ("length", "breadth"):
            if ways == [WAYS["length"]] and key not in given:
                raise BadInput(f"{at}.{key} is missing; give both, as length runs along u")
        for key, beside in BESIDES.items():
            has = getattr(self, key) is not None
            if has and beside not in given:
                raise BadInput(f"{at}.{key} goes with {beside}, which is not given; take it out")
            if beside in given and not has:
                what = type(self).model_fields[key].description
                raise BadInput(f"{at}.{key} is missing beside {beside}; give {what}")

    def _outline(self, at: str, folder: Path) -> Outline:
        """The outline as read; geometry's own sentence after file, key and value."""
        names = self.edges or ()
        try:
            if self.points is not None:
                at = f"{at}.points"
                return _through(self.points, names)
            if self.d is not None:
                at = f"{at}.d {shown(self.d)}"
                return from_path(self.d, SCALE[self.unit or "mm"], names)
            if self.svg is not None:
                at = f"{at}.svg {shown(self.svg)}, id {shown(self.id)}"
                return from_svg(_drawing(folder / self.svg), self.id or "", names)
        except BadInput as error:
            raise BadInput(f"{at}: {error}") from None
        try:
            return _rectangle(self.length or 0, self.breadth or 0, names)
        except BadInput as error:
            raise BadInput(f"{at}.{error}") from None


def _through(points: Sequence[Spot], names: Sequence[str]) -> Outline:
    corners = list(points[:-1] if points[0] == points[-1] else points)
    for number, (here, after) in enumerate(pairwise(corners), 1):
        if here == after:
            raise BadInput(f"number {number + 1} repeats the place before it; take one out")
    if names and len(names) != len(corners):
        raise BadInput(
            f"they make {len(corners)} edges, but edges has {len(names)} names; give one for "
            "each, empty where it needs none"
        )
    return from_points(corners, names)


def _rectangle(length: int, breadth: int, names: Sequence[str]) -> Outline:
    if names and len(names) != len(SIDES):
        raise BadInput(
            f"edges has {len(names)} names, but a rectangle has 4 edges; give one for each, "
            "empty where it needs none"
        )
    whole = rectangle(length, breadth)
    return whole.renamed(dict(zip(SIDES, names, strict=True))) if names else whole


def _drawing(path: Path) -> bytes:
    """The bytes of a drawing; anything but a file could keep the reader waiting."""
    told = "its path is told from the case file's folder"
    try:
        there, plain = path.exists(), path.is_file()
    except OSError as error:  # a name too long, or a folder that may not be entered
        reason = (error.strerror or "no such place").lower()
        raise BadInput(f"the drawing can't be read: {reason}; {told}") from None
    if there and not plain:
        raise BadInput("that is not a file; give the path of an .svg file")
    try:
        return read_drawing(path)
    except BadInput as error:
        if there:
            raise
        raise BadInput(f"{error}; {told}") from None
