"""The order of the house: which module may import which, and what loads when."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
FLOORS = (
    ("errors", "signs"),
    ("units",),
    ("geometry",),
    ("cloth",),
    ("piece",),
    ("lay",),
    ("record",),
    ("garments", "solver", "referee", "gauging", "buying"),
    ("casefile",),
    ("newcase", "decide"),
    ("plan",),
    ("cli",),
    ("__main__",),
)
HEAVY = {"ortools", "shapely", "numba", "numpy", "typst", "svgwrite", "pydantic", "rich"}
FLOOR = {room: level for level, rooms in enumerate(FLOORS) for room in rooms}
FILES = sorted(
    path for path in (ROOT / "marker").rglob("*.py") if path != ROOT / "marker" / "__init__.py"
)


def room_of(path: Path) -> str:
    """The room a file stands in: its folder below `marker`, or its own name."""
    parts = path.relative_to(ROOT / "marker").with_suffix("").parts
    return parts[0]


def imports(path: Path) -> set[str]:
    """Every room that a file imports from, wherever the import stands."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            names = [node.module] + [f"{node.module}.{alias.name}" for alias in node.names]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        else:
            continue
        for name in names:
            parts = name.split(".")
            if parts[0] == "marker" and len(parts) > 1:
                found.add(parts[1])
    return {name for name in found if name in FLOOR}


def breach(room: str, wanted: set[str]) -> set[str]:
    """The imports that a room may not make: upwards, or sideways to another room."""
    return {name for name in wanted if name != room and FLOOR[name] >= FLOOR[room]}


def named(path: Path) -> str:
    return str(path.relative_to(ROOT))


def test_imports_go_down_the_house() -> None:
    rooms = {named(path): room_of(path) for path in FILES}
    assert {name: room for name, room in rooms.items() if room not in FLOOR} == {}
    breaches = {named(path): breach(room_of(path), imports(path)) for path in FILES}
    assert {name: wrong for name, wrong in breaches.items() if wrong} == {}


def test_the_table_would_see_a_breach() -> None:
    assert breach("solver", {"units", "lay", "referee"}) == {"referee"}
    assert breach("lay", {"plan"}) == {"plan"}


def test_a_file_can_be_read_in_one_sitting() -> None:
    lines = {named(path): len(path.read_text(encoding="utf-8").splitlines()) for path in FILES}
    assert {name: many for name, many in lines.items() if many > 400} == {}


def test_help_stays_light() -> None:
    asked = "import sys; from marker.cli import main; main(['--help'], standalone_mode=False); "
    asked += "print(','.join(sys.modules))"
    run = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, text=True, check=True, cwd=ROOT
    )
    loaded = {name.split(".")[0] for name in run.stdout.splitlines()[-1].split(",")}
    assert "click" in loaded
    assert not loaded & HEAVY
