"""Read a written plan back, and hold it against the lay it was drawn from.

The plan's group `id="lay"` has 1/160 mm of cloth as its unit, x along the bolt and y up.
In it stand one `rect` for the bolt, each placed copy, each region, each offcut and what of each
flaw lies on the bolt, one `path` for each copy with an outline, and one `line` for each tear,
under their ids; nothing else may. The lines of a repeat may stand in a group `id="repeat"`
before it, set by the same transform.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from marker.geometry import Rect
from marker.lay import Direction, Lay, Tear
from marker.referee.drawn import SVG, Shape, shape_faults, tag
from marker.referee.figures import figure_faults
from marker.referee.laid import laid
from marker.referee.words import plain

_LONGEST = 50_000_000
"""Characters in a drawing; a plan of a thousand pieces has about one in fifty of that."""
_DECIMAL = r"[-+]?\d{1,12}(?:\.\d{1,18})?(?:[eE][-+]?\d{1,2})?"
_TRANSFORM = re.compile(
    rf"\s*translate\(\s*({_DECIMAL})[\s,]+({_DECIMAL})\s*\)"
    rf"[\s,]*scale\(\s*({_DECIMAL})[\s,]+({_DECIMAL})\s*\)\s*",
    re.ASCII,
)
_SHIFTY = frozenset({"transform", "translate", "rotate", "scale", "clip-path", "mask", "filter"})
"""Properties that move, cut or blur what they are set on, whatever their value."""
_GONE = {"display": {"none"}, "visibility": {"hidden", "collapse"}, "opacity": {"0", "0%"}}


def check_drawing(svg: str, lay: Lay) -> tuple[str, ...]:
    """Every way in which a plan's SVG departs from its lay, one sentence each.

    Coordinates must agree to the unit. A drawing that declares a document type or entities
    is refused unread. The lay itself is judged by `findings`, not here.
    """
    unsound = tuple(figure_faults(lay))
    if unsound:
        return unsound
    if len(svg) > _LONGEST:
        return ("The drawing is too large to be a plan.",)
    if re.search(r"<!\s*(DOCTYPE|ENTITY)", svg, re.IGNORECASE):
        return ("The drawing declares a document type or entities, which no plan does.",)
    try:
        root = ET.fromstring(svg)
    except (ET.ParseError, ValueError) as error:
        return (f"The drawing isn't sound XML: {str(error)[:80]}.",)
    groups = [node for node in root.iter(f"{SVG}g") if node.get("id") == "lay"]
    if root.tag != f"{SVG}svg" or len(groups) != 1:
        return (f"The drawing must be SVG with one group of id lay; it has {len(groups)}.",)
    return tuple(_faults(root, groups[0], lay))


def _faults(root: ET.Element, group: ET.Element, lay: Lay) -> Iterator[str]:
    yield from _id_faults(root)
    yield from _sheet_faults(root)
    yield from _frame_faults(root, group)
    yield from _page_faults(root, group, lay)
    yield from _repeat_faults(root, group)
    asked = wanted(lay)
    drawn: set[str] = set()
    for node in group.iter():
        if node is group or node.tag in (f"{SVG}g", f"{SVG}title", f"{SVG}desc"):
            continue
        name = node.get("id", "")
        drawn.add(name)
        if name in asked:
            yield from shape_faults(name, node, asked[name])
        else:
            what = f"{plain(name)}" if name else f"A {tag(node)} without an id"
            yield f"{what} is drawn among the pieces, but the lay has no such thing."
    yield from (f"{plain(name)} isn't drawn." for name in asked if name not in drawn)


def wanted(lay: Lay) -> dict[str, Shape]:
    """Everything that must be drawn, by id."""
    found = {"bolt": Shape("rect", lay.bolt)}
    for spot in laid(lay):
        if spot.polygon is None:
            found[spot.id] = Shape("rect", spot.rect)
        else:
            found[spot.id] = Shape("path", spot.rect, spot.polygon.points)
    for at, region in enumerate(lay.regions, 1):
        found[f"region-{at}"] = Shape("rect", region)
    found |= {f"tear-{tear.number}": Shape("line", _line(tear)) for tear in lay.tears}
    for at, offcut in enumerate(lay.offcuts, 1):
        found[f"offcut-{at}"] = Shape("rect", offcut.rect)
    for at, flaw in enumerate(lay.cloth.flaws, 1):
        seen = _on(lay.bolt, flaw)
        if seen.x0 < seen.x1 and seen.y0 < seen.y1:
            found[f"flaw-{at}"] = Shape("rect", seen)
    return found


def _on(bolt: Rect, flaw: Rect) -> Rect:
    """What of a flaw lies on the bolt; a rectangle turned inside out where nothing does."""
    return Rect(
        max(bolt.x0, flaw.x0), max(bolt.y0, flaw.y0), min(bolt.x1, flaw.x1), min(bolt.y1, flaw.y1)
    )


def _line(tear: Tear) -> Rect:
    hand, at = tear.in_hand, tear.at
    if tear.direction == Direction.ACROSS:
        return Rect(at, hand.y0, at, hand.y1)
    return Rect(hand.x0, at, hand.x1, at)


def _id_faults(root: ET.Element) -> Iterator[str]:
    ids = Counter(node.get("id") for node in root.iter())
    for name, times in ids.items():
        if name is not None and times > 1:
            yield f"The id {plain(name)} stands {times} times in the drawing."


def _frame_faults(root: ET.Element, group: ET.Element) -> Iterator[str]:
    """Nothing around or in the group may move, scale or hide what it draws."""
    parents = {child: parent for parent in root.iter() for child in parent}
    # Ordered sets: the lay and the repeat stand in the same groups, each judged once.
    above: dict[ET.Element, None] = {}
    framed: dict[ET.Element, None] = {}
    repeat = _repeat(root)
    for drawn in (group,) if repeat is None else (group, repeat):
        framed |= dict.fromkeys(drawn.iter())
        node = drawn
        while node is not root:
            node = parents[node]
            above[node] = None
    for node in (*above, *framed):
        named = plain(node.get("id") or tag(node))
        if node in above and node.tag not in (f"{SVG}g", f"{SVG}svg"):
            yield f"The lay stands in a {named}, where it isn't drawn as it stands."
        if node is not root and node.tag == f"{SVG}svg":
            yield f"{named} opens a page in the page, so its scale isn't known."
        if node is not group and node is not repeat and node.get("transform") is not None:
            yield f"{named} has a transform of its own, so its place isn't known."
        if _unseen(node):
            yield f"{named} is hidden or moved by its style."


def _unseen(node: ET.Element) -> bool:
    """Whether an attribute or the style of an element hides, moves or cuts what it draws."""
    settings = [part.partition(":") for part in node.get("style", "").split(";")]
    values = {key.strip().lower(): value.strip().lower() for key, _, value in settings}
    shifty = any(key in _SHIFTY for key in values)
    values |= {key: value.strip().lower() for key, value in node.items()}
    cut = any(key in values for key in ("clip-path", "mask", "filter"))
    return shifty or cut or any(values.get(key) in gone for key, gone in _GONE.items())


def _sheet_faults(root: ET.Element) -> Iterator[str]:
    """A style sheet may colour, but not hide or move: then nothing read here would hold."""
    for sheet in root.iter(f"{SVG}style"):
        words = set(re.findall(r"[a-z-]+(?=\s*:)", "".join(sheet.itertext()).lower()))
        for word in sorted(words & (_SHIFTY | _GONE.keys())):
            yield f"The style sheet sets {word}, which may hide or move a piece."


def _repeat(root: ET.Element) -> ET.Element | None:
    """The group of the repeat's lines; of several, which is a fault of ids, the first."""
    return next((node for node in root.iter() if node.get("id") == "repeat"), None)


def _repeat_faults(root: ET.Element, group: ET.Element) -> Iterator[str]:
    """The lines of the repeat lie under the pieces, in the same place and scale, and are seen."""
    node = _repeat(root)
    if node is None:
        return
    order = list(root.iter())
    if node.tag != f"{SVG}g" or order.index(node) > order.index(group):
        yield "The repeat must be drawn in a group of its own, before the group lay."
    if node.get("transform") != group.get("transform"):
        yield "The group repeat isn't set by the transform of the group lay."


def placed(group: ET.Element) -> tuple[Fraction, Fraction, Fraction] | None:
    """Where the group of a lay has its nought on the page, and its scale; None without both."""
    match = _TRANSFORM.fullmatch(group.get("transform", ""))
    if match is None:
        return None
    x, y, scale, down = map(Fraction, match.groups())
    return (x, y, scale) if scale > 0 and down == -scale else None


def _page_faults(root: ET.Element, group: ET.Element, lay: Lay) -> Iterator[str]:
    """One scale both ways, y upwards, and the whole bolt on the page."""
    if root.get("preserveAspectRatio", "").strip().startswith("none"):
        yield "The page is stretched (preserveAspectRatio none), so its scale isn't one."
    match = _TRANSFORM.fullmatch(group.get("transform", ""))
    if match is None:
        yield "The group lay must be set by translate(x y) scale(s -s), and nothing else."
        return
    place = placed(group)
    if place is None:
        yield f"The scale is {match[3]} along and {match[4]} across; it must be s and -s."
        return
    x, y, scale = place
    box = root.get("viewBox", "").replace(",", " ").split()
    if len(box) != 4 or not all(re.fullmatch(_DECIMAL, side, re.ASCII) for side in box):
        yield "The drawing has no viewBox of four numbers."
        return
    left, top, width, height = map(Fraction, box)
    bolt = lay.bolt
    off_side = x + scale * bolt.x0 < left or x + scale * bolt.x1 > left + width
    off_end = y - scale * bolt.y1 < top or y - scale * bolt.y0 > top + height
    if off_side or off_end:
        yield "The bolt is drawn over the edge of the page."
