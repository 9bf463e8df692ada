"""What may be otherwise in a case: each axis a question, each of its values a set of changes.

A value's changes are to the case file's own keys, for every garment that has them, so that an
option is what the user gets who writes them into the file.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from marker.casefile import Case
from marker.casefile.changes import Key, changed, value_at
from marker.casefile.comparing import CompareTable
from marker.errors import BadInput, MarkerError
from marker.garments.bias_keys import CUTS, STRIPS, WORDS
from marker.garments.curved.facing import SHAPED
from marker.garments.curved.hem import Hemmed
from marker.garments.hung import Hung
from marker.garments.lower import STRAIGHT
from marker.garments.order import Order

LIES = {"along": "along the bolt", "across": "railroaded"}
OWN = ""
"""Stands for what the file says now."""
CLASHES = {
    True: ("strips", "most", "joins"),
    False: ("strips", "shortest", "across"),
}
"""The keys of a facing that go when it is cut on the bias (True), and when it no longer is."""


@dataclass(frozen=True)
class Value:
    """One answer in a few words, and what the file must say for it; `own` if it says so now."""

    words: str
    changes: Mapping[Key, Any]
    own: bool = False


@dataclass(frozen=True)
class Axis:
    """A question, what its answers are called, how many they are, and the answers.

    The answers may be so many that they are better counted than made: they are read once.
    """

    name: str
    size: int
    values: Iterable[Value]


def axes(case: Case, table: CompareTable) -> tuple[Axis, ...]:
    """Every axis of a case. Raises `BadInput` where the table asks what no garment has."""
    orders = _scope(case, table)
    found = (
        _panels(case, table, orders),
        _cloths(case, table, orders),
        _facing(case, table, orders),
        _part(case, table.facing_cloths, [o for o in orders if _faced(o)], "facing"),
        _part(case, table.band_cloths, [o for o in orders if _banded(o)], "band"),
    )
    return tuple(axis for axis in found if axis.size)


def _axis(name: str, values: Sequence[Value] = ()) -> Axis:
    return Axis(name, len(values), values)


def _scope(case: Case, table: CompareTable) -> tuple[Order, ...]:
    """One order for each garment of the file that may be changed."""
    known = {order.table: order for order in case.orders if order.table in _tables(case)}
    return tuple(known[key] for key in (table.garments or known) if key in known)


def _tables(case: Case) -> Mapping[str, Any]:
    found: Mapping[str, Any] = case.tables.get("garment") or {}
    return found


def _key(order: Order, *more: str) -> Key:
    return ("garment", order.table, *more)


def _nothing(case: Case, key: str, what: str) -> BadInput:
    return BadInput(f"{case.file}: compare.{key} is given, but {what}; take it out")


# How many panels.


def _place(order: Order) -> tuple[Key, str] | None:
    """Where the file says how many panels a garment has, and what they are called."""
    fields = type(order.spec).model_fields
    if "gores" in fields:
        return _key(order, "gores", "count"), "gore"
    if "panels" not in fields:
        return None
    if isinstance(getattr(order.spec, "panels", None), BaseModel):
        return _key(order, "panels", "count"), "panel"
    return _key(order, "panels"), "panel"


def _panels(case: Case, table: CompareTable, orders: Sequence[Order]) -> Axis:
    """How many panels; the garments are told by their keys."""
    places = {order.table: found for order in orders if (found := _place(order))}
    own = {order.table: _own_count(case, order) for order in orders if order.table in places}
    left_open = {key: count for key, count in own.items() if isinstance(count, range)}
    counts: Iterable[int]
    if table.panels:
        if not places:
            raise _nothing(case, "panels", "no garment is made of panels")
        low, high = table.panels
        counts, size = range(low, high + 1), high - low + 1
        each = (dict.fromkeys(places, count) for count in counts)
    elif left_open:
        counts = sorted({count for numbers in left_open.values() for count in numbers})
        size = len(counts)
        each = (
            {key: count for key, numbers in left_open.items() if count in numbers}
            for count in counts
        )
    else:
        known = {key: count for key, count in own.items() if isinstance(count, int)}
        counts = [more for more in (-1, 0, 1) if known and min(known.values()) + more >= 1]
        size = len(counts)
        each = ({key: count + more for key, count in known.items()} for more in counts)
    names = {order.table: order.name for order in orders}
    values = (_counted(count, own, places, names) for count in each)
    return Axis("numbers of panels", size, values)


def _own_count(case: Case, order: Order) -> int | range | None:
    """The number of panels that the file gives, or leaves open between two, if it gives any."""
    panels = getattr(order.spec, "panels", None)
    found = _place(order)
    said = value_at(case, found[0]) if found else None
    if isinstance(panels, BaseModel):
        said = panels.count  # type: ignore[attr-defined]
    return said if isinstance(said, int | range) else None


def _counted(
    counts: Mapping[str, int],
    own: Mapping[str, int | range | None],
    places: Mapping[str, tuple[Key, str]],
    names: Mapping[str, str],
) -> Value:
    changes = {places[key][0]: count for key, count in counts.items() if own[key] != count}
    kinds = {places[key][1] for key in counts}
    if len(set(counts.values())) == 1 and len(kinds) == 1:
        count, kind = next(iter(counts.values())), next(iter(kinds))
        return Value(_many(count, kind), changes, not changes)
    told = (f"{names[key]} {_many(count, places[key][1])}" for key, count in counts.items())
    return Value(", ".join(told), changes, not changes)


def _many(count: int, name: str) -> str:
    return f"{count} {name}" if count == 1 else f"{count} {name}s"


# What the panels are cut from, and how they lie on it.


def _cloths(case: Case, table: CompareTable, orders: Sequence[Order]) -> Axis:
    """Every cloth for the panels with every way they may lie on it, as far as they can."""
    if not orders:
        return _axis("cloths and lies")
    main = orders[0].panel_cloth
    group = [order for order in orders if table.garments or order.panel_cloth == main]
    hung = [order for order in orders if isinstance(order.spec, Hung)]
    if table.lie and not hung:
        raise _nothing(case, "lie", "no garment has panels that could be railroaded")
    keys = table.cloths or (OWN, *_spare(case))
    cloths = {
        key: {
            _key(order, "cloth"): key
            for order in group
            if key != OWN and (order.panel_cloth, *order.also) != (key,)
        }
        for key in keys
    }
    found = [(key, *lie) for key in keys for lie in _lies(case, table, hung, cloths[key])]
    several = len({lie for _, lie, _, _ in found}) > 1
    values = []
    for key, lie, said, own in found:
        words = [_cloth_words(case, group, key)] if len(keys) > 1 else []
        words += [LIES[lie]] if several and hung else []
        changes = {**cloths[key], **_turned(hung, said)}
        values.append(Value(", ".join(words), changes, own and not cloths[key]))
    return _axis("cloths and lies", values)


def _cloth_words(case: Case, group: Sequence[Order], key: str) -> str:
    """The name of a cloth, or of those that the file names for the panels."""
    keys = (group[0].panel_cloth, *group[0].also) if key == OWN else (key,)
    return " or ".join(case.cloths[each].name for each in keys)


def _turned(hung: Sequence[Order], lie: str | None) -> dict[Key, Any]:
    """What the file must say for all panels to lie one way."""
    return {
        _key(order, "panels", "lie"): lie
        for order in hung
        if lie and order.spec.panels.lie != lie  # type: ignore[attr-defined]
    }


def _spare(case: Case) -> Iterator[str]:
    """The cloths sold by length that nothing in the file names for itself."""
    named: set[str] = set()
    for order in case.orders:
        table = _tables(case).get(order.table, {})
        named |= {order.panel_cloth, *order.also, *_named(table)}
    for piece in (case.tables.get("piece") or {}).values():
        named |= set(_named(piece))
    for key, cloth in case.cloths.items():
        if key not in named and not cloth.length:
            yield key


def _named(table: Any) -> Iterator[str]:
    """Every cloth that a table, or one in it, names for a part."""
    if isinstance(table, Mapping):
        for key, value in table.items():
            if key in ("cloth", "lining"):
                yield from (value,) if isinstance(value, str) else value
            else:
                yield from _named(value)
    elif isinstance(table, list):
        for entry in table:
            yield from _named(entry)


def _lies(
    case: Case, table: CompareTable, hung: Sequence[Order], cloth: Mapping[Key, Any]
) -> Iterator[tuple[str, str | None, bool]]:
    """How panels may lie on a cloth: as asked, or each way in which they can be drafted.

    Each with what the file must say, none where it may stay as it is, and whether it says so.
    """
    own = {order.spec.panels.lie for order in hung}  # type: ignore[attr-defined]
    if table.lie:
        for lie in table.lie:
            yield lie, lie, own == {lie}
        return
    able = [lie for lie in LIES if hung and _drafted(case, hung, cloth, lie)]
    if len(able) < 2 and (not able or own <= {*able, "either"}):
        yield next(iter(able), "along"), None, True
        return
    for lie in LIES:
        if lie in able or own == {lie}:
            yield lie, lie, own == {lie}


def _drafted(case: Case, hung: Sequence[Order], cloth: Mapping[Key, Any], lie: str) -> bool:
    keys = {_key(order, "panels", "lie"): lie for order in hung}
    wanted = {order.table for order in hung}
    try:
        for order in changed(case, {**cloth, **keys}).orders:
            if order.table in wanted:
                order.drafts()
    except MarkerError:
        return False
    return True


# The facing and the band.


def _faced(order: Order) -> bool:
    spec = order.spec
    return isinstance(spec, Hung | Hemmed) and (spec.facing is not None or spec.hem == "facing")


def _banded(order: Order) -> bool:
    """Whether it is drawn into a band of cloth."""
    fields, spec = type(order.spec).model_fields, order.spec
    if "band" not in fields or getattr(spec, "tape", None):
        return False
    return "drawstring" not in fields or getattr(spec, "top", "") == "band"


def _facing(case: Case, table: CompareTable, orders: Sequence[Order]) -> Axis:
    """How the facing is cut: straight or shaped to the hem, and in strips on the bias."""
    faced = [order for order in orders if _faced(order)]
    if not faced:
        if table.facing:
            raise _nothing(case, "facing", "no garment here has a facing")
        return _axis("cuts of the facing")
    plain = {o.table: STRAIGHT if isinstance(o.spec, Hung) else SHAPED for o in faced}
    owns = {o.table: _own_cuts(o, plain[o.table]) for o in faced}
    cuts = table.facing or dict.fromkeys(
        (*plain.values(), STRIPS, *(cut for own in owns.values() for cut in own))
    )
    values = []
    for cut in cuts:
        able = [order for order in faced if cut in (*CUTS, plain[order.table])]
        if not able:
            raise BadInput(
                f"{case.file}: compare.facing names {cut!r}, and no facing here is cut so; "
                f"choose among: {', '.join(dict.fromkeys((*plain.values(), *CUTS)))}"
            )
        changes = {
            key: value
            for order in able
            if owns[order.table] != (cut,)
            for key, value in _cut(case, order, owns[order.table], cut).items()
        }
        values.append(Value(_cut_words(cut), changes, not changes))
    return _axis("cuts of the facing", values)


def _own_cuts(order: Order, plain: str) -> tuple[str, ...]:
    facing = order.spec.facing  # type: ignore[attr-defined]
    return facing.cut if facing else (plain,)


def _cut(case: Case, order: Order, own: tuple[str, ...], cut: str) -> dict[Key, Any]:
    """A facing cut otherwise, without those of its keys that would clash with that."""
    found: dict[Key, Any] = {_key(order, "facing", "cut"): cut}
    # Where it may be on the bias already, the keys of the bias stand.
    stays = cut in CUTS and set(own) & set(CUTS)
    for name in () if stays else CLASHES[cut in CUTS]:
        if value_at(case, _key(order, "facing", name)) is not None:
            found[_key(order, "facing", name)] = None
    return found


def _cut_words(cut: str) -> str:
    return f"facing of {WORDS[cut]}" if cut in WORDS else f"{cut} facing"


def _part(case: Case, asked: tuple[str, ...] | None, orders: Sequence[Order], part: str) -> Axis:
    """What a facing or a band is cut from: the cloth of the panels, or others."""
    name = f"{part}_cloths"
    if not orders:
        if asked:
            raise _nothing(case, name, f"no garment here has a {part} of cloth")
        return _axis(f"cloths of the {part}")
    owns = [(order, value_at(case, _key(order, part, "cloth"))) for order in orders]
    if asked:
        wanted: list[Any] = list(asked)
    else:
        other = [own for order, own in owns if own is not None and own != order.panel_cloth]
        wanted = [own for n, own in enumerate(other) if own not in other[:n]]
        wanted = [*wanted, None] if wanted else []
    values = []
    for cloth in wanted:
        changes = {
            _key(order, part, "cloth"): None if cloth == order.panel_cloth else cloth
            for order, own in owns
            if _meant(own, order) != _meant(cloth, order)
        }
        values.append(Value(f"{part} from {_told(case, cloth, orders)}", changes, not changes))
    return _axis(f"cloths of the {part}", values)


def _meant(cloth: Any, order: Order) -> Any:
    """A cloth as the file names it; one that is the panels' own follows the panels."""
    return None if cloth == order.panel_cloth else cloth


def _told(case: Case, cloth: Any, orders: Sequence[Order]) -> str:
    if cloth is None or all(cloth == order.panel_cloth for order in orders):
        return "the panels' cloth"
    if isinstance(cloth, str):
        return case.cloths[cloth].name
    return " or ".join(case.cloths[key].name for key in cloth)
