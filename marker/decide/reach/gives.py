"""What may be given up, or done otherwise, where what is asked doesn't fit: single changes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from marker.casefile import Case
from marker.casefile.changes import Changes, Key
from marker.decide.reach.dial import Dial, nothing_lost
from marker.decide.reach.lengths import (
    facing_depth,
    facings,
    finished,
    full_width,
    lengths,
    narrowest,
    panel_width,
    panels,
    seam,
    shortest,
)
from marker.decide.reach.loss import turn_down
from marker.decide.reach.losses import Losses, What, loss
from marker.decide.reach.rounds import circles, round_hems
from marker.decide.reach.stands import Stand
from marker.garments.curved.drafted import Skirted, Topped
from marker.garments.hung import Hung
from marker.garments.order import Usual
from marker.garments.petticoat import Petticoat
from marker.garments.straight_skirt import StraightSkirt

STRIPS = (2, 3, 4)
"""Strips that a band is joined from."""
MORE = 3
"""Strips more than asked that a facing is joined from."""
LEAST_PART = 2
"""No less than one part in so many is kept of a length."""
FEWER = 4
"""So many panels fewer than asked are tried at the most."""
LEAST_DEPTH = Usual("3 cm", "1 in")
"""A facing, or a turn-down, is never made less deep than this."""


def gives(case: Case, stand: Stand) -> Iterator[Dial]:
    """Every single change of a garment that may make it fit, and of the cloth it comes from."""
    spec = stand.order.spec
    yield from _turned(stand)
    yield from _bands(stand)
    yield from _facing_strips(stand)
    yield from _other_cloths(case, stand)
    yield from _hems(stand)
    if isinstance(spec, Hung):
        yield from _panels(stand)
    else:
        yield from (dial for dial in (round_hems(stand), circles(stand)) if dial)
    low = max(-shortest(case, stand), -finished(stand) // LEAST_PART)
    if dial := lengths(stand, -stand.grid, low, "a shorter hem"):
        yield dial


def shears(case: Case) -> Iterator[Dial]:
    """Cutting a remnant with shears, in any arrangement, that would be torn."""
    for key, cloth in case.cloths.items():
        if cloth.length and cloth.tears:
            yield _one(
                "shears",
                {("cloth", key, "tears"): False},
                f"{cloth.name} cut with shears, not torn",
                14,
            )


def _one(name: str, changes: Changes, words: str, rank: int, lost: Losses = ()) -> Dial:
    """A change that is made or not."""
    return Dial(name, 1, lambda _: changes, lambda _: words, lambda _: lost, rank)


def _row(
    name: str,
    each: Sequence[tuple[Changes, str]],
    rank: int,
    lost: Callable[[int], Losses] = nothing_lost,
) -> Dial:
    """Changes that are tried one after another."""
    return Dial(
        name, len(each), lambda at: each[at][0], lambda at: each[at][1], lost, rank, falls=False
    )


def _turned(stand: Stand) -> Iterator[Dial]:
    """Panels, or strips, that are let lie whichever way needs less."""
    spec = stand.order.spec
    if isinstance(spec, Hung) and spec.panels.lie != "either":
        changes = {stand.key("panels", "lie"): "either"}
        yield _one("panels that turn", changes, "panels that lie either way of the cloth", 10)


def _bands(stand: Stand) -> Iterator[Dial]:
    """A band joined from strips."""
    spec = stand.order.spec
    banded = isinstance(spec, Petticoat) and spec.top == "band"
    if isinstance(spec, StraightSkirt | Topped):
        banded = spec.tape is None
    if not banded:
        return
    band = getattr(spec, "band", None)
    now = band.strips if band else 1
    each = [
        ({stand.key("band", "strips"): count}, f"a band joined from {count} strips")
        for count in STRIPS
        if isinstance(now, int | None) and count > (now or 1)
    ]
    if each:
        yield _row("a pieced band", each, 11)


def _facing_strips(stand: Stand) -> Iterator[Dial]:
    """A facing joined from more strips than it takes now."""
    spec = stand.order.spec
    if not facing_depth(stand) or not isinstance(spec, Hung):
        return
    now = sum(piece.count for piece in stand.draft.pieces if piece.name == "facing strip")
    if not now or (spec.facing and spec.facing.strips == "free"):
        return
    each: list[tuple[Changes, str]] = [
        ({stand.key("facing", "strips"): count}, f"a facing joined from {count} strips")
        for count in range(now + 1, now + MORE + 1)
    ]
    free: Changes = {stand.key("facing", "strips"): "free"}
    yield _row("a facing in more strips", [*each, (free, "a facing pieced freely")], 12)


def _other_cloths(case: Case, stand: Stand) -> Iterator[Dial]:
    """Facing, band or panels from another cloth of the case."""
    parts = {"facing": "facing", "band": "band"}
    for part, name in parts.items():
        found = [piece for piece in stand.draft.pieces if piece.name.split()[0] == part]
        given = {key for piece in found for key in (piece.cloth, *piece.also)}
        for key, cloth in case.cloths.items():
            if found and key not in given:
                changes = {stand.key(part, "cloth"): key}
                yield _one(f"{name} from {key}", changes, f"the {name} from {cloth.name}", 13)
    if not isinstance(stand.order.spec, Hung):
        return
    now = (stand.order.panel_cloth, *stand.order.also)
    for key, cloth in case.cloths.items():
        if key not in now:
            several: Changes = {stand.key("cloth"): [*now, key]}
            words = f"panels from {cloth.name} too, whichever suits"
            yield _one(f"panels from {key}", several, words, 13)


def _hems(stand: Stand) -> Iterator[Dial]:
    """A shallower facing or turn-down; a hem of its own, or none, in place of what is there."""
    spec, depth = stand.order.spec, facing_depth(stand)
    least = LEAST_DEPTH.of(stand.system)
    if depth and (dial := facings(stand, depth - stand.grid, least, "a shallower facing")):
        yield dial
    if now := turn_down(stand):
        yield from _turn_down(stand, now)
    if not isinstance(spec, Hung | Skirted) or getattr(spec, "flounce", None):
        return
    lost = loss(stand.table, What.FACING, depth, 0)
    gone: dict[Key, object] = {stand.key("facing"): None} if spec.facing else {}
    if depth:
        own = {**gone, stand.key("hem"): "own hem"}
        yield _one("own hem", own, "its own hem turned up in place of the facing", 22, lost)
    if depth or spec.hem != "none":
        bare = {**gone, stand.key("hem"): "none"}
        if spec.take_up is not None:
            bare[stand.key("take_up")] = None
        what = "no facing" if depth else "no hem"
        yield _one(what, bare, f"{what}, the edge left as cut and to be bound", 23, lost)


def _turn_down(stand: Stand, now: int) -> Iterator[Dial]:
    depths = list(range(now - stand.grid, LEAST_DEPTH.of(stand.system) - 1, -stand.grid))
    if not depths:
        return
    old = stand.order.spell(now)

    def changes(at: int) -> Mapping[Key, str]:
        return {stand.key("turn_down"): stand.spelled(depths[at])}

    def words(at: int) -> str:
        return f"a turn-down of {stand.order.spell(depths[at])} in place of {old}"

    def lost(at: int) -> Losses:
        return loss(stand.table, What.TURN_DOWN, now, depths[at])

    yield Dial("a shallower turn-down", len(depths), changes, words, lost, 21)


def _panels(stand: Stand) -> Iterator[Dial]:
    """Narrower panels, or fewer of them."""
    spec = stand.order.spec
    assert isinstance(spec, Hung)
    if spec.panels.lie == "across":
        if dial := round_hems(stand):
            yield dial
        return
    told, width = stand.draft.garment, panel_width(stand)
    if told.panels == 1 and spec.panels.lie == "either":
        return
    low = narrowest(stand, told.panels)
    if dial := panels(stand, told.panels, width - stand.grid, low, "narrower panels"):
        yield dial
    around, twice = told.round_hem, 2 * seam(stand)
    for count in range(told.panels - 1, max(0, told.panels - 1 - FEWER), -1):
        # No more in all than is asked for, each as wide as it then is.
        high, low = min(full_width(stand), around // count + twice), narrowest(stand, count)
        name = f"only {count} {'panels' if count > 1 else 'panel'}"
        if around and (dial := panels(stand, count, high, low, name)):
            yield dial
