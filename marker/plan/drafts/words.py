"""The words of a draft: readings of the corners, every edge, and the lines inside."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from marker.geometry.curves import Arc, Spot
from marker.piece import Grain, Mark, MarkKind, Piece
from marker.plan.drafts.draft import Draft, Stretch, ends
from marker.plan.drawing.lettering import clean
from marker.plan.words.figures import step_words
from marker.plan.words.runs import measured, reading
from marker.plan.words.sizes import listed, quoted
from marker.units import MM, System, Units, beside, format_length, format_number, set_fractions

HOW = (
    "Chalk the box square to the grain, and mark each corner by its two readings: along, from the "
    "left edge of the box as the piece is drawn here, and up, from its lower edge.",
    "Join straight edges with a rule. Swing an arc with a tape or a string pinned at its centre; "
    "where that can't be reached, mark its three offsets from the straight line between its ends, "
    "at a quarter, half and three quarters of that line.",
    "The outline is the cut line, seams and hems are inside it. On the cloth a piece lies as on "
    "the plan: turned, or turned over, where that says so. Readings are to the nearest {}.",
)
FULL_SIZE = (
    "The command marker templates prints curved pieces at full size, on pages to tape together "
    "and on one large sheet; straight pieces have no template, since a tape measure is better."
)
PER_ROW = 10
"""So many readings stand side by side in a table."""
SAME = 0.15 * MM
"""A line inside that keeps its distance from an edge to so much is told by that distance."""
FAR = 1.0 * MM
"""A place this near an edge of the box, or the middle line, is on it."""
GRAINS = {
    Grain.ALONG: "the warp runs from left to right",
    Grain.ACROSS: "the warp runs up and down",
    Grain.EITHER: "the warp runs either way",
    Grain.BIAS: "the warp runs at 45 degrees",
}


def how_words(units: Units, *, curved: bool = False) -> tuple[str, ...]:
    """How every draft is read and chalked, and that `curved` ones can be had at full size."""
    how = (line.format(step_words(units)) for line in HOW)
    return (*how, *((FULL_SIZE,) if curved else ()))


def draft_words(draft: Draft, units: Units) -> dict[str, Any]:
    """What the sheet says of one draft: its box, tables of readings and lines."""
    told = _Told(draft, units)
    return {
        "box": set_fractions(told.box()),
        "tables": [told.corners(), *told.curves()] if draft.corners else [],
        "edges": [set_fractions(line) for line in told.edges()],
        "inside": [set_fractions(line) for line in told.inside()],
    }


class _Told:
    """Words for one draft in one measure."""

    def __init__(self, draft: Draft, units: Units) -> None:
        self.draft, self.units = draft, units
        self.piece: Piece = draft.piece

    def long(self, value: float) -> str:
        """A length to the nearest, with its unit."""
        return format_length(round(value), self.units)

    def box(self) -> str:
        """The box, and the grain in it."""
        piece = self.piece
        size = measured(self.units, "{} along × {}", piece.length, piece.breadth)
        return f"{size} up; {GRAINS[piece.grain]}"

    def place(self, spot: Spot, system: System) -> tuple[str, str]:
        """The two readings of a place; on an edge of the box they are the edge's own."""
        size = self.piece.length, self.piece.breadth
        told = []
        for value, most in zip(spot, size, strict=True):
            edge = abs(value - most) <= SAME
            told.append(
                reading(most, system) if edge else format_number(round(max(0.0, value)), system)
            )
        return told[0], told[1]

    def table(self, head: str, names: Sequence[str], spots: Sequence[Spot]) -> dict[str, Any]:
        """Places side by side, in rows short enough for the page."""
        rows = []
        for start in range(0, len(spots), PER_ROW):
            some = slice(start, start + PER_ROW)
            lead, *also = (self.readings(spots[some], system) for system in self.units.systems)
            rows.append({"names": list(names[some]), **lead, "also": also})
        return {"head": head, "rows": rows, "columns": min(len(spots), PER_ROW)}

    def readings(self, spots: Sequence[Spot], system: System) -> dict[str, Any]:
        """The readings of places in one measure, named where there are two."""
        along, up = zip(*(self.place(spot, system) for spot in spots), strict=True)
        return {
            "unit": f", {system.value}" if len(self.units.systems) > 1 else "",
            "along": [set_fractions(told) for told in along],
            "up": [set_fractions(told) for told in up],
        }

    def corners(self) -> dict[str, Any]:
        """The readings of every corner."""
        corners = self.draft.corners
        names = [str(number + 1) for number in range(len(corners))]
        return self.table("corner", names, corners)

    def curves(self) -> Iterator[dict[str, Any]]:
        """Points on every edge that is neither straight nor an arc."""
        for number, stretch in enumerate(self.draft.stretches):
            if not stretch.straight and stretch.arc is None:
                spots = stretch.points(self.units.lead)
                yield self.table(f"on {self.ends(number)}", [""] * len(spots), spots)

    def ends(self, number: int) -> str:
        """A stretch by its two corners."""
        return f"{number + 1} to {(number + 1) % len(self.draft.stretches) + 1}"

    def edge(self, number: int) -> str:
        """An edge in a sentence: by its name, or by its corners where it has none."""
        name = self.draft.stretches[number].name
        return quoted(name) if name else f"the edge {self.ends(number)}"

    def edges(self) -> Iterator[str]:
        """Every edge: its corners, its name, and how it runs."""
        for number, stretch in enumerate(self.draft.stretches):
            lead = self.ends(number) if self.draft.corners else "all round"
            name = f", {quoted(stretch.name)}" if stretch.name else ""
            yield f"{lead}{name}: {self.run(stretch)}."

    def run(self, stretch: Stretch) -> str:
        """How an edge runs."""
        length = measured(self.units, "{}", round(stretch.length))
        arc = stretch.arc
        if stretch.straight:
            return f"straight, {length}"
        if arc is None:
            step = "5 cm" if self.units.lead is System.CM else "2 in"
            return f"a curve, {length} along it, through the points told (about every {step})"
        whole = "circle" if not self.draft.corners else "arc"
        bend = "" if whole == "circle" else ("bulging " if arc.ccw else "hollow ")
        return (
            f"{bend}{whole}, {length} along it, of radius {self.long(arc.radius)}; "
            f"its centre {self.centre(arc)}{self.offsets(stretch)}"
        )

    def centre(self, arc: Arc) -> str:
        """Where the centre of an arc is, from the edges of the box or the middle line."""
        for number, corner in enumerate(self.draft.corners):
            if math.dist(corner, arc.centre) <= FAR:
                return f"at corner {number + 1}"
        u, v = arc.centre
        along = self.beyond(u, self.piece.length, ("left", "right"), "along")
        if abs(v - self.piece.breadth / 2) <= FAR:
            return f"{along}, on the middle line"
        return f"{along}, {self.beyond(v, self.piece.breadth, ('lower', 'upper'), 'up')}"

    def beyond(self, value: float, most: int, edges: tuple[str, str], way: str) -> str:
        """One reading of a centre, which may lie beyond the box."""
        if abs(value) <= FAR or abs(value - most) <= FAR:
            return f"level with the {edges[abs(value) > FAR]} edge of the box"
        if value < 0:
            return f"{self.long(-value)} beyond the {edges[0]} edge"
        if value > most:
            return f"{self.long(value - most)} beyond the {edges[1]} edge"
        return f"{self.long(value)} {way}"

    def offsets(self, stretch: Stretch) -> str:
        """How far an arc lies off the straight line between its ends."""
        if stretch.sweep >= math.pi - 1e-6 or not self.draft.corners:
            return ""
        quarter, half = stretch.offsets()
        sizes = [round(size) for size in (quarter, half, quarter)]
        told = beside(
            self.units,
            lambda s: "{}, {} and {} {}".format(*(format_number(x, s) for x in sizes), s.value),
        )
        return f"; offsets {told}"

    def inside(self) -> Iterator[str]:
        """Seam, hem and fold lines, and the notches."""
        lines: dict[str, dict[str, list[str]]] = {}
        for mark, name in self.lines():
            depth, edge = self.within(mark)
            places = lines.setdefault(name, {}).setdefault(depth, [])
            if edge not in places:
                places.append(edge)
        for known, depths in lines.items():
            told = [f"{depth}{self.all_of(edges)}" for depth, edges in depths.items()]
            yield f"{known[0].upper()}{known[1:]}: {', '.join(told)}."
        yield from self.notches()

    def all_of(self, edges: Sequence[str]) -> str:
        """Edges in a row, or that they are all there are."""
        whole = {self.edge(number) for number in range(len(self.draft.stretches))}
        return "every edge" if len(whole) > 1 and whole == set(edges) else listed(edges)

    def lines(self) -> Iterator[tuple[Mark, str]]:
        """Every line inside with its name; a line without one goes on from the last of its kind."""
        edges = {stretch.name for stretch in self.draft.stretches} | {"seam"}
        name, kind = "", None
        for mark in self.piece.marks:
            if mark.kind is MarkKind.NOTCH:
                continue
            name = clean(mark.name) or (name if mark.kind is kind else "") or mark.kind.value
            kind = mark.kind
            if kind is MarkKind.SEAM and name in edges:
                name = "seam line"  # by which edge it runs is told behind its distance
            yield mark, name

    def within(self, mark: Mark) -> tuple[str, str]:
        """A line by its distance from an edge, else by its two ends."""
        start, end = ends(mark)
        middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        number, _, _ = self.draft.nearest(middle)
        first, last = self.draft.off(number, start), self.draft.off(number, end)
        if abs(first - last) <= SAME:
            return f"{self.long(max(first, last))} inside ", self.edge(number)
        return "", "; ".join(self.from_to(start, end, system) for system in self.units.systems)

    def from_to(self, start: Spot, end: Spot, system: System) -> str:
        """A line by the readings of its two ends."""
        (a, b), (c, d) = self.place(start, system), self.place(end, system)
        return f"from {a} along, {b} up to {c} along, {d} up ({system.value})"

    def notches(self) -> Iterator[str]:
        """Every notch by how far along its edge it stands; those of one name together."""
        found: dict[str, list[str]] = {}
        for mark in self.draft.notches:
            number, along, _ = self.draft.nearest(ends(mark)[0])
            found.setdefault(clean(mark.name), []).append(self.stands(number, along))
        for name, places in found.items():
            told = dict.fromkeys(
                place.replace(" along “", " along each “") if places.count(place) > 1 else place
                for place in places
            )
            yield f"Notch{name and ' '}{name}: {'; '.join(told)}."

    def stands(self, number: int, along: float) -> str:
        """A place along a stretch, from the nearer of its corners."""
        stretch, last = self.draft.stretches[number], len(self.draft.stretches)
        if not self.draft.corners:
            spot = stretch.edge.at(along)[0]
            places = ((self.place(spot, system), system) for system in self.units.systems)
            return "; ".join(f"at {u} along, {v} up ({system.value})" for (u, v), system in places)
        edge = self.edge(number)
        back = stretch.length - along
        if min(along, back) <= FAR:
            return f"at corner {number + 1 if along < back else (number + 1) % last + 1}"
        if abs(along - back) <= 2 * FAR:
            return f"half way along {edge}"
        if along < back:
            return f"{self.long(along)} from corner {number + 1} along {edge}"
        return f"{self.long(back)} from corner {(number + 1) % last + 1} along {edge}"
