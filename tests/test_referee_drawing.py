"""The referee reads a written plan back and holds it against the lay."""

from __future__ import annotations

import re
import time
from dataclasses import replace

import pytest
from asked_lays import ASKED, checked, flawed
from hypothesis import given, settings
from hypothesis import strategies as st
from lays import ALONG, GOOD, record, skirt, squared
from random_lays import torn

from marker.geometry import Rect
from marker.lay import Direction, Lay
from marker.plan.drawing.page import Paper
from marker.plan.lays.svg import draw
from marker.referee import check_drawing
from marker.units import CM

SCALE = "0.0005"
A_1 = '<rect id="A-1" x="0" y="1600" width="172800" height="179200"/>'


PLACED = f'transform="translate(12.5,190) scale({SCALE},-{SCALE})"'


def drawing(lay: Lay, *, inside: str = "", before: str = "") -> str:
    """A bare plan of a lay, written by hand: the group of pieces and nothing else."""
    shapes = [_rect("bolt", lay.bolt)]
    for spot in lay.placements:
        piece = lay.piece(spot.letter)
        if piece.outline is None:
            shapes.append(_rect(spot.id, spot.rect(piece)))
        else:
            corners = " L ".join(f"{x} {y}" for x, y in spot.polygon(piece).points)
            shapes.append(f'<path id="{spot.id}" d="M {corners} Z"/>')
    shapes += [_rect(f"region-{at}", region) for at, region in enumerate(lay.regions, 1)]
    for at, offcut in enumerate(lay.offcuts, 1):
        shapes.append(_rect(f"offcut-{at}", offcut.rect))
    for at, flaw in enumerate(lay.cloth.flaws, 1):
        x0, x1 = max(flaw.x0, lay.bolt.x0), min(flaw.x1, lay.bolt.x1)
        y0, y1 = max(flaw.y0, lay.bolt.y0), min(flaw.y1, lay.bolt.y1)
        if x0 < x1 and y0 < y1:
            shapes.append(_rect(f"flaw-{at}", Rect(x0, y0, x1, y1)))
    for tear in lay.tears:
        hand, at = tear.in_hand, tear.at
        ends = (hand.x0, at, hand.x1, at) if tear.direction is ALONG else (at, hand.y0, at, hand.y1)
        x1, y1, x2, y2 = ends
        shapes.append(f'<line id="tear-{tear.number}" x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>')
    body = "\n".join(shapes) + inside
    return (
        '<?xml version="1.0" encoding="utf-8" ?>\n'
        '<svg xmlns="http://www.w3.org/2000/svg" width="297mm" height="210mm" '
        'viewBox="0 0 297 210"><title>A plan</title><g id="page">'
        f'{before}<g id="lay" {PLACED}>\n{body}\n</g>'
        '<text id="title" x="3" y="4">Buy 3.40 m</text></g></svg>\n'
    )


def _rect(name: str, rect: Rect) -> str:
    return (
        f'<rect id="{name}" x="{rect.x0}" y="{rect.y0}" '
        f'width="{rect.along}" height="{rect.across}"/>'
    )


@pytest.mark.parametrize("name", GOOD | ASKED)
def test_a_true_drawing_passes(name: str) -> None:
    lay = (GOOD | ASKED)[name]()
    assert check_drawing(drawing(lay), lay) == ()


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("name", GOOD | ASKED)
def test_the_tools_own_plan_is_read_back(name: str, paper: Paper) -> None:
    lay = (GOOD | ASKED)[name]()
    svg = draw(replace(record(), lays=(lay,)), lay, paper)
    assert check_drawing(svg, lay) == ()
    spot = lay.placements[0]
    moved = replace(lay, placements=(replace(spot, x=spot.x + 1), *lay.placements[1:]))
    assert len(check_drawing(svg, moved)) == 1


def test_colours_and_line_styles_are_the_drawings_own_affair() -> None:
    styled = A_1.replace("/>", ' style="fill:#eee;fill-opacity:0.5" opacity="0.9"/>')
    sheet = '<style>rect { stroke: #222; stroke-opacity: 0 }</style><g id="page">'
    svg = drawing(skirt()).replace(A_1, styled).replace('<g id="page">', sheet)
    assert styled in svg
    assert sheet in svg
    assert check_drawing(svg, skirt()) == ()


def test_a_line_may_be_drawn_from_either_end_and_in_groups() -> None:
    svg = drawing(skirt())
    turned = svg.replace(
        'x1="172800" y1="0" x2="172800" y2="182400"', 'x1="172800" y1="182400" x2="172800" y2="0"'
    )
    assert turned != svg
    assert check_drawing(turned, skirt()) == ()
    grouped = svg.replace('<rect id="A-1"', '<g class="pieces"><title>A</title></g><rect id="A-1"')
    assert check_drawing(grouped, skirt()) == ()


# What is wrong, the text taken out, the text put in its place, and the sentence that tells it.
BROKEN = [
    ("one unit off", A_1, A_1.replace('x="0"', 'x="1"'),
     "A-1 is drawn at 0.00625 mm to 1080.00625 mm along and 10 mm to 1130 mm across, "
     "but lies at 0 mm to 1080 mm along and 10 mm to 1130 mm across."),
    ("one unit narrow", A_1, A_1.replace("179200", "179199"),
     "A-1 is drawn at 0 mm to 1080 mm along and 10 mm to 1129.99375 mm across, "
     "but lies at 0 mm to 1080 mm along and 10 mm to 1130 mm across."),
    ("not drawn", A_1, "", "A-1 isn't drawn."),
    ("drawn twice", A_1, A_1 * 2, "The id A-1 stands 2 times in the drawing."),
    ("an id of elsewhere", '<text id="title"', '<text id="A-1"',
     "The id A-1 stands 2 times in the drawing."),
    ("a copy too many", A_1, A_1 + A_1.replace("A-1", "A-4"),
     "A-4 is drawn among the pieces, but the lay has no such thing."),
    ("a wrong id", A_1, A_1.replace("A-1", "a-1"), "A-1 isn't drawn."),
    ("no id", A_1, A_1.replace('id="A-1"', ""),
     "A rect without an id is drawn among the pieces, but the lay has no such thing."),
    ("a stray shape", A_1, A_1 + '<path d="M0 0L9 9"/>',
     "A path without an id is drawn among the pieces, but the lay has no such thing."),
    ("a stray use", A_1, A_1 + '<use href="#A-1" x="5"/>',
     "A use without an id is drawn among the pieces, but the lay has no such thing."),
    ("as a path", A_1, '<path id="A-1" d="M0 0"/>', "A-1 is drawn as a path, not as a rect."),
    ("in another namespace", A_1, A_1.replace("/>", ' xmlns="urn:other"/>'),
     "A-1 is drawn as a '{urn:other}rect', not as a rect."),
    ("a fraction", A_1, A_1.replace('x="0"', 'x="0.0"'),
     "A-1 has '0.0' for its x, not a whole number of units."),
    ("with a unit", A_1, A_1.replace('x="0"', 'x="0mm"'),
     "A-1 has '0mm' for its x, not a whole number of units."),
    ("in other figures", A_1, A_1.replace('x="0"', 'x="٠"'),
     "A-1 has '٠' for its x, not a whole number of units."),
    ("no width", A_1, A_1.replace('width="172800"', ""),
     "A-1 has '' for its width, not a whole number of units."),
    ("a huge figure", A_1, A_1.replace('x="0"', f'x="{"9" * 5000}"'),
     f"A-1 has '{'9' * 40}' for its x, not a whole number of units."),
    ("its own transform", A_1, A_1.replace("/>", ' transform="translate(9)"/>'),
     "A-1 has a transform of its own, so its place isn't known."),
    ("a transform between", A_1, f'<g transform="scale(2)">{A_1}</g>',
     "g has a transform of its own, so its place isn't known."),
    ("a transform above", '<g id="page">', '<g id="page" transform="scale(2)">',
     "page has a transform of its own, so its place isn't known."),
    ("moved by style", A_1, A_1.replace("/>", ' style="transform: scale(2)"/>'),
     "A-1 is hidden or moved by its style."),
    ("hidden", A_1, A_1.replace("/>", ' display="none"/>'),
     "A-1 is hidden or moved by its style."),
    ("hidden by style", '<g id="page">', '<g id="page" style="visibility:hidden">',
     "page is hidden or moved by its style."),
    ("clipped away", A_1, A_1.replace("/>", ' clip-path="url(#c)"/>'),
     "A-1 is hidden or moved by its style."),
    ("faded out", A_1, A_1.replace("/>", ' opacity="0"/>'),
     "A-1 is hidden or moved by its style."),
    ("hidden by a sheet", '<g id="page">', '<style>#A-1 { display : none }</style><g id="page">',
     "The style sheet sets display, which may hide or move a piece."),
    ("moved by a sheet", '<g id="page">', '<style>rect{transform:none}</style><g id="page">',
     "The style sheet sets transform, which may hide or move a piece."),
    ("a tear one unit off", 'x1="172800" y1="0" x2="172800"', 'x1="172801" y1="0" x2="172801"',
     "tear-1 is drawn at 1080.00625 mm to 1080.00625 mm along and 0 mm to 1140 mm across, "
     "but lies at 1080 mm to 1080 mm along and 0 mm to 1140 mm across."),
    ("a tear askew", 'x1="172800" y1="0" x2="172800"', 'x1="172800" y1="0" x2="172801"',
     "tear-1 is drawn at 1080 mm to 1080.00625 mm along and 0 mm to 1140 mm across, "
     "but lies at 1080 mm to 1080 mm along and 0 mm to 1140 mm across."),
    ("a tear that stops short", 'y1="0" x2="172800" y2="182400"',
     'y1="0" x2="172800" y2="182399"',
     "tear-1 is drawn at 1080 mm to 1080 mm along and 0 mm to 1139.99375 mm across, "
     "but lies at 1080 mm to 1080 mm along and 0 mm to 1140 mm across."),
    ("a tear misnumbered", '"tear-1"', '"tear-99"', "tear-1 isn't drawn."),
    ("an offcut missing", '"offcut-9"', '"offcut-10"', "offcut-9 isn't drawn."),
    ("no bolt", '"bolt"', '"cloth"', "bolt isn't drawn."),
    ("no group", 'id="lay"', 'id="lays"',
     "The drawing must be SVG with one group of id lay; it has 0."),
    ("two groups", '<g id="page">', '<g id="page"><g id="lay"/>',
     "The drawing must be SVG with one group of id lay; it has 2."),
    ("not SVG", 'xmlns="http://www.w3.org/2000/svg"', "",
     "The drawing must be SVG with one group of id lay; it has 0."),
    ("two scales", f"scale({SCALE},-{SCALE})", f"scale({SCALE},-0.0006)",
     "The scale is 0.0005 along and -0.0006 across; it must be s and -s."),
    ("upside down", f"scale({SCALE},-{SCALE})", f"scale({SCALE},{SCALE})",
     "The scale is 0.0005 along and 0.0005 across; it must be s and -s."),
    ("no scale", f"scale({SCALE},-{SCALE})", "scale(0,-0)",
     "The scale is 0 along and -0 across; it must be s and -s."),
    ("turned", f"scale({SCALE},-{SCALE})", f"scale({SCALE},-{SCALE}) rotate(3)",
     "The group lay must be set by translate(x y) scale(s -s), and nothing else."),
    ("one scale for both", f"scale({SCALE},-{SCALE})", f"scale({SCALE})",
     "The group lay must be set by translate(x y) scale(s -s), and nothing else."),
    ("over the right edge", "translate(12.5,190)", "translate(26,190)",
     "The bolt is drawn over the edge of the page."),
    ("over the left edge", "translate(12.5,190)", "translate(-0.01,190)",
     "The bolt is drawn over the edge of the page."),
    ("over the foot", "translate(12.5,190)", "translate(12.5,210.01)",
     "The bolt is drawn over the edge of the page."),
    ("over the head", "translate(12.5,190)", "translate(12.5,91)",
     "The bolt is drawn over the edge of the page."),
    ("no page", 'viewBox="0 0 297 210"', 'viewBox="0 0 wide 210"',
     "The drawing has no viewBox of four numbers."),
    ("a stretched page", 'viewBox="', 'preserveAspectRatio="none" viewBox="',
     "The page is stretched (preserveAspectRatio none), so its scale isn't one."),
    ("a page in the page", '<g id="page">', '<svg><g id="page">',
     "svg opens a page in the page, so its scale isn't known."),
    ("in a pattern", '<g id="page">', '<pattern id="p"><g id="page">',
     "The lay stands in a p, where it isn't drawn as it stands."),
    ("never closed", "</svg>", "", "The drawing isn't sound XML: no element found"),
    ("an entity bomb", "<svg ",
     '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>\n<svg ',
     "The drawing declares a document type or entities, which no plan does."),
    ("an entity from elsewhere", "<svg ",
     '<!doctype svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg ',
     "The drawing declares a document type or entities, which no plan does."),
    ("an unknown entity", "Buy", "&buy;", "The drawing isn't sound XML: undefined entity"),
    ("a null", "Buy", "\x00", "The drawing isn't sound XML: "),
    ("half a letter", "Buy", "\ud800", "The drawing isn't sound XML: "),
]  # fmt: skip
CLOSED = {"<svg>": "</g></svg></svg>", "<pattern": "</g></pattern></svg>"}


@pytest.mark.parametrize(("old", "new", "sentence"), [row[1:] for row in BROKEN],
                         ids=[row[0] for row in BROKEN])  # fmt: skip
def test_a_false_drawing_is_told(old: str, new: str, sentence: str) -> None:
    svg = drawing(skirt())
    assert svg.count(old) >= 1
    broken = svg.replace(old, new, 1)
    for opened, closed in CLOSED.items():
        if new.startswith(opened):
            broken = broken.replace("</g></svg>", closed)
    told = check_drawing(broken, skirt())
    assert any(sentence in line for line in told), told


def test_nothing_at_all_is_not_a_drawing() -> None:
    for text in ("", "<svg/>", "no drawing", "<svg" * 1000):
        assert check_drawing(text, skirt())


def test_a_drawing_of_another_lay_is_told() -> None:
    told = check_drawing(drawing(squared()), skirt())
    assert "C-1 is drawn among the pieces, but the lay has no such thing." in told
    assert "A-1 isn't drawn." in told


def test_only_the_lay_as_it_stands_will_do() -> None:
    # A copy laid elsewhere, a tear moved, an offcut gone: the drawing must follow.
    svg = drawing(skirt())
    spots = skirt().placements
    moved = replace(skirt(), placements=(replace(spots[0], y=0), *spots[1:]))
    assert len(check_drawing(svg, moved)) == 1
    tears = skirt().tears
    other = replace(skirt(), tears=(replace(tears[0], direction=Direction.ALONG), *tears[1:]))
    assert len(check_drawing(svg, other)) == 1
    assert len(check_drawing(svg, replace(skirt(), offcuts=skirt().offcuts[:-1]))) == 1
    assert len(check_drawing(svg, replace(skirt(), bolt=Rect(0, 0, 339 * CM, 114 * CM)))) == 1


# The bolt of the skirt is 272 by 91.2 on the page at this scale, its foot at (12.5, 190).
@pytest.mark.parametrize(
    ("box", "good"),
    [
        ("12.5 98.8 272 91.2", True),
        ("12.5,98.8,272,91.2", True),
        ("12.51 98.8 272 91.2", False),
        ("12.5 98.81 272 91.2", False),
        ("12.5 98.8 271.99 91.2", False),
        ("12.5 98.8 272 91.19", False),
    ],
)
def test_the_bolt_may_reach_the_edge_of_the_page_and_no_further(box: str, good: bool) -> None:
    svg = drawing(skirt()).replace("0 0 297 210", box)
    told = check_drawing(svg, skirt())
    assert told == (() if good else ("The bolt is drawn over the edge of the page.",))


def test_a_squared_bolt_may_reach_the_edge_too() -> None:
    # It begins at -30 mm: 2.4 on the page left of the group's own nought, and is 99.84 long.
    svg = drawing(squared())
    good = svg.replace("0 0 297 210", "10.1 111.6 99.84 78.4")
    assert check_drawing(good, squared()) == ()
    for box in ("10.11 111.6 99.84 78.4", "10.1 111.6 99.83 78.4"):
        assert len(check_drawing(svg.replace("0 0 297 210", box), squared())) == 1


@pytest.mark.slow
def test_a_deep_nest_and_a_long_text_are_refused_in_good_time() -> None:
    started = time.process_time()
    deep = drawing(skirt(), inside="<g>" * 100_000 + "</g>" * 100_000)
    assert check_drawing(deep, skirt()) == ()
    assert check_drawing("x" * 50_000_001, skirt()) == ("The drawing is too large to be a plan.",)
    assert time.process_time() - started < 3


@settings(max_examples=60)
@given(st.integers(0, 10**9), st.integers(0, 10**9), st.sampled_from((-1, 1)))
def test_any_figure_off_by_one_is_found(seed: int, pick: int, by: int) -> None:
    lay = torn(seed)
    svg = drawing(lay)
    assert check_drawing(svg, lay) == ()
    spots = list(re.finditer(r' (?:x|y|width|height|x1|y1|x2|y2)="(-?\d+)"', svg))[:-2]
    spot = spots[pick % len(spots)]
    off = svg[: spot.start(1)] + str(int(spot[1]) + by) + svg[spot.end(1) :]
    assert len(check_drawing(off, lay)) == 1


FLAW_1 = '<rect id="flaw-1" x="96000" y="32000" width="24000" height="16000"/>'


def test_flaws_are_drawn_as_far_as_they_lie_on_the_bolt() -> None:
    # The second and the fourth lie off it, and the third hangs over two of its edges.
    beside = Rect(9, 100 * CM, 50 * CM, 120 * CM)
    lay = replace(flawed(), cloth=replace(flawed().cloth, flaws=(beside,)))
    assert check_drawing(drawing(lay), lay) == ()
    svg = drawing(flawed())
    assert FLAW_1 in svg
    assert 'id="flaw-3" x="216000" y="152000" width="8000" height="8000"' in svg
    assert check_drawing(svg, flawed()) == ()
    off = '<rect id="flaw-2" x="-8000" y="0" width="8000" height="160000"/>'
    for taken, put, told in (
        (FLAW_1, "", "flaw-1 isn't drawn."),
        (FLAW_1, FLAW_1 + off,
         "flaw-2 is drawn among the pieces, but the lay has no such thing."),
        ('width="8000" height="8000"', 'width="104000" height="40000"',
         "flaw-3 is drawn at 1350 mm to 2000 mm along and 950 mm to 1200 mm across, "
         "but lies at 1350 mm to 1400 mm along and 950 mm to 1000 mm across."),
    ):  # fmt: skip
        assert check_drawing(svg.replace(taken, put), flawed()) == (told,)


REPEAT = f'<g id="repeat" {PLACED}><line id="repeat-1" x1="25600" y1="0" x2="25600" y2="9"/></g>'


def test_a_repeat_is_drawn_under_the_lay_and_in_its_place() -> None:
    assert check_drawing(drawing(checked(), before=REPEAT), checked()) == ()


@pytest.mark.parametrize(
    ("before", "sentence"),
    [
        (REPEAT.replace("12.5", "12.6"),
         "The group repeat isn't set by the transform of the group lay."),
        (REPEAT.replace(PLACED, ""),
         "The group repeat isn't set by the transform of the group lay."),
        (REPEAT.replace("y1=", 'transform="scale(2)" y1='),
         "repeat-1 has a transform of its own, so its place isn't known."),
        (REPEAT.replace("y1=", 'style="display:none" y1='),
         "repeat-1 is hidden or moved by its style."),
        (REPEAT.replace(PLACED, f'{PLACED} visibility="hidden"'),
         "repeat is hidden or moved by its style."),
        (f'<g id="under" transform="scale(2)">{REPEAT}</g>',
         "under has a transform of its own, so its place isn't known."),
        (REPEAT.replace('<g id="repeat"', '<rect id="repeat"').replace("</g>", "</rect>"),
         "The repeat must be drawn in a group of its own, before the group lay."),
        (REPEAT + REPEAT.replace("repeat-1", "repeat-2"),
         "The id repeat stands 2 times in the drawing."),
    ],
)  # fmt: skip
def test_a_repeat_drawn_elsewhere_is_told(before: str, sentence: str) -> None:
    assert check_drawing(drawing(checked(), before=before), checked()) == (sentence,)


def test_a_repeat_over_the_lay_is_told() -> None:
    svg = drawing(checked()).replace("<text", f"{REPEAT}<text")
    assert check_drawing(svg, checked()) == (
        "The repeat must be drawn in a group of its own, before the group lay.",
    )


def test_a_repeat_among_the_pieces_is_told() -> None:
    told = check_drawing(drawing(checked(), inside=REPEAT), checked())
    assert "repeat-1 is drawn among the pieces, but the lay has no such thing." in told


@pytest.mark.slow
def test_many_nested_repeats_are_refused_in_good_time() -> None:
    started = time.process_time()
    nest = '<g id="repeat">' * 50_000 + "</g>" * 50_000
    assert check_drawing(drawing(checked(), before=nest), checked())
    assert time.process_time() - started < 3


def test_tears_drawn_on_a_lay_for_shears_are_told() -> None:
    lay = ASKED["pinwheel"]()
    line = '<line id="tear-1" x1="9" y1="0" x2="9" y2="9"/>'
    assert check_drawing(drawing(lay, inside=line), lay) == (
        "tear-1 is drawn among the pieces, but the lay has no such thing.",
    )
