"""Cards of shaped pieces: what is left along their lines, what their edges meet, strips of bias."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from marker import record as records
from marker.piece import Meeting
from marker.plan.cards.finished import sewn_edges
from marker.plan.cards.pages import cards_data
from marker.plan.drafts.draft import Draft, drafts, on_bias
from marker.plan.sheet.words import SKIRTS, cautions
from marker.record import Record
from marker.units import MM

HAIR = 8
"""1/20 mm: the ends of every line stand on whole units."""
OUT = Path(__file__).parents[1] / "out"


@pytest.fixture(scope="module")
def gored() -> Record:
    return records.load(OUT / "gored-walking-skirt" / "lay.json")


def sewn(draft: Draft) -> list[tuple[str, float]]:
    return list(sewn_edges(draft))


def test_lengths_along_the_lines_are_those_the_recipe_drafted(gored: Record) -> None:
    """The recipe's own figures, of the drafted gore without seams, against the marks inside."""
    figures = {item.name: item.length for item in gored.garments[0].figures}
    for draft in drafts(gored):
        told = sewn(draft)
        for edge in ("waist", "hem"):
            (long,) = (length for name, length in told if name == edge)
            # Chords alone would be 0.1 mm short of the hem's arc.
            assert abs(long - figures[f"{draft.piece.name} at the {edge}"]) <= HAIR
    front, side, back = (dict(sewn(draft)) for draft in drafts(gored))
    assert abs(front["seam"] - figures["seam front to side, sewn"]) <= MM / 10
    assert abs(side["towards the front"] - front["seam"]) <= MM / 5
    assert abs(back["towards the back"] - figures["seam back to back, sewn"]) <= MM / 10


def test_a_shaped_card_tells_what_its_edges_meet(gored: Record) -> None:
    lay = gored.lays[0]
    meets = (Meeting("towards the back", "the back gore"), Meeting("hem", "the facing"))
    pieces = tuple(
        replace(piece, meets=meets if piece.letter == "B" else ()) for piece in lay.pieces
    )
    cards = cards_data(replace(gored, lays=(replace(lay, pieces=pieces),)))["shaped"]
    side = next(card for card in cards if card["letters"] == ["B"])
    (line,) = (line for line in side["edges"] if "“towards the back”" in line)
    assert line.endswith("; meets the back gore.")
    (line,) = (line for line in side["edges"] if "“hem”" in line)
    assert line.endswith("; meets the facing.")
    plain = next(card for card in cards if card["letters"] == ["A"])
    assert not any("meets" in line for line in plain["edges"])


def test_a_strip_on_the_bias_has_a_card_without_a_draft(gored: Record) -> None:
    data = cards_data(gored)
    (piece,) = (piece for piece in gored.lays[0].pieces if on_bias(piece))
    (card,) = (card for card in data["straight"] if card["letters"] == [piece.letter])
    assert ["cut", "60.3 × 10.5 cm"] in card["rows"]
    assert ["grain", "length on the bias"] in card["rows"]
    assert not any(piece.letter in one["letters"] for one in data["shaped"])


def test_how_many_are_turned_over_stands_in_the_head(gored: Record) -> None:
    heads = {tuple(card["letters"]): card["count"] for card in cards_data(gored)["shaped"]}
    assert heads == {
        ("A",): "cut 1",
        ("B",): "cut 2, 1 of them turned over",
        ("C",): "cut 2, 1 of them turned over",
    }


def test_the_caution_of_skirts_is_told_of_skirts_alone(gored: Record) -> None:
    assert SKIRTS in cautions(gored)
    bodice = records.load(OUT / "drawn-bodice" / "lay.json")
    told = cautions(bodice)
    assert SKIRTS not in told and any("flame treatment" in line for line in told)
