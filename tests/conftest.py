"""Shared footing of the tests: where outside data is, and when a test may skip."""

from __future__ import annotations

import gc
import os
import shutil
from collections.abc import Callable, Generator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from marker.solver.stop import asked

collect_ignore = ["nightly"]
"""What is run by itself; part of it needs what the tests don't."""

settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")

CURVED = {
    "test_brought_match", "test_brought_plans", "test_compare_worth", "test_decide",
    "test_decide_load", "test_decide_shaped", "test_folded_lays", "test_garments_circles_planned",
    "test_garments_curved_match", "test_garments_gore_seams", "test_garments_planned",
    "test_mixed", "test_nest", "test_nest_bounds", "test_nest_changes", "test_nest_charts",
    "test_nest_convolve", "test_nest_parts", "test_nest_rules", "test_nested_lays",
    "test_random_outlines", "test_stand_in", "test_templates_cli",
}  # fmt: skip
"""Files whose tests nest outlines, alone or as part of whole cases."""
STRAIGHT = {
    "test_cross_checks", "test_lays", "test_reach_dial", "test_rules_parts", "test_share",
    "test_shears", "test_shears_crowd", "test_shears_rows", "test_solver_aside",
    "test_solver_edges", "test_solver_groups", "test_solver_large", "test_solver_parts",
    "test_solver_sieve", "test_solver_sparing", "test_stop",
}  # fmt: skip
"""Files whose tests run the compiled loops of long torn lays and of lays for the shears."""
DRAWN = {
    "test_gallery", "test_plan_asks", "test_plan_browser", "test_plan_pixels", "test_plan_crowding",
    "test_plan_layout", "test_plan_shaped", "test_plan_svg",
}  # fmt: skip
"""Files whose tests look at the same plans, each worked out once."""
TEMPLATES = {"test_referee_edges", "test_referee_template", "test_templates_pages"}
"""Files whose tests read the same templates back, each drawn once."""
SHEETS = {"test_sheet_figures", "test_sheet_sewing_pages"}
"""Files whose tests read the same sheets back, each set once."""
GROUPS = {
    **dict.fromkeys(CURVED, "curved"),
    **dict.fromkeys(STRAIGHT, "straight"),
    **dict.fromkeys(DRAWN, "drawn"),
    **dict.fromkeys(TEMPLATES, "templates"),
    **dict.fromkeys(SHEETS, "sheets"),
}
DIRECT = ("test_nest_", "test_shears", "test_solver")
"""What the names of files begin with whose tests call compiled loops one by one."""
ORDER = (*dict.fromkeys(GROUPS.values()), "")
"""Longest first, so that the many files of no group, which go to any worker, fill the end."""

TOOLS = ("chromium", "pdftoppm", "poppler", "fontTools")
"""Tests that need these to look at a drawing skip without them, but never in CI."""


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None]:
    """Look for garbage neither while tests are collected nor, later on, among what they are.

    Tests by the thousand, and all they import, stay to the end: going through them again and
    again was a fifth of collecting and a tenth of running. What tests leave is still looked for.
    """
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.set_threshold(20_000, 20, 20)
        gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=_in_turn)


def _in_turn(item: pytest.Item) -> tuple[int, bool]:
    """By group; in it those first that call from outside what loops call within.

    What is compiled for a call from outside serves loops too, and not the other way round.
    """
    stem = item.path.stem
    return ORDER.index(GROUPS.get(stem, "")), not stem.startswith(DIRECT)


@pytest.hookimpl(optionalhook=True)  # where tests go to several workers
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Send the tests of a group to one worker, and those of any other file too.

    What a file's tests share is thus worked out once. The mark `xdist_group` would say the same,
    but newer test runners pass it over in silence.
    """
    from xdist.scheduler import LoadScopeScheduling

    class Grouped(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            stem = Path(nodeid.split("::", 1)[0]).stem
            return GROUPS.get(stem, stem)

    config.option.loadscopereorder = False  # the order is that of the collected tests
    return Grouped(config, log)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skip for want of a tool into a failure where MARKER_NO_SKIP is set."""
    report = yield
    if report.skipped and os.environ.get("MARKER_NO_SKIP"):
        reason = str(report.longrepr)
        if any(tool in reason for tool in TOOLS):
            report.outcome = "failed"
    return report


@pytest.fixture(scope="session")
def need_tool() -> Callable[[str], str]:
    """Give a program's path; skip, saying so, where it is not installed."""

    def path_of(name: str) -> str:
        found = shutil.which(name)
        if found is None:
            pytest.skip(f"{name} is not installed here")
        return found

    return path_of


@pytest.fixture(scope="session")
def benchmarks() -> Path:
    """Folder of the open packing sets; skip, saying so, where it is absent."""
    folder = Path(__file__).parents[2] / "shared" / "benchmarks"
    if not folder.is_dir():
        pytest.skip("the open packing sets are not beside this checkout")
    return folder


@pytest.fixture(autouse=True)
def _nobody_has_asked_to_stop() -> Generator[None]:
    """A test that leaves a wish to stop behind would cut short the searches of others."""
    yield
    assert not asked()
