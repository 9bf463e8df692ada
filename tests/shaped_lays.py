"""Small cases with curved pieces, and their lays as the solvers make them, few rounds each."""

from __future__ import annotations

from functools import cache

from marker.cloth import Cloth
from marker.geometry import Outline, Rect
from marker.geometry.shapes import bias_strip, circle_panel, facing, gore, rectangle
from marker.lay import Lay, Mode
from marker.piece import Edges, Grain, Mark, MarkKind, Piece
from marker.solver import solve
from marker.units import CM

SEWN = Edges("waist", "hem", "seam", "seam")
ROUNDS = 3


def cloth(width: int = 140 * CM, **more: object) -> Cloth:
    """A wool for the village dancers, sold by 10 cm, its selvedges trimmed off."""
    fields: dict[str, object] = {"selvedge": CM, "squaring": 2 * CM, "step": 10 * CM, **more}
    return Cloth("wool", "grey wool", width, **fields)  # type: ignore[arg-type]


def gores(count: int = 6, **more: object) -> Piece:
    """The gores of a walking skirt, with a line to fold the hem at."""
    notch = Mark(MarkKind.NOTCH, "hip", 20 * CM, 0, 20 * CM, 0)
    return Piece.shaped(
        "A", "gore", gore(14 * CM, 42 * CM, 82 * CM), count, "wool", edges=SEWN,
        marks=(notch,), garment="skirt", wearer="Anna", **{"folds": True, **more},
    )  # fmt: skip


def yoke() -> Piece:
    """A shape unlike its mirror image, cut as a pair."""
    outline = Outline.through(
        [(0, 0), (30 * CM, 0), (30 * CM, 12 * CM), (18 * CM, 22 * CM), (0, 16 * CM)],
        ("front", "shoulder", "neck", "back", "waist"),
    )
    return Piece.shaped("B", "yoke", outline, 2, "wool", mirrored=1, garment="skirt", wearer="Anna")


def strips() -> Piece:
    """Bias strips to bind a hem."""
    return Piece.shaped(
        "C", "binding", bias_strip(50 * CM, 4 * CM), 5, "wool", grain=Grain.BIAS,
        garment="skirt", wearer="Anna",
    )  # fmt: skip


def band(letter: str = "D") -> Piece:
    """A straight waistband, along or across."""
    return Piece(
        letter, "band", 76 * CM, 8 * CM, 1, "wool", grain=Grain.EITHER, garment="skirt",
        wearer="Anna",
    )  # fmt: skip


def panels(count: int = 2) -> Piece:
    """Straight panels of a petticoat, to be torn."""
    return Piece("E", "panel", 90 * CM, 100 * CM, count, "wool", garment="petticoat", wearer="Anna")


def half_circle() -> tuple[Piece, Piece]:
    """The two panels of a half-circle skirt, and a shaped facing for the hem of each."""
    panel = circle_panel(70 * CM, 60 * CM, 0.5, 2)
    return (
        Piece.shaped("F", "circle panel", panel, 2, "wool", folds=True, edges=SEWN,
                     garment="skirt", wearer="Britt"),
        Piece.shaped("G", "shaped facing", facing(panel, "end", 6 * CM), 2, "wool", folds=True,
                     garment="skirt", wearer="Britt"),
    )  # fmt: skip


def laid(asked: Cloth, pieces: tuple[Piece, ...], mode: Mode | None = Mode.SHEARS) -> Lay:
    """The lay of a few rounds, the same on any machine."""
    return solve(asked, pieces, mode=mode, iterations=ROUNDS, seed=1)


@cache
def gored() -> Lay:
    """Gores and a band, head to tail on open cloth."""
    return laid(cloth(), (gores(), band()))


@cache
def one_way() -> Lay:
    """Gores that all point one way, on napped cloth."""
    return laid(cloth(one_way=True), (gores(), yoke()))


@cache
def bias() -> Lay:
    """Bias strips beside gores and a mirrored pair."""
    return laid(cloth(), (gores(4), yoke(), strips(), band()))


@cache
def circle() -> Lay:
    """Half a circle in two panels, with facings of the same curve."""
    return laid(cloth(), half_circle())


@cache
def spaced() -> Lay:
    """Pieces that keep a margin of 1 cm, clear of a flaw."""
    flaw = Rect(40 * CM, 60 * CM, 46 * CM, 66 * CM)
    return laid(cloth(margin=CM, flaws=(flaw,)), (gores(4), yoke(), band()))


@cache
def straight() -> Lay:
    """A piece whose outline is no more than a rectangle."""
    piece = Piece.shaped("A", "apron", rectangle(60 * CM, 50 * CM), 3, "wool", wearer="Anna")
    return laid(cloth(), (piece, band("B")))


@cache
def mixed() -> Lay:
    """Panels that are torn off, and gores in a region for the shears."""
    return laid(cloth(), (panels(), gores(4), yoke(), band()), Mode.TEAR)


@cache
def folded() -> Lay:
    """Cloth laid folded: gores on the fold or in pairs, and a mirrored pair in two layers."""
    return laid(cloth(folded=True), (gores(5), yoke(), band()))
