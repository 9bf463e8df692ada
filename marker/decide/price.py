"""What a repeat and a shrinkage cost: the same case planned with and without, in one sentence.

Without a repeat nothing matches, without a shrinkage nothing is washed; all else, and every
choice that the case leaves open, is as it was. The cloths that this doesn't touch keep their lays.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from time import monotonic

from marker import referee
from marker.casefile import Case, changed
from marker.casefile.changes import Changes, Key
from marker.decide.desk import LEAST_SECONDS, Desk, Laid
from marker.decide.ways import Way, pieces_of, ways
from marker.errors import BadInput, CannotLay
from marker.lay import Lay, Mode
from marker.solver.stop import asked
from marker.units import Rounding, System, format_bought, format_length

PRICING = 0.2
"""Part of the time that is kept for this, where there is anything to price."""
AT_LEAST = 0.1
"""Part of it that is taken for this however long the rest took."""


@dataclass(frozen=True)
class Extra:
    """What is to be priced of a cloth, and the changes that take it out of the case."""

    cloth: str
    what: str
    changes: Changes


def extras(case: Case, every: Sequence[Way]) -> tuple[Extra, ...]:
    """The repeats that pieces match, and the shrinkages, of all cloths in use."""
    if not case.tables:
        return ()  # not read from a file, so there is nothing to read anew
    pieces = [piece for way in every for piece in pieces_of(way)]
    used = {key for piece in pieces for key in (piece.cloth, *piece.also)}
    matched = {key for piece in pieces if piece.matches for key in (piece.cloth, *piece.also)}
    found = []
    for key, cloth in case.cloths.items():
        if key in matched:
            found.append(Extra(key, "repeat", {("cloth", key, "repeat"): None, **_matches(case)}))
        if key in used and cloth.washed:
            found.append(Extra(key, "shrinkage", {("cloth", key, "shrinkage"): None}))
    return tuple(found)


def _matches(case: Case) -> Changes:
    """Every key that has pieces match, taken out."""
    keys: list[Key] = []
    for kind in ("garment", "piece"):
        for key, table in case.tables.get(kind, {}).items():
            places = [(kind, key), *((kind, key, part) for part in ("panels",) if part in table)]
            inner = {place: table if len(place) == 2 else table[place[2]] for place in places}
            keys += [(*place, "match") for place, found in inner.items() if "match" in found]
    return dict.fromkeys(keys)


def priced(
    desk: Desk,
    best: Laid,
    laid: Sequence[Laid],
    wanted: Sequence[Extra],
    whole: float,
    began: float,
) -> Iterator[str]:
    """A sentence for each, within what is left of the `whole` time since `began`.

    Nothing is said of what can't be planned without, as where a seam needs the pattern, nor once
    the user has asked to stop.
    """
    for number, extra in enumerate(wanted):
        lay = _on(best, extra.cloth)
        if lay is None or asked():
            continue
        left = max(AT_LEAST * whole, whole - (monotonic() - began))
        seconds = max(LEAST_SECONDS, left / (len(wanted) - number))
        without = _without(desk, extra, seconds)
        if without is not None:
            yield _sentence(extra, lay, _sure(best, laid), *without, desk.case.units)


def _without(desk: Desk, extra: Extra, seconds: float) -> tuple[Lay, bool] | None:
    """The lay of the same cloth in the case without, and whether less is proved impossible."""
    try:
        bare = changed(desk.case, extra.changes)
        if desk.budget.mode is not None:
            bare = bare.parted(tears=desk.budget.mode is Mode.TEAR)
        other = Desk(bare, replace(desk.budget, seconds=seconds))
        other.known |= {
            task: answer
            for task, answer in desk.known.items()
            if task[0] != extra.cloth and bare.cloths[task[0]] == desk.case.cloths[task[0]]
        }
        laid = other.lay(ways(tuple(order.drafts() for order in bare.orders), bare.file))
    except (BadInput, CannotLay):
        return None
    best = min(laid, key=lambda option: option.score)
    for lay in best.lays:
        referee.check(lay)
    found = _on(best, extra.cloth)
    return (found, _sure(best, laid)) if found else None


def _on(option: Laid, key: str) -> Lay | None:
    return next((lay for lay in option.lays if lay.cloth.key == key), None)


def _sure(best: Laid, laid: Sequence[Laid]) -> bool:
    """Whether no way at all takes less, as far as lays are bounded and nothing was shared out."""
    if any(option.sentences for option in laid):
        return False
    taken = sum(map(_taken, best.lays))
    return all(
        sum(lay.cloth.buy(lay.bound) or lay.cloth.need(lay.bound) for lay in option.lays) >= taken
        for option in laid
    )


def _taken(lay: Lay) -> int:
    """What a lay takes: the length to buy, or of a remnant the length used."""
    return lay.buy or lay.need


def _sentence(extra: Extra, lay: Lay, sure: bool, without: Lay, least: bool, system: System) -> str:
    """How much it costs, and no more than is proved: found lays are at most so far too long."""

    def spell(length: int) -> str:
        if lay.cloth.length:
            return format_length(length, system, Rounding.UP)
        return format_bought(length, system)

    name, (mine, theirs) = lay.cloth.name, (_taken(lay), _taken(without))
    needs = lay.need, without.need
    if extra.what == "repeat":  # what matches may lie so where nothing need match
        theirs, needs = min(mine, theirs), (needs[0], min(needs))
    used = " used" if lay.cloth.length else ""
    begin = f"The {extra.what} costs"
    if mine == theirs:
        found = "" if least else ", as far as was found"
        told = [format_length(need, system, Rounding.UP) for need in needs]
        more = f" ({told[0]} needed against {told[1]})" if needs[0] > needs[1] else ""
        return f"{begin} no {name}{found}: {spell(mine)}{used} with it and without{more}."
    if mine < theirs:
        return f"{begin} no {name}: {spell(mine)}{used} with it, {spell(theirs)} without."
    about = {(True, True): "", (False, True): "at most ", (True, False): "at least "}
    most, theirs_most = ("" if known else "at most " for known in (sure, least))
    return (
        f"{begin} {about.get((sure, least), 'about ')}{spell(mine - theirs)} of {name}: "
        f"{most}{spell(mine)}{used} with it, {theirs_most}{spell(theirs)} without."
    )
