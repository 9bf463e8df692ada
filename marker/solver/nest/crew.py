"""The search for a nest: two hands, the clock, and what they tell each other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from threading import Event, Thread
from time import monotonic

import numpy as np

from marker.errors import BadInput
from marker.geometry import Rect
from marker.solver.nest.bounds import least_of
from marker.solver.nest.frame import Frame
from marker.solver.nest.hand import Hand
from marker.solver.nest.kinds import Nested, NestKind, NestSpot
from marker.solver.nest.starts import Start
from marker.solver.nest.task import Layout, Task
from marker.solver.nest.tighten import half_planes, whole_nest
from marker.solver.stop import asked, keeping_best, whole

HANDS = 2
STINTS = 20
"""Parts of the time, after each of which is told what has been found."""
PRESS = 17
"""The stint from which on they only press the best one shorter."""
CAUGHT_UP = (5, 9, 13)
"""The stints after which a hand far behind goes on from the lay of the other."""
BEHIND = 0.005
"""How much longer its lay must be for that: two that differ find more than one twice."""
KEPT = (8, PRESS, STINTS)
"""The stints after which the best is brought to whole places."""
GRACE = 0.3
"""Seconds for that once the clock has run out."""
LAST = 0.02
"""Part of the time kept for bringing the best to whole units and judging it."""
COMPILED = 1.0
"""Seconds from which loading the kernels is taken for their first use, which compiles them."""
Progress = Callable[[int, int], None]


def nest(
    kinds: Sequence[NestKind],
    width: int,
    *,
    margin: int = 0,
    flaws: Sequence[Rect] = (),
    repeat: tuple[int, int] = (0, 0),
    seconds: float = 10.0,
    iterations: int | None = None,
    seed: int = 0,
    progress: Progress | None = None,
    start: Sequence[NestSpot] | None = None,
) -> Nested:
    """Nest pieces on a strip of cloth, x along it, y from 0 to `width` across.

    Pieces keep `margin` from each other, not from the cloth's edges nor from `flaws`, which
    they only lie clear of. `repeat` is the cloth's lengthwise and crosswise one, for the sets
    that the kinds' rules speak of. Ends when the length is proved, else after `seconds`, or
    after `iterations` rounds of moves by each hand: the clock then plays no part, and the same
    seed gives the same nest. `progress` is told the length and the bound now and then. `start`
    is a nest to begin from, if it is sound. Ctrl-C keeps the best nest found. Raises
    `CannotLay` where a piece is too wide for the cloth or its rules leave it no place, and
    `BadInput` where a question makes no sense.
    """
    began = monotonic()
    if not kinds or width <= 0 or margin < 0:
        raise BadInput("a nest needs pieces, a width above nothing and no margin below nothing")
    task = Task.of(Frame.framed(kinds, width, margin, flaws, repeat))
    bound, bound_by = least_of(task)
    loading = monotonic()
    first = Start.of(task, start)
    crew = Crew(task, bound, seed, progress, first)
    crew.load()
    if (took := monotonic() - loading) > COMPILED:
        began += took
    with keeping_best():
        crew.search(None if iterations is not None else began + seconds * (1 - LAST), iterations)
    length = _end(task, crew.whole)
    return Nested(tuple(crew.whole), length, bound, bound_by, crew.stopped)


class Crew:
    """Hands that search side by side, each for itself, and press the better lay in the end."""

    def __init__(
        self, task: Task, bound: int, seed: int, progress: Progress | None, first: Start
    ) -> None:
        self.task, self.bound, self.progress = task, bound, progress
        self.whole = min(first.sure, key=lambda spots: _end(task, spots))
        """The shortest nest at whole places so far, judged sound."""
        self.layouts = first.layouts
        best = min(first.layouts, key=_length)
        self.hands = [
            Hand(task, best, bound, HANDS * seed + at, afresh=at > 0) for at in range(HANDS)
        ]
        self.stop = Event()
        self.stopped = False
        self.slow = 0.0
        """Seconds that bringing a layout to whole places has taken at most."""

    def load(self) -> None:
        """Have the kernels loaded, or compiled where they are used for the first time."""
        self.hands[0].advance(0)
        half_planes(self.task.table, self.hands[0].state, 0.0)

    def search(self, until: float | None, iterations: int | None) -> None:
        """Let the hands search, stint after stint; raises `KeyboardInterrupt` where cut short.

        The best is brought to whole places now and then, so that little is lost with one that
        can't be, and at the end. The clock leaves as much time for the last as one has taken.
        """
        began = monotonic()
        try:
            for stint in range(1, STINTS + 1):
                if asked():
                    raise KeyboardInterrupt
                span = None if until is None else until - self.slow - began
                ends = None if span is None else began + span * stint / STINTS
                rounds = None if iterations is None else iterations * stint // STINTS
                self._stint(ends, rounds)
                if self.progress:
                    self.progress(int(np.ceil(self.best.length)), self.bound)
                over = span is not None and monotonic() >= began + span
                ended = over or any(hand.done for hand in self.hands)
                if ended or stint in KEPT:
                    self._make_whole(ends)
                if ended:
                    return
                if stint in CAUGHT_UP:
                    self._catch_up()
                if stint == PRESS:
                    for hand in self.hands:
                        hand.press(self.best)
        except KeyboardInterrupt:
            self.stopped = True
            self._make_whole(monotonic())
            raise

    @property
    def best(self) -> Layout:
        """The shortest layout so far."""
        return min((hand.best for hand in self.hands), key=_length)

    def _catch_up(self) -> None:
        """Let hands that are far behind go on from the best layout."""
        best = self.best
        for hand in self.hands:
            if hand.best.length > best.length * (1 + BEHIND):
                hand.take(best)

    def _stint(self, ends: float | None, rounds: int | None) -> None:
        faults: list[BaseException] = []

        def work(hand: Hand) -> None:
            try:
                while not (self.stop.is_set() or hand.done or _over(hand, ends, rounds)):
                    hand.advance()
            except BaseException as fault:  # carried to the thread that waits
                faults.append(fault)

        threads = [Thread(target=work, args=(hand,), daemon=True) for hand in self.hands]
        try:
            with whole():  # a thread that is half begun can't be waited for
                for thread in threads:
                    thread.start()
            if asked():
                raise KeyboardInterrupt
            for thread in threads:
                thread.join()
        finally:
            self.stop.set()
            for thread in threads:
                if thread.is_alive():
                    thread.join()
            self.stop.clear()
        if faults:
            raise faults[0]

    def _make_whole(self, ends: float | None) -> None:
        """Bring the best layout to whole places, or the next best one that can be.

        A moment after the clock has run out no further way is tried.
        """
        began = monotonic()
        until = None if ends is None else max(ends, began) + GRACE
        found = [hand.best for hand in self.hands]
        for layout in sorted((*found, *self.layouts), key=_length):
            if layout.length > _end(self.task, self.whole) - 1:
                break
            spots = whole_nest(self.task, layout, until)
            if spots is not None:
                self.whole = min(spots, self.whole, key=lambda spots: _end(self.task, spots))
                break
        self.slow = max(self.slow, monotonic() - began)


def _length(layout: Layout) -> float:
    return layout.length


def _end(task: Task, spots: Sequence[NestSpot]) -> int:
    return max(outline.box.x1 for outline in task.placed(spots))


def _over(hand: Hand, ends: float | None, rounds: int | None) -> bool:
    if rounds is not None and hand.rounds >= rounds:
        return True
    return ends is not None and monotonic() >= ends
