"""Random small cases by the thousand: the solvers against exhaustive oracles and CP-SAT.

    python tests/nightly/cross_checks.py [--cases 10000] [--seed 0]

The five kinds of `oracle_checks` take turns. What comes out wrong ends the run with the case that
did it. One line tells every hundred cases; the last one what was checked.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from oracle_checks import KINDS


def main(cases: int, seed: int) -> int:
    """Try so many cases; nought where all of them came out, else one."""
    done: Counter[str] = Counter()
    for number in range(cases):
        check = KINDS[number % len(KINDS)]
        try:
            check(seed + number)
        except Exception as error:  # a crash too must name its case
            print(f"{check.__name__}({seed + number}): {error!r}", file=sys.stderr)
            return 1
        done[check.__name__] += 1
        if (number + 1) % 100 == 0:
            print(f"{number + 1} of {cases}", flush=True)
    print(", ".join(f"{name} {count}" for name, count in done.items()) + ": all came out")
    return 0


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--cases", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=0)
    asked_for = parser.parse_args()
    sys.exit(main(asked_for.cases, asked_for.seed))
