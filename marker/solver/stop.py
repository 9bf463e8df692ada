"""Ctrl-C: the search in hand ends and keeps its best, and what would follow is cut short.

A plan is made by many searches one after another, for cloths, ways and widths. One Ctrl-C
asks all of them to come to an end, each with a lay; a second one gives up. Like the signal
itself, the wish to stop belongs to the whole process, but it ends with the plan or the lay
that was listening: it must not cut short what a program asks for later.
"""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from threading import current_thread, main_thread
from types import FrameType

BRIEF = 0.1
"""Seconds that a search gets once the user has asked to stop."""


@dataclass
class _Wish:
    asked: bool = False
    listening: bool = False
    depth: int = 0
    """How many searches that keep their best are under way, one within the other."""


_WISH = _Wish()


def asked() -> bool:
    """Whether the user has asked to stop."""
    return _WISH.asked


@contextmanager
def listening() -> Iterator[None]:
    """Take Ctrl-C as a wish to stop: between searches it is only noted, in one it ends it.

    Within another such stretch, or in a thread that signals don't reach, nothing is changed.
    """
    if _WISH.listening or current_thread() is not main_thread():
        yield
        return

    def hear(_number: int, _frame: FrameType | None) -> None:
        again, _WISH.asked = _WISH.asked, True
        if again or _WISH.depth:
            raise KeyboardInterrupt

    before = signal.signal(signal.SIGINT, hear)
    _WISH.asked, _WISH.depth, _WISH.listening = False, 0, True
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
        _WISH.asked = _WISH.listening = False


@contextmanager
def keeping_best() -> Iterator[None]:
    """A stretch of search that Ctrl-C may end at any point, with something kept from before."""
    _WISH.depth += 1
    try:
        yield
    except KeyboardInterrupt:
        _WISH.asked = _WISH.listening
    finally:
        _WISH.depth -= 1


@contextmanager
def whole() -> Iterator[None]:
    """A stretch within a search that must not be broken off, such as loading a library."""
    depth, _WISH.depth = _WISH.depth, 0
    try:
        yield
    finally:
        _WISH.depth = depth
