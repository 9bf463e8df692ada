"""Sharing out: which cloth gives what, and how strips are pieced from segments.

Settled as one question over all cloths where the pieces are few; else strips of equal segments
are tried one number and one cloth after another, and the better of both is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from time import monotonic

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.lay import Mode
from marker.piece import Piece, Pieced
from marker.solver.lays import Limits
from marker.solver.rules.lay import EFFORT
from marker.solver.rules.search import Budget
from marker.solver.share.equal import Tried, Trying, grid, made, room
from marker.solver.share.level import levelled
from marker.solver.share.model import Shares, Task
from marker.solver.share.search import SEGMENTS, Goals
from marker.solver.share.words import tell
from marker.units import System, Units, ceil_to

MOST_COPIES = 30
"""So many copies and possible segments are settled as one question."""
MOST_BESIDE = 10
"""Fixed pieces that a cloth may hold to be asked about where the pieces are too many."""
MORE = 2
"""Segments more than equal ones take that are allowed where there are very many."""
TRYING = 0.4
"""Part of the time that goes into trying equal segments, at the most."""


@dataclass(frozen=True)
class Shared:
    """All pieces, each of one length and on one cloth, and whole sentences on what was chosen."""

    pieces: tuple[Piece, ...]
    sentences: tuple[str, ...]


def share_out(
    cloths: Mapping[str, Cloth],
    pieces: Sequence[Piece],
    modes: Mapping[str, Mode],
    *,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Callable[[int, int], None] | None = None,
    units: Units = System.CM,
) -> Shared:
    """Settle `Piece.also` and `Piece.pieced` for pieces that these cloths share.

    The goals in their order: least to buy of all bolts, least length of them, fewest segments,
    even ones. Fixed pieces take their room and come back as they are; copies that several
    cloths give come back as one piece a cloth, segments as one piece a length and cloth. Raises
    `CannotLay` where the cloths can't hold the pieces, or no way was found in the time given.
    """
    numbered = [replace(piece, letter=f"{at}") for at, piece in enumerate(pieces)]
    until = monotonic() + seconds
    trying = Trying(cloths, numbered, modes, Limits(seconds, iterations, seed, None), TRYING)
    best = trying.run()
    budget = Budget(
        None if iterations is not None else until,
        None if iterations is None else max(0.5, iterations * EFFORT),
    )
    fewer, goals = _fewer(numbered, best), None
    if _copies(fewer) <= MOST_COPIES:
        enough = None if best is None else best.score[0]
        goals = Goals(_task(cloths, fewer, modes, best), budget, seed, enough)
        goals.run()
        best = _better(best, goals, trying)
    elif best is not None:
        best = _beside(cloths, fewer, modes, best, budget, trying)
    if best is None:
        raise CannotLay(_none(cloths, goals), proved=goals is not None and goals.impossible)
    if progress is not None:
        progress(best.score[1], best.score[1])
    fewest, shares = _fewest_proved(goals, best), _level(numbered, best, trying)
    return Shared(
        tuple(part for at, piece in enumerate(pieces) for part in made(piece, at, shares)),
        tuple(tell(cloths, pieces, shares, fewest, units)),
    )


def _level(pieces: Sequence[Piece], best: Tried, trying: Trying) -> Shares:
    """The best shares with like segments on each cloth, if these take no more cloth."""
    pieced = {at: piece.pieced for at, piece in enumerate(pieces) if piece.pieced}
    shares = levelled(best.shares, pieced)
    if shares == best.shares:
        return shares
    found = trying.tried(shares)
    return shares if found is not None and found.score[:3] <= best.score[:3] else best.shares


def _beside(
    cloths: Mapping[str, Cloth],
    pieces: Sequence[Piece],
    modes: Mapping[str, Mode],
    best: Tried,
    budget: Budget,
    trying: Trying,
) -> Tried:
    """Where the pieces are too many for one question: what goes on the lesser cloths instead.

    The cloths with the most fixed pieces are left out, and one strip or piece after another is
    sought on all others together with those that went there before.
    """
    open_ones = [at for at, piece in enumerate(pieces) if piece.pieced or piece.also]
    fixed = [piece for piece in pieces if not (piece.pieced or piece.also)]
    crowd = {key: sum(piece.count for piece in fixed if piece.cloth == key) for key in cloths}
    asked = {key: cloth for key, cloth in cloths.items() if crowd[key] <= MOST_BESIDE}
    able = [at for at in open_ones if {pieces[at].cloth, *pieces[at].also} & asked.keys()]
    chosen, now = list[int](), best
    for at in able:
        if budget.over:
            break
        left = {number for number in open_ones if number not in (*chosen, at)}
        taken = [replace(piece, cloth="", also=()) if number in left else piece
                 for number, piece in enumerate(pieces)]  # fmt: skip
        limits = budget.part(1 / (len(able) - able.index(at)), 600.0, trying.limits.seed)
        stage = Budget(limits.until, limits.effort)
        goals = Goals(_task(asked, taken, modes, None), stage, trying.limits.seed, None)
        goals.run()
        budget.spend_of(stage, limits)
        if goals.best is None:
            continue
        merged = Shares(
            {**now.shares.copies, **goals.best.copies},
            {**now.shares.segments, **goals.best.segments},
        )
        found = trying.tried(merged)
        # What saves no cloth by itself may do so together with the next.
        if found is not None and found.score[:2] <= now.score[:2]:
            now, chosen = found, [*chosen, at]
            best = min(best, now, key=lambda tried: tried.score)
    return best


def _fewer(pieces: Sequence[Piece], best: Tried | None) -> list[Piece]:
    """The pieces, with fewer segments allowed where there would be too many to ask about."""
    if best is None or _copies(pieces) <= MOST_COPIES:
        return list(pieces)
    return [
        piece if piece.pieced is None else replace(piece, pieced=replace(
            piece.pieced, most=min(piece.pieced.most, len(best.shares.segments[at]) + MORE)
        ))
        for at, piece in enumerate(pieces)
    ]  # fmt: skip


def _copies(pieces: Sequence[Piece]) -> int:
    """Copies, and segments as many as there may be."""
    return sum(piece.pieced.most if piece.pieced else piece.count for piece in pieces)


def _better(best: Tried | None, goals: Goals, trying: Trying) -> Tried | None:
    """The better of what was tried and what the goals came to."""
    if goals.best is None:
        return best
    found = trying.tried(goals.best)
    if found is None:
        # The search by goals has laid it; the search for one cloth only failed to, in its time.
        bought, length = goals.kept[0], 0
        found = Tried(goals.best, (bought, length, goals.best.joins, 0))
        return found if best is None or bought < best.score[0] else best
    return found if best is None or found.score <= best.score else best


def _fewest_proved(goals: Goals | None, best: Tried) -> bool:
    """Whether fewer segments were proved to take more cloth, or not to fit."""
    return (
        goals is not None
        and goals.best is best.shares
        and len(goals.proved) > SEGMENTS
        and all(goals.proved[: SEGMENTS + 1])
    )


def _none(cloths: Mapping[str, Cloth], goals: Goals | None) -> str:
    names = ", ".join(repr(key) for key in cloths)
    if goals is not None and goals.impossible:
        return (
            f"the cloths {names} can't hold their pieces, however strips are pieced and pieces "
            "shared out; allow more or shorter segments, or another cloth"
        )
    return (
        f"no way was found to share the pieces out over the cloths {names}, though none was "
        "proved impossible; allow more time, more or shorter segments, or another cloth"
    )


def _task(
    cloths: Mapping[str, Cloth],
    pieces: Sequence[Piece],
    modes: Mapping[str, Mode],
    best: Tried | None,
) -> Task:
    """The question over all cloths; what is known to do bounds the bolts."""
    sizes = {at: _sizes(cloths, piece, piece.pieced)
             for at, piece in enumerate(pieces)
             if piece.pieced and {piece.cloth, *piece.also} & cloths.keys()}  # fmt: skip
    task = Task(cloths, modes, pieces, sizes, {})
    longest = {}
    for key, cloth in cloths.items():
        if cloth.length:
            longest[key] = cloth.longest_lay(cloth.length)
        elif best is not None:
            longest[key] = cloth.longest_lay(max(best.score[0], cloth.step))
        else:
            longest[key] = _enough(task, key)
    return replace(task, longest=longest)


def _enough(task: Task, key: str) -> int:
    """A length of a bolt that surely holds all that may come from it."""
    cloth, total = task.cloths[key], 0
    for piece in task.pieces:
        if key in task.keys(piece):
            size = max(piece.length, piece.breadth)
            extra = 2 * piece.pieced.seam * piece.pieced.most if piece.pieced else 0
            total += (size + cloth.repeat.along) * piece.count + extra
    return total + max((flaw.x1 for flaw in cloth.flaws), default=0)


def _sizes(cloths: Mapping[str, Cloth], piece: Piece, pieced: Pieced) -> range:
    """The lengths that a segment may have: such as can be measured, or from seam to seam."""
    own = [cloths[key] for key in (piece.cloth, *piece.also) if key in cloths]
    step = pieced.pitch or grid(own[0])
    seams = 2 * pieced.seam if pieced.pitch else 0
    first = ceil_to(max(pieced.least - seams, 1), step) + seams
    whole = ceil_to(pieced.total - seams, step) + seams
    most = min(max(room(cloth, piece) for cloth in own), whole)
    return range(first, max(first, most) + 1, step)
