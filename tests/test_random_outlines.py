"""Random cases with every rule in combination: each lay is sound, or refused with a reason."""

from __future__ import annotations

import re

import pytest
from random_outlines import outlined

from marker import referee
from marker.errors import BadInput, CannotLay
from marker.lay import Lay, Mode
from marker.solver import solve


def laid(seed: int, mode: Mode | None) -> Lay | str:
    cloth, pieces = outlined(seed)
    if mode is Mode.TEAR and (cloth.folded or not cloth.tears):
        mode = None
    try:
        return solve(cloth, pieces, mode=mode, iterations=1, seed=seed)
    except (BadInput, CannotLay) as error:
        return str(error)


@pytest.mark.parametrize("mode", [None, Mode.TEAR, Mode.SHEARS])
@pytest.mark.parametrize("seed", range(12))
def test_the_referee_passes_every_lay(seed: int, mode: Mode | None) -> None:
    found = laid(seed, mode)
    if isinstance(found, str):
        # Every refusal names what can't be laid, and what helps.
        assert re.search(r"piece [A-D] \(|cloth 'c'", found)
        assert re.search(r"; (lay|let|take|cut|leave|ask|allow)", found)
    else:
        assert not referee.findings(found)
        assert found.bound <= found.length


@pytest.mark.parametrize("seed", [3, 6])
def test_the_same_seed_gives_the_same_lay(seed: int) -> None:
    assert laid(seed, None) == laid(seed, None)


def test_most_of_these_cases_can_be_laid() -> None:
    found = [laid(seed, Mode.SHEARS) for seed in range(12)]
    assert sum(isinstance(lay, Lay) for lay in found) >= 8
    assert any(isinstance(lay, Lay) and lay.cloth.folded for lay in found)
    assert any(isinstance(lay, Lay) and lay.shaped and not lay.cloth.folded for lay in found)
