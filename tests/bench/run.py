"""Measure the solvers on sets of pieces: one JSON line a file on stdout.

    python tests/bench/run.py --mode tear|shears|nest --seconds 10 [--seed S] FILE...
    python tests/bench/run.py --mode nest --rounds 10000 [--seed S] FILE...

For tear and shears, files hold {name, width, pieces: [{count, width, length}]} in units taken
as millimetres; pieces keep their orientation, and `checked` tells that the referee finds no
fault. For nest they hold {name, width, pieces: [{count, turns, outline}]}, turns in degrees,
and `checked` tells that the referee finds no fault. Lengths are printed in the set's own units.
`processor` is the time that all threads of this process took together: on a busy machine it
tells more than the clock. Nests may end after a number of rounds by each hand, `--rounds`,
which comes to the same on every machine.
"""

from __future__ import annotations

import argparse
import json
import time
from decimal import Decimal
from fractions import Fraction
from itertools import chain
from pathlib import Path
from typing import Any

from marker.cloth import Cloth
from marker.geometry import Outline, Polygon
from marker.lay import Lay, Mode, Placement, Proof
from marker.piece import Grain, Piece
from marker.referee import findings
from marker.solver import solve
from marker.solver.finish import cut_out
from marker.solver.nest import Nested, NestKind, nest
from marker.solver.nested import load
from marker.units import MM

NEST = "nest"
FINE = 400_000
"""Units across the cloth, at the least, to which a set of outlines is brought."""


def measure(path: Path, asked: argparse.Namespace) -> dict[str, object]:
    """Solve one set and tell what came of it."""
    data = json.loads(path.read_text(encoding="utf-8"), parse_float=Decimal)
    if asked.mode == NEST:
        load()  # where loops are used for the first time they are compiled, for longer than asked
    start, worked = time.perf_counter(), time.process_time()
    if asked.mode == NEST:
        found = nested(data, asked.seconds, asked.rounds, asked.seed)
    else:
        found = laid(data, Mode(asked.mode), asked.seconds, asked.seed)
    took = {
        "seconds": round(time.perf_counter() - start, 3),
        "processor": round(time.process_time() - worked, 3),
    }
    return {"name": data["name"], "mode": asked.mode, **took, **found}


def laid(data: dict[str, Any], mode: Mode, seconds: float, seed: int) -> dict[str, object]:
    """Lay a set of rectangles."""
    cloth = Cloth(key="c", name=data["name"], width=data["width"] * MM, step=MM)
    pieces = tuple(
        Piece(f"P{at}", f"piece {at}", item["length"] * MM, item["width"] * MM, item["count"], "c")
        for at, item in enumerate(data["pieces"], 1)
    )
    lay = solve(cloth, pieces, mode=mode, seconds=seconds, seed=seed)
    return {
        "length": lay.length // MM,
        "bound": lay.bound // MM,
        "proved": lay.proof is Proof.LENGTH,
        "density": round(100 * lay.used / (lay.length * cloth.width), 3),
        "checked": not findings(lay),
    }


def nested(
    data: dict[str, Any], seconds: float, rounds: int | None, seed: int
) -> dict[str, object]:
    """Nest a set of outlines."""
    scale = scale_of(data)
    width = int(data["width"] * scale)
    kinds = [kind_of(item, scale) for item in data["pieces"]]
    found = nest(kinds, width, seconds=seconds, iterations=rounds, seed=seed)
    area = Fraction(sum(kind.area2 for kind in kinds), 2)
    return {
        "length": float(Fraction(found.length, scale)),
        "bound": float(Fraction(found.bound, scale)),
        "proved": found.proved,
        "density": round(float(100 * area / (found.length * width)), 3),
        "checked": not findings(lay_of(data, kinds, width, found)),
    }


def scale_of(data: dict[str, Any]) -> int:
    """A power of ten that makes all figures whole, and a unit small against the cloth."""
    figures = [Decimal(data["width"])]
    figures += chain.from_iterable(chain.from_iterable(p["outline"] for p in data["pieces"]))
    scale = 1
    while data["width"] * scale < FINE or any(figure * scale % 1 for figure in figures):
        scale *= 10
    return scale


def kind_of(item: dict[str, Any], scale: int) -> NestKind:
    """A piece with an outline for each turn."""
    outline = Polygon.of((int(x * scale), int(y * scale)) for x, y in item["outline"])
    return NestKind(item["count"], tuple(outline.turned(turn) for turn in item["turns"]))


def lay_of(data: dict[str, Any], kinds: list[NestKind], width: int, found: Nested) -> Lay:
    """The nest as a lay of pieces with outlines, for the referee."""
    cloth = Cloth(key="c", name=data["name"], width=width, step=1)
    pieces = tuple(
        Piece.shaped(
            f"P{at}", f"piece {at}", Outline.through(kind.shapes[0].points), kind.count, "c",
            grain=Grain.ALONG if set(item["turns"]) <= {0, 180} else Grain.EITHER,
        )
        for at, (item, kind) in enumerate(zip(data["pieces"], kinds, strict=True), 1)
    )  # fmt: skip
    given = [0] * len(kinds)
    placements = []
    for spot in found.spots:
        given[spot.kind] += 1
        turn = data["pieces"][spot.kind]["turns"][spot.shape]
        letter, copy = pieces[spot.kind].letter, given[spot.kind]
        placements.append(Placement(letter, copy, spot.x, spot.y, turn))
    return cut_out(cloth, pieces, placements, found.bound, found.bound_by)


def main() -> None:
    """Read the options and measure each file."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--mode", choices=[*Mode, NEST], default=Mode.TEAR)
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--rounds", type=int, help="end nests by count, not by the clock")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
    asked = parser.parse_args()
    for path in asked.files:
        print(json.dumps(measure(path, asked)), flush=True)


if __name__ == "__main__":
    main()
