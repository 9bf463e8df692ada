"""Pieces crowded on to too short a cloth and moved apart: the compiled part.

Pieces may bite into each other, at a price: how far the one would have to go to be clear of the
other, times what that pair costs. In turn each piece that bites goes to where it pays least, and
pairs that still bite grow dearer (guided local search; Egeblad, Nielsen and Odgaard, EJOR 183,
2007; Umetani and others, ITOR 16, 2009; from memory).

Where a piece pays least is found exactly. What it pays to one other is the least of four
distances, each linear in its place, so nowhere inside a bite can there be a least price but at
its rim. Of all cheapest places take the one of least x, of those the one of least y. A little
before it on either axis the piece pays more or is off the cloth. So along the bolt it is level
with the cloth, or with an end of another one beside which it lies (their y overlap); and across
with the cloth, or with an end of one whose x overlap its own. Hence for each end along the bolt
only those y need a look that keep the piece beside the one whose end it is, and of them only those
level with what is in the way at that x. Sizes and places are whole numbers below 2^24 kept as
single floats, which are exact.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from marker.solver.compiled import compiled
from marker.solver.problem import Ints

Singles = NDArray[np.float32]
NOUGHT = np.float32(0)
FAR = np.float32(3e38)
LEAST, MOST, BACK = 1.2, 2.0, 0.95
"""Growth of the price of a pair that bites, at least and for the worst one, and what all other
prices are multiplied by."""
BETTER = 0.98
"""A sum of bites below this part of the least one so far counts as going better."""


class Pieces(NamedTuple):
    """What is laid: `sizes` (a, b) of every shape; the shapes of copy p are the `many[p]` from
    `first[p]` on; `factor[p]` is its part in the worth of a bite."""

    width: float
    sizes: Singles
    first: Ints
    many: Ints
    factor: Singles


class Crowd(NamedTuple):
    """Where every copy lies: its x, y, sizes a and b, its shape; and the price of every pair.

    `least` keeps the x, y and shape of each where the sum of all bites was least, or in the lay
    that was met.
    """

    x: Singles
    y: Singles
    a: Singles
    b: Singles
    shape: Ints
    price: Singles
    least: Singles


class Room(NamedTuple):
    """Room to work in: whom a piece can bite, who is in its way at some x, places across, and the
    place taken; what hurts each copy, their order, and the x and y of copies pressed together."""

    reach: Singles
    way: Singles
    ys: Singles
    place: Singles
    hurt: Singles
    order: Ints
    pressed: Singles


@compiled(nogil=True)
def bite(crowd: Crowd, p: int, q: int) -> np.float32:
    """How far a piece must go to be clear of another; nought or less where it is."""
    along = min(crowd.x[p] + crowd.a[p] - crowd.x[q], crowd.x[q] + crowd.a[q] - crowd.x[p])
    across = min(crowd.y[p] + crowd.b[p] - crowd.y[q], crowd.y[q] + crowd.b[q] - crowd.y[p])
    return min(along, across)


@compiled(nogil=True)
def _pays(crowd: Crowd, p: int) -> np.float32:
    """What a piece pays where it lies."""
    total = NOUGHT
    for q in range(len(crowd.x)):
        if q != p:
            total += crowd.price[p, q] * max(NOUGHT, bite(crowd, p, q))
    return total


@compiled(nogil=True)
def _reach(crowd: Crowd, p: int, a: np.float32, b: np.float32, reach: Singles) -> int:
    """Note of all others between which places along and across a piece bites them, and prices."""
    number = 0
    for q in range(len(crowd.x)):
        if q != p:
            reach[0, number], reach[1, number] = crowd.x[q] - a, crowd.x[q] + crowd.a[q]
            reach[2, number], reach[3, number] = crowd.y[q] - b, crowd.y[q] + crowd.b[q]
            reach[4, number] = crowd.price[p, q]
            number += 1
    return number


@compiled(nogil=True, inline="always")
def _in_way(
    reach: Singles, many: int, x: np.float32, low: np.float32, high: np.float32, way: Singles
) -> int:
    """Note the others bitten at x between two y: from where to where, and how deep at most."""
    number = 0
    for r in range(many):
        before, after = x - reach[0, r], reach[1, r] - x
        most = before if before < after else after
        way[0, number], way[1, number] = reach[2, r], reach[3, r]
        way[2, number], way[3, number] = most, reach[4, r]
        # Counted without a branch, which would be guessed wrong too often.
        number += (most > NOUGHT) & (reach[2, r] < high) & (reach[3, r] > low)
    return number


@compiled(nogil=True, inline="always")
def _level(
    way: Singles, number: int, low: np.float32, high: np.float32, last: np.float32, ys: Singles
) -> int:
    """Write the y between two at which a piece is level with what is in the way, or the cloth."""
    many = 0
    if low < NOUGHT:
        low = ys[many] = NOUGHT
        many += 1
    if high > last:
        high = ys[many] = last
        many += 1
    for i in range(number):
        for end in range(2):
            ys[many] = way[end, i]
            many += (low < way[end, i]) & (way[end, i] < high)
    return many


@compiled(nogil=True, inline="always")
def _pay(way: Singles, number: int, y: np.float32, most: np.float32) -> np.float32:
    """What a piece pays at some y to all in the way, or a part of it that is over `most`."""
    total = NOUGHT
    for i in range(number):
        before, after = y - way[0, i], way[1, i] - y
        deep = before if before < after else after
        deep = deep if deep < way[2, i] else way[2, i]
        if deep > NOUGHT:
            total += way[3, i] * deep
            if total > most:
                break
    return total


@compiled(nogil=True)
def _cheapest(
    room: Room, many: int, end: np.float32, last: np.float32, best: np.float32, equals: int
) -> tuple[np.float32, int, bool]:
    """The least that a piece pays, how many places cost just that, and whether one was taken.

    That is less than `best`, or as much where `equals` places do already. Of equals any may be
    taken; `room.place` is its x and y.
    """
    reach, taken = room.reach, False
    for at in range(2 * many + 2):
        x, low, high = NOUGHT if at == 2 * many else end, -FAR, FAR
        if at < 2 * many:
            x, low, high = reach[at % 2, at // 2], reach[2, at // 2], reach[3, at // 2]
            if x <= NOUGHT or x >= end:
                continue
        number = _in_way(reach, many, x, low, high, room.way)
        for k in range(_level(room.way, number, low, high, last, room.ys)):
            cost = _pay(room.way, number, room.ys[k], best)
            if cost > best or (cost == best and equals == 0):
                continue
            equals = equals + 1 if cost == best else 1
            if equals == 1 or np.random.random() * equals < 1.0:
                best, taken = cost, True
                room.place[0], room.place[1] = x, room.ys[k]
    return best, equals, taken


@compiled(nogil=True)
def _move(pieces: Pieces, crowd: Crowd, room: Room, p: int, length: np.float32) -> None:
    """Move a piece to where it pays least, if that is less than now; of equals to any."""
    best, shape, equals = _pays(crowd, p), -1, 0
    for s in range(pieces.first[p], pieces.first[p] + pieces.many[p]):
        a, b = pieces.sizes[s, 0], pieces.sizes[s, 1]
        if a > length:
            continue
        last = np.float32(pieces.width) - b
        many = _reach(crowd, p, a, b, room.reach)
        best, equals, taken = _cheapest(room, many, length - a, last, best, equals)
        if taken:
            shape = s
    if shape >= 0:
        lie(pieces, crowd, p, shape, room.place[0], room.place[1])


@compiled(nogil=True)
def lie(pieces: Pieces, crowd: Crowd, p: int, shape: int, x: np.float32, y: np.float32) -> None:
    """Have a copy lie somewhere in some shape."""
    crowd.x[p], crowd.y[p], crowd.shape[p] = x, y, shape
    crowd.a[p], crowd.b[p] = pieces.sizes[shape, 0], pieces.sizes[shape, 1]


@compiled(nogil=True)
def _hurt(pieces: Pieces, crowd: Crowd, room: Room) -> tuple[float, float]:
    """The sum of all bites and the worst of them; what hurts each piece is noted."""
    total, worst = 0.0, 0.0
    room.hurt[:] = NOUGHT
    for p in range(len(crowd.x)):
        for q in range(p):
            deep = bite(crowd, p, q)
            if deep > NOUGHT:
                deep *= pieces.factor[p] * pieces.factor[q]
                room.hurt[p] += deep
                room.hurt[q] += deep
                total += deep
                worst = max(worst, deep)
    return total, worst


@compiled(nogil=True)
def _reprice(pieces: Pieces, crowd: Crowd, worst: float) -> None:
    """Let prices of bites grow, the worst one's most, and all others fall back."""
    for p in range(len(crowd.x)):
        for q in range(p):
            usual = pieces.factor[p] * pieces.factor[q]
            deep = bite(crowd, p, q)
            if deep > NOUGHT:
                grown = crowd.price[p, q] * (LEAST + (MOST - LEAST) * deep * usual / worst)
            else:
                grown = max(usual, crowd.price[p, q] * BACK)
            crowd.price[p, q] = crowd.price[q, p] = grown


@compiled(nogil=True)
def _move_all(pieces: Pieces, crowd: Crowd, room: Room, length: np.float32) -> None:
    """Move every piece that bites, in an order drawn by lot."""
    number = 0
    for p in range(len(crowd.x)):
        if room.hurt[p] > NOUGHT:
            room.order[number] = p
            number += 1
    for i in range(number - 1, 0, -1):
        j = np.random.randint(i + 1)
        room.order[i], room.order[j] = room.order[j], room.order[i]
    for i in range(number):
        _move(pieces, crowd, room, room.order[i], length)


@compiled(nogil=True)
def _rank(order: Ints, begins: Singles, sizes: Singles) -> None:
    """Bring copies in the order of their middles along an axis."""
    for i in range(len(order)):
        p, at = order[i], i
        middle = begins[p] + begins[p] + sizes[p]
        while at > 0:
            q = order[at - 1]
            if begins[q] + begins[q] + sizes[q] <= middle:
                break
            order[at] = q
            at -= 1
        order[at] = p


@compiled(nogil=True)
def _press_across(crowd: Crowd, order: Ints, width: np.float32, ys: Singles) -> bool:
    """Move copies to the near selvedge past no other that they lie above; whether all fit.

    Of two that bite it is only done where they are sooner clear of each other across.
    """
    _rank(order, crowd.y, crowd.b)
    for i in range(len(order)):
        p, y = order[i], NOUGHT
        for j in range(i):
            q = order[j]
            along = min(crowd.x[p] + crowd.a[p] - crowd.x[q], crowd.x[q] + crowd.a[q] - crowd.x[p])
            deep = crowd.y[q] + crowd.b[q] - crowd.y[p]
            if along > NOUGHT and (deep <= NOUGHT or along >= deep):
                y = max(y, ys[q] + crowd.b[q])
        if y + crowd.b[p] > width:
            return False
        ys[p] = y
    return True


@compiled(nogil=True)
def _press_along(
    crowd: Crowd, order: Ints, ys: Singles, far: np.float32, xs: Singles
) -> np.float32:
    """Move copies to the squared end past no other; the length, or `far` if it comes to more."""
    length = NOUGHT
    _rank(order, crowd.x, crowd.a)
    for i in range(len(order)):
        p, x = order[i], NOUGHT
        for j in range(i):
            q = order[j]
            if ys[p] < ys[q] + crowd.b[q] and ys[q] < ys[p] + crowd.b[p]:
                x = max(x, xs[q] + crowd.a[q])
        xs[p] = x
        length = max(length, x + crowd.a[p])
        if length >= far:
            return far
    return length


@compiled(nogil=True)
def press(crowd: Crowd, room: Room, width: np.float32, far: np.float32) -> np.float32:
    """Make a lay of copies that may bite, kept as `pressed`; its length, or `far` if none is less.

    First all are moved across and then along, and there no two that share a row keep biting: so
    it is a lay, whatever came in.
    """
    if not _press_across(crowd, room.order, width, room.pressed[1]):
        return far
    return _press_along(crowd, room.order, room.pressed[1], far, room.pressed[0])


@compiled(nogil=True)
def _begin(pieces: Pieces, crowd: Crowd, length: np.float32) -> None:
    """Usual prices; every copy on the cloth, turned where it is too long."""
    for p in range(len(crowd.x)):
        for q in range(len(crowd.x)):
            crowd.price[p, q] = pieces.factor[p] * pieces.factor[q]
        shape = crowd.shape[p]
        if crowd.a[p] > length:
            for s in range(pieces.first[p], pieces.first[p] + pieces.many[p]):
                if pieces.sizes[s, 0] <= length:
                    shape = s
        x = max(NOUGHT, min(crowd.x[p], length - pieces.sizes[shape, 0]))
        y = max(NOUGHT, min(crowd.y[p], np.float32(pieces.width) - pieces.sizes[shape, 1]))
        lie(pieces, crowd, p, shape, x, y)


@compiled(nogil=True)
def separate(
    pieces: Pieces, crowd: Crowd, room: Room, length: int, best: int, rounds: int, patience: int,
    seed: int,
) -> float:  # fmt: skip
    """Move pieces apart on a length for some rounds, until that gives a lay shorter than `best`.

    It ends as well where it goes no better for a while. Gives the least sum of bites, nought with
    a lay: that is in `least`. The same seed gives the same end.
    """
    np.random.seed(seed)
    far, width = np.float32(length), np.float32(pieces.width)
    _begin(pieces, crowd, far)
    least, stood = np.inf, 0
    for _ in range(rounds):
        total, worst = _hurt(pieces, crowd, room)
        for p in range(len(room.order)):
            room.order[p] = p
        if press(crowd, room, width, np.float32(best)) < best:
            crowd.least[0], crowd.least[1] = room.pressed[0], room.pressed[1]
            crowd.least[2] = crowd.shape
            return 0.0
        stood += 1
        if total < least:
            if total < BETTER * least:
                stood = 0
            least = total
            crowd.least[0], crowd.least[1], crowd.least[2] = crowd.x, crowd.y, crowd.shape
        if stood > patience:
            break
        _reprice(pieces, crowd, worst)
        _move_all(pieces, crowd, room, far)
    return float(least)
