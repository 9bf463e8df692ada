"""The pair check of `partners`, compiled: some hundred times as fast on large tables.

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

GROUP, RANGE = 2, 4
"""What looking at a group costs, and finding a range of partners in it, in pairs looked at."""


class Side(NamedTuple):
    """Blocks of one number of pieces, in groups: columns as in `partners.Columns`.

    Group `g` takes the places from `start[g]` up to `start[g + 1]`, in order of the matched side;
    none in it wastes less inside, or adds less, than `wastes[g]` and `adds[g]`, or holds less of
    any kind than `least[g]`; matched sides go from `lows[g]` to `highs[g]`. `worth` is by each of
    the most telling measures, `worthy[g]` the most of it in a group.
    """

    add: Ints
    match: Ints
    waste: Ints
    held: Words
    worth: Ints
    worthy: Ints
    start: Ints
    wastes: Ints
    adds: Ints
    lows: Ints
    highs: Ints
    least: Words


class Rule(NamedTuple):
    """What a joined block must keep to, as arrays; see `partners.Partners` and `partners.Keep`.

    `spare` is the demand with its `guard` bits set. `across` tells whether the sides across the
    cloth add up. `missed` is what rows through a block miss by the most telling measures, in the
    row that `rank` gives for its breadth, and `spares` what may be missed.
    """

    spare: Words
    guard: Words
    budget: int
    most: int
    widest: int
    across: bool
    gap: Ints
    gaps: Ints
    missed: Ints
    rank: Ints
    spares: Ints
    weighed: Weighed


@compiled()
def worths(weighed: Weighed, held: Words, number: int) -> Ints:
    """What blocks are worth by each of so many most telling measures."""
    found = np.zeros((len(held), number), np.int64)
    for row in range(len(held)):
        for kind in range(len(weighed.word)):
            count = np.int64(
                held[row, weighed.word[kind]] >> weighed.shift[kind] & weighed.mask[kind]
            )
            if count:
                for at in range(number):
                    found[row, at] += count * weighed.worth[weighed.order[at], kind]
    return found


@compiled()
def _from(match: Ints, low: int, high: int, least: int) -> int:
    """The first place between two from which the matched sides are no less than `least`."""
    while low < high:
        middle = (low + high) // 2
        if match[middle] < least:
            low = middle + 1
        else:
            high = middle
    return low


@compiled()
def _lost(one: Side, row: int, two: Side, place: int) -> int:
    """What a pair wastes, with that of its unequal matched sides."""
    step = one.match[row] - two.match[place]
    # Of these one is negative, unless both are nought.
    lost: int = one.waste[row] + two.waste[place]
    lost += max(step * two.add[place], -step * one.add[row])
    return lost


@compiled()
def _misses(worth: Ints, more: Ints, add: int, match: int, rule: Rule) -> int:
    """The most telling measure that a block of two, worth so much each, fails; -1 if none."""
    a, b = (match, add) if rule.across else (add, match)
    missed = rule.missed[rule.rank[b]]
    for at in range(len(worth)):
        if a * missed[at] - worth[at] - more[at] > rule.spares[at]:
            return at
    return -1


@compiled()
def _near(one: Side, row: int, two: Side, since: int, rule: Rule, near: Ints) -> tuple[int, int]:
    """Write the places, from one on, where waste, length and the demand's first word allow a join.

    Also gives how many were looked at.
    """
    found, looked = 0, 0
    left, guard = rule.spare[0] - one.held[row, 0], rule.guard[0]
    add, match, inside = one.add[row], one.match[row], one.waste[row]
    if match > rule.widest:
        return found, looked
    for group in range(len(two.wastes)):
        spare = rule.budget - inside - two.wastes[group]
        fits = (left - two.least[group, 0]) & guard == guard
        if spare < 0 or not fits or add + two.adds[group] > rule.most:
            continue
        low, high = max(two.start[group], since), two.start[group + 1]
        least, most = match - spare // two.adds[group], min(match + spare // add, rule.widest)
        if low >= high or two.highs[group] < least or most < two.lows[group]:
            continue
        looked += GROUP
        # What rows miss grows with both sides: no block of the group misses less, or is worth more.
        shortest, narrowest = add + two.adds[group], max(match, two.lows[group])
        if _misses(one.worth[row], two.worthy[group], shortest, narrowest, rule) >= 0:
            continue
        begin = low if least <= two.lows[group] else _from(two.match, low, high, least)
        end = high if two.highs[group] <= most else _from(two.match, begin, high, most + 1)
        looked += RANGE + end - begin
        for place in range(begin, end):
            more, step = two.add[place], match - two.match[place]
            # Of these one is negative, unless both are nought.
            lost = max(step * more, -step * add) + inside + two.waste[place]
            good = (lost <= rule.budget) & (add + more <= rule.most)
            good &= (left - two.held[place, 0]) & guard == guard
            # Most pairs fail here, as chance has it: without a branch none is guessed wrongly.
            near[found] = place
            found += good
    return found, looked


@compiled()
def _sift(one: Side, row: int, two: Side, near: Ints, number: int, rule: Rule, counts: Ints) -> int:
    """Keep of the near places those where all else allows a join, no measure excepted.

    One call sees to many: handing over so many arrays costs more than the check of a pair.
    """
    kept, weighed, words = 0, rule.weighed, len(rule.spare)
    for at in range(number):
        place = near[at]
        add, match = one.add[row] + two.add[place], max(one.match[row], two.match[place])
        failed = _misses(one.worth[row], two.worth[place], add, match, rule)
        if failed >= 0:
            weighed.hits[weighed.order[failed]] += 1
            continue
        lost = _lost(one, row, two, place)
        lost += add * rule.gaps[len(rule.gaps) - 1 - match]
        lost += match * rule.gap[len(rule.gap) - 1 - add]
        passes = lost <= rule.budget
        for word in range(1, words):
            left = rule.spare[word] - one.held[row, word] - two.held[place, word]
            passes &= left & rule.guard[word] == rule.guard[word]
        if not passes:
            continue
        for kind in range(len(counts)):
            word = weighed.word[kind]
            held = one.held[row, word] + two.held[place, word]
            counts[kind] = held >> weighed.shift[kind] & weighed.mask[kind]
        a, b = (match, add) if rule.across else (add, match)
        breadth = rule.rank[b]
        for measure in weighed.order[one.worth.shape[1] :]:
            missed = a * (weighed.full[measure] - weighed.gathered[breadth, measure])
            for kind in range(len(counts)):
                missed -= counts[kind] * weighed.worth[measure, kind]
            if missed > weighed.spare[measure]:
                weighed.hits[measure] += 1
                passes = False
                break
        near[kept] = place
        kept += passes
    return kept


@compiled()
def pairs(
    one: Side,
    two: Side,
    same: bool,
    rule: Rule,
    row: int,
    last: int,
    first: Ints,
    second: Ints,
) -> tuple[int, int, int]:
    """Write the pairs (row, place) that pass into `first` and `second`, for rows up to `last`.

    Gives how many were written, the row to go on from, and how many were looked at. A row is done
    whole or not at all: it is left for the next call where there might not be room for its
    partners. `same` tells that both sides are one, and that pairs are met once.
    """
    found, looked = 0, 0
    counts = np.empty(len(rule.weighed.word), np.int64)
    near = np.empty(len(two.add) + 1, np.int64)
    while row < last and found + len(two.add) <= len(first):
        number, more = _near(one, row, two, row if same else 0, rule, near)
        if number:
            number = _sift(one, row, two, near, number, rule, counts)
        first[found : found + number] = row
        second[found : found + number] = near[:number]
        found += number
        looked += more
        row += 1
    return found, row, looked
