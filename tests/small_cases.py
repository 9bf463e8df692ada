"""Small cases from a seed, and their optima by slow ways that share nothing with the solvers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from random import Random

import oracle
from ortools.sat.python import cp_model
from strategies import STRAIGHT, UNITS

from marker.cloth import Cloth
from marker.piece import Grain, Piece
from marker.solver.problem import Kind, Problem
from marker.units import CM, INCH, MM

Ask = tuple[Cloth, tuple[Piece, ...]]


def rectangles(dice: Random, cloth: Cloth | None = None, grid: int = 0) -> Ask:
    """A cloth and one to six rectangles that fit it in any turn, all copies counted.

    With a `grid` all sides are whole multiples of it; else millimetres and half inches mix.
    """
    cloth = cloth or Cloth(
        "main", "linen", width=dice.randint(20, 160) * CM, step=10 * CM,
        selvedge=dice.choice((0, 8 * MM, INCH // 2)), keep_selvedges=dice.random() < 0.5,
        squaring=dice.choice((0, 2 * CM)), one_way=dice.random() < 0.5,
    )  # fmt: skip
    most, chosen = dice.randint(1, 6), 0
    pieces: list[Piece] = []
    while chosen < most:
        sides = []
        for _ in range(2):
            unit = grid or dice.choice(UNITS)
            sides.append(unit * dice.randint(1, max(1, min(40, cloth.usable.across // unit))))
        count = min(dice.choice((1, 1, 2)), most - chosen)
        chosen += count
        letter = chr(ord("A") + len(pieces))
        pieces.append(
            Piece(
                letter, f"piece {letter}", *sides, count, cloth.key,
                grain=dice.choice(STRAIGHT), up=dice.choice(("length", "breadth")),
            )
        )  # fmt: skip
    return cloth, tuple(pieces)


def strips(dice: Random) -> Problem:
    """A strip 3 to 7 cells across, and up to seven small rectangles."""
    width = dice.randint(3, 7)
    counts: Counter[tuple[tuple[int, int], ...]] = Counter()
    for _ in range(dice.randint(1, 4)):
        a, b = dice.randint(1, 5), dice.randint(1, width)
        turns = dice.random() < 0.5 and a <= width
        counts[tuple(sorted({(a, b), (b, a)} if turns else {(a, b)}))] += dice.randint(1, 2)
    kinds = sorted((Kind(shapes, count) for shapes, count in counts.items()), key=lambda k: -k.area)
    problem = Problem(width, tuple(kinds))
    return Problem(int(problem.sums_across()[-1]), problem.kinds)


def turned(cloth: Cloth, piece: Piece) -> tuple[tuple[int, int], ...]:
    """The (along, across) in which a rectangle may lie, read from the rules of grain."""
    upright, lying = (piece.length, piece.breadth), (piece.breadth, piece.length)
    if piece.grain is Grain.ALONG:
        return (upright,)
    if piece.grain is Grain.ACROSS:
        return (lying,)
    if cloth.one_way:
        return (upright if piece.up == "length" else lying,)
    return tuple({upright, lying})


def optimum(cloth: Cloth, pieces: Sequence[Piece]) -> int | None:
    """The shortest torn lay of all cut trees."""
    sizes = [turned(cloth, piece) for piece in pieces for _ in range(piece.count)]
    return oracle.shortest(cloth.usable.across, sizes)


def shortest_with_shears(cloth: Cloth, pieces: Sequence[Piece]) -> int:
    """The shortest free arrangement by CP-SAT, in a plain model on whole centimetres."""
    model = cp_model.CpModel()
    copies = [turned(cloth, piece) for piece in pieces for _ in range(piece.count)]
    most = sum(max(shapes[0]) for shapes in copies) // CM
    length = model.new_int_var(0, most, "length")
    along, across = [], []
    for shapes in copies:
        lies = [model.new_bool_var("") for _ in shapes]
        model.add_exactly_one(lies)
        for (a, b), chosen in zip(shapes, lies, strict=True):
            x, y = model.new_int_var(0, most, ""), model.new_int_var(0, most, "")
            sides = a // CM, b // CM
            along.append(model.new_optional_fixed_size_interval_var(x, sides[0], chosen, ""))
            across.append(model.new_optional_fixed_size_interval_var(y, sides[1], chosen, ""))
            model.add(x + sides[0] <= length).only_enforce_if(chosen)
            model.add(y + sides[1] <= cloth.usable.across // CM).only_enforce_if(chosen)
    model.add_no_overlap_2d(along, across)
    model.minimize(length)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(solver.objective_value) * CM
