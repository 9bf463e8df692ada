"""The referee reads outlines and regions back from a drawing, corner by corner."""

from __future__ import annotations

import re
import time
from dataclasses import replace

import pytest
from curved_lays import CURVED, region, wedges
from hypothesis import given, settings
from hypothesis import strategies as st
from lays import record
from random_curved import parted, sheared
from test_referee_drawing import drawing

from marker.lay import Lay
from marker.plan.drawing.page import Paper
from marker.plan.lays.svg import draw
from marker.referee import check_drawing

A_1 = "M 0 0 L 96000 0 L 96000 32000 L 32000 80000 L 0 80000 Z"


@pytest.mark.parametrize("name", CURVED)
def test_a_true_drawing_of_outlines_passes(name: str) -> None:
    lay = CURVED[name]()
    assert check_drawing(drawing(lay), lay) == ()


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("name", CURVED)
def test_the_tools_own_plan_of_outlines_is_read_back(name: str, paper: Paper) -> None:
    lay = CURVED[name]()
    svg = draw(replace(record(), lays=(lay,)), lay, paper)
    assert check_drawing(svg, lay) == ()
    spot = next(s for s in lay.placements if lay.piece(s.letter).outline is not None)
    moved = replace(spot, x=spot.x + 1)
    others = tuple(moved if s is spot else s for s in lay.placements)
    assert len(check_drawing(svg, replace(lay, placements=others))) == 1


# The same ring from another corner, the other way round, and with other white space.
@pytest.mark.parametrize(
    "same",
    [
        "M 32000 80000 L 0 80000 L 0 0 L 96000 0 L 96000 32000 Z",
        "M 0 0 L 0 80000 L 32000 80000 L 96000 32000 L 96000 0 Z",
        "M0 0L96000,0 L 96000 , 32000\nL32000 80000L0 80000Z ",
    ],
)
def test_a_ring_may_begin_at_any_corner(same: str) -> None:
    svg = drawing(wedges())
    assert A_1 in svg
    assert check_drawing(svg.replace(A_1, same), wedges()) == ()


WRITTEN = "it must be M x y, L x y for every further corner, and Z, all in whole units."

# What is wrong, the text taken out, the text put in its place, and the sentence that tells it.
BROKEN = [
    ("a corner off", A_1, A_1.replace("96000 32000", "96000 32001"),
     "A-1 is drawn with a corner at 600 mm along and 200.00625 mm across, where it has none."),
    ("a corner left out", A_1, A_1.replace("L 32000 80000 ", ""),
     "A-1 is drawn with 4 corners, but has 5."),
    ("a corner too many", A_1, A_1.replace("L 32000 80000", "L 32000 80000 L 9 80000"),
     "A-1 is drawn with 6 corners, but has 5."),
    ("a corner for another", A_1, A_1.replace("32000 80000", "96000 32000"),
     "A-1 is drawn with its corners in another order."),
    ("in another order", A_1, "M 0 0 L 96000 32000 L 96000 0 L 32000 80000 L 0 80000 Z",
     "A-1 is drawn with its corners in another order."),
    ("not closed", A_1, A_1.removesuffix(" Z"),
     f"The path of A-1 begins 'M 0 0 L 96000 0 L 96'; {WRITTEN}"),
    ("a fraction", A_1, A_1.replace("M 0 0", "M 0 0.5"),
     f"The path of A-1 begins 'M 0 0.5 L 96000 0 L '; {WRITTEN}"),
    ("a curve", A_1, A_1.replace("L 96000 0", "Q 9 9 96000 0"),
     f"The path of A-1 begins 'M 0 0 Q 9 9 96000 0 '; {WRITTEN}"),
    ("steps instead of places", A_1, A_1.replace("L", "l"),
     f"The path of A-1 begins 'M 0 0 l 96000 0 l 96'; {WRITTEN}"),
    ("two rings", A_1, A_1 + " M 0 0 L 9 0 L 9 9 Z",
     f"The path of A-1 begins 'M 0 0 L 96000 0 L 96'; {WRITTEN}"),
    ("no ring", f'd="{A_1}"', "", f"The path of A-1 begins ''; {WRITTEN}"),
    ("a box for an outline", f'<path id="A-1" d="{A_1}"/>',
     '<rect id="A-1" x="0" y="0" width="96000" height="80000"/>',
     "A-1 is drawn as a rect, not as a path."),
    ("not drawn", f'<path id="A-1" d="{A_1}"/>', "", "A-1 isn't drawn."),
    ("drawn twice", f'<path id="A-1" d="{A_1}"/>', f'<path id="A-1" d="{A_1}"/>' * 2,
     "The id A-1 stands 2 times in the drawing."),
    ("turned on the page", '<path id="A-1"', '<path id="A-1" transform="rotate(9)"',
     "A-1 has a transform of its own, so its place isn't known."),
]  # fmt: skip


@pytest.mark.parametrize(("taken", "put", "sentence"), [row[1:] for row in BROKEN],
                         ids=[row[0] for row in BROKEN])  # fmt: skip
def test_a_wrong_outline_is_told(taken: str, put: str, sentence: str) -> None:
    svg = drawing(wedges())
    assert svg.count(taken) == 1
    assert check_drawing(svg.replace(taken, put), wedges()) == (sentence,)


REGION = '<rect id="region-1" x="80000" y="1600" width="128000" height="156800"/>'


@pytest.mark.parametrize(
    ("put", "sentence"),
    [
        ("", "region-1 isn't drawn."),
        (REGION.replace("80000", "80001"),
         "region-1 is drawn at 500.00625 mm to 1300.00625 mm along and 10 mm to 990 mm across, "
         "but lies at 500 mm to 1300 mm along and 10 mm to 990 mm across."),
        (REGION + REGION.replace("region-1", "region-2"),
         "region-2 is drawn among the pieces, but the lay has no such thing."),
    ],
)  # fmt: skip
def test_a_wrong_region_is_told(put: str, sentence: str) -> None:
    svg = drawing(region())
    assert REGION in svg
    assert check_drawing(svg.replace(REGION, put), region()) == (sentence,)


@settings(max_examples=40)
@given(st.integers(0, 10**6), st.integers(0, 10**6), st.sampled_from((-1, 1)), st.booleans())
def test_any_corner_off_by_one_is_found(seed: int, pick: int, by: int, torn: bool) -> None:
    lay: Lay = parted(seed) if torn else sheared(seed)
    svg = drawing(lay)
    assert check_drawing(svg, lay) == ()
    spots = list(re.finditer(r"(?<=[ML] )-?\d+|(?<=\d )-?\d+(?= [LZ])", svg))
    spot = spots[pick % len(spots)]
    off = svg[: spot.start()] + str(int(spot[0]) + by) + svg[spot.end() :]
    assert len(check_drawing(off, lay)) == 1


@pytest.mark.slow
def test_a_path_without_end_is_refused_in_good_time() -> None:
    svg = drawing(wedges())
    started = time.process_time()
    for tail in (" L 5 5" * 500_000 + " Z", " L 5 5" * 500_000 + " X", " " * 3_000_000 + "X"):
        assert check_drawing(svg.replace(A_1, A_1.removesuffix(" Z") + tail), wedges())
    assert time.process_time() - started < 5
