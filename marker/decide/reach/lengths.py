"""Dials of the lengths that a garment asks for: its panels, its own length, its facing."""

from __future__ import annotations

from collections.abc import Callable

from marker.casefile import Case
from marker.casefile.changes import Changes
from marker.cloth import Cloth
from marker.decide.reach.dial import Dial
from marker.decide.reach.effort import drafts
from marker.decide.reach.losses import Losses, What, loss
from marker.decide.reach.stands import Stand
from marker.garments import facing as straight_facing
from marker.garments.allowance import full_breadth, torn_edge
from marker.garments.aprons.apron import Apron
from marker.garments.circular.cape import Cape
from marker.garments.curved import facing as curved_facing
from marker.garments.curved.drafted import Skirted
from marker.garments.hung import Hung
from marker.garments.lengths import finished_lengths
from marker.garments.order import SEAM, Order
from marker.units import ceil_to

MORE_PANELS = 2
"""So many panels more than asked are tried at the most: each takes a seam more to sew."""


def downward(high: int, low: int, step: int) -> list[int]:
    """From a figure down to another, both included, in steps of the grid between."""
    between = range(high - high % step, low - 1, -step)
    return list(dict.fromkeys((high, *between, low))) if high >= low else []


# Panels


def panel_width(stand: Stand) -> int:
    """The cut width of a panel as it is drafted, without what torn edges are given."""
    told = stand.draft.garment
    return told.round_hem // told.panels + 2 * seam(stand)


def seam(stand: Stand) -> int:
    """The seam allowance of a garment of breadths."""
    spec = stand.order.spec
    assert isinstance(spec, Hung)
    return stand.order.usual(spec.seam, SEAM)


def full_width(stand: Stand) -> int:
    """The widest panel that any of its cloths gives."""
    spec = stand.order.spec
    assert isinstance(spec, Hung)
    cloths = panel_cloths(stand)
    if len(cloths) == 1:
        return full_breadth(cloths[0], spec.panels.torn)
    over = torn_edge(cloths, spec.panels.torn)
    return max(cloth.usable.across for cloth in cloths) - 2 * over


def panel_cloths(stand: Stand) -> tuple[Cloth, ...]:
    """The cloths that the panels may come from, as wide as they are."""
    return tuple(stand.cloths[key] for key in (stand.order.panel_cloth, *stand.order.also))


def narrowest(stand: Stand, count: int) -> int:
    """The least width at which so many panels still go round what they are drawn into."""
    drawn = max(each.garment.drawn for each in stand.drafts)
    return ceil_to(-(-drawn // count) + 2 * seam(stand), stand.grid)


def of_panels(stand: Stand, count: int, width: int | None) -> Changes:
    """So many panels of a width; without one, whole breadths."""
    found: dict[tuple[str, ...], object] = {
        stand.key("panels", "count"): count,
        stand.key("panels", "width"): "full" if width is None else stand.spelled(width),
    }
    spec = stand.order.spec
    assert isinstance(spec, Hung)
    for key in ("round", "most_round"):
        if getattr(spec.panels, key) is not None:
            found[stand.key("panels", key)] = None
    return found


def panels(stand: Stand, count: int, high: int, low: int, name: str) -> Dial | None:
    """A number of panels, from a width down to another."""
    full, around = full_width(stand), stand.draft.garment.round_hem
    several = len(panel_cloths(stand)) > 1
    # No size that can't be measured but the whole breadth itself.
    high = full if high >= full else high - high % stand.grid
    sizes = downward(high, low, stand.grid)
    twice = 2 * seam(stand)
    if not sizes:
        return None

    def changes(at: int) -> Changes:
        return of_panels(stand, count, None if sizes[at] == full and not several else sizes[at])

    def words(at: int) -> str:
        several = "panels" if count > 1 else "panel"
        return f"{count} {several} {stand.order.spell(sizes[at])} wide"

    def figure(at: int) -> int:
        return count * (sizes[at] - twice)

    def lost(at: int) -> Losses:
        return loss(stand.table, What.ROUND, around, figure(at))

    return Dial(name, len(sizes), changes, words, lost, 30, figure=figure)


# Lengths


def longer_by(stand: Stand) -> tuple[int, Callable[[int], Changes]] | None:
    """How much longer than measured a garment is, and the changes that make it so much longer.

    Nothing for a garment without a length of its own.
    """
    spec = stand.order.spec
    if isinstance(spec, Hung | Skirted):

        def by(offset: int) -> Changes:
            found: dict[tuple[str, ...], object] = {}
            for key, value, now in (
                ("shorter", -offset, spec.shorter),
                ("longer", offset, spec.longer),
            ):
                if value > 0 or now:
                    found[stand.key(key)] = stand.spelled(value) if value > 0 else None
            return found

        return spec.longer - spec.shorter, by
    if isinstance(spec, Apron | Cape) and (asked := own_length(stand)):
        instead = {stand.key("shorter"): None} if getattr(spec, "shorter", None) else {}

        def of(offset: int) -> Changes:
            return {stand.key("length"): stand.spelled(asked + offset), **instead}

        return 0, of
    return None


def own_length(stand: Stand) -> int:
    """The one finished length of an apron or a cape; nought where its wearers' differ."""
    spec = stand.order.spec
    assert isinstance(spec, Apron | Cape)
    if spec.length or not isinstance(spec, Apron) or len(stand.orders) > 1:
        return spec.length or 0
    return max(finished_lengths(stand.order, spec.shorter or 0).values())


def finished(stand: Stand) -> int:
    """The shortest finished length of a garment and its wearers, as it is asked for."""
    spec = stand.order.spec
    if isinstance(spec, Apron | Cape) and (length := own_length(stand)):
        return length
    least = min(length for order in stand.orders for length in _measures(order))
    return least + getattr(spec, "longer", 0) - (getattr(spec, "shorter", 0) or 0)


def even(stand: Stand) -> bool:
    """Whether a garment is as long all round, for all its wearers."""
    spec = stand.order.spec
    if isinstance(spec, Apron | Cape):
        return own_length(stand) > 0
    return len({length for order in stand.orders for length in _measures(order)}) == 1


def _measures(order: Order) -> list[int]:
    measures = order.wearer.measures
    return [measures.get(at, measures.get("length", 0)) for at in ("front", "side", "back")]


def longest(stand: Stand) -> int:
    """By how much a garment could be longer, if all of a remnant's length or width went there."""
    room = max(
        max(cloth.longest_lay(cloth.length), cloth.laid_width) for cloth in stand.remnants.values()
    )
    spec = stand.order.spec
    cut = finished(stand) if isinstance(spec, Skirted | Cape) else stand.draft.garment.cut_length
    return max(0, room - cut)


def shortest(case: Case, stand: Stand) -> int:
    """By how much a garment can be shorter and still be drafted; no more than it is long."""
    turned = longer_by(stand)
    if turned is None:
        return 0
    base, by = turned
    fits, fails = 0, finished(stand) // stand.grid
    while fails - fits > 1:
        at = (fits + fails) // 2
        if drafts(case, by(base - at * stand.grid)):
            fits = at
        else:
            fails = at
    return fits * stand.grid


def lengths(stand: Stand, high: int, low: int, name: str) -> Dial | None:
    """A garment so much longer than asked, or below nought so much shorter."""
    turned = longer_by(stand)
    offsets = downward(high, low, stand.grid)
    if turned is None or not offsets:
        return None
    base, by = turned
    whole = finished(stand)

    def changes(at: int) -> Changes:
        return by(base + offsets[at])

    def words(at: int) -> str:
        much = offsets[at]
        if not much:
            return "as long as asked"
        return f"{stand.order.spell(abs(much))} {'longer' if much > 0 else 'shorter'}"

    def figure(at: int) -> int:
        return offsets[at]

    def lost(at: int) -> Losses:
        return loss(stand.table, What.LENGTH, whole, whole + offsets[at])

    return Dial(name, len(offsets), changes, words, lost, 31, figure=figure)


# The facing


def facing_depth(stand: Stand) -> int:
    """The finished depth of a garment's facing; nought where it has none."""
    spec = stand.order.spec
    facing = getattr(spec, "facing", None)
    if facing is None and getattr(spec, "hem", None) != "facing":
        return 0
    usual = straight_facing.DEPTH if isinstance(spec, Hung) else curved_facing.DEPTH
    return stand.order.usual(facing.depth if facing else None, usual)


def facings(stand: Stand, high: int, low: int, name: str) -> Dial | None:
    """The facing from a depth down to another."""
    depths, asked = downward(high, low, stand.grid), facing_depth(stand)
    if not depths:
        return None

    def changes(at: int) -> Changes:
        return {stand.key("facing", "depth"): stand.spelled(depths[at])}

    def words(at: int) -> str:
        less = "" if depths[at] == asked else f" in place of {stand.order.spell(asked)}"
        return f"a facing {stand.order.spell(depths[at])} deep{less}"

    def lost(at: int) -> Losses:
        return loss(stand.table, What.FACING, asked, depths[at])

    return Dial(name, len(depths), changes, words, lost, 20, figure=lambda at: depths[at])
