"""One table holds every pen, size of type, colour and dash; capitals stand 2 mm tall in print."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import font_source_sans_pro
import pytest

import marker.plan
from marker.plan.drawing import style

PLAN = Path(marker.plan.__file__).parent
MODULES = sorted(
    path.relative_to(PLAN).as_posix()
    for path in PLAN.rglob("*.py")
    if path.name not in ("style.py", "lettering.py")
)
TEMPLATES = sorted(path.relative_to(PLAN).as_posix() for path in PLAN.rglob("*.typ"))
LOOKS = {"weight", "size", "dash", "colour", "fill"}
"""Arguments that only the table may fill, by their names."""
PLACES = {"words": 2, "say": 3, "field": 1, "solid": 1, "disc": 2, "width": 1, "clip": 1,
          "wrap": 1, "height": 0}  # fmt: skip
"""The same by place: which argument of which verb is a size or a fill."""
SIZES = {
    name: value if isinstance(value, tuple) else (value,)
    for name, value in vars(style).items()
    if name in {"TITLE_SIZES", "STEP_SIZES", "TEXT", "STEP", "LARGE", "NAME", "PAGE_TITLE",
                "CASE_TITLE", "BUY", "IN_HAND", "SUB", "HEADING", "NOTE", "SMALL", "LEAST",
                "READING", "FIGURE", "DIMENSION", "THUMB", "OPTION", "HEAD_TITLE", "LONG_TITLE",
                "CHART", "CHART_SMALL", "CHART_MARK", "ROLL_TITLE", "ROLL_WORDS", "LIST",
                "LIST_LESS", "WORK"}
}  # fmt: skip
PENS = {
    name: value
    for name, value in vars(style).items()
    if name in {"EDGE", "OUTLINE", "TEAR", "CUT", "UNDER", "CLOTH_FOLD", "TEAR_LEAST", "RING",
                "LEADER", "THIN", "FOLD", "SEAM", "NOTCH", "TICK", "HATCH", "FLAW", "REPEAT",
                "MATCH", "SMALL_EDGE", "SMALL_TEAR", "SMALL_CUT", "GRAIN"}
}  # fmt: skip


def literals(tree: ast.Module) -> Iterator[str]:
    """Every look that a module sets by a figure or colour of its own, as source text."""
    own = {name for node in tree.body if isinstance(node, ast.Assign) for name in _literal(node)}
    for call in (node for node in ast.walk(tree) if isinstance(node, ast.Call)):
        verb = call.func.attr if isinstance(call.func, ast.Attribute) else ""
        verb = call.func.id if isinstance(call.func, ast.Name) else verb
        if verb == "Drawing":
            continue  # the size of a page
        looks = [key.value for key in call.keywords if key.arg in LOOKS]
        looks += call.args[PLACES[verb] : PLACES[verb] + 1] if verb in PLACES else []
        if any(_is_literal(part, own) for look in looks for part in ast.walk(look)):
            yield ast.unparse(call)
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and re.fullmatch(r"#[0-9a-fA-F]{3,8}", str(node.value)):
            yield str(node.value)


def _literal(node: ast.Assign) -> Iterator[str]:
    for target in node.targets:
        names = target.elts if isinstance(target, ast.Tuple) else [target]
        plain = isinstance(node.value, ast.Constant | ast.Tuple) and not any(
            isinstance(part, ast.Attribute) for part in ast.walk(node.value)
        )
        yield from (one.id for one in names if plain and isinstance(one, ast.Name))


def _is_literal(part: ast.AST, own: set[str]) -> bool:
    if isinstance(part, ast.Name):
        return part.id in own
    return isinstance(part, ast.Constant) and part.value not in (0, "none", "", None, True, False)


@pytest.mark.parametrize("name", [name for name in MODULES if not name.endswith("/table.py")])
def test_no_module_sets_a_look_by_a_figure_of_its_own(name: str) -> None:
    source = (PLAN / name).read_text(encoding="utf-8")
    if "marker.plan.drawing" in source:
        assert list(literals(ast.parse(source))) == []


def test_the_search_for_literals_finds_them() -> None:
    found = literals(ast.parse(
        "TEXT = 360\nd.words(at, 'x', TEXT)\nd.path(run, weight=style.TICK + 6)\n"
        "d.field(box, '#eee')\nd.path(run, weight=style.TICK, dash=(1, 2))\nd.words(at, 'x', 300)\n"
        "d.words(at, 'x', style.NOTE, colour=style.SOFT)\n"
    ))  # fmt: skip
    assert len(list(found)) == 6  # the colour counts once as a fill and once as a colour


@pytest.mark.parametrize("name", TEMPLATES)
def test_no_template_sets_a_size_a_pen_or_a_colour_of_its_own(name: str) -> None:
    source = re.sub(r"//[^\n]*", "", (PLAN / name).read_text(encoding="utf-8"))
    assert not re.findall(r"\d(?:\.\d+)?pt\b", source)
    assert not re.findall(r"(?:\bsize|\bstroke|thickness|\bfont): *[\d\"][^,)\n]*", source)
    assert not re.findall(r"\b(?:rgb|luma|cmyk|oklab)\(", source)


def test_every_line_is_of_a_pen_of_the_row() -> None:
    assert set(PENS.values()) <= set(style.PENS)
    # Each about the square root of two times the one before (ISO 128, from memory).
    for thin, thick in zip(style.PENS, style.PENS[1:], strict=False):
        assert thick / thin == pytest.approx(2**0.5, rel=0.04)
    # Thick lines for what is torn, cut and outlined, thin ones for what is told of them.
    assert style.TEAR >= 2 * style.OUTLINE > 2 * style.THIN
    assert style.SEAM == style.HATCH == style.THIN == min(style.PENS)


def sized(tree: ast.Module) -> Iterator[str]:
    """The names in the table that a module sets words at."""
    for call in (node for node in ast.walk(tree) if isinstance(node, ast.Call)):
        verb = call.func.attr if isinstance(call.func, ast.Attribute) else ""
        args = call.args[PLACES[verb] : PLACES[verb] + 1] if verb in ("words", "say") else []
        args += [key.value for key in call.keywords if key.arg == "size"]
        for part in (part for arg in args for part in ast.walk(arg)):
            if isinstance(part, ast.Attribute) and ast.unparse(part.value) == "style":
                yield part.attr


@pytest.mark.slow
def test_every_size_that_words_are_set_at_is_one_of_those_checked() -> None:
    trees = [ast.parse((PLAN / name).read_text(encoding="utf-8")) for name in MODULES]
    used = {name for tree in trees for name in sized(tree)}
    assert {"SMALL", "NOTE", "TEXT", "LEAST"} <= used <= SIZES.keys()


def test_capitals_stand_two_millimetres_tall_in_print() -> None:
    least = min(size for sizes in SIZES.values() for size in sizes)
    assert least == style.LEAST
    assert least * style.CAPITALS >= 200 * 1000
    assert all(size >= least for row in style.BLOCKS for size in (row[0], row[2]))
    assert min(style.look()["letters"].values()) >= least


def test_the_height_of_capitals_is_that_of_the_font() -> None:
    tt_font = pytest.importorskip("fontTools.ttLib").TTFont
    for face in ("Regular", "It", "Semibold", "Bold"):
        path = Path(font_source_sans_pro.font_directory) / f"SourceSansPro-{face}.ttf"
        font = tt_font(path)
        assert font["OS/2"].sCapHeight * 1000 // font["head"].unitsPerEm >= style.CAPITALS


def _luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.1, W3C)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """How far two colours stand apart, 1 to 21 (WCAG 2.1, W3C)."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("ground", [style.PAPER, style.TINT, style.SELVEDGE])
@pytest.mark.parametrize("ink", [style.INK, style.SOFT])
def test_words_stand_out_from_whatever_they_are_set_on(ink: str, ground: str) -> None:
    assert contrast(ink, ground) >= 4.5
    assert contrast(style.PAPER, style.INK) >= 4.5  # a letter in its disc


def test_contrast_is_reckoned_as_the_standard_does() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


def test_what_means_different_things_differs_without_colour() -> None:
    lines = {
        "tear": (style.DASH_TEAR, style.TEAR),
        "cut": ((), style.CUT),
        "outline": ((), style.OUTLINE),
        "fold": (style.DASH_FOLD, style.FOLD),
        "cloth fold": (style.DASH_CLOTH_FOLD, style.CLOTH_FOLD),
        "seam": ((), style.SEAM),
        "repeat": (style.DASH_REPEAT, style.REPEAT),
        "region": (style.DASH_REGION, style.THIN),
    }
    found = [*lines.values()]
    assert len(set(found)) == len(found)
    # Two lines of one dash are told by their pens: at least a pen lies between them or a half.
    for a in found:
        for b in found:
            if a is not b and a[0] == b[0]:
                assert max(a[1], b[1]) >= 1.4 * min(a[1], b[1])
    hatches = {style.HATCH_WASTE, style.HATCH_REMNANT}
    assert style.HATCH_REMNANT >= 2 * style.HATCH_WASTE
    assert len(hatches) == 2
