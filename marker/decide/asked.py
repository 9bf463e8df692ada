"""What the case asks to have compared, checked against what is in the file."""

from __future__ import annotations

from marker.casefile import Case
from marker.casefile.comparing import CompareTable
from marker.casefile.complaints import nearest, validate
from marker.errors import BadInput
from marker.garments.words import shown


def asked(case: Case) -> CompareTable:
    """The case's own table, or an empty one. Raises `BadInput` where it names what isn't there."""
    found = validate(CompareTable, case.tables.get("compare") or {}, case.file, ("compare",))
    at = f"{case.file}: compare"
    for key in ("cloths", "facing_cloths", "band_cloths"):
        for name in getattr(found, key) or ():
            _known(name, list(case.cloths), f"{at}.{key}")
    tables = list(dict.fromkeys(order.table for order in case.orders))
    for name in found.garments or ():
        _known(name, tables, f"{at}.garments")
    for word in found.lie or ():
        if word not in ("along", "across"):
            raise BadInput(f'{at}.lie names {shown(word)}; write "along", "across" or both')
    return found


def _known(name: str, known: list[str], at: str) -> None:
    if name not in known:
        hint = nearest(name, known).replace("the keys here are", "the file has")
        raise BadInput(f"{at} names {shown(name)}, which is not in the file; {hint}")
