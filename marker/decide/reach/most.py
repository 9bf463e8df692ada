"""The most that can be had of one thing: the round hem, the length, or the facing's depth."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from marker.casefile import Case
from marker.decide.reach.dial import Dial, Turned
from marker.decide.reach.found import Most, Offer
from marker.decide.reach.lengths import (
    MORE_PANELS,
    even,
    facing_depth,
    facings,
    finished,
    full_width,
    lengths,
    longer_by,
    longest,
    narrowest,
    panel_cloths,
    panels,
    shortest,
)
from marker.decide.reach.losses import What
from marker.decide.reach.rounds import circles, round_hems
from marker.decide.reach.stands import Stand
from marker.errors import BadInput
from marker.garments.aprons.apron import Apron
from marker.garments.circular.circles import Circular
from marker.garments.gored.skirt import GoredSkirt
from marker.garments.hung import Hung
from marker.record import Record
from marker.units import LONGEST

WHAT = {
    "round": "round hem",
    "length": "longest skirt",
    "facing": "deepest facing",
}
LOSES = {"round": What.ROUND, "length": What.LENGTH, "facing": What.FACING}
"""What a change takes that makes less of the same."""
Runs = Callable[[Sequence[Dial]], Sequence[Turned | None]]
"""Turns dials abreast; nothing stands for those that were not begun."""
Shares = Callable[[Sequence[Dial], float], Sequence[Turned | None]]
"""The same in a part of the time that is left."""
FIRST, LAST = 0.5, 0.7
"""Parts of it for a dial that others follow, and for the last ones where two changes at once may
yet be asked about."""


def garment_of(case: Case, found: Sequence[Stand], most: str, named: str | None) -> Stand:
    """The garment to make most of. Raises `BadInput` where it hasn't what is asked."""
    asks = f"{case.file}: reach.most (or --most) is {most!r}"
    known = {stand.table: stand for stand in found}
    if named is not None and named not in known:
        raise BadInput(
            f"{case.file}: reach.garment names {named!r}, which is not in the file; the garments "
            f"are: {', '.join(known) or 'none'}"
        )
    able = [stand for stand in found if _has(stand, most)]
    if named is not None:
        able = [stand for stand in able if stand.table == named]
    if not able:
        raise BadInput(f"{asks}, but {_lacks(found, most, named)}")
    if len(able) > 1:
        raise BadInput(
            f"{asks}, and several garments have it; name one in "
            f"reach.garment: {', '.join(stand.table for stand in able)}"
        )
    if not _limited(able[0], most):
        raise BadInput(
            f"{asks}, but garment.{able[0].table} takes it from cloth "
            "sold by length, so that nothing limits it; give that cloth a length, or name another"
        )
    return able[0]


def _has(stand: Stand, most: str) -> bool:
    if most == "facing":
        return facing_depth(stand) > 0
    if most == "length":
        return longer_by(stand) is not None
    # Whatever cloth there is: too little of it is no fault of the garment.
    return isinstance(stand.order.spec, Hung | GoredSkirt | Circular)


def _lacks(found: Sequence[Stand], most: str, named: str | None) -> str:
    whose = f"garment.{named} has no" if named else "no garment of the case has a"
    what = {
        "round": "round hem to change; it is for skirts, petticoats and capes",
        "length": f"length of its own to change{_remedy(found, named)}",
        "facing": 'facing; write [garment.KEY.facing], such as with depth = "10 cm"',
    }
    return f"{whose} {what[most]}"


def _remedy(found: Sequence[Stand], named: str | None) -> str:
    """The key that gives a garment a length, where there is one."""
    able = [
        stand.table
        for stand in found
        if isinstance(stand.order.spec, Apron) and named in (None, stand.table)
    ]
    return f'; its wearers differ, so write garment.{able[0]}.length = "80 cm"' if able else ""


def _limited(stand: Stand, most: str) -> bool:
    """Whether what grows comes from remnants alone."""
    part = "facing" if most == "facing" else "panel"
    grown = [piece for piece in stand.pieces if piece.name.startswith(part)]
    keys = {key for piece in grown or stand.pieces for key in (piece.cloth, *piece.also)}
    return keys <= stand.remnants.keys()


def _rounds(stand: Stand) -> list[Dial]:
    """The dials of the round hem, the one of as many panels as are asked first."""
    spec, told = stand.order.spec, stand.draft.garment
    if not isinstance(spec, Hung):
        high = _area(stand) * 2 // max(1, told.cut_length)
        dial = circles(stand, greater=True) or round_hems(stand, max(high, told.round_hem))
        return [dial] if dial else []
    if spec.panels.lie == "across":
        high = max(max(cloth.length for cloth in stand.remnants.values()), told.round_hem)
        dial = round_hems(stand, high)
        return [dial] if dial else []
    every = range(1, told.panels + MORE_PANELS + 1)
    counts = (told.panels, *(count for count in every if count != told.panels))
    dials = (_count(stand, count) for count in counts)
    return [dial for dial in dials if dial]


def _count(stand: Stand, count: int) -> Dial | None:
    """So many panels, as wide as cloth and area can give at the most."""
    long = sum(each.garment.cut_length for each in stand.drafts)
    return panels(
        stand,
        count,
        min(full_width(stand), _area(stand) // (count * long)),
        narrowest(stand, count),
        f"{count} panels",
    )


def _area(stand: Stand) -> int:
    """All cloth that there is for the panels."""
    cloths = panel_cloths(stand)
    return sum(cloth.usable.across * cloth.longest_lay(cloth.length or LONGEST) for cloth in cloths)


def most_of(
    case: Case, stand: Stand, most: str, asked: Record | None, share: Shares
) -> Most | None:
    """The most that is found; `asked` is the plan as asked, where that fits."""

    def run(dials: Sequence[Dial]) -> Sequence[Turned | None]:
        return share(dials, 1.0 if asked else LAST)

    if most == "length":
        low = 0 if asked else -shortest(case, stand)
        dial = lengths(stand, longest(stand), low, "length")
        return _best(stand, most, [replace(dial, sure=asked)] if dial else [], run)
    if most == "facing":
        low = facing_depth(stand) if asked else stand.grid
        high = max(_deepest(stand), low)
        dial = facings(stand, high, low, "facing")
        return _best(stand, most, [replace(dial, sure=asked)] if dial else [], run)
    if not (rounds := _rounds(stand)):
        return None
    first, *others = rounds
    best = _best(stand, most, [first], (lambda dials: share(dials, FIRST)) if others else run)
    beyond = [dial for each in others if (dial := _over(each, best.figure if best else 0))]
    best = _best(stand, most, beyond, run, best)
    if best is None or not others:
        return best
    return replace(best, within=f"up to {stand.draft.garment.panels + MORE_PANELS} panels")


def raised(best: Most, offers: Sequence[Offer]) -> Most:
    """The most, or a change that makes it fit where that gives more of the same thing.

    That may be so where the time was out before all was asked that the most is sought by.
    """
    for offer in offers:
        (lost, *more) = offer.losses or (None,)
        alike = lost and not more and (lost.garment, lost.what) == (best.garment, LOSES[best.of])
        if alike and offer.figure is not None and offer.figure > best.figure:
            best = replace(
                best,
                words=offer.words,
                figure=offer.figure,
                changes=offer.changes,
                record=offer.record,
                refuted=False,
                whole=False,
                losses=offer.losses,
                others=(replace(best, others=()), *best.others),
            )
    return best


def kind(stand: Stand) -> str:
    """What a garment is in a word: a straight skirt is a skirt."""
    return stand.order.spec.kind.split()[-1]


def _deepest(stand: Stand) -> int:
    """No facing is deeper than the skirt is long, or than any cloth it comes from."""
    strips = [piece for piece in stand.pieces if piece.name.startswith("facing")]
    cloths = [stand.cloths[key] for piece in strips for key in (piece.cloth, *piece.also)]
    room = max((max(c.laid_width, c.length) for c in cloths), default=finished(stand))
    return min(finished(stand), room)


def _over(dial: Dial, figure: int) -> Dial | None:
    """The steps of a dial that come to more than a figure."""
    told = dial.figure
    assert told is not None
    low, high = 0, dial.size
    while low < high:
        at = (low + high) // 2
        if told(at) > figure:
            low = at + 1
        else:
            high = at
    return replace(dial, size=low) if low else None


def _best(
    stand: Stand, most: str, dials: Sequence[Dial], run: Runs, before: Most | None = None
) -> Most | None:
    """The greatest of what the dials come to, and of what was found before."""
    best, refuted = before, before is None or before.refuted or before.whole
    limits = [] if before is None or before.limit is None else [before.limit]
    others = list(before.others if before else ())
    for dial, found in zip(dials, run(dials), strict=True):
        limits += _limit(dial, found)
        if found is None or found.at is None or found.record is None:
            refuted = refuted and found is not None and found.refuted
            continue
        figure = dial.figure(found.at) if dial.figure else 0
        more = Most(
            of=most,
            garment=stand.table,
            words=dial.words(found.at),
            figure=figure,
            changes=dial.changes(found.at),
            record=found.record,
            refuted=found.refuted,
            whole=found.at == 0,
            losses=dial.lost(found.at),
            kind=kind(stand),
            long=finished(stand),
            even=even(stand),
        )
        refuted = refuted and found.refuted
        if best is None or more.figure > best.figure:
            others += [best] if best else []
            best = more
        else:
            others.append(more)
    if best is None:
        return None
    return replace(best, refuted=refuted, limit=max(limits, default=None), others=tuple(others))


def _limit(dial: Dial, found: Turned | None) -> tuple[int, ...]:
    """What a dial may still come to: nothing before that step can be had, or asked for."""
    if not dial.figure or (found and found.at is None and found.refuted):
        return ()
    return (dial.figure(found.beaten + 1 if found else 0),)
