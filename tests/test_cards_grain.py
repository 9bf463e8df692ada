"""Every card of a piece that lies one way has its grain line drawn, if need be in the margin."""

from __future__ import annotations

import pytest
from test_cards_straight import CASES, demo, drawn

from marker.plan.cards.family import Family, families
from marker.plan.cards.seen import seen
from marker.plan.drawing import style
from marker.plan.drawing.verbs import Path, Words

CARDS = [
    pytest.param(family, id=f"{name}-{family.sorts[0].piece.letter}")
    for name in CASES
    for family in families(demo(name))
    if family.sorts[0].piece.outline is None and seen(family.sorts[0].drawn).warp
]


@pytest.mark.parametrize("family", CARDS)
def test_a_card_has_its_grain_line_clear_of_other_words(family: Family) -> None:
    drawing, (wide, tall) = drawn(family)
    words = [mark for mark in drawing.over if isinstance(mark, Words)]
    (grain,) = (mark for mark in words if mark.text == "grain")
    assert not [mark.text for mark in words if mark is not grain and mark.box.hits(grain.box)]
    up = seen(family.sorts[0].drawn).warp == "up"
    shafts = [
        run
        for mark in drawing.over
        if isinstance(mark, Path) and mark.weight == style.GRAIN and not mark.dash
        for run in mark.runs
    ]
    ((a, b),) = shafts
    assert (a[0] == b[0]) if up else (a[1] == b[1])
    assert max(abs(a[0] - b[0]), abs(a[1] - b[1])) >= 60
    # Beside its word, on the paper of the card.
    near = grain.box.grown(style.ARROW + 900)
    assert near.x0 <= a[0] <= near.x1 and near.y0 <= a[1] <= near.y1
    assert all(0 <= x <= wide and 0 <= y <= tall for x, y in (a, b))
    level = [mark for mark in words if mark is not grain and not mark.angle]
    assert not [mark.text for mark in level if mark.box.x0 < a[0] < mark.box.x1
                and min(a[1], b[1]) < mark.box.y1 and max(a[1], b[1]) > mark.box.y0]  # fmt: skip
