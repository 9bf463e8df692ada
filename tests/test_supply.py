"""What the program takes from others, and what it hands on."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def named(asked: list[str]) -> set[str]:
    """The distributions that requirements name, spelled alike."""
    return {plain(re.match(r"[\w.-]+", each).group()) for each in asked}  # type: ignore[union-attr]


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def imported(folder: str) -> dict[str, str]:
    """Every module from outside that the files of a folder import, with a file that does."""
    found: dict[str, str] = {}
    for path in (ROOT / folder).rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names: list[str] = []
            if isinstance(node, ast.ImportFrom) and node.module and not node.level:
                names = [node.module]
            elif isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            found |= {name.partition(".")[0]: path.name for name in names}
    mine = {"marker", *(path.stem for path in (ROOT / "tests").rglob("*.py")), "bench"}
    return {name: file for name, file in found.items()
            if name not in sys.stdlib_module_names and name not in mine}  # fmt: skip


def undeclared(modules: dict[str, str], declared: set[str]) -> dict[str, str]:
    """Modules that come with no distribution that is asked for, but at best through another."""
    come_with = packages_distributions()
    return {
        name: file
        for name, file in modules.items()
        if not {plain(each) for each in come_with.get(name, [name])} & declared
    }


@pytest.mark.slow
def test_all_that_is_imported_is_asked_for() -> None:
    runs = named(PROJECT["dependencies"])
    assert undeclared(imported("marker"), runs) == {}
    extras = PROJECT["optional-dependencies"]
    assert undeclared(imported("tests"), runs | named(extras["dev"] + extras["nightly"])) == {}


def test_what_comes_through_another_is_seen() -> None:
    assert undeclared({"pydantic_core": "a.py"}, {"pydantic"}) == {"pydantic_core": "a.py"}
    assert undeclared({"nowhere": "a.py"}, {"numpy"}) == {"nowhere": "a.py"}


@pytest.mark.slow
def test_nothing_is_asked_for_in_vain() -> None:
    come_with = packages_distributions()
    used = {plain(each) for name in imported("marker") for each in come_with.get(name, [])}
    assert named(PROJECT["dependencies"]) - used == set()


def test_every_bound_is_the_least_version_alone() -> None:
    """`.ci/lowest` reads the versions off these lines."""
    asked = PROJECT["dependencies"] + PROJECT["optional-dependencies"]["dev"]
    assert [each for each in asked if not re.fullmatch(r"[\w.-]+>=[\w.]+", each)] == []
