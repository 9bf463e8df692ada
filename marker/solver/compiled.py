"""How loops are compiled, and where their compiled form is kept from one run to the next.

The library keeps a compiled function for as long as the file it stands in is unchanged, though
it may call functions of other files. So the folder is named for all solvers' sources: a change
to any of them compiles afresh, and no stale loop is ever run.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from functools import cache
from hashlib import sha256
from pathlib import Path
from shutil import rmtree
from time import time
from typing import Any, TypeVar

import numba

Function = TypeVar("Function", bound=Callable[..., Any])

KEPT = "loops-"
"""What the names of those folders begin with."""
DAY = 86_400
"""Seconds after which loops of other sources are taken to be of no more use to anyone."""


def compiled(**options: Any) -> Callable[[Function], Function]:
    """Compile a function on first use, kept on disk where some folder can be written."""

    def decorate(function: Function) -> Function:
        config: Any = numba.config
        usual, config.CACHE_DIR = config.CACHE_DIR, _folder(config.CACHE_DIR)
        try:
            made = numba.njit(cache=True, **options)(function)
        except RuntimeError:  # there is no such folder
            made = numba.njit(**options)(function)
        finally:
            config.CACHE_DIR = usual
        return made  # type: ignore[no-any-return]

    return decorate


@cache
def _folder(asked: str) -> str:
    """The folder for the sources as they are: where the user asks for it, else beside them."""
    here = Path(__file__).parent
    digest = sha256()
    for source in sorted(here.rglob("*.py")):
        digest.update(source.read_bytes())
    within = Path(asked) if asked else here / "__pycache__"
    folder = within / f"{KEPT}{digest.hexdigest()[:16]}"
    if not asked:
        for old in within.glob(f"{KEPT}*"):
            with suppress(OSError):
                if old != folder and time() - old.stat().st_mtime > DAY:
                    rmtree(old, ignore_errors=True)
    return str(folder)
