"""Lays of every size to try the tear solver on: puzzles torn without waste, and real orders.

Everything comes from a seed, so that tests and benchmarks share the very same cases.
"""

from __future__ import annotations

import json
from pathlib import Path
from random import Random

from marker.cloth import Cloth
from marker.piece import Grain, Piece
from marker.solver.problem import Kind, Problem
from marker.units import CM, INCH, MM

Ask = tuple[Cloth, tuple[Piece, ...]]
WIDTHS = (1400 * MM, 1500 * MM, 1120 * MM, 45 * INCH, 54 * INCH, 60 * INCH)


def published(path: Path) -> Ask:
    """A set of rectangles from its file, in millimetres; pieces keep their orientation."""
    data = json.loads(path.read_text(encoding="utf-8"))
    cloth = Cloth("c", data["name"], data["width"] * MM, MM)
    pieces = tuple(
        Piece(f"P{at}", f"piece {at}", item["length"] * MM, item["width"] * MM, item["count"], "c")
        for at, item in enumerate(data["pieces"], 1)
    )
    return cloth, pieces


def torn(width: int, length: int, pieces: int, random: Random) -> Problem:
    """A cloth torn into pieces without waste: the optimum is `length`."""
    rects = [(length, width)]
    while len(rects) < pieces:
        a, b = rects.pop(max(range(len(rects)), key=lambda at: rects[at][0] * rects[at][1]))
        if a > b:
            cut = random.randint(a // 4, a - a // 4)
            rects += [(cut, b), (a - cut, b)]
        else:
            cut = random.randint(b // 4, b - b // 4)
            rects += [(a, cut), (a, b - cut)]
    return Problem(width, tuple(Kind((size,), rects.count(size)) for size in sorted(set(rects))))


def assorted(seed: int, pieces: int = 15, kinds: int = 8) -> Ask:
    """Panels, strips and odd pieces of any size, in millimetres and quarter inches mixed."""
    random = Random(seed)
    cloth = Cloth("c", "mixed", random.choice(WIDTHS), 10 * CM, selvedge=random.choice((0, CM)))
    widest = cloth.usable.across

    def length(low: float, high: float) -> int:
        value = random.uniform(low, high)
        if random.random() < 0.5:
            return max(1, round(value / 25.4 * 4)) * INCH // 4
        return round(value / 5) * 5 * MM

    counts = [1] * kinds
    for _ in range(pieces - kinds):
        counts[random.randrange(kinds)] += 1
    made = []
    for at, count in enumerate(counts):
        sort = random.random()
        if sort < 0.3:
            size = length(700, 1150), min(widest, length(350, widest / MM))
        elif sort < 0.5:
            size = length(500, 1000), length(30, 120)
        elif sort < 0.75:
            size = length(200, 600), length(100, 500)
        else:
            size = length(80, 400), length(60, 300)
        grain = Grain.EITHER if random.random() < 0.2 else Grain.ALONG
        made.append(Piece(f"P{at}", f"piece {at}", *size, count, "c", grain))
    return cloth, tuple(made)


def company(wearers: int, seed: int, *, facings: bool = True) -> Ask:
    """A company's skirts from one bolt: each wearer has a length and a waist of her own.

    A skirt takes two to four panels, of a breadth or a common part of one, a band, a placket,
    mostly a facing of two to four strips, here and there pockets or ties. Some wearers are
    measured in inches.
    """
    random = Random(seed)
    cloth = Cloth("c", "bolt", random.choice(WIDTHS), 10 * CM, selvedge=random.choice((0, CM)))
    made: list[Piece] = []
    for wearer in range(wearers):
        made += _skirt(cloth, wearer, random, facings)
    return cloth, tuple(made)


def _skirt(cloth: Cloth, wearer: int, random: Random, facings: bool) -> list[Piece]:
    unit, grid = (INCH // 2, 2.54 / 2) if random.random() < 0.5 else (CM // 2, 0.5)
    widest = cloth.usable.across

    def near(low: float, high: float) -> int:
        return round(random.uniform(low, high) / grid) * unit

    panels = random.randint(2, 4)
    share = random.choice((1.0, 0.5, 0.5, 0.6, 0.66, 0.75))
    breadth = widest if share == 1.0 else int(widest * share) // unit * unit
    seam = CM if grid == 0.5 else INCH // 2
    cut = [("panel", near(88, 112), breadth, panels, Grain.ALONG)]
    if facings and random.random() < 0.8:
        strips = random.randint(2, 4)
        around = panels * (breadth - 2 * seam)
        length = -(-(around + 2 * seam * strips) // strips // unit) * unit
        if length <= widest:
            cut.append(("facing strip", length, near(13, 18), strips, Grain.EITHER))
    cut.append(("band", near(68, 100), near(6, 10), 1, Grain.EITHER))
    cut.append(("placket", near(25, 40), near(6, 9), 1, Grain.ALONG))
    if random.random() < 0.3:
        cut.append(("pocket", near(28, 36), near(17, 24), 2, Grain.ALONG))
    if random.random() < 0.3:
        cut.append(("tie", near(60, 90), near(4, 7), 2, Grain.EITHER))
    return [
        Piece(f"W{wearer}{name[0]}{at}", name, length, width, count, "c", grain)
        for at, (name, length, width, count, grain) in enumerate(cut)
    ]
