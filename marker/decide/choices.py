"""What was chosen and why, in whole sentences for the record."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.casefile import Case
from marker.decide.desk import Laid
from marker.lay import Lay, Mode, Proof
from marker.solver.stop import asked
from marker.units import Rounding, Units, format_bought, format_length


def choices(best: Laid, laid: Sequence[Laid], system: Units) -> Iterator[str]:
    """What each garment's own change would have cost, where that was tried."""
    several = len(best.way) > 1
    told = 0
    for index, chosen in enumerate(best.way):
        others = [other for other in laid if _changed(best, other) == [index]]
        told += len(others)
        whose = f"{chosen.garment.name} for {chosen.garment.wearer}: " if several else ""
        if len(others) == 1:
            left = others[0].way[index].way
            yield whose + _compare(chosen.way, left, best, others[0], system)
        elif others:
            others = sorted(others, key=lambda other: other.score)
            yield whose + _among(index, best, others, system)
        yield from (whose + sentence for sentence in chosen.left_out)
    if len(laid) > 1 and not told:
        best_buy, next_buy = (
            format_bought(score[0], system) for score in sorted(option.score for option in laid)[:2]
        )
        yield (
            f"Of {len(laid)} ways to cut the garments this one takes {best_buy}, the next best "
            f"{next_buy}; other mixtures were not tried."
        )
    if len(laid) > 1 and asked():
        yield "The search was stopped: these ways are compared as far as they had been searched."
    yield from best.sentences
    for lay, against in zip(best.lays, best.others, strict=True):
        if against or (lay.regions and lay.proof is Proof.LENGTH):
            whose = f"{lay.cloth.name}: " if len(best.lays) > 1 else ""
            yield whose + parting(lay, against, system)


def parting(lay: Lay, other: Lay | None, system: Units) -> str:
    """Whether tearing first or shears alone was the shorter, and by how much."""
    begin = "Tearing off the straight pieces first takes"
    torn = lay if lay.mode is Mode.TEAR else other
    cut = other if torn is lay else lay
    if torn is None or cut is None:
        return f"{begin} {_used(lay.length, system)}, and nothing can be shorter: torn."
    chosen = "torn" if torn is lay else "shears"
    buys, used = (
        [spell(size, system) for size in sizes]
        for spell, sizes in (
            (format_bought, (torn.buy, cut.buy)),
            (_used, (torn.length, cut.length)),
        )
    )
    if torn.buy != cut.buy:
        return f"{begin} {buys[0]} to buy, cutting everything with shears {buys[1]}: {chosen}."
    if torn is lay and (used[0] == used[1] or cut.length < torn.length):
        return f"{begin} {used[0]}, and cutting everything with shears takes as much: torn."
    if used[0] == used[1]:
        return f"{begin} {used[0]}, cutting everything with shears a little less: shears."
    return (
        f"{begin} {used[0]}, cutting everything with shears {used[1]}, and either way "
        f"{buys[0]} is bought: {chosen}."
    )


def _used(length: int, system: Units) -> str:
    return format_length(length, system, Rounding.UP)


def _changed(best: Laid, other: Laid) -> list[int]:
    """The orders that are cut in another way."""
    return [index for index, mine in enumerate(best.way) if mine is not other.way[index]]


def _among(index: int, best: Laid, others: Sequence[Laid], system: Units) -> str:
    """One sentence on several other ways: what the one chosen takes, and what each would take.

    Cloths that all have alike are left out of account; of each other way only what is
    otherwise is named.
    """
    chosen = best.way[index].way
    alike = [lay for lay in best.lays if all(lay in other.lays for other in others)]
    buy, used = _taken(best, alike)
    told = []
    for other in others:
        left = _otherwise(chosen, other.way[index].way)
        left += " (tried only briefly)" if other.brief else ""
        their_buy, their_used = _taken(other, alike)
        if their_buy != buy:
            told.append(f"with {left} it would be {format_bought(their_buy, system)}")
        elif _used(their_used, system) != _used(used, system):
            lengths = f"{_used(their_used, system)} used against {_used(used, system)}"
            told.append(f"with {left} as much, but {lengths}")
        else:
            told.append(f"with {left} as much, and as much used{_kept(best, other)}")
    begin = f"{chosen[:1].upper()}{chosen[1:]}: {format_bought(buy, system)} to buy"
    return f"{begin}; {', '.join(told)}."


def _taken(laid: Laid, alike: Sequence[Lay]) -> tuple[int, int]:
    """What is bought and what is used of the cloths that aren't alike."""
    lays = [lay for lay in laid.lays if lay not in alike]
    return sum(lay.buy for lay in lays), sum(lay.length for lay in lays)


def _otherwise(chosen: str, way: str) -> str:
    """What of a way is not as it was chosen: "panels' edge along the warp and ..."."""
    mine = chosen.split(", ")
    return " and ".join(part for part in way.split(", ") if part not in mine) or way


def _kept(best: Laid, other: Laid) -> str:
    """Why the chosen one of two is kept that take as much, behind them."""
    preferred = _preferred(best, other)
    return f" (this is kept{preferred})" if preferred else ""


def _compare(chosen: str, left: str, best: Laid, other: Laid, system: Units) -> str:
    """One sentence on two ways, over those cloths on which they differ."""
    mine, theirs = (
        [lay for lay in option.lays if lay not in against.lays]
        for option, against in ((best, other), (other, best))
    )
    buy, their_buy = (format_bought(sum(y.buy for y in x), system) for x in (mine, theirs))
    begin = chosen[:1].upper() + chosen[1:]
    left += " (which was tried only briefly)" if other.brief else ""
    if sum(lay.buy for lay in mine) != sum(lay.buy for lay in theirs):
        return f"{begin}: {buy} to buy against {their_buy} with {left}."
    used, their_used = (
        format_length(sum(y.length for y in x), system, Rounding.UP) for x in (mine, theirs)
    )
    if used != their_used:
        return (
            f"{begin}: {buy} to buy either way, and {used} used against {their_used} with {left}."
        )
    return (
        f"{begin} or {left}: {buy} to buy either way, and the same length is used; "
        f"the first is kept{_preferred(best, other)}."
    )


def _preferred(best: Laid, other: Laid) -> str:
    """What the later goals say of two ways that take as much cloth."""
    if best.score[2] != other.score[2]:
        return " for its larger remnant"
    if best.score[3] != other.score[3]:
        tears = all(lay.mode is Mode.TEAR for lay in (*best.lays, *other.lays))
        return " for its fewer tears" if tears else " for its fewer cuts"
    return ""


def unused(case: Case, best: Laid) -> Iterator[str]:
    """A sentence for each cloth that no piece is cut from."""
    used = {lay.cloth.key for lay in best.lays}
    for key, cloth in case.cloths.items():
        if key not in used:
            yield f"No piece is cut from {cloth.name}."
