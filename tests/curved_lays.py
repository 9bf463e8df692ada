"""Lays of pieces with outlines, made by hand: no solver has a part in them, one idea each.

Outlines with corners at whole places are their own polygons, so what each lay holds and
leaves can be told to the unit.
"""

from __future__ import annotations

from dataclasses import replace

from lays import ACROSS, ALONG, Bench

from marker.cloth import Cloth, Repeat
from marker.geometry import Arc, Line, Outline, Rect
from marker.geometry.shapes import bias_strip
from marker.lay import Lay, Placement, Proof
from marker.piece import AtSelvedge, Grain, Match, Piece, Side, Wise
from marker.units import CM

WEDGE = Outline.through(
    [(0, 0), (60 * CM, 0), (60 * CM, 20 * CM), (20 * CM, 50 * CM), (0, 50 * CM)]
)
"""60 x 50 cm less a corner, 40 along and 30 across, so that the cut there measures 50."""
YOKE = Outline.through([(0, 0), (30 * CM, 0), (30 * CM, 10 * CM), (10 * CM, 20 * CM), (0, 15 * CM)])
"""Unlike its mirror image."""
KITE = Outline.through([(0, 10 * CM), (20 * CM, 0), (40 * CM, 10 * CM), (20 * CM, 20 * CM)])
HALF_MOON = Outline(
    (
        Line((0.0, 20.0 * CM), (0.0, 0.0), "start"),
        Arc((0.0, 0.0), (0.0, 20.0 * CM), (0.0, 10.0 * CM), True, "end"),
    )
)
"""Half a disc of 10 cm, the same on both sides of its middle."""


def shaped(letter: str, outline: Outline, count: int, **more: object) -> Piece:
    """A piece of an outline, cut from wool."""
    return Piece.shaped(letter, "piece", outline, count, "wool", **more)


def over(bench: Bench, letter: str, x: int, y: int, turn: int = 0) -> None:
    """Lay the next copy of a piece turned over."""
    bench.put(letter, x, y, turn)
    bench.placements[-1] = replace(bench.placements[-1], flip=True)


def wedges() -> Lay:
    """Two wedges head to tail make 80 x 70 cm less two corners; a pair, a half moon, a band."""
    cloth = Cloth("wool", "wool", width=100 * CM, step=10 * CM, tears=False)
    bench = Bench(
        [
            shaped("A", WEDGE, 2),
            shaped("B", YOKE, 2, mirrored=1),
            shaped("C", HALF_MOON, 1, grain=Grain.EITHER, folds=True),
            Piece("D", "band", 60 * CM, 8 * CM, 1, "wool"),
        ]
    )
    bench.put("A", 0, 0)
    bench.put("A", 20 * CM, 20 * CM, 180)
    bench.put("B", 0, 70 * CM)
    over(bench, "B", 30 * CM, 70 * CM)
    bench.put("C", 65 * CM, 75 * CM, 180)
    bench.put("D", 0, 92 * CM)
    bench.leave(Rect(60 * CM, 0, 80 * CM, 20 * CM), keep=True)
    bench.leave(Rect(0, 50 * CM, 20 * CM, 70 * CM), keep=True)
    bench.leave(Rect(60 * CM, 96 * CM, 80 * CM, 100 * CM))
    bolt = Rect(0, 0, 80 * CM, 100 * CM)
    return bench.lay(
        cloth, 80 * CM, bolt, 60 * CM, Proof.OPEN,
        (80 * CM, 60 * CM), left=20 * CM * 20 * CM, cuts=6,
    )  # fmt: skip


def spaced() -> Lay:
    """A margin of 1 cm, kept to the unit: square to a slant (0.6 along, 0.8 across), over
    corners, and between straight edges."""
    cloth = Cloth("wool", "wool", width=100 * CM, step=10 * CM, margin=CM)
    bench = Bench(
        [
            shaped("A", WEDGE, 2),
            Piece("D", "band", 60 * CM, 8 * CM, 1, "wool"),
            Piece("E", "pocket", 20 * CM, 10 * CM, 1, "wool"),
        ]
    )
    bench.put("A", 0, 0)
    bench.put("A", 20 * CM + 960, 20 * CM + 1280, 180)
    bench.put("D", 0, 71 * CM + 1280)
    bench.put("E", 60 * CM + 960, 79 * CM + 2 * 1280)
    bolt = Rect(0, 0, 90 * CM, 100 * CM)
    return bench.lay(
        cloth, 80 * CM + 960, bolt, 60 * CM, Proof.OPEN, (90 * CM, 60 * CM), cuts=4
    )  # fmt: skip


def region() -> Lay:
    """A panel that is torn, and a drop torn off for the shears, a straight band in it as well."""
    cloth = Cloth("wool", "wool", width=100 * CM, step=10 * CM, selvedge=CM, squaring=5 * CM)
    bench = Bench(
        [
            Piece("P", "panel", 50 * CM, 98 * CM, 1, "wool"),
            shaped("A", WEDGE, 2),
            Piece("D", "band", 60 * CM, 8 * CM, 1, "wool"),
        ]
    )
    bolt = Rect(-5 * CM, 0, 135 * CM, 100 * CM)
    bench.put("P", 0, CM)
    bench.put("A", 50 * CM, CM)
    bench.put("A", 70 * CM, 21 * CM, 180)
    bench.put("D", 50 * CM, 71 * CM)
    square, rest = bench.tear(bolt, ACROSS, 0)
    panel, rest = bench.tear(rest, ACROSS, 50 * CM)
    drop, tail = bench.tear(rest, ACROSS, 130 * CM)
    near, panel = bench.tear(panel, ALONG, CM)
    _, far = bench.tear(panel, ALONG, 99 * CM, "P-1")
    bench.leave(Rect(50 * CM, 79 * CM, 130 * CM, 99 * CM), keep=True)
    bench.leave(Rect(110 * CM, CM, 130 * CM, 21 * CM), keep=True)
    bench.leave(square, tail, near, far)
    near, drop = bench.tear(drop, ALONG, CM)
    drop, far = bench.tear(drop, ALONG, 99 * CM)
    bench.leave(near, far)
    lay = bench.lay(
        cloth, 130 * CM, bolt, 100 * CM, Proof.OPEN,
        (140 * CM, 110 * CM), left=80 * CM * 20 * CM,
    )  # fmt: skip
    goals = (*lay.goals[:3], replace(lay.goals[3], value=7 + 3))
    return replace(lay, regions=(drop,), goals=goals)


def folded() -> Lay:
    """Cloth folded at 50 cm: a pair, a kite on the fold, half moons of which one is free."""
    cloth = Cloth("wool", "wool", width=100 * CM, step=10 * CM, folded=True)
    bench = Bench(
        [
            shaped("A", WEDGE, 2, mirrored=1),
            shaped("K", KITE, 1, folds=True),
            shaped("M", HALF_MOON, 3),
            Piece("R", "pocket", 12 * CM, 10 * CM, 2, "wool"),
        ]
    )
    bench.put("A", 0, 0)
    over(bench, "A", 0, 50 * CM)
    bench.put("K", 60 * CM, 40 * CM)
    bench.put("M", 60 * CM, 0)
    bench.put("M", 60 * CM, 100 * CM - bench.pieces[2].breadth)
    bench.put("M", 75 * CM, 0)
    bench.put("R", 88 * CM, 0)
    bench.put("R", 88 * CM, 90 * CM)
    bench.leave(Rect(60 * CM, 60 * CM, 100 * CM, 79 * CM), keep=True)
    bench.leave(Rect(60 * CM, 21 * CM, 100 * CM, 40 * CM), keep=True)
    bolt = Rect(0, 0, 100 * CM, 100 * CM)
    return bench.lay(
        cloth, 100 * CM, bolt, 60 * CM, Proof.OPEN,
        (100 * CM, 60 * CM), left=40 * CM * 19 * CM, cuts=8,
    )  # fmt: skip


def slanted() -> Lay:
    """A mirrored pair of bias strips on napped cloth, either side of the warp, and a kite."""
    cloth = Cloth("wool", "wool", width=100 * CM, step=CM, one_way=True)
    strip = shaped("S", bias_strip(40 * CM, 5 * CM), 2, grain=Grain.BIAS, mirrored=1)
    bench = Bench([strip, shaped("K", KITE, 1)])
    along = strip.laid(45).box.along
    bench.put("S", 0, 0, 45)
    over(bench, "S", along, 0, 315)
    bench.put("K", 0, 60 * CM)
    length = 2 * along
    bought = -(-length // CM) * CM
    bolt = Rect(0, 0, bought, 100 * CM)
    return bench.lay(
        cloth, length, bolt, 40 * CM, Proof.OPEN, (bought, 40 * CM), cuts=3
    )  # fmt: skip


def phased() -> Lay:
    """Wedges at the selvedges, turned over or not, and a bias strip, all matched in a check.

    The strip is laid where its point falls in the place that the wedges have in the repeat.
    """
    cloth = Cloth("wool", "wool", width=100 * CM, step=CM, repeat=Repeat(16 * CM, 10 * CM))
    hem = Match("hem", Wise.LENGTHWISE, 20 * CM, 0)
    bars = Match("bars", Wise.CROSSWISE, 0, 0)
    strip = shaped(
        "S", bias_strip(40 * CM, 5 * CM), 1, grain=Grain.BIAS,
        matches=(Match("hem", Wise.LENGTHWISE, 10 * CM, 0),),
    )  # fmt: skip
    bench = Bench(
        [
            shaped("A", WEDGE, 2, mirrored=1, matches=(hem, bars),
                   selvedges=(AtSelvedge(Side.LOW),)),
            strip,
        ]
    )  # fmt: skip
    bench.put("A", 0, 0)
    over(bench, "A", 64 * CM, 50 * CM)
    at = Placement("S", 1, 0, 0, 45).to_cloth(strip, 10 * CM, 0)[0]
    x = 128 * CM + (20 * CM - at) % (16 * CM)
    bench.put("S", x, 0, 45)
    length = x + strip.laid(45).box.along
    bought = -(-length // CM) * CM
    bolt = Rect(0, 0, bought, 100 * CM)
    return bench.lay(
        cloth, length, bolt, 60 * CM, Proof.OPEN, (bought, 60 * CM), cuts=3
    )  # fmt: skip


CURVED = {make.__name__: make for make in (wedges, spaced, region, folded, slanted, phased)}
"""The lays of this file, by name; each passes the referee."""
