"""How loops are compiled, and where their compiled form is kept from one run to the next.

The library keeps a compiled function for as long as the file it stands in is unchanged, though
it may call functions of other files. So the folder is named for all solvers' sources: a change
to any of them compiles afresh, and no stale loop is ever run. It lies among the user's caches
and not beside the sources, where it would stay behind when the program is taken off, and be
found in place of the next one.
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
from platformdirs import user_cache_path

Function = TypeVar("Function", bound=Callable[..., Any])

KEPT = "loops-"
"""What the names of those folders begin with."""
WITHIN = "within"
"""The folder among them of what only other loops call."""
LENT = ("get_call_template", "get_overload")
"""What compiled callers ask the library's functions for: how they are called, and their code."""
LONG = 90 * 86_400
"""Seconds after which loops of other sources are taken to be of no more use to anyone."""


def compiled(**options: Any) -> Callable[[Function], Function]:
    """Compile a function on first use, and keep it on disk where the user's caches can be written.

    Where they can't it is compiled anew in every run. None is ever called from C, and doing
    without what that would take saves a tenth of the time that compiling takes. Most are called
    by other compiled ones alone, never by what is interpreted: what the latter would take is left
    out of a second form, which callers that are compiled get, and saves another tenth to fifth.
    """
    options = {"no_cfunc_wrapper": True, **options}

    def decorate(function: Function) -> Function:
        config: Any = numba.config
        folder = _folder(config.CACHE_DIR)
        made = _made(function, folder, options)
        if not all(hasattr(made, name) for name in LENT):  # as where nothing is to be compiled
            return made  # type: ignore[no-any-return]
        within = folder and str(Path(folder) / WITHIN)
        _lend(made, _made(function, within, {"no_cpython_wrapper": True, **options}))
        return made  # type: ignore[no-any-return]

    return decorate


def _made(function: Callable[..., Any], folder: str | None, options: dict[str, Any]) -> Any:
    config: Any = numba.config
    usual = config.CACHE_DIR
    if folder is None:
        return numba.njit(**options)(function)
    config.CACHE_DIR = folder
    try:
        return _forgiving(numba.njit(cache=True, **options)(function))
    except RuntimeError:  # a function of no file has no place there
        return numba.njit(**options)(function)
    finally:
        config.CACHE_DIR = usual


def _lend(made: Any, within: Any) -> None:
    """Have compiled callers use `within`, which nothing interpreted could call and live.

    What was compiled for interpreted callers already serves all of them.
    """
    typed, found = made.get_call_template, made.get_overload

    def typed_within(args: Any, kws: Any) -> Any:
        return (typed if tuple(args) in made.overloads else within.get_call_template)(args, kws)

    def found_within(args: Any) -> Any:
        return (found if tuple(args) in made.overloads else within.get_overload)(args)

    made.get_call_template, made.get_overload = typed_within, found_within


def _forgiving(made: Any) -> Any:
    """Let a full disk, or a file cut short, cost no more than compiling in every run."""
    kept = getattr(made, "_cache", None)
    for name in ("load_overload", "save_overload"):
        if hasattr(kept, name):
            setattr(kept, name, _or_nothing(getattr(kept, name)))
    return made


def _or_nothing(call: Callable[..., Any]) -> Callable[..., Any]:
    def tried(*args: Any) -> Any:
        try:
            return call(*args)
        except Exception:  # whatever is wrong with what is kept, loops can be compiled without it
            return None

    return tried


@cache
def _folder(asked: str) -> str | None:
    """The folder for the sources as they are: where the user asks for it, else in the caches."""
    here = Path(__file__).parent
    digest = sha256(str(here).encode())
    for source in sorted(here.rglob("*.py")):
        digest.update(source.read_bytes())
    try:
        within = Path(asked) if asked else user_cache_path("marker")
        folder = within / f"{KEPT}{digest.hexdigest()[:16]}"
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, RuntimeError):  # nowhere to write, or no home at all
        return None
    for old in within.glob(f"{KEPT}*"):
        with suppress(OSError):
            if old != folder and time() - old.stat().st_mtime > LONG:
                rmtree(old, ignore_errors=True)
    return str(folder)
