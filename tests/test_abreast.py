"""Plans made at once: all tasks are done, in order, whatever becomes of one of them."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from marker.decide import abreast as room
from marker.decide.abreast import Lost, abreast
from marker.errors import BadInput, Refused
from marker.solver.cores import cores
from marker.solver.stop import asked, listening


@pytest.fixture(autouse=True)
def _two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(room, "cores", lambda: 2)


def test_answers_stand_in_the_order_of_the_tasks() -> None:
    def job(task: int) -> int:
        time.sleep(0.02 * (5 - task))
        return task * task

    assert abreast(job, range(6)) == [0, 1, 4, 9, 16, 25]


def test_the_work_is_done_elsewhere_and_by_one_core_each() -> None:
    found = abreast(lambda _: (os.getpid(), cores()), range(4))
    assert {many for _, many in found} == {1}  # type: ignore[misc]
    assert os.getpid() not in {pid for pid, _ in found}  # type: ignore[misc]


def test_one_task_needs_no_other_process() -> None:
    assert abreast(lambda _: os.getpid(), [1]) == [os.getpid()]


def test_no_tasks_no_answers() -> None:
    assert abreast(lambda task: task, []) == []


def test_an_error_of_ours_stands_in_the_place_of_an_answer() -> None:
    def job(task: int) -> int:
        if task == 1:
            raise BadInput("a.toml: too wide")
        if task == 2:
            raise Refused("the plan", ("it overlaps",))
        return task

    first, second, third, last = abreast(job, range(4))
    assert (first, last) == (0, 3)
    assert isinstance(second, BadInput)
    assert str(second) == "a.toml: too wide"
    assert isinstance(third, Refused)
    assert third.findings == ("it overlaps",)


def test_a_fault_of_the_program_is_raised_here() -> None:
    def job(task: int) -> float:
        return 1 / task

    with pytest.raises(ZeroDivisionError):
        abreast(job, [1, 0, 2])


def test_a_process_killed_from_outside_is_told() -> None:
    def job(task: int) -> int:
        if task == 1:
            os.kill(os.getpid(), signal.SIGKILL)
        return task

    with pytest.raises(Lost, match="ended from outside"):
        abreast(job, range(4))


def test_nothing_is_begun_where_ctrl_c_came_before() -> None:
    with listening():
        os.kill(os.getpid(), signal.SIGINT)
        assert abreast(lambda task: task, range(3)) == [None] * 3
    assert abreast(lambda task: task, range(3)) == [0, 1, 2]


def test_it_tells_how_far_it_has_come() -> None:
    told: list[tuple[int, int]] = []
    abreast(lambda task: task, range(3), lambda done, of: told.append((done, of)))
    assert told == [(1, 3), (2, 3), (3, 3)]


@pytest.mark.parametrize("many", [1, 2])
def test_ctrl_c_lets_what_is_begun_end_and_begins_nothing_more(
    many: int, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(room, "cores", lambda: many)

    def job(task: int) -> str:
        (tmp_path / f"{task}").touch()
        for _ in range(3000):
            if asked():
                return "cut short"
            time.sleep(0.02)
        return "done"

    def press() -> None:
        while len(list(tmp_path.iterdir())) < many:
            time.sleep(0.02)
        os.kill(os.getpid(), signal.SIGINT)

    hand = threading.Thread(target=press)
    hand.start()
    found = abreast(job, range(5))
    hand.join()
    assert found == ["cut short"] * many + [None] * (5 - many)
    assert not asked()


@pytest.mark.slow
@pytest.mark.parametrize("task", ["time.sleep(60)", "None"], ids=["at work", "idle"])
def test_no_process_outlives_the_first_one(task: str) -> None:
    script = (
        "import os, sys, time\n"
        "from marker.decide import abreast as room\n"
        "room.cores = lambda: 2\n"
        "def job(number):\n"
        "    os.write(1, f'{os.getpid()}\\n'.encode())  # at once: two processes write\n"
        f"    return time.sleep(60) if number == 2 else {task}\n"
        "room.abreast(job, range(3))\n"
    )
    with subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE) as first:
        assert first.stdout is not None
        pids = {int(first.stdout.readline()) for _ in range(2)}
        first.kill()
        first.wait()
        left = pids
        for _ in range(500):
            left = {pid for pid in left if _alive(pid)}
            if not left:
                break
            time.sleep(0.02)
        assert not left


def _alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{pid}/stat")
    return not state.exists() or state.read_text().split()[2] != "Z"
