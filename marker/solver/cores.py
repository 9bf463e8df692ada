"""How many processes at once a search may use: one a core, unless plans are made abreast.

What is forked for a search ends with the process that searches, however that ends.
"""

from __future__ import annotations

import multiprocessing
import os
from dataclasses import dataclass
from threading import Thread
from time import sleep

LOOKED = 0.2
"""Seconds after which a forked process looks again whether the first one is still there."""


@dataclass
class _Lent:
    cores: int = 0


_LENT = _Lent()


def cores() -> int:
    """Cores that this process may use, each with a process forked for it; at least one."""
    if "fork" not in multiprocessing.get_all_start_methods():
        return 1
    if _LENT.cores:
        return _LENT.cores
    found = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return found or 1


def make_do(count: int) -> None:
    """From now on this process makes do with so many: others like it have the rest."""
    _LENT.cores = count


def leave_with(first: int) -> None:
    """From now on this forked process ends, whatever it is at, once the first one is no more."""
    Thread(target=_watch, args=(first,), daemon=True).start()


def _watch(first: int) -> None:
    while os.getppid() == first:
        sleep(LOOKED)
    os._exit(1)
