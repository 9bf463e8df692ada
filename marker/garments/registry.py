"""The garments that can be ordered: every recipe in this package registers itself.

A new garment is one file, here or in a room of its own: a `Spec` with `drafts`, under
`@garment("its kind")`.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Mapping
from functools import cache
from importlib import import_module
from types import MappingProxyType
from typing import TypeVar

import marker.garments
from marker.garments.order import Spec

S = TypeVar("S", bound=Spec)
_RECIPES: dict[str, type[Spec]] = {}


def garment(kind: str) -> Callable[[type[S]], type[S]]:
    """Enter a recipe under the kind that case files call it by."""

    def enter(spec: type[S]) -> type[S]:
        _RECIPES[kind] = spec
        return spec

    return enter


@cache
def recipes() -> Mapping[str, type[Spec]]:
    """All recipes by kind, read from the modules of this package and its rooms."""
    for module in pkgutil.walk_packages(marker.garments.__path__, "marker.garments."):
        import_module(module.name)
    return MappingProxyType(_RECIPES)
