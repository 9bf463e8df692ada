"""The sieve: measures that tell which blocks no short lay holds."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from puzzles import assorted
from strategies import asks
from test_solver import Ask, oracle

from marker.solver.bounds import by_area, by_duals, by_rows
from marker.solver.problem import read
from marker.solver.tear import sieve as sieves
from marker.solver.tear.block import Block
from marker.solver.tear.blocks import enumerate_blocks
from marker.solver.tear.exact import shortest_within
from marker.solver.tear.packing import Packing, Purse
from marker.solver.tear.sieve import Sieve


@pytest.fixture
def eager(monkeypatch: pytest.MonkeyPatch) -> None:
    """Worths are sought for every set of blocks, as often as they help."""
    monkeypatch.setattr(sieves, "COST", 0)
    monkeypatch.setattr(sieves, "LEAST", 1)
    monkeypatch.setattr(sieves, "MISSES", 25)


@pytest.mark.usefixtures("eager")
@settings(max_examples=60, derandomize=True, deadline=None)
@given(asks())
@pytest.mark.slow
def test_no_sieve_loses_the_shortest_lay(ask: Ask) -> None:
    best, scaled = oracle(ask), read(*ask)
    assert best is not None
    problem, length = scaled.problem, best // scaled.along
    sieve = Sieve.of(problem, by_rows(problem))
    tallest = max(min(a for a, _ in kind.shapes) for kind in problem.kinds)
    for target in (max(length - 1, tallest), length, length + length // 10):
        bands = shortest_within(problem, target, sieve, Purse(10**9))
        found = None if bands is None else sum(band.a for band in bands)
        assert found == (None if target < length else length)


def blocks_of(band: Block) -> list[Block]:
    """A band and all blocks in it."""
    return [band, *(inner for part in band.parts for inner in blocks_of(part))]


@settings(max_examples=60, derandomize=True, deadline=None)
@given(
    asks(),
)
def test_no_worths_rule_out_a_block_of_a_lay(ask: Ask) -> None:
    random, problem = Random(1), read(*ask).problem
    longest = sum(max(a for a, _ in kind.shapes) * kind.count for kind in problem.kinds)
    sieve = Sieve.of(problem, by_area(problem))
    bands = shortest_within(problem, longest, Sieve.of(problem, by_rows(problem)), Purse(10**9))
    assert bands is not None
    for _ in range(20):
        worths = [random.choice((0.0, random.random() / longest)) for _ in problem.kinds]
        if any(worths):
            sieve.measures.append(by_duals(problem, worths))
            sieve.hits.append(0)
    blocks = [block for band in bands for block in blocks_of(band)]
    held = np.array(
        [sum(sieve.packing.one(leaf.kind) for leaf in block.leaves()) for block in blocks]
    )
    a, b = (np.array([getattr(block, side) for block in blocks]) for side in "ab")
    length = sum(band.a for band in bands)
    assert len(sieve.passes(held, a, b, length)) == len(blocks)


@pytest.mark.slow
def test_the_sieve_thins_out_what_a_refuted_target_leaves() -> None:
    problem = read(*assorted(4, 30, 11)).problem
    sizes = []
    for part in (0.0, 0.5):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(sieves, "PART", part)
            sieve, purse = Sieve.of(problem, by_rows(problem)), Purse(10**9)
            sizes.append((len(enumerate_blocks(problem, 131_100, sieve, purse)), purse.spent))
    assert sizes[1][0] < sizes[0][0] / 2
    assert sizes[1][1] < sizes[0][1] / 2


def test_counts_are_read_from_packed_words() -> None:
    counts = [1, 3, 2] * 20
    packing, random = Packing.of(counts), Random(3)
    rows = [[random.randint(0, count) for count in counts] for _ in range(20)]
    packed = np.array(
        [sum(packing.one(kind) * np.uint64(n) for kind, n in enumerate(row)) for row in rows]
    )
    assert packing.counts(packed).tolist() == rows
