"""Pieces crowded on to too short a cloth and moved apart: the compiled part.

Pieces may bite into each other, at a price: how far the one would have to go to be clear of the
other, times what that pair costs. In turn each piece that bites goes to where it pays least, and
pairs that still bite grow dearer (guided local search; Egeblad, Nielsen and Odgaard, EJOR 183,
2007; Umetani and others, ITOR 16, 2009; from memory).

Where a piece pays least is found exactly. What it pays to one other is the least of four
distances, each linear in its place, so nowhere inside a bite can there be a least price but at
its rim. Hence some cheapest place has the piece level with an edge of another one, or of the
cloth, on both axes, and those places are few. Sizes and places are whole numbers below 2^24 kept
as single floats, which are exact.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from marker.solver.compiled import compiled
from marker.solver.nest.kernel import FLAGS, greater, lesser
from marker.solver.problem import Ints

Singles = NDArray[np.float32]
NOUGHT = np.float32(0)
NONE = np.float32(3e38)
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
    """Room to work in: places along and across, what they cost, pieces in the way; and the x and
    y of copies pressed together."""

    xs: Singles
    ys: Singles
    cost: Singles
    way: Singles
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
def _put_in(places: Singles, number: int, place: np.float32, last: np.float32) -> int:
    """Put a place among others in order, unless it is one of them or off the cloth."""
    if place < NOUGHT or place > last:
        return number
    at = number
    while at > 0 and places[at - 1] > place:
        at -= 1
    if at > 0 and places[at - 1] == place:
        return number
    for k in range(number, at, -1):
        places[k] = places[k - 1]
    places[at] = place
    return number + 1


@compiled(nogil=True)
def _level(
    places: Singles, now: np.float32, begins: Singles, sizes: Singles, p: int, size: np.float32,
    last: np.float32,
) -> int:  # fmt: skip
    """The places along an axis at which a piece of some size is level with an edge, in order."""
    number = _put_in(places, 0, NOUGHT, last)
    number = _put_in(places, number, last, last)
    number = _put_in(places, number, now, last)
    for q in range(len(begins)):
        if q != p:
            number = _put_in(places, number, begins[q] + sizes[q], last)
            number = _put_in(places, number, begins[q] - size, last)
    return number


@compiled(nogil=True, fastmath=set(FLAGS))
def _pay(xs: Singles, cost: Singles, a: np.float32, way: Singles, number: int) -> None:
    """Write into `cost` what a piece pays at each place of a row, to all that are in the way."""
    for k in range(xs.shape[0]):
        cost[k] = NOUGHT
    for i in range(number):
        begin, end, most, price = way[0, i] - a, way[1, i], way[2, i], way[3, i]
        for k in range(xs.shape[0]):
            deep = lesser(lesser(xs[k] - begin, end - xs[k]), most)
            cost[k] += price * greater(deep, NOUGHT)


@compiled(nogil=True)
def _in_way(crowd: Crowd, p: int, y: np.float32, b: np.float32, way: Singles) -> int:
    """Note the copies that a piece can bite at some y, and how deep at most."""
    number = 0
    for q in range(len(crowd.x)):
        most = min(y + b - crowd.y[q], crowd.y[q] + crowd.b[q] - y)
        if most > NOUGHT and q != p:
            way[0, number], way[1, number] = crowd.x[q], crowd.x[q] + crowd.a[q]
            way[2, number], way[3, number] = most, crowd.price[p, q]
            number += 1
    return number


@compiled(nogil=True)
def _pays(crowd: Crowd, p: int) -> np.float32:
    """What a piece pays where it lies."""
    total = NOUGHT
    for q in range(len(crowd.x)):
        if q != p:
            total += crowd.price[p, q] * max(NOUGHT, bite(crowd, p, q))
    return total


@compiled(nogil=True)
def _move(pieces: Pieces, crowd: Crowd, room: Room, p: int, length: np.float32) -> None:
    """Move a piece to where it pays least, if that is less than now; of equals to any."""
    best, x, y, shape, equals = _pays(crowd, p), NOUGHT, NOUGHT, -1, 0
    for s in range(pieces.first[p], pieces.first[p] + pieces.many[p]):
        a, b = pieces.sizes[s, 0], pieces.sizes[s, 1]
        last = np.float32(pieces.width) - b
        # A shape too long for the cloth has no place along it.
        along = _level(room.xs, crowd.x[p], crowd.x, crowd.a, p, a, length - a)
        across = _level(room.ys, crowd.y[p], crowd.y, crowd.b, p, b, last)
        xs, cost = room.xs[:along], room.cost[:along]
        for j in range(across):
            number = _in_way(crowd, p, room.ys[j], b, room.way)
            _pay(xs, cost, a, room.way, number)
            for k in range(along):
                if cost[k] > best or (cost[k] == best and shape < 0):
                    continue
                equals = equals + 1 if cost[k] == best else 1
                if np.random.random() * equals < 1.0:
                    best, x, y, shape = cost[k], xs[k], room.ys[j], s
    if shape >= 0:
        lie(pieces, crowd, p, shape, x, y)


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
