"""How a call-out spells the copies that it stands for."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from marker.plan.lays.pieces import copies_words


@pytest.mark.parametrize(
    ("numbers", "total", "told"),
    [
        ([1], 1, ""),
        ([2], 3, "2 of 3"),
        ([1, 2], 3, "1 and 2 of 3"),
        ([1, 3], 4, "1 and 3 of 4"),
        ([3, 4, 5, 6, 7], 10, "3 to 7 of 10"),
        ([1, 2, 4], 6, "1, 2 and 4 of 6"),
        ([1, 2, 3], 3, "all 3"),
        ([1, 2, 4, 6, 8], 9, "5 of 9"),
    ],
)
def test_copies_are_told_as_one_would_say_them(numbers: list[int], total: int, told: str) -> None:
    chain = [SimpleNamespace(number=number, total=total) for number in numbers]
    assert copies_words(chain) == told  # type: ignore[arg-type]
