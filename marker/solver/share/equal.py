"""Equal segments from one cloth, tried one number and one cloth after another, and laid."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from time import monotonic

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.lay import Mode
from marker.piece import Grain, Mark, Piece, Pieced
from marker.solver.lays import Limits, lay
from marker.solver.share.model import Segment, Shares
from marker.solver.stop import asked
from marker.units import INCH, MM, System, ceil_to

FAR = 1 << 60
"""A score worse than any."""
MOST_LAYS = 24
"""Lays that are made in trying equal segments, where the clock plays no part."""
NUMBERS = 4
"""Numbers of equal segments that are tried on each cloth, from the fewest up."""


@dataclass(frozen=True)
class Tried:
    """Shares that were laid, and what they come to: the goals in their order."""

    shares: Shares
    score: tuple[int, int, int, int]


def grid(cloth: Cloth) -> int:
    """The step in which lengths are measured out."""
    return INCH // 8 if cloth.system is System.IN else MM


def room(cloth: Cloth, piece: Piece) -> int:
    """The longest segment that a cloth can give."""
    along = cloth.longest_lay(cloth.length) if cloth.length else piece.length
    return {
        Grain.ALONG: along,
        Grain.ACROSS: cloth.usable.across,
        Grain.EITHER: max(along, cloth.usable.across),
    }[piece.grain]


def equal(pieced: Pieced, count: int) -> int:
    """The length of each of so many equal segments, exactly as long as it must be."""
    inside = -(-(pieced.total - 2 * pieced.seam) // count)
    if pieced.pitch:
        inside = ceil_to(inside, pieced.pitch)
    return max(inside + 2 * pieced.seam, pieced.least)


class Trying:
    """Tries equal segments, all from one cloth, and pieces all from one cloth."""

    def __init__(
        self,
        cloths: Mapping[str, Cloth],
        pieces: Sequence[Piece],
        modes: Mapping[str, Mode],
        limits: Limits,
        part: float,
    ) -> None:
        self.cloths, self.pieces, self.modes, self.limits = cloths, pieces, modes, limits
        self.until = monotonic() + part * limits.seconds
        self.known: dict[tuple[str, tuple[Piece, ...]], tuple[int, int] | None] = {}

    def run(self) -> Tried | None:
        """Better one piece after another, the rest as they are best known."""
        open_pieces = [at for at, piece in enumerate(self.pieces) if piece.pieced or piece.also]
        options = {at: list(self._options(at)) for at in open_pieces}
        wishes: tuple[Callable[[Sequence[Segment]], bool], ...] = (
            lambda _: True,
            self._lies_across,
            self._from_bolts,
            lambda found: self._lies_across(found) and self._from_bolts(found),
        )
        starts = [
            {at: next(filter(wish, found), found[0]) for at, found in options.items() if found}
            for wish in wishes
        ]
        tried = [(self.tried(self._shares(start)), start) for start in starts]
        best, chosen = min(tried, key=lambda pair: pair[0].score if pair[0] else (FAR,))
        for at in open_pieces:
            for option in options[at]:
                if self._over():
                    return best
                found = self.tried(self._shares(chosen | {at: option}))
                if found is not None and (best is None or found.score < best.score):
                    best, chosen = found, chosen | {at: option}
        return best

    def _lies_across(self, found: Sequence[Segment]) -> bool:
        """Whether all segments are short enough to lie across their cloth."""
        return all(each.length <= self.cloths[each.cloth].usable.across for each in found)

    def _from_bolts(self, found: Sequence[Segment]) -> bool:
        """Whether all comes from cloth sold by length, of which there is enough."""
        return not any(self.cloths[each.cloth].length for each in found)

    def _over(self) -> bool:
        """Whether time is out or the user asked to stop; by count, whether enough were made."""
        if asked():
            return True
        if self.limits.iterations is not None:
            return len(self.known) >= MOST_LAYS
        return monotonic() > self.until

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
        exact = equal(pieced, count)
        rounded = ceil_to(exact, grid(self.cloths[key]))
        width = self.cloths[key].usable.across
        return exact if pieced.pitch else width if exact <= width < rounded else rounded

    def _fits(self, piece: Piece, key: str, length: int) -> bool:
        cloth = self.cloths[key]
        return length <= room(cloth, replace(piece, length=max(piece.length, length)))

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
        settled = [part for at, piece in enumerate(self.pieces)
                   for part in made(piece, at, shares)]  # fmt: skip
        if any(piece.pieced and at not in shares.segments for at, piece in enumerate(self.pieces)):
            return None
        bought = used = 0
        for key, cloth in self.cloths.items():
            own = tuple(replace(piece, letter=f"{at}") for at, piece in enumerate(settled)
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


def made(piece: Piece, at: int, shares: Shares) -> Iterator[Piece]:
    """A piece as it is settled: one for each cloth, and of a strip for each length too."""
    if at in shares.segments:
        lots: dict[Segment, int] = {}
        keys = (piece.cloth, *piece.also)
        found = shares.segments[at]
        for segment in sorted(found, key=lambda each: (keys.index(each.cloth), -each.length)):
            lots[segment] = lots.get(segment, 0) + 1
        for segment, count in lots.items():
            yield cut(piece, segment, count)
    elif at in shares.copies:
        for key in (piece.cloth, *piece.also):
            if count := shares.copies[at].count(key):
                over = piece.mirrored * count // piece.count
                yield replace(piece, cloth=key, also=(), count=count, mirrored=over)
    else:
        yield piece


def cut(piece: Piece, segment: Segment, count: int) -> Piece:
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
