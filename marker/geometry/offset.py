"""Seam allowance outside a finished outline: lines stay lines, and arcs stay arcs."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from marker.errors import BadInput
from marker.geometry.biarc import arcs_of
from marker.geometry.carriers import Drawn, cut, meetings, place_on
from marker.geometry.curves import NOISE, Cubic, Line, Segment, Spot, cross
from marker.geometry.outline import Outline, closed_up
from marker.geometry.segments import told
from marker.units import MM

LONGEST_MITRE = 4
"""A mitre longer than this many allowances (a corner below 29 degrees) is cut square."""
SMOOTH = 1e-7
"""Directions nearer than this, in radians, run on into one another."""


class Corner(StrEnum):
    """How the allowance goes round a corner that stands out."""

    MITRED = "mitred"
    """Both cut lines run on until they meet."""
    SQUARE = "square"
    """The tip is cut off square to the corner, one allowance away from it."""


@dataclass
class _Span:
    """A cut line while its ends are being settled: a segment, and where on it they fall."""

    segment: Drawn
    allowance: float
    corner: Spot
    """The finished outline's corner where the segment starts."""
    low: float
    high: float

    def ends_at(self, spot: Spot) -> None:
        self.high = place_on(self.segment, spot, self.high)

    def starts_at(self, spot: Spot) -> None:
        self.low = place_on(self.segment, spot, self.low)


def with_allowance(
    outline: Outline,
    allowance: float | Mapping[str, float],
    corner: Corner = Corner.MITRED,
    otherwise: float = 0.0,
) -> Outline:
    """The cut outline: the finished one with seam allowance outside every edge.

    `allowance` is one width (units, nought or more) or one for every edge name, `otherwise`
    for edges it doesn't name. Edges keep their names; the tip of a squared corner, and the
    step where the width changes along a smooth edge, have none. Cubics become arcs within
    1/320 mm first. Raises `BadInput` where an allowance closes up a hollow, swallows an edge
    or makes the outline cross itself.
    """
    spans = _spans(outline, allowance, otherwise)
    joints = [_joint(spans, index, corner) for index in range(len(spans))]
    ring: list[Segment] = []
    for span, joint in zip(spans, joints, strict=True):
        ring += joint
        if span.high - span.low > NOISE:
            ring.append(cut(span.segment, span.low, span.high))
    try:
        return Outline(closed_up(ring))
    except BadInput as fault:
        raise BadInput(f"with its seam allowance {fault}, or give less allowance there") from None


def _spans(
    outline: Outline, allowance: float | Mapping[str, float], otherwise: float
) -> list[_Span]:
    """Every segment set outwards by its allowance, its ends not yet settled."""
    spans = []
    for whole in outline.segments:
        width = (
            allowance.get(whole.name, otherwise) if isinstance(allowance, Mapping) else allowance
        )
        if width < 0:
            raise BadInput(
                f"the seam allowance of edge {whole.name!r} is negative; give nought or more"
            )
        for part in arcs_of(whole) if isinstance(whole, Cubic) else [whole]:
            assert not isinstance(part, Cubic)
            moved = _set_out(part, width)
            spans.append(_Span(moved, width, part.start, 0.0, moved.length))
    return spans


def _set_out(segment: Drawn, width: float) -> Drawn:
    """A segment moved square to itself, to its right, which is outside."""
    if isinstance(segment, Line):
        x, y = segment.heading(0)
        dx, dy = y * width, -x * width
        return replace(
            segment,
            start=(segment.start[0] + dx, segment.start[1] + dy),
            end=(segment.end[0] + dx, segment.end[1] + dy),
        )
    radius = segment.radius + (width if segment.ccw else -width)
    if radius <= NOISE:
        raise BadInput(
            f"a seam allowance of {width / MM:.1f} mm closes up the hollow of radius "
            f"{segment.radius / MM:.1f} mm on {_called(segment)}; give less than the radius"
        )
    part = radius / segment.radius

    def out(spot: Spot) -> Spot:
        centre = segment.centre
        return centre[0] + (spot[0] - centre[0]) * part, centre[1] + (spot[1] - centre[1]) * part

    return replace(segment, start=out(segment.start), end=out(segment.end))


def _turned(spans: list[_Span], index: int) -> float:
    """The angle of the corner at which span `index` starts; to the left is above nought."""
    before, after = spans[index - 1].segment, spans[index % len(spans)].segment
    come, go = before.heading(before.length), after.heading(0)
    return math.atan2(cross(come, go), come[0] * go[0] + come[1] * go[1])


def _joint(spans: list[_Span], index: int, corner: Corner) -> list[Segment]:
    """Settle the corner at which span `index` starts; segments to put in before it, if any."""
    before, after = spans[index - 1], spans[index]
    end, start = before.segment.end, after.segment.start
    turned = _turned(spans, index)
    if math.dist(end, start) <= NOISE:
        return []
    if abs(turned) <= SMOOTH:
        return [Line(end, start)]
    if turned < 0:
        _trim(spans, index)
        return []
    wide = max(before.allowance, after.allowance)
    longest = wide * (LONGEST_MITRE if corner is Corner.MITRED else 1)
    tip = _tip(before, after, turned)
    if tip is not None and math.dist(tip, after.corner) <= longest + NOISE:
        before.ends_at(tip)
        after.starts_at(tip)
        return []
    return _run_on(before, after, turned, corner)


def _tip(before: _Span, after: _Span, turned: float) -> Spot | None:
    """Where two cut lines meet when both run on past a corner that stands out.

    At a blunt corner with a narrow allowance after a wide one, or before it, the wider cut line
    passes over the narrow one's already, and is cut back to it.
    """
    end = before.segment.length
    places = [
        (spot, place_on(before.segment, spot, end) - end, -place_on(after.segment, spot, 0.0))
        for spot in meetings(before.segment, after.segment)
    ]
    found = [spot for spot, on, back in places if min(on, back) >= -NOISE]
    narrow, wide = sorted((before.allowance, after.allowance))
    if not found and narrow < wide * math.cos(turned) - NOISE:
        found = [
            spot
            for spot, on, back in places
            if max(on, back) >= -NOISE and on > -end and back > -after.segment.length
        ]
    return min(found, key=lambda spot: math.dist(spot, after.corner), default=None)


def _run_on(before: _Span, after: _Span, turned: float, corner: Corner) -> list[Segment]:
    """Straight lines from both ends to a common tip, or to a short edge square across it."""
    come, go = before.segment.heading(before.segment.length), after.segment.heading(0)
    wide = max(before.allowance, after.allowance)
    a, b = before.allowance, after.allowance
    sine, cosine = math.sin(turned), math.cos(turned)
    to_tip = (b - a * cosine) / sine if sine > SMOOTH else math.inf
    from_tip = (a - b * cosine) / sine if sine > SMOOTH else math.inf
    half_sine, half_cosine = math.sin(turned / 2), math.cos(turned / 2)
    run_a = max(0.0, (wide - a * half_cosine) / half_sine)
    run_b = max(0.0, (wide - b * half_cosine) / half_sine)
    end, start = before.segment.end, after.segment.start
    mitre = math.hypot(a, to_tip)
    longest = wide * (LONGEST_MITRE if corner is Corner.MITRED else 1)
    # At a right angle beside an edge without allowance the tip is the cut line's very end.
    if min(to_tip, from_tip) >= -NOISE and mitre <= longest + NOISE:
        run_a, run_b = max(to_tip, 0.0), max(from_tip, 0.0)
    first = end[0] + come[0] * run_a, end[1] + come[1] * run_a
    last = start[0] - go[0] * run_b, start[1] - go[1] * run_b
    lines = (
        Line(end, first, before.segment.name),
        Line(first, last),
        Line(last, start, after.segment.name),
    )
    return [line for line in lines if line.length > NOISE]


def _trim(spans: list[_Span], index: int) -> None:
    """Cut both cut lines back to where they cross in a corner that falls in.

    A curve may be of several arcs, so the crossing is sought from the corner outwards over
    the smooth runs on either side; what lies between falls away.
    """
    count = len(spans)
    for back, on in _outwards(_smooth(spans, index - 1, -1), _smooth(spans, index, 1)):
        before, after = spans[index - 1 - back], spans[(index + on) % count]
        found = [
            spot
            for spot in meetings(before.segment, after.segment)
            if before is not after and _on(before, spot) and _on(after, spot)
        ]
        if not found:
            continue
        spot = min(found, key=lambda spot: math.dist(spot, spans[index].corner))
        for gone in [spans[index - 1 - k] for k in range(back)]:
            gone.high = gone.low
        for gone in [spans[(index + k) % count] for k in range(on)]:
            gone.low = gone.high
        before.ends_at(spot)
        after.starts_at(spot)
        return
    # The shorter of the two is the one that the other's allowance leaves no room for.
    raise BadInput(
        _swallowed(min(spans[index - 1], spans[index], key=lambda span: span.segment.length))
    )


def _smooth(spans: list[_Span], index: int, step: int) -> int:
    """How many spans run smoothly on from span `index`, forwards or backwards."""
    for count in range(1, len(spans)):
        joint = index + step * count + (step < 0)
        if abs(_turned(spans, joint % len(spans))) > SMOOTH:
            return count
    return len(spans) - 1


def _outwards(back: int, on: int) -> list[tuple[int, int]]:
    """Steps back and on from a corner, the fewest in all first."""
    return sorted(((b, o) for b in range(back) for o in range(on)), key=sum)


def _on(span: _Span, spot: Spot) -> bool:
    """Whether a spot of the carrier lies on what is left of the cut line."""
    middle = (span.low + span.high) / 2
    return span.low - NOISE <= place_on(span.segment, spot, middle) <= span.high + NOISE


def _swallowed(span: _Span) -> str:
    return (
        f"a seam allowance of {span.allowance / MM:.1f} mm leaves nothing of "
        f"{_called(span.segment)}; give less there, or draw the hollow wider"
    )


def _called(segment: Drawn) -> str:
    """An edge as a message names it: by its name, or else by where it starts."""
    return f"edge {segment.name!r}" if segment.name else f"the edge at {told(segment.start)}"
