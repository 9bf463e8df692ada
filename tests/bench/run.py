"""Measure the solver on open packing sets: one JSON line a file.

    python tests/bench/run.py --mode tear --seconds 10 [--seed 0] FILE...

A file holds `{name, width, pieces: [{count, width, length}]}`; one of its units is taken as
1 mm. `checked` says that the referee found no fault in the lay.
"""

from __future__ import annotations

import json
import time
from pathlib import Path
from typing import Any

import click

from marker import referee
from marker.cloth import Cloth
from marker.decide import letter
from marker.lay import Proof
from marker.piece import Piece
from marker.solver import solve
from marker.units import MM


def read(path: Path) -> tuple[str, Cloth, list[Piece]]:
    """A packing set as a cloth and its pieces."""
    told = json.loads(path.read_text(encoding="utf-8"))
    cloth = Cloth("bench", told["name"], width=told["width"] * MM, step=MM)
    pieces = [
        Piece(
            letter(index), "piece", item["length"] * MM, item["width"] * MM, item["count"], "bench"
        )
        for index, item in enumerate(told["pieces"])
    ]
    return told["name"], cloth, pieces


def measure(path: Path, mode: str, seconds: float, seed: int) -> dict[str, Any]:
    """Solve one set and tell what came of it, lengths in the set's own units."""
    name, cloth, pieces = read(path)
    began = time.perf_counter()
    lay = solve(cloth, pieces, seconds=seconds, seed=seed)
    took = time.perf_counter() - began
    return {
        "name": name,
        "mode": mode,
        "seconds": round(took, 3),
        "length": lay.length / MM,
        "bound": lay.bound / MM,
        "proved": lay.proof is Proof.LENGTH,
        "density": round(100 * lay.used / (lay.length * cloth.width), 2),
        "checked": not referee.findings(lay),
    }


@click.command()
@click.option("--mode", type=click.Choice(["tear"]), default="tear", show_default=True)
@click.option("--seconds", type=float, default=10.0, show_default=True)
@click.option("--seed", type=int, default=0, show_default=True)
@click.argument("files", nargs=-1, required=True, type=click.Path(exists=True, path_type=Path))
def main(mode: str, seconds: float, seed: int, files: tuple[Path, ...]) -> None:
    """Print one JSON line for each FILE."""
    for path in files:
        click.echo(json.dumps(measure(path, mode, seconds, seed)))


if __name__ == "__main__":
    main()
