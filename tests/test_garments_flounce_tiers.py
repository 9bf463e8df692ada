"""Flounces that are rings, and tiers: flounces sewn to the edge of flounces."""

from __future__ import annotations

import math

import pytest
from example_cases import draft_of, fault, jobs, piece_of
from flounce_cases import TOP, YARDS, figures, flounced, refused

from marker.garments.curved.ring import Ring
from marker.garments.order import Draft
from marker.geometry import Arc
from marker.piece import MarkKind
from marker.units import INCH

# --- rings --------------------------------------------------------------------------------


def test_the_ring_of_baldt_s_flounce() -> None:
    # Baldt, Clothing for Women, 1916, fig. 56: depth 12, top 72, bottom 112 in; computed from
    # its rule: the radius of the top is 21.6 in, and the area 1104 square inches
    ring = Ring(72 * INCH, 112 * INCH, 12 * INCH, 0, 0)
    assert ring.radius == pytest.approx(21.6 * INCH)
    assert ring.angle == pytest.approx(10 / 3)
    for panels in (1, 2, 5):
        shape = ring.panel("flounce", panels)
        assert shape.measure("start") == pytest.approx(72 * INCH)
        assert shape.measure("end") == pytest.approx(112 * INCH)
        assert shape.outline.area * panels == pytest.approx(1104 * INCH**2)


def test_a_ring_on_a_skirt_closes_to_its_edges_once_it_is_seamed() -> None:
    keys = 'depth = "8 in"\ncut = "ring"\nbottom = "165 in"\nhem = "1/4 in"'
    draft = flounced(keys, cloth='width = "72 in"', panels='count = 3\nwidth = "45 in"')
    piece = piece_of(draft, "flounce panel")
    top, bottom, depth, seam, hem = (132 * INCH, 165 * INCH, 8 * INCH, INCH // 2, INCH // 4)
    inner, angle = top * depth / (bottom - top), (bottom - top) / depth
    assert piece.count == math.ceil(angle / math.pi) == 2
    assert piece.folds
    # from the arc of the hem up to the arc of the upper edge, and out to the seams
    assert piece.outline is not None
    arcs = {edge.name: edge.length for edge in piece.outline.edges}
    half = angle / piece.count / 2
    for name, radius in (("start", inner - seam), ("end", inner + depth + hem)):
        assert arcs[name] == pytest.approx(2 * radius * (half + math.asin(seam / radius)))
    assert figures(draft)["flounce radius of the upper seam line"] == round(inner)
    assert figures(draft)["flounce round its lower edge"] == bottom
    # 2 x 1/4 in x 4.125 radians, to the nearest eighth
    assert (
        "The cut edge of the flounce is 2 1/8 in longer than the place its hem is sewn to; ease it "
        "in evenly, or take a narrower hem." in draft.garment.advice
    )


def test_a_ring_takes_as_many_panels_as_lie_within_the_cloth() -> None:
    keys = 'depth = "8 in"\ncut = "ring"\nfulness = 1.25'
    panels = 'count = 3\nwidth = "45 in"'
    counts = {}
    for width in (45, 60, 90):
        piece = piece_of(
            flounced(keys, cloth=f'width = "{width} in"', panels=panels), "flounce panel"
        )
        counts[width] = piece.count
        assert min(piece.laid(turn).box.across for turn in (0, 180)) <= width * INCH
    assert counts[45] > counts[60] >= counts[90] == 2
    told = refused(f"{keys}\npanels = {counts[45] - 1}", cloth='width = "45 in"', panels=panels)
    assert "garment.skirt.flounce.panels is" in told
    assert "of the width, and the cloth 'main' gives 45 in" in told


def test_a_ring_can_be_whole_only_in_panels() -> None:
    keys = 'depth = "8 in"\ncut = "ring"\nbottom = "300 in"'
    told = refused(f"{keys}\npanels = 3")
    assert (
        "flounce.panels is 3, and each would be 401 degrees of a ring, which is whole at 360; "
        "give 4 or more" in told
    )
    assert piece_of(flounced(f"{keys}\npanels = 4"), "flounce panel").count == 4


# --- tiers --------------------------------------------------------------------------------


TIERS = """tucks = { depth = "1/2 in", gap = "1 in", count = 2 }
[[garment.skirt.flounce]]
depth = "8 in"
%s
[[garment.skirt.flounce]]
depth = "6 in"
%s
"""


def tiers(first: str = "", second: str = "", **parts: str) -> Draft:
    garment, more = (TIERS % (first, second)).split("\n", 1)
    return draft_of("in", more=more, **{"garment": f"{TOP}\n{garment}", "cloth": YARDS, **parts})


def test_a_tier_that_takes_the_next_flounce_has_a_seam_there_and_no_hem() -> None:
    draft = tiers()
    first, second = (piece_of(draft, f"{word} flounce strip") for word in ("first", "second"))
    assert (first.breadth, second.breadth) == (9 * INCH, 6 * INCH + INCH // 2 + 5 * INCH // 8)
    assert (first.edges.low, second.edges.low) == ("seam of the next flounce", "hem")
    assert not [mark for mark in first.marks if mark.kind is MarkKind.HEM]
    (line,) = [mark for mark in first.marks if mark.name == "seam of the next flounce"]
    assert (line.kind, line.v0, line.v1) == (MarkKind.SEAM, INCH // 2, INCH // 2)
    panel = piece_of(draft, "panel")
    assert panel.edges.end == "seam of the flounce"
    told = " ".join(jobs(draft))
    assert "Crease the 2 tucks of the panels 1 in above the seam of the flounce and then" in told
    assert "finished edge" not in told


def test_tucks_of_a_tier_are_counted_from_the_seam_of_the_next() -> None:
    tucks = 'tucks = { depth = "1 in", gap = "2 in", count = 1, above = "1/2 in" }'
    first = tiers(tucks)
    assert "tuck of the first flounce 1 1/2 in above the seam of the next flounce and" in " ".join(
        jobs(first)
    )
    assert first.garment.advice == (
        "The lowest tuck of the first flounce hangs 1/2 in below the seam of the next flounce.",
    )
    assert "second flounce 1 1/2 in above the finished edge" in " ".join(jobs(tiers("", tucks)))


def test_a_ring_that_takes_the_next_flounce_has_no_hem_to_ease() -> None:
    ring = 'cut = "ring"\nfulness = 1.2'
    draft = tiers(ring, ring, cloth='width = "72 in"')
    first, second = (piece_of(draft, f"{word} flounce panel") for word in ("first", "second"))
    assert (first.edges.end, second.edges.end) == ("seam of the next flounce", "hem")
    kinds = [{m.kind for m in one.marks if "seam of" in m.name or "hem" in m.name}
             for one in (first, second)]  # fmt: skip
    assert kinds == [{MarkKind.SEAM}, {MarkKind.HEM}]
    eased = [line for line in draft.garment.advice if "The cut edge of" in line]
    assert len(eased) == 1 and "second flounce" in eased[0]
    # From the upper seam line to the lower one the piece has a seam outside each.
    assert first.outline is not None
    top, low = (first.outline.edge(name).segments[0] for name in ("start", "end"))
    assert isinstance(top, Arc) and isinstance(low, Arc)
    assert low.radius - top.radius == pytest.approx(9 * INCH)


def test_a_flounce_that_lies_over_the_panels_keeps_its_hem_and_theirs() -> None:
    draft = tiers('sewn = "over"', 'sewn = "over"')
    pieces = [piece_of(draft, name) for name in ("first flounce strip", "second flounce strip")]
    assert [piece.edges.low for piece in pieces] == ["hem", "hem"]
    assert piece_of(draft, "panel").edges.end == "hem"


def test_a_hem_is_refused_where_the_next_flounce_goes_on() -> None:
    more = (TIERS % ('hem = "1/2 in"', "")).split("\n", 1)[1]
    assert fault(more=more, garment=TOP, cloth=YARDS).endswith(
        "garment.skirt.flounce (number 1).hem is given, but the next flounce is sewn to its lower "
        "edge; take it out"
    )
