"""What users bring: path data, drawings and lists of points, and what is refused of them."""

from __future__ import annotations

import math
import time
from pathlib import Path

import pytest

from marker.errors import BadInput
from marker.geometry import Arc, Cubic, Outline
from marker.geometry.affine import parse_transform
from marker.geometry.svgfile import from_svg, read_drawing
from marker.geometry.svgpath import from_path, from_points
from marker.units import CM, INCH, MM


def area(outline: Outline) -> float:
    """Square millimetres."""
    return outline.area / MM**2


def test_every_command_reads_absolute_and_relative() -> None:
    square = from_path("M10 10H60V40H10Z")
    assert area(square) == 1500
    assert square.box == (0, 0, 50 * MM, 30 * MM)
    for same in (
        "m10 10h50v30h-50z", "M10,10L60,10 60,40 10,40z", "M 10 10 l50 0 0 30 -50 0 Z",
        "M10 10 L60 10 L60 40 L10 40 L10 10", "m 10-10 l.5e2 0 0 30-50 0z",
    ):  # fmt: skip
        assert from_path(same).flatten() == square.flatten()


def test_curves_read_as_they_are_defined() -> None:
    cubic = from_path("M0 0 C0 -40 60 -40 60 0 Z").segments
    quadratic = from_path("M0 0 Q30 -60 60 0 Z")
    # A parabola over a chord w with its control point h off encloses w h / 3.
    assert area(quadratic) == pytest.approx(60 * 60 / 3)
    assert any(isinstance(segment, Cubic) for segment in cubic)
    # S and T mirror the control point before; after another kind they start from the pen.
    whole = from_path("M0 0 C0 -20 30 -20 30 0 C30 20 60 20 60 0 V60 H0 Z")
    assert area(from_path("M0 0 C0 -20 30 -20 30 0 S60 20 60 0 V60 H0 Z")) == area(whole)
    assert area(from_path("M0 0 c0-20 30-20 30 0 s30 20 30 0 v60 h-60 z")) == area(whole)
    waves = from_path("M0 0 Q15 -20 30 0 Q45 20 60 0 V60 H0 Z")
    assert area(from_path("M0 0 q15-20 30 0 t30 0 v60 h-60 z")) == pytest.approx(area(waves))
    plain = from_path("M0 0 H30 S60 20 60 0 V60 H0 Z")
    assert area(plain) == pytest.approx(area(from_path("M0 0 H30 C30 0 60 20 60 0 V60 H0 Z")))


def test_circular_arcs_stay_arcs_and_ellipses_become_cubics() -> None:
    disc = from_path("M50 0a50 50 0 01-100 0a50 50 0 01100 0z")
    assert all(isinstance(segment, Arc) for segment in disc.segments)
    assert area(disc) == pytest.approx(math.pi * 2500, rel=1e-12)
    # On the page, y down, sweep 1 from left to right goes over the top of the square below it.
    segment = (50**2 * 2 * math.asin(0.6) - 60 * 40) / 2
    assert area(from_path("M0 0A50 50 0 0 1 60 0V60H0Z")) == pytest.approx(3600 + segment)
    assert area(from_path("M0 0A50 50 0 0 0 60 0V60H0Z")) == pytest.approx(3600 - segment)
    oval = from_path("M50 0A50 30 0 0 1 -50 0A50 30 0 0 1 50 0z")
    assert area(oval) == pytest.approx(math.pi * 1500, rel=1e-6)
    assert oval.box == pytest.approx((0, 0, 100 * MM, 60 * MM))
    tilted = from_path("M0 0 A50 30 30 0 1 60 0 Z")
    assert any(isinstance(segment, Cubic) for segment in tilted.segments)
    assert area(from_path("M0 0 A50 50 0 1 1 60 0 Z")) > area(from_path("M0 0 A50 50 0 0 1 60 0 Z"))
    assert area(from_path("M0 0 A0 9 0 0 1 60 0 V30 H0 Z")) == 1800


@pytest.mark.parametrize("flags", ["0 0", "0 1", "1 0", "1 1"])
def test_an_ellipse_as_round_as_a_circle_is_that_circle(flags: str) -> None:
    round_one = from_path(f"M0 0 A50 50 0 {flags} 60 30 Z")
    nearly = from_path(f"M0 0 A50 50.0001 0 {flags} 60 30 Z")
    assert area(nearly) == pytest.approx(area(round_one), rel=1e-4)
    assert nearly.box == pytest.approx(round_one.box, abs=0.1)


def test_a_drawing_is_not_mirrored() -> None:
    # On the page the flag's tip points right and its pole hangs down to the left.
    made = from_path("M0 0 L50 10 L10 20 L10 60 L0 60 Z")
    tip = max(made.segments, key=lambda segment: segment.start[0]).start
    assert tip == pytest.approx((50 * MM, 50 * MM))


def test_names_follow_the_edges_drawn() -> None:
    made = from_path("M0 0 H60 A50 30 0 0 1 60 40 H0 Z", names=["waist", "side", "hem", "fold"])
    assert [edge.name for edge in made.edges] and {e.name for e in made.edges} == {
        "waist", "side", "hem", "fold"
    }  # fmt: skip
    assert made.edge("fold").length == pytest.approx(40 * MM)
    with pytest.raises(BadInput, match="4 edges but 2 names"):
        from_path("M0 0 H60 V40 H0 Z", names=["a", "b"])


def test_units_and_points() -> None:
    assert from_path("M0 0H1V1H0Z", INCH).area == INCH**2
    made = from_points([(0, 0), (9000, 0), (9000, 5000), (0, 5000), (0, 0)])
    assert made.area == 9000 * 5000
    assert from_points([(5, 5), (5, 900), (900, 900)]).area > 0
    with pytest.raises(BadInput, match="crosses or touches itself"):
        from_points([(0, 0), (9000, 9000), (9000, 0), (0, 9000)])
    with pytest.raises(BadInput, match="1 km"):
        from_points([(0, 0), (math.nan, 9000), (9000, 0)])


@pytest.mark.parametrize(
    ("d", "complaint"),
    [
        ("", "does not start with a move"),
        ("L5 5", "does not start with a move"),
        ("M5 5", "draws nothing"),
        ("M0 0H50V50", "is open: it ends 70.71 mm from its start"),
        ("M0 0H50V50Z m5 5h1v1z", "more than one part"),
        ("M0 0H50V50Z L5 5", "goes on after it is closed"),
        ("M0 0 L10 x", "can't be read at 'x'"),
        ("M0 0 L10", "figures are missing"),
        ("M0 0 R10 10", "can't be read at 'R10 10'"),
        ("M0 0 A10 10 0 2 1 20 20Z", "can't be read at '2 1 20 20Z'"),
        ("M0 0 A10 10 0 0 1 100 0Z", "arc of radius 10.00 mm can't reach"),
        ("M0 0 A10 20 0 0 1 100 0Z", "elliptical arc can't reach .* 5.000 times"),
        ("M0 0 50 50 50 0 0 50Z", "crosses or touches itself near 25, -25 mm"),
        ("M0 0 50 0 20 0Z", "encloses next to nothing"),
        ("M0 0 0.1 0 0 0.1Z", "encloses next to nothing"),
        ("M0 0 L1e9 0 0 50Z", "further than 1 km"),
        ("M0 0 L1e999 0 0 50Z", "further than 1 km"),
        ("M0 0" + " 1 1" * 60_000, "more than 50,000 points"),
        ("M" + "0 0 " * 1_000_000, "more than 50,000 points"),
        ("M0 0" + " " * 5_000_000, "over 5 MB"),
    ],
)
def test_paths_that_are_no_piece_are_refused_in_a_sentence(d: str, complaint: str) -> None:
    began = time.process_time()
    with pytest.raises(BadInput, match=complaint) as refused:
        from_path(d)
    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 250
    assert time.process_time() - began < 5


def test_an_outline_a_hair_open_is_closed() -> None:
    assert area(from_path("M0 0H50V50H0L0 0.004")) == pytest.approx(2500, abs=0.5)
    disc = from_path("M0 0 H50 A25 25 0 0 1 0.004 0 Z")
    assert len(disc.segments) == 2
    assert area(disc) == pytest.approx(math.pi * 25**2 / 2, rel=1e-3)


SQUARE = '<path id="p" d="M0 0h10v20h-10z"/>'


def drawing(root: str, body: str = SQUARE) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {root}>{body}</svg>'.encode()


@pytest.mark.parametrize(
    ("root", "scale"),
    [
        ('width="210mm" height="297mm" viewBox="0 0 210 297"', 1.0),
        ('width="21cm" height="29.7cm" viewBox="0 0 2100 2970"', 0.1),
        ('width="8in" viewBox="5 5 8 8"', 25.4),
        ('width="8in" height="8in"', 25.4 / 96),  # CSS: 1 in = 96 px (W3C)
        ('height="72pt" viewBox="0,0,10,10"', 2.54),
        ('width="100%" height="100mm" viewBox="0 0 50 50"', 2.0),
    ],
)
def test_a_drawings_units_give_its_size(root: str, scale: float) -> None:
    made = from_svg(drawing(root), "p")
    assert made.box == pytest.approx((0, 0, 10 * scale * MM, 20 * scale * MM))


def test_transforms_of_all_ancestors_are_applied() -> None:
    root = 'width="100mm" viewBox="0 0 100 100"'
    body = f'<g transform="translate(5,5) scale(2)"><g transform="rotate(30 4 4)">{SQUARE}</g></g>'
    assert from_svg(drawing(root, body), "p").area == pytest.approx(800 * MM**2)
    disc = '<path id="p" transform="{}" d="M5 0a5 5 0 01-10 0a5 5 0 0110 0z"/>'
    turned = from_svg(drawing(root, disc.format("rotate(20) scale(-3 3)")), "p")
    assert all(isinstance(segment, Arc) for segment in turned.segments)
    assert turned.area == pytest.approx(math.pi * 15**2 * MM**2)
    skewed = from_svg(drawing(root, disc.format("scale(2 1) skewX(30)")), "p")
    assert skewed.area == pytest.approx(math.pi * 50 * MM**2, rel=1e-6)
    assert parse_transform("matrix(1 2 3 4 5 6)")((1, 1)) == (9, 12)
    assert parse_transform("translate(10) scale(2)")((1, 1)) == (12, 2)
    assert parse_transform("skewY(45)")((2, 1)) == pytest.approx((2, 3))


def test_polygons_and_rectangles_of_a_drawing_are_read_too() -> None:
    root = 'width="100mm" viewBox="0 0 100 100"'
    triangle = '<polygon id="p" points="0,0 40,0 0,30"/>'
    assert area(from_svg(drawing(root, triangle), "p")) == 600
    assert area(from_svg(drawing(root, '<rect id="p" x="3" width="40" height="30"/>'), "p")) == 1200


PAGE = 'width="100mm" viewBox="0 0 100 100"'


@pytest.mark.parametrize(
    ("data", "complaint"),
    [
        (drawing('width="800" height="600"'), 'no size in mm, cm or in; .*width="210mm"'),
        (drawing('width="800px" height="600px" viewBox="0 0 8 6"'), "no size in mm"),
        (drawing('viewBox="0 0 8 8"'), "no size in mm"),
        (drawing('width="80mm" height="80mm" viewBox="0 0 8 9"'), "don't agree"),
        (drawing('width="80mm" viewBox="0 0 8"'), "viewBox can't be read"),
        (drawing('width="80mm" viewBox="0 0 0 8"'), "viewBox is empty"),
        (drawing(PAGE, SQUARE.replace('"p"', '"q"')), "no path of id 'p'; its ids are 'q'"),
        (drawing(PAGE, "<g/>"), "no path of id 'p'; its ids are none"),
        (drawing(PAGE, SQUARE * 2), "two elements"),
        (drawing(PAGE, f"<symbol>{SQUARE}</symbol>"), "inside a <symbol>"),
        (drawing(PAGE, f"<svg>{SQUARE}</svg>"), "inside a <svg>"),
        (drawing(PAGE, f'<g style="transform:scale(2)">{SQUARE}</g>'), "moved by a style"),
        (drawing(PAGE, f'<g transform="twirl(2)">{SQUARE}</g>'), "transform 'twirl"),
        (drawing(PAGE, f'<g transform="scale(0)">{SQUARE}</g>'), "flatten 'p' to nothing"),
        (drawing(PAGE, f'<g transform="rotate(1e999)">{SQUARE}</g>'), "transform 'rotate"),
        (drawing(PAGE, f'<g transform="{"scale(1)" * 2_000}">{SQUARE}</g>'), "transform 'scale"),
        (drawing(PAGE, '<text id="p">hem</text>'), "is a <text>, not a path"),
        (b"<html/>", "not SVG"),
        (b"no drawing", "not sound XML"),
        (b"", "not sound XML"),
        (b'<!DOCTYPE svg [<!ENTITY a "bb">]><svg id="p">&a;</svg>', "document type or entities"),
        (b'<!DOCTYPE svg SYSTEM "file:///etc/passwd"><svg/>', "document type or entities"),
        (
            '<?xml version="1.0" encoding="utf-16"?><!DOCTYPE svg><svg/>'.encode("utf-16"),
            "document type or entities",
        ),
        (b"<svg>" + b"<g>" * 100_000, "more than 200 deep"),
        (b"<svg>" + b" " * 5_000_000, "over 5 MB"),
    ],
)
def test_drawings_that_are_no_use_are_refused_in_a_sentence(data: bytes, complaint: str) -> None:
    with pytest.raises(BadInput, match=complaint) as refused:
        from_svg(data, "p")
    assert "\n" not in str(refused.value)


def test_a_spike_is_refused_in_a_sentence_however_it_is_turned() -> None:
    # Found by fuzzing: turned a little, it neither crosses nor touches itself in so many digits.
    for turn in (0, 0.1, 45):
        path = f'<g transform="rotate({turn})"><path id="p" d="M 0 0 H 9 1 V 8 Z"/></g>'
        with pytest.raises(BadInput, match=r"itself|out and back"):
            from_svg(drawing(PAGE, path), "p").flatten()


def test_curves_without_end_are_refused_before_they_are_drawn() -> None:
    # 2,000 cubics of the length of a field: tens of millions of chords
    spots = ((7_919 * k % 900_000, 104_729 * k % 900_000) for k in range(6_000))
    with pytest.raises(BadInput, match="too many long curves"):
        from_path("M 0 0 C" + " ".join(f"{x} {y}" for x, y in spots) + " Z")


def test_a_file_is_read_up_to_five_megabytes(tmp_path: Path) -> None:
    small = tmp_path / "piece.svg"
    small.write_bytes(drawing(PAGE))
    assert from_svg(read_drawing(small), "p").area == pytest.approx(2 * CM * CM)
    large = tmp_path / "large.svg"
    large.write_bytes(b" " * 5_000_001)
    with pytest.raises(BadInput, match=r"large\.svg is over 5 MB"):
        read_drawing(large)
    with pytest.raises(BadInput, match=r"gone\.svg can't be read: no such file"):
        read_drawing(tmp_path / "gone.svg")
