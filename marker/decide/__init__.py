"""Plan a case: draft it in every way left open, lay each, and keep the best.

The goals in their order: least to buy, least length used, the largest remnant, the fewest
tears. Panels that flex are let out once the length is known. Nothing leaves here that the
referee has not passed.
"""

from __future__ import annotations

from dataclasses import replace
from time import monotonic

from marker import referee
from marker.casefile import Case
from marker.decide.choices import choices, unused
from marker.decide.company import Company, lay_alone, share_cloth, together, wearings
from marker.decide.desk import LETTING_OUT, Budget, Desk, Laid, Progress
from marker.decide.lies import lies_told, open_lies
from marker.decide.otherwise import KEPT_BACK, Rest
from marker.decide.price import extras, priced
from marker.decide.saved import UNTOLD, saved
from marker.decide.sewing import with_sewing
from marker.decide.ways import Way, ways
from marker.decide.weighed import with_weight
from marker.decide.widen import widest
from marker.decide.worked import worked
from marker.errors import CannotLay
from marker.garments.order import Draft
from marker.lay import Mode
from marker.record import Garment, Record
from marker.solver.stop import listening

__all__ = ["draft", "plan"]


def plan(
    case: Case,
    *,
    seconds: float = 10.0,
    seed: int = 0,
    iterations: int | None = None,
    progress: Progress | None = None,
    mode: Mode | None = None,
    prices: bool = True,
) -> Record:
    """Draft every garment, lay every cloth, have every lay judged, and record it.

    `seconds` bounds the search on each cloth, over all ways of cutting; `iterations` bounds
    it by count, so that the same seed gives the same record on any machine. Where straight
    pieces would be torn and curved ones cut, both are laid with shears alone too and the
    shorter lay is kept, unless a `mode` is asked for. With `prices` the case is planned otherwise
    too, so that `choices` can say what its repeats and shrinkages cost, and how much a band or a
    facing would take that lay the other way. Raises `BadInput` or `CannotLay` where a piece can't
    be had, `Refused` where the referee finds a fault.
    """
    began = monotonic()
    drafts = draft(case)
    every = ways(drafts, case.file)
    extra = extras(case, every) if prices else ()
    open_to = open_lies(case) if prices else ()
    flexes = any(chosen.flex for way in every for chosen in way)
    kept_back = LETTING_OUT if flexes else 0.0
    share = seconds * (1 - KEPT_BACK) if extra or open_to else seconds
    desk = Desk(case, Budget(share, seed, iterations, progress, mode), kept_back)
    with listening():
        company = lay_alone(case, drafts, desk)
        best, kept, laid = _best(desk, every, company)
        said = (*choices(best, laid, case.units), *unused(case, best))
        least = best
        best, let_out = widest(desk, least, case.units)
        if company:
            said += tuple(saved(company, best.lays, kept, case.units))
        elif share_cloth(wearings(case), drafts):
            said += (UNTOLD,)
        rest = Rest(seconds, began, len(open_to) + len(extra), iterations is not None)
        said += (*let_out, *lies_told(desk, best, open_to, rest))
        said += tuple(priced(desk, least, laid, extra, rest))
    garments, lays = worked(best.way, best.lays)
    for lay in lays:
        referee.check(lay)
    record = Record(
        title=case.title,
        units=case.units,
        garments=tuple(_brought(case, garment) for garment in garments),
        lays=lays,
        choices=said,
        alone=company.alone() if company else (),
        notions=case.notions.get("", ()),
        pace=case.pace,
    )
    return with_weight(with_sewing(record, case.thread))


def _brought(case: Case, garment: Garment) -> Garment:
    """The garment with what the user brings to its shopping list."""
    return replace(garment, notions=garment.notions + case.notions.get(garment.key, ()))


def _best(
    desk: Desk, every: list[Way], company: Company | None
) -> tuple[Laid, frozenset[str], list[Laid]]:
    """The best lays, on which cloths they are everybody's one behind the other, and all ways."""
    if company is None or company.row is None:
        laid = desk.lay(every)
        return min(laid, key=lambda option: option.score), frozenset(), laid
    try:
        laid = desk.lay(company.ways(every))
    except CannotLay:
        row = company.row
        return row, frozenset(lay.cloth.key for lay in row.lays), [row]
    return *together(min(laid, key=lambda option: option.score), company, laid), laid


def draft(case: Case) -> tuple[tuple[Draft, ...], ...]:
    """All drafts of each order, in the case's order; the usual way of each comes first."""
    return tuple(order.drafts() for order in case.orders)
