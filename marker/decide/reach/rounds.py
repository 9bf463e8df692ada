"""Dials of the round hem of what isn't told by the width of its panels."""

from __future__ import annotations

from fractions import Fraction

from marker.casefile.changes import Changes, Key
from marker.decide.reach.dial import Dial
from marker.decide.reach.lengths import downward
from marker.decide.reach.losses import Losses, What, loss
from marker.decide.reach.stands import Stand
from marker.garments.circular.circles import Circular
from marker.garments.gored.skirt import GoredSkirt
from marker.garments.hung import Hung

PARTS = {
    "full": Fraction(1),
    "three-quarter": Fraction(3, 4),
    "half": Fraction(1, 2),
    "quarter": Fraction(1, 4),
}


def round_hems(stand: Stand, high: int = 0, low: int = 0) -> Dial | None:
    """The round hem from one figure down to another, as a key of the file; else nothing.

    For railroaded panels and gores. Without figures, from just under what is asked down to
    what it is drawn into, or of gores to half.
    """
    spec, now = stand.order.spec, stand.draft.garment.round_hem
    hung = isinstance(spec, Hung)
    if not (hung or isinstance(spec, GoredSkirt)):
        return None
    least = low or (stand.draft.garment.drawn if hung else now // 2)
    rounds = downward(high or now - stand.grid, least, stand.grid)
    if not rounds:
        return None

    def changes(at: int) -> Changes:
        if not hung:
            return {stand.key("gores", "round"): stand.spelled(rounds[at])}
        found: dict[Key, str | None] = {stand.key("panels", "round"): stand.spelled(rounds[at])}
        assert isinstance(spec, Hung)
        for key in ("count", "width", "most_round"):
            if getattr(spec.panels, key) is not None:
                found[stand.key("panels", key)] = None
        return found

    def words(at: int) -> str:
        return f"{stand.order.spell(rounds[at])} round the hem"

    def lost(at: int) -> Losses:
        return loss(stand.table, What.ROUND, now, rounds[at])

    return Dial(
        "a smaller round hem",
        len(rounds),
        changes,
        words,
        lost,
        30,
        figure=lambda at: rounds[at],
    )


def circles(stand: Stand, greater: bool = False) -> Dial | None:
    """Smaller parts of a circle than asked, the largest first; or all of them."""
    spec = stand.order.spec
    if not isinstance(spec, Circular):
        return None
    asked = PARTS[spec.circle]
    parts = [name for name, part in PARTS.items() if greater or part < asked]
    if not parts:
        return None

    around = stand.draft.garment.round_hem

    def lost(at: int) -> Losses:
        left = min(around, int(around * PARTS[parts[at]] / asked))
        return loss(stand.table, What.ROUND, around, left)

    def words(at: int) -> str:
        return "a full circle" if parts[at] == "full" else f"a {parts[at]} circle"

    return Dial(
        "a smaller part of a circle",
        len(parts),
        lambda at: {stand.key("circle"): parts[at]},
        words,
        lost,
        32,
        falls=False,
    )
