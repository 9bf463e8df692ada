"""Names inside shaped pieces and remnants where there is little room."""

from __future__ import annotations

from plan_lays import record
from plan_shapes import Table, cut_out, wool

from marker.geometry import Rect
from marker.geometry.shapes import ring_sector
from marker.piece import Mark, MarkKind, Piece
from marker.plan.drawing.page import Paper
from marker.plan.drawing.verbs import Words
from marker.plan.lays.layout import layout
from marker.units import CM


def test_a_short_edge_is_named_level_and_crowded_notches_not_at_all() -> None:
    """A neck of 3.5 cm, drawn smaller than its name; its three notches would name it in a heap."""
    outline = ring_sector(2.5 * CM, 90 * CM, 1.4).renamed({"start": "neck"})
    box = outline.box
    middle = round((box[1] + box[3]) / 2)
    marks = tuple(
        Mark(MarkKind.NOTCH, name, 1 * CM, middle + side, 2 * CM, middle + side)
        for name, side in (("quarter", -CM), ("middle", 0), ("quarter", CM))
    )
    piece = Piece.shaped("A", "cape", outline, 1, "main", marks=marks)
    table = Table((piece,))
    table.put(("A", 0, False), 0, 0)
    lay = cut_out(wool(), (piece,), table, 80 * CM)
    plan = layout(record(lay, "Cape"), lay, Paper.A4)
    words = [mark for mark in plan.drawing.over if isinstance(mark, Words)]
    assert [mark.angle for mark in words if mark.text == "neck"] == [0]
    assert not any(mark.text in ("quarter", "middle") for mark in words)


def test_a_remnant_too_small_for_its_name_has_its_size() -> None:
    piece = Piece.shaped("A", "cape", ring_sector(6 * CM, 90 * CM, 1.4), 1, "main")
    table = Table((piece,))
    table.put(("A", 0, False), 0, 0)
    free = Rect(0, 0, 24 * CM, 16 * CM)
    lay = cut_out(wool(), (piece,), table, 80 * CM, (free,))
    view = layout(record(lay, "Cape"), lay, Paper.A4)
    sizes = [label.owner for label in view.drawing.labels if label.kind == "remnant"]
    assert "offcut-1" in sizes
    texts = [mark.text for mark in view.drawing.over if isinstance(mark, Words)]
    assert "24 × 16 cm" in texts
    assert not any("remnant" in text and "24 × 16" in text for text in texts)
