"""Sharing out: which cloth gives what, and how strips are pieced from segments.

Settled as one question over all cloths where the pieces are few; else strips of equal segments
are tried one number and one cloth after another, and the better of both is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from time import monotonic

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.lay import Mode
from marker.piece import Grain, Mark, Piece, Pieced
from marker.solver.lays import Limits as LayLimits
from marker.solver.lays import lay
from marker.solver.ruled import EFFORT
from marker.solver.rules_search import Budget
from marker.solver.share_model import Segment, Shares, Task
from marker.solver.share_search import SEGMENTS, Goals
from marker.solver.share_words import tell
from marker.units import INCH, MM, ceil_to

MOST_COPIES = 30
"""So many copies and possible segments are settled as one question."""
NUMBERS = 4
"""Numbers of equal segments that are tried on each cloth, from the fewest up."""
TRYING = 0.4
"""Part of the time that goes into trying equal segments."""


@dataclass(frozen=True)
class Shared:
    """All pieces, each of one length and on one cloth, and whole sentences on what was chosen."""

    pieces: tuple[Piece, ...]
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class Tried:
    """Shares that were laid, and what they come to: the goals in their order."""

    shares: Shares
    score: tuple[int, int, int, int]


def share_out(
    cloths: Mapping[str, Cloth],
    pieces: Sequence[Piece],
    modes: Mapping[str, Mode],
    *,
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Callable[[int, int], None] | None = None,
) -> Shared:
    """Settle `Piece.also` and `Piece.pieced` for pieces that these cloths share.

    The goals in their order: least to buy of all bolts, least length of them, fewest segments,
    even ones. Fixed pieces take their room and come back as they are; copies that several
    cloths give come back as one piece a cloth, segments as one piece a length and cloth. Raises
    `CannotLay` where the cloths can't hold the pieces, or no way was found in the time given.
    """
    numbered = [replace(piece, letter=f"{at}") for at, piece in enumerate(pieces)]
    trying = _Trying(cloths, numbered, modes, LayLimits(seconds, iterations, seed, None))
    best = trying.run()
    goals = None
    if _copies(numbered) <= MOST_COPIES:
        budget = Budget(
            None if iterations is not None else monotonic() + (1 - TRYING) * seconds,
            None if iterations is None else max(0.5, iterations * EFFORT),
        )
        enough = None if best is None else best.score[0]
        goals = Goals(_task(cloths, numbered, modes, best), budget, seed, enough)
        goals.run()
        best = _better(best, goals, trying)
    if best is None:
        raise CannotLay(_none(cloths, goals))
    if progress is not None:
        progress(best.score[1], best.score[1])
    return Shared(
        tuple(made for at, piece in enumerate(pieces) for made in _made(piece, at, best.shares)),
        tuple(tell(cloths, pieces, best.shares, _fewest_proved(goals, best))),
    )


def _copies(pieces: Sequence[Piece]) -> int:
    return sum(piece.pieced.most if piece.pieced else piece.count for piece in pieces)


def _better(best: Tried | None, goals: Goals, trying: _Trying) -> Tried | None:
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
             for at, piece in enumerate(pieces) if piece.pieced}  # fmt: skip
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


def _grid(cloth: Cloth) -> int:
    """The step in which lengths are measured out."""
    return INCH // 8 if cloth.step % 127 == 0 else MM


def _sizes(cloths: Mapping[str, Cloth], piece: Piece, pieced: Pieced) -> range:
    """The lengths that a segment may have: such as can be measured, or from seam to seam."""
    own = [cloths[key] for key in (piece.cloth, *piece.also) if key in cloths]
    step = pieced.pitch or _grid(own[0])
    seams = 2 * pieced.seam if pieced.pitch else 0
    first = ceil_to(max(pieced.least - seams, 1), step) + seams
    whole = ceil_to(pieced.total - seams, step) + seams
    most = min(max(_room(cloth, piece) for cloth in own), whole)
    return range(first, max(first, most) + 1, step)


def _room(cloth: Cloth, piece: Piece) -> int:
    """The longest segment that a cloth can give."""
    along = cloth.longest_lay(cloth.length) if cloth.length else piece.length
    return {
        Grain.ALONG: along,
        Grain.ACROSS: cloth.usable.across,
        Grain.EITHER: max(along, cloth.usable.across),
    }[piece.grain]


def _equal(pieced: Pieced, count: int) -> int:
    """The length of each of so many equal segments, exactly as long as it must be."""
    inside = -(-(pieced.total - 2 * pieced.seam) // count)
    if pieced.pitch:
        inside = ceil_to(inside, pieced.pitch)
    return max(inside + 2 * pieced.seam, pieced.least)


class _Trying:
    """Tries equal segments, all from one cloth, and pieces all from one cloth."""

    def __init__(
        self,
        cloths: Mapping[str, Cloth],
        pieces: Sequence[Piece],
        modes: Mapping[str, Mode],
        limits: LayLimits,
    ) -> None:
        self.cloths, self.pieces, self.modes, self.limits = cloths, pieces, modes, limits
        self.until = monotonic() + TRYING * limits.seconds
        self.known: dict[tuple[str, tuple[Piece, ...]], tuple[int, int] | None] = {}

    def run(self) -> Tried | None:
        """Better one piece after another, the rest as they are best known."""
        open_pieces = [at for at, piece in enumerate(self.pieces) if piece.pieced or piece.also]
        options = {at: list(self._options(at)) for at in open_pieces}
        chosen = {at: found[0] for at, found in options.items() if found}
        best = self.tried(self._shares(chosen))
        for at in open_pieces:
            for option in options[at]:
                if self.limits.iterations is None and monotonic() > self.until:
                    return best
                found = self.tried(self._shares(chosen | {at: option}))
                if found is not None and (best is None or found.score < best.score):
                    best, chosen = found, chosen | {at: option}
        return best

    def _options(self, at: int) -> Iterator[tuple[Segment, ...]]:
        piece = self.pieces[at]
        for key in (piece.cloth, *piece.also):
            if piece.pieced is None:
                yield (Segment(key, piece.length),) * piece.count
                continue
            counts = [
                count for count in range(1, piece.pieced.most + 1)
                if self._fits(piece, key, self._measured(key, piece.pieced, count))
            ]  # fmt: skip
            for count in counts[:NUMBERS]:
                yield (Segment(key, self._measured(key, piece.pieced, count)),) * count

    def _measured(self, key: str, pieced: Pieced, count: int) -> int:
        exact = _equal(pieced, count)
        rounded = ceil_to(exact, _grid(self.cloths[key]))
        width = self.cloths[key].usable.across
        return exact if pieced.pitch else width if exact <= width < rounded else rounded

    def _fits(self, piece: Piece, key: str, length: int) -> bool:
        cloth = self.cloths[key]
        return length <= _room(cloth, replace(piece, length=max(piece.length, length)))

    def _shares(self, chosen: Mapping[int, tuple[Segment, ...]]) -> Shares:
        copies, segments = {}, {}
        for at, found in chosen.items():
            if self.pieces[at].pieced:
                segments[at] = found
            else:
                copies[at] = tuple(segment.cloth for segment in found)
        return Shares(copies, segments)

    def tried(self, shares: Shares) -> Tried | None:
        """What shares come to once laid; None where some cloth doesn't hold its part."""
        made = [piece for at, piece in enumerate(self.pieces)
                for piece in _made(piece, at, shares)]  # fmt: skip
        if any(piece.pieced and at not in shares.segments for at, piece in enumerate(self.pieces)):
            return None
        bought = used = 0
        for key, cloth in self.cloths.items():
            own = tuple(replace(piece, letter=f"{at}") for at, piece in enumerate(made)
                        if piece.cloth == key)  # fmt: skip
            if not own:
                continue
            if (key, own) not in self.known:
                self.known[key, own] = self._laid(cloth, own)
            found = self.known[key, own]
            if found is None:
                return None
            bought, used = bought + found[0], used + (0 if cloth.length else found[1])
        spread = sum(
            max(segment.length for segment in found) - min(segment.length for segment in found)
            for found in shares.segments.values()
        )
        return Tried(shares, (bought, used, shares.joins, spread))

    def _laid(self, cloth: Cloth, pieces: tuple[Piece, ...]) -> tuple[int, int] | None:
        rounds = self.limits.iterations
        limits = replace(
            self.limits,
            seconds=max(0.05, 0.1 * self.limits.seconds),
            iterations=None if rounds is None else max(1, rounds // 4),
        )
        try:
            found = lay(cloth, pieces, self.modes[cloth.key], limits)
        except (BadInput, CannotLay):
            return None
        return found.buy, found.length


def _made(piece: Piece, at: int, shares: Shares) -> Iterator[Piece]:
    """A piece as it is settled: one for each cloth, and of a strip for each length too."""
    if at in shares.segments:
        lots: dict[Segment, int] = {}
        keys = (piece.cloth, *piece.also)
        found = shares.segments[at]
        for segment in sorted(found, key=lambda each: (keys.index(each.cloth), -each.length)):
            lots[segment] = lots.get(segment, 0) + 1
        for segment, count in lots.items():
            yield _cut(piece, segment, count)
    elif at in shares.copies:
        for key in (piece.cloth, *piece.also):
            if count := shares.copies[at].count(key):
                yield replace(piece, cloth=key, also=(), count=count)
    else:
        yield piece


def _cut(piece: Piece, segment: Segment, count: int) -> Piece:
    """A segment as a piece; marks in the far half of the strip keep their distance to its end."""
    shorter = piece.length - segment.length

    def shifted(u: int) -> int:
        return u - shorter if 2 * u > piece.length else u

    marks = tuple(
        Mark(mark.kind, mark.name, shifted(mark.u0), mark.v0, shifted(mark.u1), mark.v1)
        for mark in piece.marks
    )
    return replace(
        piece, length=segment.length, count=count, cloth=segment.cloth, also=(), marks=marks
    )
