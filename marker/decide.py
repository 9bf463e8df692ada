"""Plan a case: draft it in every way left open, lay each, and keep the best.

The goals in their order: least to buy, least length used, the largest remnant, the fewest
tears. Nothing leaves here that the referee has not passed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import islice, product
from math import prod
from time import monotonic

from marker import referee
from marker.casefile import Case
from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.garments.order import Draft
from marker.lay import Lay
from marker.piece import Piece
from marker.record import Record
from marker.solver import solve
from marker.units import Rounding, System, format_bought, format_length

MOST_PIECES = 1000
MOST_WAYS = 16
"""So many ways of cutting a case are laid and compared; more would starve each of time."""
LEAST_SECONDS = 0.05

Progress = Callable[[int, int], None]
Way = tuple[Draft, ...]
"""One draft for each order."""


@dataclass(frozen=True)
class Laid:
    """A way of cutting the case, laid on every cloth that it uses."""

    way: Way
    lays: tuple[Lay, ...]

    @property
    def score(self) -> tuple[int, int, int, int]:
        """The goals in their order, over all cloths; the least score is the best.

        Least to buy, least length, the largest single remnant, fewest tears.
        """
        remnants = (cut.rect.area for lay in self.lays for cut in lay.offcuts if cut.keep)
        return (
            sum(lay.buy for lay in self.lays),
            sum(lay.length for lay in self.lays),
            -max(remnants, default=0),
            sum(len(lay.tears) for lay in self.lays),
        )


def plan(
    case: Case,
    *,
    seconds: float = 10.0,
    seed: int = 0,
    iterations: int | None = None,
    progress: Progress | None = None,
) -> Record:
    """Draft every garment, lay every cloth, have every lay judged, and record it.

    `seconds` bounds the search on each cloth, over all ways of cutting; `iterations` bounds
    it by count, so that the same seed gives the same record on any machine. Raises
    `BadInput` or `CannotLay` where a piece can't be had, `Refused` where the referee finds
    a fault.
    """
    ways = _ways(draft(case), case.file)
    desk = _Desk(case, [_by_cloth(case, way) for way in ways], seconds, seed, iterations, progress)
    laid = desk.lay(ways)
    best = min(laid, key=lambda option: option.score)
    for lay in best.lays:
        referee.check(lay)
    return Record(
        title=case.title,
        units=case.units,
        garments=tuple(chosen.garment for chosen in best.way),
        lays=best.lays,
        choices=(*_choices(best, laid, case.units), *_unused(case, best)),
    )


def draft(case: Case) -> tuple[tuple[Draft, ...], ...]:
    """All drafts of each order, in the case's order; the usual way of each comes first."""
    return tuple(order.drafts() for order in case.orders)


def letter(index: int) -> str:
    """The letter of a piece by its place in the case: A to Z, then AA, AB and on."""
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


def _ways(drafts: tuple[tuple[Draft, ...], ...], file: str) -> list[Way]:
    """The ways to compare: all, or where they are too many, each garment turned by itself."""
    plain = tuple(options[0] for options in drafts)
    count = sum(piece.count for chosen in plain for piece in chosen.pieces)
    if count > MOST_PIECES:
        raise BadInput(
            f"{file}: the garments take {count} pieces, and {MOST_PIECES} are the most; "
            "split the case into several files"
        )
    if prod(len(options) for options in drafts) <= MOST_WAYS:
        return list(product(*drafts))
    turned = tuple(options[-1] for options in drafts)
    single = (
        (*plain[:index], other, *plain[index + 1 :])
        for index, options in enumerate(drafts)
        for other in options[1:]
    )
    return [plain, turned, *islice(single, MOST_WAYS - 2)]


def _by_cloth(case: Case, way: Way) -> dict[str, tuple[Piece, ...]]:
    """The pieces of one way, lettered through the case and sorted by cloth."""
    pieces = [piece for chosen in way for piece in chosen.pieces]
    lettered = [replace(piece, letter=letter(index)) for index, piece in enumerate(pieces)]
    sorted_out = {
        key: tuple(piece for piece in lettered if piece.cloth == key) for key in case.cloths
    }
    return {key: found for key, found in sorted_out.items() if found}


class _Desk:
    """Lays the ways one after another; ways that ask the same of a cloth share its lay."""

    def __init__(
        self,
        case: Case,
        asked: list[dict[str, tuple[Piece, ...]]],
        seconds: float,
        seed: int,
        iterations: int | None,
        progress: Progress | None,
    ) -> None:
        self.case = case
        self.asked = asked
        self.seed, self.iterations, self.progress = seed, iterations, progress
        self.left = dict.fromkeys(case.cloths, seconds)
        self.known: dict[tuple[str, tuple[Piece, ...]], Lay | Exception] = {}

    def lay(self, ways: list[Way]) -> list[Laid]:
        """Every way that can be laid; the first way's error where none can."""
        laid: list[Laid] = []
        faults: list[Exception] = []
        for way, asked in zip(ways, self.asked, strict=True):
            try:
                lays = tuple(self._lay(self.case.cloths[key], asked[key]) for key in asked)
            except (BadInput, CannotLay) as error:
                faults.append(error)
            else:
                laid.append(Laid(way, lays))
        if not laid:
            raise faults[0]
        return laid

    def _lay(self, cloth: Cloth, pieces: tuple[Piece, ...]) -> Lay:
        key = (cloth.key, pieces)
        if key not in self.known:
            self.known[key] = self._solve(cloth, pieces)
        found = self.known[key]
        if isinstance(found, Exception):
            raise found
        return found

    def _solve(self, cloth: Cloth, pieces: tuple[Piece, ...]) -> Lay | Exception:
        """One solve, with a fair share of the time left for this cloth."""
        open_tasks = {asked[cloth.key] for asked in self.asked if cloth.key in asked}
        tasks = sum((cloth.key, task) not in self.known for task in open_tasks)
        began = monotonic()
        try:
            return solve(
                cloth,
                pieces,
                seconds=max(self.left[cloth.key] / tasks, LEAST_SECONDS),
                iterations=self.iterations,
                seed=self.seed,
                progress=self.progress,
            )
        except (BadInput, CannotLay) as error:
            return type(error)(f"{self.case.file}: {error}")
        finally:
            self.left[cloth.key] -= monotonic() - began


def _choices(best: Laid, laid: list[Laid], system: System) -> Iterator[str]:
    """What each garment's own change would have cost, where that was tried."""
    several = len(best.way) > 1
    told = 0
    for index, chosen in enumerate(best.way):
        for other in laid:
            changed = [i for i, mine in enumerate(best.way) if mine is not other.way[i]]
            if changed == [index]:
                told += 1
                sentence = _compare(chosen.way, other.way[index].way, best, other, system)
                whose = f"{chosen.garment.name} for {chosen.garment.wearer}"
                yield f"{whose}: {sentence}" if several else sentence
    if len(laid) > 1 and not told:
        best_buy, next_buy = (
            format_bought(score[0], system) for score in sorted(option.score for option in laid)[:2]
        )
        yield (
            f"Of {len(laid)} ways to cut the garments this one takes {best_buy}, the next best "
            f"{next_buy}; other mixtures were not tried."
        )


def _compare(chosen: str, left: str, best: Laid, other: Laid, system: System) -> str:
    """One sentence on two ways, over those cloths on which they differ."""
    mine, theirs = (
        [lay for lay in option.lays if lay not in against.lays]
        for option, against in ((best, other), (other, best))
    )
    buy, their_buy = (format_bought(sum(y.buy for y in x), system) for x in (mine, theirs))
    begin = chosen[:1].upper() + chosen[1:]
    if sum(lay.buy for lay in mine) != sum(lay.buy for lay in theirs):
        return f"{begin}: {buy} to buy against {their_buy} with {left}."
    used, their_used = (
        format_length(sum(y.length for y in x), system, Rounding.UP) for x in (mine, theirs)
    )
    if used != their_used:
        return (
            f"{begin}: {buy} to buy either way, and {used} used against {their_used} with {left}."
        )
    return f"{begin}: {buy} to buy either way, and with {left} as much is used."


def _unused(case: Case, best: Laid) -> Iterator[str]:
    used = {lay.cloth.key for lay in best.lays}
    for key, cloth in case.cloths.items():
        if key not in used:
            yield f"No piece is cut from {cloth.name}."
