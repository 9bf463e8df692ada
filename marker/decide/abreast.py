"""Many plans at once: a process for every core, each taking up the next task when it is free.

The processes are forked, so nothing is loaded again and a caller's script isn't run twice;
where a machine can't fork, the tasks are done one after the other. What comes out does not
depend on how many there are, as long as each task is bounded by count and not by the clock.

On the first Ctrl-C every search under way ends with the best it has, and no task is begun
any more; a second one gives up.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from math import inf
from multiprocessing.connection import Connection, wait
from multiprocessing.context import ForkProcess
from time import monotonic
from typing import TypeVar

from marker.errors import MarkerError
from marker.solver.cores import cores, leave_with, make_do
from marker.solver.stop import asked, listening

T = TypeVar("T")
R = TypeVar("R")

Told = Callable[[int, int], None]
"""Called with how many tasks are done, and how many there are."""

LISTEN = 0.2
"""Seconds after which Ctrl-C is looked for again."""


class Lost(MarkerError):
    """A process of the machine that worked on a task ended without an answer."""


def abreast(
    job: Callable[[T], R], tasks: Sequence[T], told: Told | None = None, until: float = inf
) -> list[R | MarkerError | None]:
    """What `job` makes of each task, in their order; an error of ours stands in its place.

    None stands for tasks that were not begun because the user asked to stop, or because no task
    but the first may be begun later than `until`, on the monotonic clock. Raises `Lost` where a
    process is killed from outside, and `KeyboardInterrupt` on a second Ctrl-C.
    """
    hands = min(cores(), len(tasks))
    with listening():
        if asked():  # before, while something else was done
            return [None] * len(tasks)
        if hands < 2:
            return _in_turn(job, tasks, told, until)
        with _crew(job, tasks, hands) as crew:
            return _shared(crew, len(tasks), told, until)


def _in_turn(
    job: Callable[[T], R], tasks: Sequence[T], told: Told | None, until: float
) -> list[R | MarkerError | None]:
    found: list[R | MarkerError | None] = []
    for task in tasks:
        late = bool(found) and monotonic() >= until
        found.append(None if asked() or late else _tried(job, task))
        if told:
            told(len(found), len(tasks))
    return found


def _tried(job: Callable[[T], R], task: T) -> R | MarkerError:
    try:
        return job(task)
    except MarkerError as error:
        return error


@dataclass(frozen=True)
class _Fault:
    """What went wrong in another process, other than on purpose."""

    error: Exception


@dataclass
class _Hand:
    """A process at work; `task` is the number of the one it is at."""

    process: ForkProcess
    line: Connection
    task: int = -1


@contextmanager
def _crew(job: Callable[[T], R], tasks: Sequence[T], hands: int) -> Iterator[list[_Hand]]:
    """So many processes that wait for the numbers of their tasks; all gone at the end."""
    context = multiprocessing.get_context("fork")
    crew: list[_Hand] = []
    try:
        for _ in range(hands):
            near, far = context.Pipe()
            ends = [near, *(hand.line for hand in crew)]
            process = context.Process(target=_work, args=(far, ends, os.getpid(), job, tasks))
            process.start()
            far.close()
            crew.append(_Hand(process, near))
        yield crew
    finally:
        for hand in crew:
            hand.line.close()
            with suppress(OSError):  # with all that it has forked in its turn
                os.killpg(_pid(hand), signal.SIGTERM)
            hand.process.terminate()
        for hand in crew:
            hand.process.join()


def _work(
    line: Connection,
    ends: Sequence[Connection],
    first: int,
    job: Callable[[T], R],
    tasks: Sequence[T],
) -> None:
    """In a process of its own: do what is asked until the line is closed.

    `ends` are the other ends of lines that came with the fork: while they are open here, no
    process would hear that the first one has gone.
    """
    # Out of the terminal's reach: what the user asks is handed on once, by the first process.
    os.setpgid(0, 0)
    for end in ends:
        end.close()
    leave_with(first)
    make_do(1)
    with suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            number = line.recv()
            try:
                line.send(_tried(job, tasks[number]))
            except Exception as fault:
                line.send(_Fault(fault))


def _shared(
    crew: list[_Hand], tasks: int, told: Told | None, until: float
) -> list[R | MarkerError | None]:
    found: list[R | MarkerError | None] = [None] * tasks
    numbers, done, handed_on = iter(range(tasks)), 0, False
    for hand in crew:
        _next(hand, numbers)
    while busy := [hand for hand in crew if hand.task >= 0]:
        ready = wait([hand.line for hand in busy], LISTEN)
        if asked() and not handed_on:
            handed_on = True
            for hand in busy:
                os.kill(_pid(hand), signal.SIGINT)
        for hand in (hand for hand in busy if hand.line in ready):
            found[hand.task] = _answer(hand)
            done += 1
            if told:
                told(done, tasks)
            _next(hand, iter(()) if asked() or monotonic() >= until else numbers)
    return found


def _pid(hand: _Hand) -> int:
    assert hand.process.pid is not None  # it was started
    return hand.process.pid


def _next(hand: _Hand, numbers: Iterator[int]) -> None:
    hand.task = next(numbers, -1)
    if hand.task >= 0:
        with suppress(OSError):  # where the process has ended, its missing answer tells
            hand.line.send(hand.task)


def _answer(hand: _Hand) -> R | MarkerError:
    try:
        found = hand.line.recv()
    except (EOFError, OSError):
        raise Lost(
            "a process that searched for a lay was ended from outside, perhaps for want of "
            "memory; run it again with fewer pieces or options"
        ) from None
    if isinstance(found, _Fault):
        raise found.error
    answer: R | MarkerError = found
    return answer
