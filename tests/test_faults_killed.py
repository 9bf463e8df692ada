"""Commands killed at moments drawn by lot: the old files or the new, whole, and nobody at work.

What is killed among the moves of files is tried call by call in `test_files_killed`; here a whole
command is killed, whatever it is at. `MARKER_KILLS=20` says how many moments are tried of each.
"""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

import pytest

from marker.plan.putting import BENCH, recover

ROOT = Path(__file__).parents[1]
KILLS = int(os.environ.get("MARKER_KILLS", "0"))
pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="/proc tells who is at work"),
]
CASE = """
title = "{title}"
units = "cm"
[wearer.ilka]
waist = "66 cm"
length = "100 cm"
[cloth.main]
width = "114 cm"
selvedge = "1 cm"
[garment.skirt]
seam = "1 cm"
turn_down = "6 cm"
panels = {{ count = 3 }}
band = {{ width = "3 cm" }}
[chart]
widths = ["110 cm", "120 cm"]
lengths = ["90 cm", "95 cm", "100 cm"]
[compare]
panels = [3, 4]
"""
COMMANDS = {
    "plan": ["--iterations", "2"],
    "compare": ["--iterations", "2"],
    "chart": ["--iterations", "2"],
    "reach": ["--iterations", "2", "--have", "main=2.60 m", "--most", "length"],
    "templates": ["--iterations", "2"],
    "pleats": [],
}
USUAL = ("plan", "compare")
"""What is tried where nobody asks for more."""


@dataclass
class Run:
    """A command at work in a session of its own."""

    process: subprocess.Popen[bytes]

    @staticmethod
    def of(command: str, case: Path, out: Path) -> Run:
        ask = [sys.executable, "-c", "from marker.cli import main; main()", command]
        return Run(
            subprocess.Popen(
                [*ask, str(case), "--out", str(out), *COMMANDS[command]],
                cwd=ROOT,
                start_new_session=True,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        )

    def at_work(self) -> list[int]:
        """Processes of the session that have not ended."""
        found = []
        for stat in Path("/proc").glob("[0-9]*/stat"):
            try:
                fields = stat.read_text(encoding="utf-8").rpartition(")")[2].split()
            except OSError:
                continue
            if int(fields[3]) == self.process.pid and fields[0] not in "ZX":
                found.append(int(stat.parent.name))
        return found

    def is_over(self, seconds: float = 30) -> bool:
        """Wait until the session has no process at work any more."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if not self.at_work():
                return True
            time.sleep(0.05)
        return False


def seen(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


@pytest.mark.parametrize("command", COMMANDS if KILLS else USUAL)
def test_a_killed_command_leaves_one_whole_set_and_no_process(command: str, tmp_path: Path) -> None:
    for title in ("old", "new"):
        case = tmp_path / f"{title}.toml"
        case.write_text(CASE.format(title=title), encoding="utf-8")
        began = time.monotonic()
        assert Run.of(command, case, tmp_path / title).process.wait() == 0
        took = time.monotonic() - began
    old, new = seen(tmp_path / "old"), seen(tmp_path / "new")
    assert old != new
    draw, killed = random.Random(command), 0
    for at in range(KILLS or 3):
        folder = tmp_path / f"{at}"
        shutil.copytree(tmp_path / "old", folder)
        run = Run.of(command, tmp_path / "new.toml", folder)
        time.sleep(draw.uniform(0.1, 1.05) * took)
        run.process.kill()
        killed += run.process.wait() != 0
        assert run.is_over(), "a process is still at work"
        recover(folder)
        assert seen(folder) in (old, new)
    assert killed
    # The next one finds its way, and leaves nothing of the killed one's.
    assert Run.of(command, tmp_path / "new.toml", folder).process.wait() == 0
    assert seen(folder) == new
    assert not list(folder.glob(f"{BENCH}*"))
