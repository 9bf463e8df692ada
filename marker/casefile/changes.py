"""The same case with some values changed, read anew as if the file said so.

What a change comes to is thus what the user gets who writes it into the file, and whatever
clashes is told by the key that he would have to mend.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import deepcopy
from typing import Any

from marker.casefile.case import Case
from marker.casefile.reader import case_of

Key = tuple[str, ...]
"""Where a value stands in the file: ("garment", "skirt", "panels", "count")."""
Changes = Mapping[Key, Any]
"""Values as TOML would give them; None takes the key out."""


def changed(case: Case, changes: Changes) -> Case:
    """The case with these values put in place of its own, and missing tables made for them.

    Raises `BadInput` where the file could not say so.
    """
    tables: dict[str, Any] = deepcopy(dict(case.tables))
    for key, value in changes.items():
        _put(tables, key, value)
    return case_of(tables, case.file, case.folder)


def value_at(case: Case, key: Key) -> Any:
    """What the file says under a key; None where it says nothing."""
    found: Any = case.tables
    for step in key:
        if not isinstance(found, Mapping) or step not in found:
            return None
        found = found[step]
    return found


def told(changes: Changes) -> str:
    """Changes as the user would write them: "garment.skirt.panels.count = 3"."""
    return ", ".join(
        f"without {'.'.join(key)}" if value is None else f"{'.'.join(key)} = {_toml(value)}"
        for key, value in changes.items()
    )


def _put(tables: dict[str, Any], key: Key, value: Any) -> None:
    *way, last = key
    for step in way:
        inner = tables.get(step)
        if not isinstance(inner, dict):
            # A table that isn't there is made; nothing needs taking out of it.
            if value is None:
                return
            inner = tables[step] = {}
        tables = inner
    if value is None:
        tables.pop(last, None)
    else:
        tables[last] = value


def _toml(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        escaped = value.replace("\\", "\\\\").replace('"', '\\"')
        return f'"{escaped}"'
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {_toml(item)}" for key, item in value.items()) + " }"
    if isinstance(value, Iterable):
        return "[" + ", ".join(_toml(item) for item in value) + "]"
    return str(value)
