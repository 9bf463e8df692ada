"""From a file, or its text, to a case: strict, and with one sentence for each fault."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any, Literal, TypeVar

from pydantic import Field

from marker.casefile.case import Case
from marker.casefile.chart import ChartTable
from marker.casefile.comparing import CompareTable
from marker.casefile.complaints import listed, nearest, validate
from marker.casefile.pieces import PieceTable
from marker.casefile.reach import ReachTable
from marker.casefile.sewing import NotionTable, ThreadTable, TimeTable, notions_of
from marker.casefile.tables import ClothTable, WearerTable
from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.brought.own import OwnPieces
from marker.garments.brought.piece import OwnPiece
from marker.garments.order import Order, Spec, Wearer
from marker.garments.registry import recipes
from marker.garments.words import LONGEST_KEY, Strict, Text, is_key, shown
from marker.units import SPELLED, Units

LARGEST = 1_000_000
"""Bytes; a case is a page or two, so a larger file is something else."""
MOST_ORDERS = 1000
MOST_ENTRIES = 1000
"""Tables under one heading: more wearers or cloths than any company has."""
_DOTTED = re.compile(r"""(?<![\w-])(?:[\w-]+|"[^"\n]*"|'[^'\n]*')(?:[ \t]*\.[ \t]*[\w-]+){40}""")
"""A key of so many parts, which would be read for hours; the longest of a case has four."""
DEFAULT_KIND = "straight skirt"
OWN, OWN_NAME = "own-pieces", "Own pieces"
NOBODY = Wearer("", "", {})
TABLE = "a table for each, such as"
Entry = TypeVar("Entry", Wearer, Cloth)


class CaseTable(Strict):
    """The top of the file; its tables are read one by one with models of their own."""

    title: Text = Field(description='a title in quotes, such as "Harvest dance"')
    units: Literal["cm", "in", "both", "cm and in", "in and cm"] = Field(
        description='the units to print in: "cm", "in", "both" or "in and cm"'
    )
    wearer: dict[str, Any] | None = Field(default=None, description=f"{TABLE} [wearer.anna]")
    cloth: dict[str, Any] = Field(description="a table for each cloth, such as [cloth.main]")
    garment: dict[str, Any] | None = Field(default=None, description=f"{TABLE} [garment.skirt]")
    piece: dict[str, Any] | None = Field(default=None, description=f"{TABLE} [piece.yoke]")
    notion: list[NotionTable] = Field(
        default=[], max_length=MOST_ENTRIES, description="a list of tables [[notion]]"
    )
    thread: ThreadTable | None = Field(default=None, description="a table for the sewing thread")
    time: TimeTable | None = Field(
        default=None, description="a table such as [time] with stitches_per_minute"
    )
    chart: ChartTable | None = Field(default=None, description="a table for a yardage chart")
    compare: CompareTable | None = Field(default=None, description="a table [compare]")
    reach: ReachTable | None = Field(default=None, description="a table for marker reach")


def read(path: Path) -> Case:
    """Read a case file. Raises `BadInput` with one sentence naming the file."""
    name = str(path) if str(path).isprintable() else shown(str(path))
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise BadInput(f"{name} is not there; check the path of the case file") from None
    except IsADirectoryError:
        raise BadInput(f"{name} is a folder; give the path of a case file in it") from None
    except (OSError, ValueError) as error:  # ValueError: a null byte in the path
        reason = getattr(error, "strerror", None) or error
        raise BadInput(f"{name} can't be read ({reason}); check the path of the file") from None
    if len(data) > LARGEST:
        raise BadInput(f"{name} is over 1 MB, too large for a case file; check the path")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput(f"{name} is not text in UTF-8; save it again as UTF-8") from None
    return parse(text, name, path.parent)


def parse(text: str, name: str, folder: Path = Path()) -> Case:
    """Read a case from TOML text; `name` is the file named in messages.

    Drawings that it names are looked for from `folder` on. Raises `BadInput`; faults that only
    drafting can find are raised by the recipes.
    """
    return case_of(_toml(text, name), name, folder)


def case_of(tables: dict[str, Any], name: str, folder: Path) -> Case:
    """The case that these tables say; raises `BadInput` as `parse` does."""
    top = validate(CaseTable, tables, name, ())
    _something_to_make(top, name)
    units = SPELLED[top.units]
    wearers = {
        key: validate(WearerTable, table, name, ("wearer", key)).wearer(key)
        for key, table in _entries(top.wearer, name, "wearer").items()
    }
    cloths = {
        key: validate(ClothTable, table, name, ("cloth", key)).cloth(key, units.lead, name)
        for key, table in _entries(top.cloth, name, "cloth").items()
    }
    pieces = {
        key: validate(PieceTable, table, name, ("piece", key))
        for key, table in _entries(top.piece, name, "piece").items()
    }
    orders = tuple(
        order
        for key, table in _entries(top.garment, name, "garment").items()
        for order in _orders(key, _spec(key, table, name), name, wearers, cloths, units)
    )
    own = _own_orders(pieces, name, folder, wearers, cloths, units)
    _distinct((*orders, *own), name)
    return Case(
        name,
        top.title,
        units,
        wearers,
        cloths,
        (*orders, *own),
        tables,
        folder,
        (top.thread or ThreadTable()).thread(units, name),
        notions_of(top.notion, orders, name),
        top.time.stitches_per_minute if top.time else 0,
    )


def _something_to_make(top: CaseTable, name: str) -> None:
    """Refuse a case without garments and pieces, and garments for nobody."""
    if top.garment is None and top.piece is None:
        raise BadInput(
            f"{name}: garment is missing; give a table for each garment, such as "
            "[garment.skirt], or for each piece of your own, such as [piece.yoke]"
        )
    if top.garment is not None and top.wearer is None:
        raise BadInput(
            f"{name}: wearer is missing; give a table for each wearer, such as [wearer.anna]"
        )


def _toml(text: str, name: str) -> dict[str, Any]:
    deep = f"{name} is nested too deeply for a case file; check the path"
    if _DOTTED.search(text):
        raise BadInput(deep)
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise BadInput(deep) from None
    except tomllib.TOMLDecodeError as error:
        said = " ".join(str(error).split())
        raise BadInput(f"{name} is not valid TOML: {said}; mend that place") from None
    except ValueError:  # Python reads no whole number of more than some thousand digits
        raise BadInput(
            f"{name} holds a number of thousands of digits; no figure of a case has, so check it"
        ) from None


def _entries(tables: dict[str, Any] | None, name: str, kind: str) -> dict[str, Any]:
    """The tables under one heading, their keys fit to name a file by; none without a heading."""
    if tables is None:
        return {}
    if not tables:
        raise BadInput(f"{name}: {kind} holds nothing; add a table such as [{kind}.one]")
    if len(tables) > MOST_ENTRIES:
        raise BadInput(f"{name}: {kind} holds {len(tables)} tables; {MOST_ENTRIES} are the most")
    seen: dict[str, str] = {}
    for key, table in tables.items():
        if not is_key(key):
            raise BadInput(
                f"{name}: {kind} has the key {shown(key)}, which can't name a file; use up to "
                f"{LONGEST_KEY} letters a to z, digits, - and _"
            )
        if key.lower() in seen:
            raise BadInput(
                f"{name}: {kind} has the keys {seen[key.lower()]!r} and {key!r}, which some "
                "computers can't tell apart in file names; rename one"
            )
        if not isinstance(table, dict):
            raise BadInput(
                f"{name}: {kind}.{key} is {shown(table)}, not a table; "
                f"write [{kind}.{key}] and its keys under it"
            )
        seen[key.lower()] = key
    return tables


def _spec(key: str, table: dict[str, Any], name: str) -> Spec:
    """The garment's own keys, read by the recipe for its kind."""
    kind = table.get("kind", DEFAULT_KIND)
    known = recipes()
    if not isinstance(kind, str) or kind not in known:
        hint = nearest(str(kind), list(known)).replace("the keys here", "the kinds")
        raise BadInput(f"{name}: garment.{key}.kind {shown(kind)} is not known; {hint}")
    return validate(known[kind], table, name, ("garment", key))


def _orders(
    key: str,
    spec: Spec,
    name: str,
    wearers: dict[str, Wearer],
    cloths: dict[str, Cloth],
    units: Units,
) -> list[Order]:
    """One order for each wearer the garment is for."""
    at = f"{name}: garment.{key}"
    if spec.wearer is not None and spec.wearers is not None:
        raise BadInput(f"{at} has both wearer and wearers; take one out")
    if spec.wearers is not None:
        chosen = [_named(k, wearers, f"{at}.wearers") for k in spec.wearers]
        if not chosen or len(set(spec.wearers)) < len(chosen):
            raise BadInput(f"{at}.wearers is empty or names a wearer twice; name each once")
    else:
        chosen = [_one(spec.wearer, wearers, f"{at}.wearer", next(iter(wearers)))]
    named = spec.cloth or (_one(None, cloths, f"{at}.cloth", "main").key,)
    cloth, *also = [_named(cloth, cloths, f"{at}.cloth").key for cloth in named]
    if also and not spec.several:
        raise BadInput(
            f"{at}.cloth names {len(named)} cloths, and the panels of a {spec.kind} come from one; "
            "name one"
        )
    return [
        Order(
            file=name,
            key=key if spec.wearers is None else f"{key}-{wearer.key}",
            table=key,
            name=spec.name or key,
            wearer=wearer,
            spec=spec,
            cloths=cloths,
            panel_cloth=cloth,
            units=units,
            also=tuple(also),
        )
        for wearer in chosen
    ]


def _own_orders(
    pieces: dict[str, PieceTable],
    name: str,
    folder: Path,
    wearers: dict[str, Wearer],
    cloths: dict[str, Cloth],
    units: Units,
) -> list[Order]:
    """One order for the pieces of each wearer that they are for, and one for those for none."""
    read: dict[str, list[OwnPiece]] = {}
    for key, table in pieces.items():
        at = f"{name}: piece.{key}"
        whose = NOBODY
        if table.wearer is not None:
            whose = _named(table.wearer, wearers, f"{at}.wearer")
        named = table.cloth or (_one(None, cloths, f"{at}.cloth", "main").key,)
        own = tuple(_named(cloth, cloths, f"{at}.cloth").key for cloth in named)
        read.setdefault(whose.key, []).append(table.piece(key, own, name, folder))
    return [
        Order(
            file=name,
            key=f"{OWN}-{whose}" if whose else OWN,
            table=OWN,
            name=OWN_NAME,
            wearer=wearers.get(whose, NOBODY),
            spec=OwnPieces(own=tuple(found)),
            cloths=cloths,
            panel_cloth=found[0].cloths[0],
            units=units,
        )
        for whose, found in read.items()
    ]


def _one(key: str | None, table: dict[str, Entry], at: str, usual: str) -> Entry:
    """The entry named; without a name the only one, or for a cloth the one called main."""
    if key is not None:
        return _named(key, table, at)
    if len(table) == 1:
        return next(iter(table.values()))
    if usual == "main" and usual in table:
        return table[usual]
    raise BadInput(f"{at} is missing, and there are several; name one of: {listed(table)}")


def _named(key: str, table: dict[str, Entry], at: str) -> Entry:
    if key not in table:
        hint = nearest(key, list(table)).replace("the keys here are", "the file has")
        raise BadInput(f"{at} names {shown(key)}, which is not in the file; {hint}")
    return table[key]


def _distinct(orders: tuple[Order, ...], name: str) -> None:
    if len(orders) > MOST_ORDERS:
        raise BadInput(
            f"{name}: garment orders {len(orders)} garments; {MOST_ORDERS} are the most; split the "
            "case into several files"
        )
    seen: set[str] = set()
    for order in orders:
        if order.key.lower() in seen:
            if order.table == OWN:
                raise BadInput(
                    f"{name}: the pieces of your own are called {order.key!r}, as a garment is; "
                    "rename the garment's table"
                )
            raise BadInput(
                f"{name}: garment.{order.table} for {order.wearer.key!r} would be called "
                f"{order.key!r}, as another garment is; rename one of the tables"
            )
        seen.add(order.key.lower())
