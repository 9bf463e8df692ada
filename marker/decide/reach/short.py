"""By how much a remnant is too short, or too narrow."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import prod

from marker.casefile import Case
from marker.casefile.changes import Changes, changed
from marker.decide import draft
from marker.decide.desk import Budget, Desk, Laid, tied_cloths
from marker.decide.limit import used
from marker.decide.reach.dial import Dial, turn
from marker.decide.reach.effort import Effort
from marker.decide.reach.found import Miss
from marker.decide.reach.stands import endless, grid, spelled
from marker.decide.reach.steady import steady
from marker.decide.ways import pieces_of, ways
from marker.errors import BadInput, CannotLay
from marker.units import ceil_to

UP_TO = 4
"""Times as wide as it is, a remnant is tried at."""
TWICE = 2
"""Times as long; where cloths share the pieces, what was found beyond tells little."""


Short = Callable[[Effort], tuple[Miss, ...]]
"""Asks by how much cloth misses, with some effort."""


def shortages(case: Case) -> list[Short]:
    """What to ask, each by itself, to tell by how much what is asked misses."""
    try:
        drafts = draft(case)
    except BadInput:
        return [_narrow(case, key) for key in _remnants(case)]
    tied = frozenset[str]().union(*tied_cloths(pieces_of(tuple(options[0] for options in drafts))))
    shared = [_shared(case, key) for key in _remnants(case) if key in tied]
    return [*shared, lambda effort: _too_short(case, effort, tied)]


def _remnants(case: Case) -> list[str]:
    return [key for key, cloth in case.cloths.items() if cloth.length]


def _too_short(case: Case, effort: Effort, tied: frozenset[str]) -> tuple[Miss, ...]:
    """The remnants that share nothing with another cloth: laid as if there were enough."""
    loose = changed(case, endless(case))
    options = draft(loose)
    every = ways(options, case.file)
    share = effort.seconds / (1 if effort.iterations else used(loose))
    desk = Desk(loose, Budget(share, effort.seed, effort.iterations, None))
    try:
        laid = desk.lay(every)
    except (BadInput, CannotLay):
        found = (_narrow(case, key)(effort) for key in _remnants(case))
        return tuple(miss for misses in found for miss in misses)
    keys = [key for key in _remnants(case) if key not in tied]
    best = min(laid, key=lambda each: sum(over for _, over in _over(case, each, keys)))
    sizes = {key: over + case.cloths[key].length for key, over in _over(case, best, keys)}
    every_way = len(laid) == len(every) == prod(len(each) for each in options)
    longer: Changes = {
        ("cloth", key, "length"): spelled(size, case.units) for key, size in sizes.items()
    }
    record = effort.planned(case, longer) if sizes and not tied else None
    return tuple(
        Miss(key, False, case.cloths[key].length, size, _bound(laid, key) if every_way else 0,
             record)
        for key, size in sizes.items()
    )  # fmt: skip


def _over(case: Case, laid: Laid, keys: Sequence[str]) -> Iterator[tuple[str, int]]:
    """The remnants that a way takes more of than there is, and how much more."""
    for lay in laid.lays:
        if lay.cloth.key not in keys:
            continue
        there = case.cloths[lay.cloth.key].length
        need = ceil_to(lay.need, grid(case.units))
        if lay.need > there:
            yield lay.cloth.key, need - there


def _bound(laid: Sequence[Laid], key: str) -> int:
    """What any way takes of a cloth at the least, washing and squaring counted."""
    lays = [next((lay for lay in each.lays if lay.cloth.key == key), None) for each in laid]
    return min(lay.cloth.need(lay.bound) if lay else 0 for lay in lays)


def _shared(case: Case, key: str) -> Short:
    """The least length of one of the cloths that share the pieces, the others as they are."""
    there = case.cloths[key].length
    return _least(case, key, "length", there, {})


def _narrow(case: Case, key: str) -> Short:
    """The least width of a cloth at which what is asked can be laid, however long it is."""
    return _least(case, key, "width", case.cloths[key].width, endless(case))


def _least(case: Case, key: str, side: str, there: int, beside: Changes) -> Short:
    step = grid(case.units)
    sizes = range(ceil_to(there + 1, step), (UP_TO if side == "width" else TWICE) * there, step)

    def changes(at: int) -> Changes:
        return {**beside, ("cloth", key, side): spelled(sizes[at], case.units)}

    def ask(effort: Effort) -> tuple[Miss, ...]:
        if not sizes:
            return ()
        found = turn(case, steady(case, Dial(side, len(sizes), changes, str)), effort)
        if found.at is None:
            return ()
        bound = sizes[found.beaten] + 1 if found.beaten >= 0 else 0
        bound = sizes[found.at] if found.refuted else bound
        wide = side == "width"
        record = None if wide else found.record
        return (Miss(key, wide, there, sizes[found.at], bound, record),)

    return ask
