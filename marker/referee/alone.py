"""What wearers would take alone: is it told soundly, and is the company's lay no longer?"""

from __future__ import annotations

from collections.abc import Iterator

from marker.lay import Lay, Mode
from marker.record import Alone, Record
from marker.referee.bought import shop
from marker.referee.words import plain, spell


def alone_faults(record: Record) -> Iterator[str]:
    """Faults of each wearer's figures, and of the company's lays against all of them."""
    lays = {lay.cloth.key: lay for lay in record.lays}
    seen: set[tuple[str, str]] = set()
    found = []
    for one in record.alone:
        name = f"What wearer {plain(one.letter)} takes alone of cloth {plain(one.cloth)}"
        if (one.letter, one.cloth) in seen:
            found.append(f"{name} is told twice.")
        seen.add((one.letter, one.cloth))
        found += [f"{name} {fault}" for fault in _faults(one, lays.get(one.cloth))]
    yield from found
    if record.alone and not found and {one.cloth for one in record.alone} == lays.keys():
        yield from _longer(record)


def _faults(one: Alone, lay: Lay | None) -> Iterator[str]:
    if lay is None:
        yield "can't be judged, since the record has no such cloth."
    elif any(type(value) is not int for value in (one.length, one.bound, one.buy)):
        yield "isn't told in whole numbers of units."
    elif not 0 < one.bound <= one.length:
        yield f"is {spell(one.length)}, and {spell(one.bound)} is no bound of it."
    elif one.buy != shop(lay).buy(one.length):
        yield (
            f"is {spell(one.length)}, for which {spell(shop(lay).buy(one.length))} is bought, "
            f"not {spell(one.buy)}."
        )


def _longer(record: Record) -> Iterator[str]:
    """All wearers' lays one behind the other are a lay too, so the one that is kept is no longer.

    Over several cloths the goals are compared in their order: more may be used where less is
    bought. Shears keep a margin between lays.
    """
    gaps = sum(
        (sum(one.cloth == lay.cloth.key for one in record.alone) - 1) * lay.cloth.margin
        for lay in record.lays
        if lay.mode == Mode.SHEARS
    )
    bought = sum(shop(lay).buy(lay.length) for lay in record.lays)
    apart = sum(one.buy for one in record.alone)
    used = sum(lay.length for lay in record.lays)
    each = sum(one.length for one in record.alone) + gaps
    longer = used > each and (len(record.lays) == 1 or bought >= apart)
    if longer or (bought > apart and not gaps):
        yield (
            f"The lays use {spell(used)}, of {spell(bought)} bought, more than the wearers' lays "
            f"one behind the other, which use {spell(each)}, of {spell(apart)} bought."
        )
