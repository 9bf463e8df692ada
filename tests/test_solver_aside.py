"""What another process does aside: it exhausts as this one would, and can always be stopped."""

from __future__ import annotations

from multiprocessing import get_all_start_methods
from random import Random

import pytest
from puzzles import assorted, torn

from marker.solver.bounds import by_area, by_rows
from marker.solver.problem import read
from marker.solver.tear.aside import Aside
from marker.solver.tear.exact import exhaust
from marker.solver.tear.greedy import fill_lay, length_of
from marker.solver.tear.packing import Purse
from marker.solver.tear.sieve import Sieve


@pytest.mark.skipif("fork" not in get_all_start_methods(), reason="this system can't fork")
def test_another_process_exhausts_what_this_one_would() -> None:
    scaled = read(*assorted(6, 12, 8))
    problem, purse = scaled.problem, Purse(10**8)
    worths = by_rows(problem)
    bound, best = worths.bound(problem), length_of(fill_lay(problem, Random(0), 0.0))
    here = exhaust(
        problem, bound, best, (best - 1,), Sieve.of(problem, worths), Purse(10**8), lambda _: None
    )
    aside = Aside.start(
        problem, Sieve.of(problem, worths), bound, best, (bound - 1, best - 1), purse
    )
    heard = []
    while news := aside.hear(wait=60):
        heard.append(news)
    aside.stop()
    assert (heard[-1].bands, heard[-1].bound) == (here.bands, here.bound)
    assert here.bands is not None
    bounds = [news.bound for news in heard]
    assert bounds == sorted(bounds)


def test_a_process_is_stopped_at_whatever_it_is() -> None:
    problem = torn(1500, 3000, 199, Random(1))
    sieve = Sieve.of(problem, by_area(problem))
    aside = Aside.start(problem, sieve, 3000, 4000, (3999,), Purse(10**12))
    aside.stop()
    assert not aside.process.is_alive()
