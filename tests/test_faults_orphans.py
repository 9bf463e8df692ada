"""A search that is killed leaves no process at work behind it."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from multiprocessing import get_all_start_methods
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
pytestmark = pytest.mark.skipif("fork" not in get_all_start_methods(), reason="this can't fork")

BESIDE = """
import os, time
from marker.solver.tear.aside import Aside

def job(far):
    far.send(os.getpid())
    while True:  # as a search does, never looking up
        sum(range(1000))

side = Aside._run(job, False)
print(side.news.recv(), flush=True)
time.sleep(60)
"""


def alive(pid: int) -> bool:
    """Whether a process is there and has not ended."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{pid}/stat")
    return not state.exists() or state.read_text().split()[2] != "Z"


def gone(pids: set[int], seconds: float = 20) -> bool:
    """Wait until none of the processes is there any more; end those that stay."""
    for _ in range(int(seconds / 0.02)):
        pids = {pid for pid in pids if alive(pid)}
        if not pids:
            return True
        time.sleep(0.02)
    for pid in pids:
        os.kill(pid, 9)
    return False


def test_what_searches_beside_a_torn_lay_ends_with_it() -> None:
    with subprocess.Popen(
        [sys.executable, "-c", BESIDE], stdout=subprocess.PIPE, cwd=ROOT
    ) as search:
        assert search.stdout is not None
        beside = int(search.stdout.readline())
        assert alive(beside)
        search.kill()
        search.wait()
        assert gone({beside})
