"""Measure the solvers on sets of rectangles: one JSON line a file on stdout.

    python tests/bench/run.py --mode tear|shears --seconds 10 [--seed S] FILE...

Files hold {name, width, pieces: [{count, width, length}]} in units taken as millimetres;
pieces keep their orientation. `checked` tells that the referee finds no fault.
"""

from __future__ import annotations

import argparse
import json
import time
from pathlib import Path

from marker.cloth import Cloth
from marker.lay import Mode, Proof
from marker.piece import Piece
from marker.referee import findings
from marker.solver import solve
from marker.units import MM


def read(path: Path) -> tuple[str, Cloth, tuple[Piece, ...]]:
    """A set of rectangles as a cloth and pieces."""
    data = json.loads(path.read_text(encoding="utf-8"))
    cloth = Cloth(key="c", name=data["name"], width=data["width"] * MM, step=MM)
    pieces = tuple(
        Piece(f"P{at}", f"piece {at}", item["length"] * MM, item["width"] * MM, item["count"], "c")
        for at, item in enumerate(data["pieces"], 1)
    )
    return data["name"], cloth, pieces


def measure(path: Path, mode: Mode, seconds: float, seed: int) -> dict[str, object]:
    """Solve one set and tell what came of it; lengths in the set's own units."""
    name, cloth, pieces = read(path)
    start = time.perf_counter()
    lay = solve(cloth, pieces, mode=mode, seconds=seconds, seed=seed)
    return {
        "name": name,
        "mode": mode,
        "seconds": round(time.perf_counter() - start, 3),
        "length": lay.length // MM,
        "bound": lay.bound // MM,
        "proved": lay.proof is Proof.LENGTH,
        "density": round(100 * lay.used / (lay.length * cloth.width), 3),
        "checked": not findings(lay),
    }


def main() -> None:
    """Read the options and measure each file."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--mode", choices=list(Mode), type=Mode, default=Mode.TEAR)
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
    asked = parser.parse_args()
    for path in asked.files:
        print(json.dumps(measure(path, asked.mode, asked.seconds, asked.seed)), flush=True)


if __name__ == "__main__":
    main()
