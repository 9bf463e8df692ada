"""Pieces of the user's own that can't be used: one sentence each, and nothing written."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from time import process_time

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from own_cases import DRAWN, YOKE, own_piece, own_text

from marker.cli import main
from marker.errors import BadInput
from marker.geometry import Rect

BOX = 'length = "22 cm"\nbreadth = "8 cm"\n'
BOW = 'points = [["0 cm","0 cm"],["9 cm","9 cm"],["9 cm","0 cm"],["0 cm","9 cm"]]'
SVG = 'svg = "a.svg"\nid = "yoke"'
Faulty = Callable[..., str]


@pytest.fixture
def faulty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Faulty:
    """Plan a case of one piece through the command line; the one sentence that refuses it."""
    monkeypatch.chdir(tmp_path)

    def planned(piece: str, drawing: str | bytes = DRAWN, **parts: str) -> str:
        case, drawn = tmp_path / "own.toml", tmp_path / "a.svg"
        case.write_text(own_text(piece, **parts), encoding="utf-8")
        drawn.write_bytes(drawing if isinstance(drawing, bytes) else drawing.encode())
        began = process_time()
        done = CliRunner().invoke(main, ["plan", "own.toml", "--seconds", "1"])
        took = process_time() - began
        assert (done.exit_code, done.stdout) == (2, ""), done.output
        told = done.stderr.strip()
        assert told.startswith("marker: own.toml: piece")
        assert "\n" not in told and "Traceback" not in told
        assert not re.search(r"\. [A-Z]", told), "more than one sentence"
        assert sorted(path.name for path in tmp_path.iterdir()) == ["a.svg", "own.toml"]
        assert took < 2, f"{took:.1f} s"
        return told.removeprefix("marker: own.toml: ")

    return planned


FAULTS = {
    # what is given
    "no outline": ("count = 2", "piece.yoke has no outline; give length and breadth, points, d"),
    "two outlines": (BOX + BOW, "piece.yoke has length and breadth and points, but an outline"),
    "half a rectangle": ('length = "4 cm"', "piece.yoke.breadth is missing; give both"),
    "path without unit": (
        'd = "M 0 0 H 9 V 9 Z"',
        'piece.yoke.unit is missing beside d; give the unit of its figures, "mm", "cm" or "in"',
    ),
    "unit for nothing": (
        BOX + 'unit = "mm"',
        "piece.yoke.unit goes with d, which is not given; take it out",
    ),
    "drawing without id": ('svg = "a.svg"', "piece.yoke.id is missing beside svg; give the id"),
    "unknown key": (
        BOX + 'bredth = "2 cm"',
        "piece.yoke.bredth is not a key; did you mean 'breadth'?",
    ),
    "unknown grain": (BOX + 'grain = "warp"', "piece.yoke.grain is 'warp'; write 'along', "),
    # counts, cloths and wearers
    "none": (BOX + "count = 0", "piece.yoke.count is 0, but should be greater than or equal to 1"),
    "too many": (BOX + "count = 1001", "piece.yoke.count is 1001, but should be less than or"),
    "odd pairs": (
        BOX + "pairs = true\ncount = 3",
        "piece.yoke.count is 3, but pairs = true turns half of them over; give an even count",
    ),
    "unknown cloth": (BOX + 'cloth = "silk"', "piece.yoke.cloth names 'silk', which is not in"),
    "unknown wearer": (BOX + 'wearer = "ada"', "piece.yoke.wearer names 'ada', which is not"),
    # points
    "crossing": (BOW, "piece.yoke.points: the outline crosses or touches itself near"),
    "two points": (
        'points = [["0 cm","0 cm"],["9 cm","9 cm"]]',
        "is not an outline; give three places or more",
    ),
    "in a line": (
        'points = [["0 cm","0 cm"],["9 cm","9 cm"],["4 cm","4 cm"]]',
        "piece.yoke.points: the outline encloses next to nothing; give one with an area",
    ),
    "a point twice": (
        'points = [["0 cm","0 cm"],["9 cm","9 cm"],["9 cm","9 cm"],["9 cm","0 cm"]]',
        "piece.yoke.points: number 3 repeats the place before it; take one out",
    ),
    "bare figures": (
        "points = [[0, 0],[9, 9],[9, 0]]",
        "piece.yoke.points: number 1: '0' has no unit; write it as",
    ),
    "a lone figure": (
        'points = ["0 cm", "9 cm", "4 cm"]',
        "piece.yoke.points: number 1 is '0 cm', not a place; write how far along and how far",
    ),
    "far away": (
        'points = [["0 cm","0 cm"],["999 m","0 cm"],["0 cm","2000 m"]]',
        "piece.yoke.points: number 3: '2000 m' is longer than 1 km",
    ),
    # path data
    "garbage": ('d = "here be a yoke"\nunit = "cm"', "piece.yoke.d 'here be a yoke': the path"),
    "no numbers": ('d = "M 0 0 L 9 nine Z"\nunit = "cm"', "can't be read at 'nine Z'; save"),
    "escapes": ('d = "\\u001b[2J"\nunit = "cm"', "piece.yoke.d '\\x1b[2J': the path data"),
    "not text": ('d = 3\nunit = "cm"', "piece.yoke.d: 3 is not path data; write it in quotes"),
    "unknown unit": ('d = "M 0 0 H 9 V 9 Z"\nunit = "px"', "piece.yoke.unit is 'px'; write 'mm'"),
    "open": (
        'd = "M 0 0 H 9 V 9"\nunit = "cm"',
        "piece.yoke.d 'M 0 0 H 9 V 9': the path is open: it ends 127.28 mm from its start",
    ),
    "short arc": (
        'd = "M 0 0 A 2 2 0 0 1 9 0 V 9 Z"\nunit = "cm"',
        "an arc of radius 20.00 mm can't reach from 0, 0 mm to 90, 0 mm; give it 45.00 mm at",
    ),
    "huge figures": ('d = "M 0 0 H 1e300 V 9 Z"\nunit = "cm"', "reaches further than 1 km; check"),
    "two parts": ('d = "M 0 0 H 9 V 9 Z M 1 1 H 2 V 2 Z"\nunit = "cm"', "more than one part"),
    # edges, fold and seams
    "names for points": (
        BOW.replace('["9 cm","0 cm"],["0 cm","9 cm"]', '["9 cm","0 cm"]') + '\nedges = ["a"]',
        "piece.yoke.points: they make 3 edges, but edges has 1 names; give one for each",
    ),
    "names for a rectangle": (
        BOX + 'edges = ["a", "b"]',
        "piece.yoke.edges has 2 names, but a rectangle has 4 edges; give one for each",
    ),
    "names for a path": (
        'd = "M 0 0 H 9 V 9 Z"\nunit = "cm"\nedges = ["a", "b"]',
        "the path draws 3 edges but 2 names are given; give one name for each",
    ),
    "a number for a name": (BOX + 'edges = ["a", 2, "", ""]', "edges: number 2 is 2, not text"),
    "a text for names": (BOX + 'edges = "hem"', "piece.yoke.edges: 'hem' is not a list of names"),
    "no such fold": (
        f'{YOKE}\nfold = "front"',
        "piece.yoke.fold names the edge 'front', which the outline doesn't have; its edges are "
        "centre, side, neck",
    ),
    "fold without names": (
        'd = "M 0 0 H 9 V 9 Z"\nunit = "cm"\nfold = "front"',
        "its edges are without names; name them with edges",
    ),
    "two folds": (
        f'{YOKE}\nfold = "side"',
        "piece.yoke.fold names 'side', but 2 edges are called so; give the one that lies on",
    ),
    "curved fold": (
        'd = "M 0 0 Q 20 5 40 0 V 18 H 0 Z"\nunit = "cm"\nedges = ["f","","",""]\nfold = "f"',
        "piece.yoke.fold: the fold edge 'f' is not one straight line; no cloth folds on it",
    ),
    "over the fold": (
        'd = "M 0 0 H 20 L 30 5 L 40 -10 H 0 Z"\nunit = "cm"\n'
        'edges = ["f", "", "", "", ""]\nfold = "f"',
        "piece.yoke.fold: unfolded along 'f', the outline crosses or touches itself near",
    ),
    "a seam on the fold": (
        f'{YOKE}\nfold = "centre"\nseams = {{ centre = "1 cm" }}',
        "piece.yoke.seams has 'centre', but no seam runs along the fold; take it out",
    ),
    "no such seam": (
        BOX + 'seams = { hem = "1 cm" }',
        "piece.yoke.seams names the edge 'hem', which the outline doesn't have; its edges are "
        "low, end, high, start",
    ),
    "seam without unit": (BOX + "seam = 1", "piece.yoke.seam: '1' has no unit; write it as"),
    "seams without unit": (BOX + "seams = { low = 1 }", "piece.yoke.seams.low: '1' has no unit"),
    "nothing to add": (
        BOX + "seam_included = false",
        "piece.yoke.seam is missing, though seam_included = false; give the seam allowance",
    ),
    "added and included": (
        BOX + 'seam_included = true\nseams = { low = "1 cm" }',
        "piece.yoke.seams is given, but seam_included = true says that nothing is added",
    ),
    "corners of nothing": (BOX + 'corners = "square"', "piece.yoke.corners says how added seam"),
    "swallowed corner": (
        'd = "M 0 0 H 40 V 30 L 21 10 L 20 10 L 19 10 L 0 30 Z"\nunit = "cm"\nseam = "9 cm"',
        "piece.yoke.seam: a seam allowance of 90.0 mm leaves nothing of the edge at",
    ),
    "closed hollow": (
        'd = "M 0 0 H 40 V 30 H 25 A 5 5 0 0 0 15 30 H 0 Z"\nunit = "cm"\nseam = "6 cm"',
        "piece.yoke.seam: a seam allowance of 60.0 mm closes up the hollow of radius 50.0 mm on",
    ),
    "a shape to be torn": (YOKE + "\ntorn = true", "piece.yoke: torn is true, but only a rect"),
    "a slit": (
        'd = "M 0 0 H 40 V 30 H 20.001 V 5 H 20 V 30 H 0 Z"\nunit = "cm"',
        "piece.yoke: the outline has a detail finer than can be cut near 200, 250 mm; leave it out",
    ),
    # drawings
    "no drawing": (
        'svg = "b.svg"\nid = "yoke"',
        "piece.yoke.svg 'b.svg', id 'yoke': the drawing b.svg can't be read: no such file or "
        "directory; its path is told from the case file's folder",
    ),
    "a folder": ('svg = "."\nid = "yoke"', "piece.yoke.svg '.', id 'yoke': that is not a file"),
    "a device": ('svg = "/dev/zero"\nid = "yoke"', "id 'yoke': that is not a file; give the path"),
    "a long name": (
        f'svg = "{"ü" * 190}"\nid = "yoke"',
        "the drawing can't be read: file name too long; its path is told from the case",
    ),
    "no id": ('svg = "a.svg"\nid = "sleeve"', "has no path of id 'sleeve'; its ids are 'yoke'"),
    "no path": (
        'svg = "a.svg"\nid = "word"',
        "'word' is a <text>, not a path; turn it into a path",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_what_cant_be_used_is_told_in_one_sentence(faulty: Faulty, name: str) -> None:
    piece, says = FAULTS[name]
    assert says in faulty(piece)


def page(body: str, size: str = 'width="100mm" height="80mm"') -> str:
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 100 80">'
    return f"{head}{body}</svg>"


PATH = '<path id="yoke" d="M 0 0 H 40 V 30 Z"/>'
LAUGHS = "".join(f'<!ENTITY l{k} "{f"&l{k - 1};" * 10}">' for k in range(1, 12))
HOSTILE: dict[str, tuple[Callable[[], str | bytes], str]] = {
    "no size": (lambda: page(PATH, ""), "the drawing has no size in mm, cm or in; give the draw"),
    "pixels": (lambda: page(PATH, 'width="100px"'), "the drawing has no size in mm, cm or in"),
    "not SVG": (lambda: f"<html>{PATH}</html>", "the drawing is not SVG: it starts with <html>"),
    "noise": (lambda: bytes(range(256)) * 4, "the drawing is not sound XML"),
    "billion laughs": (
        lambda: f'<!DOCTYPE svg [<!ENTITY l0 "ha">{LAUGHS}]>' + page("&l11;" + PATH),
        "the drawing has a document type or entities, which are not read",
    ),
    "outside entity": (
        lambda: '<!DOCTYPE svg [<!ENTITY x SYSTEM "own.toml">]>' + page("&x;" + PATH),
        "the drawing has a document type or entities, which are not read",
    ),
    "a million points": (
        lambda: page(f'<path id="yoke" d="M 0 0 {"1 1 " * 1_000_000}Z"/>'),
        "the outline has more than 50,000 points; simplify it in the drawing",
    ),
    "curves without end": (
        lambda: page(
            '<path id="yoke" d="M 0 0 C'
            + " ".join(f"{7919 * k % 900_000} {104_729 * k % 900_000}" for k in range(30_000))
            + ' Z"/>'
        ),
        "the outline has too many long curves to be checked; simplify it",
    ),
    "deep nest": (
        lambda: page("<g>" * 400_000 + PATH + "</g>" * 400_000),
        "the drawing nests its elements more than 200 deep; save the piece's path alone",
    ),
    "over 5 MB": (lambda: page(" " * 5_000_001 + PATH), "a.svg is over 5 MB; save the piece's"),
    "huge place": (
        lambda: page('<path id="yoke" d="M 0 0 H 1e300 V 30 Z"/>'),
        "the outline reaches further than 1 km; check its figures and units",
    ),
    "flattened": (
        lambda: page(f'<g transform="scale(1 0)">{PATH}</g>'),
        "the drawing's transforms flatten 'yoke' to nothing; take them out",
    ),
    "turned without end": (
        lambda: page(f'<g transform="rotate(1e999)">{PATH}</g>'),
        "the drawing's transform 'rotate(1e999)' can't be read",
    ),
    "twice": (lambda: page(PATH * 50_000), "the drawing has two elements of id 'yoke'"),
    "elsewhere": (
        lambda: page(f"<symbol>{PATH}</symbol>"),
        "'yoke' lies inside a <symbol>, which draws it elsewhere; move the path out of it",
    ),
    "lace without end": (
        lambda: page(
            '<path id="yoke" d="M 0 0 '
            + " ".join(f"L {k * 0.08:.2f} {70 + k % 2}" for k in range(1_000))
            + ' L 80 0 Z"/>'
        ),
        "corners to cut round, and 500 are the most; simplify it in the drawing",
    ),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_drawings_are_refused_at_once(faulty: Faulty, name: str) -> None:
    drawing, says = HOSTILE[name]
    told = faulty(SVG, drawing())
    assert told.startswith("piece.yoke") and says in told
    assert len(told) < 400


VALUES = {
    "length": ['"22 cm"', '"0.1 mm"', '"900 m"'],
    "breadth": ['"8 cm"', '"1 in"'],
    "points": ['[["0 cm","0 cm"],["9 cm","0 cm"],["9 cm","8 cm"],["0 cm","7 cm"]]', "[[], []]"],
    "d": ['"M 0 0 H 20 V 10 A 6 6 0 0 0 0 10 Z"', '"M 0 0 C 9 9 20 -9 30 0 V 20 H 0 Z"', '"M"'],
    "unit": ['"mm"', '"cm"', '"in"'],
    "svg": ['"a.svg"', '"../a.svg"', '"\\u0000"'],
    "id": ['"yoke"', '""'],
    "edges": ['["a", "b", "c", "d"]', '["a", "a", "", "a"]', '["f", "g", "h"]', "[]"],
    "fold": ['"a"', '"c"', '"low"', '"end"'],
    "seam": ['"1 cm"', '"0 cm"', '"30 cm"', '"-1 cm"'],
    "seams": ['{ a = "2 cm" }', '{ low = "5 mm", high = "0 cm" }', "{}"],
    "seam_included": ["true", "false"],
    "corners": ['"square"', '"mitred"'],
    "count": ["2", "3", "-1", "true"],
    "pairs": ["true", "1"],
    "grain": ['"along"', '"across"', '"either"', '"bias"'],
    "torn": ["true", "false"],
    "cloth": ['"main"', '["main"]', "[]"],
}


@settings(derandomize=True, max_examples=300, deadline=None)
@given(st.fixed_dictionaries({}, optional={k: st.sampled_from(v) for k, v in VALUES.items()}))
def test_any_piece_is_drafted_or_refused_in_a_sentence(given_keys: dict[str, str]) -> None:
    piece = "\n".join(f"{key} = {value}" for key, value in given_keys.items())
    _drafted_or_refused(piece)


@settings(derandomize=True, max_examples=120, deadline=None)
@given(
    st.sampled_from(["rectangle", "points", "curve", "hollow"]),
    st.fixed_dictionaries(
        {"seam": st.sampled_from(VALUES["seam"]), "edges": st.sampled_from(VALUES["edges"][:2])},
        optional={k: st.sampled_from(VALUES[k]) for k in ("fold", "seams", "grain", "pairs")},
    ),
)
def test_any_outline_is_drafted_or_refused_in_a_sentence(way: str, more: dict[str, str]) -> None:
    outline = {
        "rectangle": BOX,
        "points": f"points = {VALUES['points'][0]}\n",
        "curve": f'd = {VALUES["d"][1]}\nunit = "cm"\n',
        "hollow": f'd = {VALUES["d"][0]}\nunit = "cm"\n',
    }[way]
    _drafted_or_refused(outline + "\n".join(f"{key} = {value}" for key, value in more.items()))


def _drafted_or_refused(piece: str) -> None:
    try:
        made = own_piece(piece)
    except BadInput as error:
        told = str(error)
        assert told.startswith("own.toml: piece") and "\n" not in told
        assert not re.search(r"\. [A-Z]", told) and "''" not in told
    else:
        assert made.polygon.box == Rect(0, 0, made.length, made.breadth)


def test_nothing_to_make_and_nobody_to_make_it_for(tmp_path: Path) -> None:
    head = 'title = "Own"\nunits = "cm"\n[cloth.main]\nwidth = "1 m"\n'
    says = {
        "": "garment is missing; give a table for each garment, such as [garment.skirt], or for",
        "[piece]\n": "piece holds nothing; add a table such as [piece.one]",
        '[piece."a/b"]\n': "piece has the key 'a/b', which can't name a file",
        "[garment.skirt.panels]\ncount = 2\n": "wearer is missing; give a table for each wearer",
    }
    for more, said in says.items():
        (tmp_path / "a.toml").write_text(head + more, encoding="utf-8")
        done = CliRunner().invoke(main, ["plan", str(tmp_path / "a.toml")])
        assert done.exit_code == 2 and said in done.stderr


def test_own_pieces_keep_off_the_names_of_garments(tmp_path: Path) -> None:
    more = '[wearer.ada]\nwaist = "70 cm"\nlength = "1 m"\n[garment.own-pieces.panels]\ncount = 2\n'
    (tmp_path / "a.toml").write_text(own_text(BOX, more=more), encoding="utf-8")
    done = CliRunner().invoke(main, ["plan", str(tmp_path / "a.toml")])
    assert done.exit_code == 2
    assert "the pieces of your own are called 'own-pieces', as a garment is" in done.stderr
