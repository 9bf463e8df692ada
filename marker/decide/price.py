"""What a repeat and a shrinkage cost: the same case planned with and without, in one sentence.

Without a repeat nothing matches, without a shrinkage nothing is washed; all else, and every
choice that the case leaves open, is as it was. The cloths that this doesn't touch keep their lays.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marker.casefile import Case
from marker.casefile.changes import Changes, Key
from marker.decide.desk import Desk, Laid
from marker.decide.otherwise import UNTOLD, Rest, lay_on, otherwise, sure, taken
from marker.decide.ways import Way, pieces_of
from marker.lay import Lay
from marker.solver.stop import asked
from marker.units import Rounding, Units, format_bought, format_length


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
    desk: Desk, best: Laid, laid: Sequence[Laid], wanted: Sequence[Extra], rest: Rest
) -> Iterator[str]:
    """A sentence for each of them.

    Nothing is said of what can't be planned without, as where a seam needs the pattern, nor once
    the user has asked to stop.
    """
    for extra in wanted:
        lay = lay_on(best, extra.cloth)
        if lay is None or asked():
            continue
        if rest.over:
            yield f"What the {extra.what} of {lay.cloth.name} costs was not reckoned: {UNTOLD}."
            continue
        without = otherwise(desk, extra.cloth, extra.changes, rest)
        if without is not None:
            yield _sentence(extra, lay, sure(best, laid), *without, desk.case.units)


def _sentence(
    extra: Extra, lay: Lay, proved: bool, without: Lay, least: bool, system: Units
) -> str:
    """How much it costs, and no more than is proved: found lays are at most so far too long."""

    def spell(length: int) -> str:
        if lay.cloth.length:
            return format_length(length, system, Rounding.UP)
        return format_bought(length, system)

    name, (mine, theirs) = lay.cloth.name, (taken(lay), taken(without))
    needs = lay.need, without.need
    if extra.what == "repeat":  # what matches may lie so where nothing need match
        theirs, needs = min(mine, theirs), (needs[0], min(needs))
    used = " used" if lay.cloth.length else ""
    begin = f"The {extra.what} costs"
    if mine == theirs:
        found = "" if least else ", as far as was found"
        told = [format_length(need, system, Rounding.UP) for need in needs]
        more = f" ({told[0]} needed against {told[1]})" if needs[0] > needs[1] else ""
        return f"{begin} nothing of {name}{found}: {spell(mine)}{used} with it and without{more}."
    if mine < theirs:
        return f"{begin} nothing of {name}: {spell(mine)}{used} with it, {spell(theirs)} without."
    about = {(True, True): "", (False, True): "at most ", (True, False): "at least "}
    most, theirs_most = ("" if known else "at most " for known in (proved, least))
    return (
        f"{begin} {about.get((proved, least), 'about ')}{spell(mine - theirs)} of {name}: "
        f"{most}{spell(mine)}{used} with it, {theirs_most}{spell(theirs)} without."
    )
