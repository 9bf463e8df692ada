"""The library: the README's examples run as they stand there, by count and not by the clock."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

import marker
from marker.decide.reach import Standing
from marker.plan.reach import page as reach_page

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def walked(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """All names that the README's examples leave behind, run in a folder of their own."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"^```python\n(.*?)^```", readme, flags=re.DOTALL | re.MULTILINE)
    text, seconds = re.subn(r"seconds=\d+", "iterations=1", "".join(blocks))
    assert seconds == 4
    folder = tmp_path_factory.mktemp("library")
    (folder / "cases").symlink_to(ROOT / "cases")
    names: dict[str, Any] = {}
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        exec(text, names)
        names["written"] = [path.resolve() for path in names["paths"]]
    return names


def test_options_charts_and_remnants_come_as_plain_data(walked: dict[str, Any]) -> None:
    compared, charted, reached = (walked[name] for name in ("compared", "charted", "reached"))
    costs = [row.worth.cost for row in compared.rows]
    assert costs[0] == min(costs)
    assert len(charted.cells) == len(charted.rows)
    assert all(len(row) == len(charted.widths) for row in charted.cells)
    assert reached.case.cloths["main"].length == 2050 * 160
    assert reached.most_asked == "length"
    assert reached.standing is Standing.FITS or reached.record is None


def test_pages_are_written_whole(walked: dict[str, Any]) -> None:
    names = [path.name for path in walked["written"]]
    assert names[:2] == [reach_page.SVG, reach_page.PDF]
    assert names[-1] == "lay.json"
    assert all(path.read_bytes() for path in walked["written"])
    most = walked["reached"].most
    assert marker.load_record(walked["written"][-1]) == (most.record if most else None)


def test_what_was_compared_and_charted_is_written_too(
    walked: dict[str, Any], tmp_path: Path
) -> None:
    (tmp_path / "lay.json").write_text("an earlier plan")
    for name, kind in (("compared", "compare"), ("charted", "chart")):
        written = marker.write_pages(walked[name], tmp_path, "letter")
        assert {path.name for path in written} == {f"{kind}.svg", f"{kind}.pdf"}
    assert (tmp_path / "lay.json").read_text() == "an earlier plan"


def test_what_is_asked_is_handed_on() -> None:
    case = marker.read_case(ROOT / "cases" / "three-bolts.toml")
    with pytest.raises(marker.BadInput, match="'beauty' is nothing to rank by"):
        marker.compare_case(case, order=["beauty"])
    with pytest.raises(marker.BadInput, match="chart is missing"):
        marker.chart_case(case)
    with pytest.raises(marker.BadInput, match="no cloth has a length"):
        marker.reach_case(case)
    with pytest.raises(marker.BadInput, match="'silk', which is not in the file"):
        marker.reach_case(case, have={"silk": "2 m"})
