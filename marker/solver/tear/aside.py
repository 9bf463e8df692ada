"""Work in a process of its own, beside the betterment, where there is a core to spare.

It exhausts what is shorter, or betters the lay too, by other chances, and each hears of what the
other has found.

Only for searches that end by the clock: those that end by count do one after the other, so that
they come out the same on every machine.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.context import ForkProcess
from time import monotonic
from typing import TYPE_CHECKING

from marker.solver.cores import cores, leave_with
from marker.solver.problem import Problem
from marker.solver.tear.block import Block
from marker.solver.tear.exact import Deepening, exhaust
from marker.solver.tear.greedy import length_of
from marker.solver.tear.packing import Purse
from marker.solver.tear.sieve import Sieve

if TYPE_CHECKING:
    # It loads the compiled loop, which many a search does without.
    from marker.solver.tear.improve import Betterment

HEARD = 16
"""Rounds of betterment after which the other process is listened to."""


@dataclass(frozen=True)
class News:
    """A bound that was proved, a shortest lay where one was met, and whether that is settled."""

    bound: int
    bands: tuple[Block, ...] | None = None
    settled: bool = False


@dataclass
class Aside:
    """A search under way in another process; one that betters a lay also listens."""

    process: ForkProcess
    news: Connection
    listens: bool = False

    @classmethod
    def better(cls, work: Betterment, until: float) -> Aside:
        """Better a lay up to a clock time."""
        return cls._run(_better, True, work, until)

    @classmethod
    def start(
        cls,
        problem: Problem,
        sieve: Sieve,
        bound: int,
        best: int,
        limits: Sequence[int],
        purse: Purse,
    ) -> Aside:
        """Search every length from `bound` to the last of the limits, as `exact.exhaust`."""
        return cls._run(_work, False, problem, sieve, bound, best, tuple(limits), purse)

    @classmethod
    def deepen(
        cls,
        problem: Problem,
        sieve: Sieve,
        bound: int,
        bands: tuple[Block, ...],
        wanted: Callable[[int], int],
        purse: Purse,
    ) -> Aside:
        """Search sparingly and in earnest by turns for lays shorter than one, `exact.Deepening`."""
        return cls._run(_deepen, True, problem, sieve, bound, bands, wanted, purse)

    @classmethod
    def _run(cls, job: Callable[..., None], listens: bool, *task: object) -> Aside:
        # Forked, not begun afresh: nothing is loaded again, and a caller's script isn't run twice.
        context = multiprocessing.get_context("fork")
        near, far = context.Pipe(duplex=listens)
        told = (os.getpid(), job, far, *task)
        process = context.Process(target=_beside, args=told, daemon=True)
        process.start()
        far.close()
        return cls(process, near, listens)

    def tell(self, bands: tuple[Block, ...]) -> None:
        """Hand over a shorter lay, where the other process can do something with it."""
        if self.listens:
            with suppress(OSError):
                self.news.send(bands)

    def hear(self, wait: float = 0.0) -> News | None:
        """The next news, if there is any within so many seconds; after the last, none ever."""
        try:
            if self.news.poll(wait):
                news: News = self.news.recv()
                return news
        except (EOFError, OSError):
            # It has ended: its end of the pipe is closed.
            return None
        return None

    def stop(self) -> None:
        """End the other process, whatever it is at."""
        self.process.terminate()
        self.process.join()
        self.news.close()


def spare_core() -> bool:
    """Whether this machine lends a second core, and can fork."""
    return cores() > 1


def _beside(first: int, job: Callable[..., None], far: Connection, *task: object) -> None:
    """In a process of its own: do a job, and end early where the search is killed."""
    leave_with(first)
    # Ctrl-C is for the search, which then ends this process.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    job(far, *task)


def _work(
    far: Connection,
    problem: Problem,
    sieve: Sieve,
    bound: int,
    best: int,
    limits: Sequence[int],
    purse: Purse,
) -> None:
    result = exhaust(
        problem, bound, best, limits, sieve, purse, lambda raised: far.send(News(raised))
    )
    far.send(News(result.bound, result.bands))


def _deepen(
    far: Connection,
    problem: Problem,
    sieve: Sieve,
    bound: int,
    bands: tuple[Block, ...],
    wanted: Callable[[int], int],
    purse: Purse,
) -> None:
    best = length_of(bands)

    def shortest() -> int:
        nonlocal best
        while far.poll():
            best = min(best, length_of(far.recv()))
        return best

    def raised(to: int) -> None:
        far.send(News(to))

    work = Deepening(problem, bound, shortest, wanted, sieve, purse, raised)
    with suppress(EOFError, OSError):
        for found in work.lays():
            best = best if found is None else min(best, length_of(found))
            far.send(News(work.bound, found, work.settled))


def _better(far: Connection, work: Betterment, until: float) -> None:
    rounds, told = 0, work.best
    # Where the search has gone without a word, this ends as well.
    with suppress(EOFError, OSError):
        while monotonic() < until and work.bound < length_of(work.best):
            work.round()
            rounds += 1
            if rounds % HEARD == 0 and far.poll():
                work.adopt(far.recv())
                told = work.best if length_of(work.best) < length_of(told) else told
            if work.best is not told:
                told = work.best
                far.send(News(0, told))
