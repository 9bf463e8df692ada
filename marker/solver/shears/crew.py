"""Work done by a few threads, or in turn: the compiled searches leave the interpreter free."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from queue import Empty, SimpleQueue
from threading import Event, Thread
from time import monotonic
from typing import Any, TypeVar

Found = TypeVar("Found")
PAUSE = 0.2
"""Seconds between looks at the clock where nothing comes in."""


def done_by(
    jobs: Iterator[Callable[[Event], Found]], hands: int, until: float | None
) -> Iterator[Found]:
    """What the jobs find, as each is done; the next is drawn as soon as a hand is free.

    With no clock time `until` they are done one after another, in their order. A job is given
    an event that is set when it is no longer wanted, and is then not waited for: so nothing
    that it holds may be used again. A job's error is raised here.
    """
    stop = Event()
    try:
        if until is None:
            for job in jobs:
                yield job(stop)
        else:
            yield from _shared(jobs, hands, until, stop)
    finally:
        stop.set()


def _shared(
    jobs: Iterator[Callable[[Event], Found]], hands: int, until: float, stop: Event
) -> Iterator[Found]:
    asked: SimpleQueue[Callable[[Event], Found] | None] = SimpleQueue()
    came: SimpleQueue[tuple[Any, BaseException | None]] = SimpleQueue()
    for _ in range(hands):
        Thread(target=_work, args=(asked, came, stop), daemon=True).start()
    try:
        waiting = 0
        while monotonic() < until:
            while waiting < hands and (job := next(jobs, None)) is not None:
                asked.put(job)
                waiting += 1
            if not waiting:
                return
            with suppress(Empty):
                found, fault = came.get(timeout=max(0.0, min(PAUSE, until - monotonic())))
                waiting -= 1
                if fault is not None:
                    raise fault
                yield found
    finally:
        for _ in range(hands):
            asked.put(None)


def _work(
    asked: SimpleQueue[Any], came: SimpleQueue[tuple[Any, BaseException | None]], stop: Event
) -> None:
    while (job := asked.get()) is not None and not stop.is_set():
        try:
            came.put((job(stop), None))
        except BaseException as fault:  # carried to the thread that waits
            came.put((None, fault))
