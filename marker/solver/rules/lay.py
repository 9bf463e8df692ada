"""Lays that keep what real cloth and pieces ask: repeats, flaws, selvedges, a remnant's end."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from time import monotonic

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import Mode, Part, Placement
from marker.piece import Piece
from marker.solver.rules.question import Question, Spot
from marker.solver.rules.read import read, too_short
from marker.solver.rules.search import Budget, Search
from marker.solver.separate import tear_apart

EFFORT = 0.1
"""CP-SAT's effort, about seconds, that one iteration stands for."""


@dataclass(frozen=True)
class Ruled:
    """A lay by rules: `tree` cuts the whole bolt where it is torn, and is None for shears.

    `bound` is a length that no lay by these rules undercuts, `bound_by` how it was found.
    """

    placements: tuple[Placement, ...]
    tree: Part | None
    length: int
    bound: int
    bound_by: str


def lay_by_rules(
    cloth: Cloth,
    pieces: Sequence[Piece],
    mode: Mode,
    *,
    within: int | None = None,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Callable[[int, int], None] | None = None,
    floor: int = 0,
    floor_by: str = "the area of the pieces",
    start: Sequence[Placement] | None = None,
) -> Ruled:
    """Lay pieces by every rule of cloth and pieces, as short as can be, or no longer than `within`.

    Stops when the length is proved, after `seconds`, or after an effort set by `iterations`,
    which gives the same lay on every machine. With `within` it stops as soon as so short a lay
    is found or refuted: then `length <= within` or `bound > within`; else neither is known. `floor`
    is a length known from elsewhere that no lay undercuts, `start` a lay to begin with where it
    keeps the rules. Ctrl-C keeps the best lay. Raises `CannotLay` with a remedy where the pieces
    can't lie so, or no lay was found.
    """
    question = read(cloth, pieces)
    effort = None if iterations is None else max(0.1, iterations * EFFORT)
    budget = Budget(None if iterations is not None else monotonic() + seconds, effort)
    area = -(-question.area // cloth.usable.across)
    search = Search(
        question,
        mode,
        budget,
        seed,
        max(floor, area),
        floor_by if floor >= area else "the area of the pieces",
        within or 0,
        progress or (lambda *_: None),
    )
    search.run(None if start is None else _spots(question, pieces, start))
    if search.best is None:
        proved = search.bound > (question.most or question.longest())
        raise CannotLay(_none(search, mode), proved=proved)
    placements = question.placements(search.best)
    tree = tear_apart(cloth, pieces, placements) if mode is Mode.TEAR else None
    return Ruled(placements, tree, search.length, min(search.bound, search.length), search.bound_by)


def _spots(
    question: Question, pieces: Sequence[Piece], start: Sequence[Placement]
) -> list[Spot] | None:
    """A lay in hand as the search tells it; None where a piece lies in no way it may."""
    by_letter = {piece.letter: piece for piece in pieces}
    kinds = {copy: at for at, kind in enumerate(question.kinds) for copy in kind.copies}
    spots = []
    along, across = question.steps
    for placed in start:
        kind = kinds.get((placed.letter, placed.copy))
        if kind is None:
            return None
        rect = placed.rect(by_letter[placed.letter])
        way = _way(question, kind, placed, rect)
        if way is None or rect.x0 % along or (rect.y0 - question.cloth.usable.y0) % across:
            return None
        spots.append(Spot(kind, way, rect))
    return spots


def _way(question: Question, kind: int, placed: Placement, rect: Rect) -> int | None:
    """The number of the way of a placement; of one turned half round where that is as good."""
    ways = question.kinds[kind].ways
    sizes = [at for at, way in enumerate(ways) if (way.a, way.b) == (rect.along, rect.across)]
    exact = [at for at in sizes if ways[at].turn == placed.turn]
    return next(iter(exact or sizes), None)


def _least(search: Search, mode: Mode) -> int:
    """What the pieces take at the least, were the remnant longer, as far as it can be proved."""
    longer = replace(search.question, most=0)
    more = Search(
        longer, mode, search.budget, search.seed, search.bound, search.bound_by, 0, search.tell
    )
    more.run(None)
    return more.bound


def _none(search: Search, mode: Mode) -> str:
    """Why there is no lay: the remnant is too short, or none was found in the time given."""
    question, cloth = search.question, search.question.cloth
    if question.most and search.bound > question.most:
        return too_short(cloth, _least(search, mode))
    if question.most:
        return (
            f"no lay was found that the remnant {cloth.key!r} holds, though none was proved "
            "impossible; allow more time, or take some of the pieces from another cloth"
        )
    if search.bound > question.longest():
        return (
            f"on cloth {cloth.key!r} the pieces can't lie by all that they ask of it, however long "
            "it is; ask for fewer matches and selvedges, or take another cloth"
        )
    return (
        f"no lay was found on cloth {cloth.key!r} by all that its pieces ask of it; allow more "
        "time, or ask for fewer matches and selvedges"
    )
