"""The pair check of `partners`, compiled: some thirty times as fast on large tables.

Compiling takes seconds the first time and is kept on disk; loading it takes half a second.
So only a search that has already looked at many pairs asks for this module.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from marker.solver.compiled import compiled
from marker.solver.problem import Ints
from marker.solver.tear.packing import Words
from marker.solver.tear.sieve import Weighed


class Sifting(NamedTuple):
    """What a joined block must keep to, as arrays.

    `across` tells whether the sides across the cloth add up. `gap` is what pieces in a row leave
    open at best of each room left behind the added sides, `gaps` of each beside the matched ones.
    """

    across: bool
    gap: Ints
    gaps: Ints
    weighed: Weighed


@compiled()
def _sifted(weighed: Weighed, held: Words, helds: Words, a: int, b: int, counts: Ints) -> bool:
    """Whether no measure rules a joined block out; `counts` is a place to work in."""
    for kind in range(len(counts)):
        word = weighed.word[kind]
        counts[kind] = (held[word] + helds[word]) >> weighed.shift[kind] & weighed.mask[kind]
    row = weighed.rank[weighed.width - b]
    for at in range(len(weighed.full)):
        missed = a * (weighed.full[at] - weighed.gathered[at, row])
        for kind in range(len(counts)):
            missed -= counts[kind] * weighed.worth[at, kind]
        if missed > weighed.spare[at]:
            weighed.hits[at] += 1
            return False
    return True


@compiled()
def pairs(
    begin: Ints,
    end: Ints,
    add: Ints,
    match: Ints,
    waste: Ints,
    held: Words,
    adds: Ints,
    matches: Ints,
    wastes: Ints,
    helds: Words,
    spare: Words,
    guard: Words,
    budget: int,
    most: int,
    widest: int,
    row: int,
    place: int,
    first: Ints,
    second: Ints,
    sifting: Sifting,
) -> tuple[int, int, int]:
    """Write the pairs (row, place) that pass into `first` and `second`, from a given pair on.

    Gives how many were written, and the row and place to go on from; the row is past the
    last when all are done. `spare` is the demand with its guard bits set.
    """
    found = 0
    words = len(spare)
    counts = np.empty(len(sifting.weighed.word), np.int64)
    while row < len(begin):
        place = max(place, begin[row])
        while place < end[row]:
            if found == len(first):
                return found, row, place
            step = match[row] - matches[place]
            lost = step * adds[place] if step > 0 else -step * add[row]
            if (
                lost + waste[row] + wastes[place] <= budget
                and add[row] + adds[place] <= most
                and max(match[row], matches[place]) <= widest
            ):
                fits = True
                for word in range(words):
                    left = spare[word] - held[row, word] - helds[place, word]
                    if left & guard[word] != guard[word]:
                        fits = False
                        break
                total, most_matched = add[row] + adds[place], max(match[row], matches[place])
                if fits:
                    lost += waste[row] + wastes[place]
                    lost += total * sifting.gaps[len(sifting.gaps) - 1 - most_matched]
                    lost += most_matched * sifting.gap[len(sifting.gap) - 1 - total]
                    a, b = total, most_matched
                    if sifting.across:
                        a, b = b, a
                    fits = lost <= budget and _sifted(
                        sifting.weighed, held[row], helds[place], a, b, counts
                    )
                if fits:
                    first[found] = row
                    second[found] = place
                    found += 1
            place += 1
        row += 1
        place = 0
    return found, row, 0
