"""Shared footing of the tests: where the tools are, and when a test may skip."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")


@pytest.fixture(scope="session")
def need_tool() -> Callable[[str], str]:
    """Give a program's path; skip, saying so, where it is not installed.

    With MARKER_NO_SKIP set, as in CI, a missing program is a failure.
    """

    def path_of(name: str) -> str:
        found = shutil.which(name)
        if found is None:
            said = f"{name} is not installed here"
            if os.environ.get("MARKER_NO_SKIP"):
                pytest.fail(said)
            pytest.skip(said)
        return found

    return path_of


@pytest.fixture(scope="session")
def benchmarks() -> Path:
    """Folder of the open packing sets; skip, saying so, where it is absent."""
    folder = Path(__file__).parents[2] / "shared" / "benchmarks"
    if not folder.is_dir():
        pytest.skip("the open packing sets are not beside this checkout")
    return folder
