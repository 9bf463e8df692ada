"""The sheet's piece cards: straight pieces with their measures, shaped ones with their drafts."""

from __future__ import annotations

from typing import Any

from marker.plan.cards import words
from marker.plan.cards.family import Family, Own, families, owners
from marker.plan.cards.figure import draw
from marker.plan.cards.finished import sewn_edges
from marker.plan.cards.seen import lies, seen
from marker.plan.drafts.draft import Draft, drafts, on_bias, stretches
from marker.plan.drafts.figure import figure, scales
from marker.plan.drafts.words import draft_words, how_words
from marker.plan.lays.svg import picture
from marker.plan.words.figures import Figures
from marker.plan.words.runs import rank
from marker.plan.words.sizes import quoted
from marker.record import Record
from marker.units import System

LETTERS = "abcdefghijklmnopqrstuvwxyz"
LYING, STANDING = (12000, 4300), (6600, 5300)
"""The most that a drawing takes on paper, in 1/100 mm: above the words, or beside them."""
BESIDE = 7800
"""A drawing that came out wider stands above the words all the same."""
MEASURES = {System.CM: "cm", System.IN: "inches"}
WIDE = 1.5
"""A piece so many times as wide as tall is drawn above the words."""
HOW = (
    "Straight pieces need no template: a tape measure is better. They are not drawn to scale, "
    "so that lines that lie close can be told apart. Below and at the left stand the cut sizes. "
    "Above and at the right lay the tape at the corner with the ring, and read it at each line. "
    "All figures are in {}, of the cut edge.",
)


def cards_data(record: Record) -> dict[str, Any]:
    """Every card as plain words and drawings, and how they are read."""
    told = [(family.letters[0], _straight(record, family)) for family in families(record)]
    told += [
        (own.piece.letter, _strip(record, own)) for own in owners(record) if on_bias(own.piece)
    ]
    straight = [card for _, card in sorted(told, key=lambda one: rank(one[0]))]
    found = drafts(record)
    shaped = [_draft(record, draft, n) for draft, n in zip(found, scales(found), strict=True)]
    unit = ", with ".join(MEASURES[system] for system in record.units.systems)
    unit += " in brackets or below" if len(record.units.systems) > 1 else ""
    how = [line.format(unit) for line in HOW] if straight else []
    return {
        "how": how,
        "how_shaped": list(how_words(record.units, curved=any(draft.curved for draft in found)))
        if shaped
        else [],
        "straight": straight,
        "shaped": shaped,
    }


def _straight(record: Record, family: Family) -> dict[str, Any]:
    figures = Figures(record.units)
    letters: dict[tuple[int, ...], str] = {}

    def spell(values: tuple[int, ...]) -> tuple[str, ...]:
        if len(set(values)) == 1:
            return figures.each(values[0])
        return (letters.setdefault(values, _letter(len(letters))),)

    sizes = [seen(sort.drawn) for sort in family.sorts]
    for size_told in (tuple(one.wide for one in sizes), tuple(one.tall for one in sizes)):
        spell(size_told)  # the cut sizes are given the first letters
    lying = lies(family.piece) or sizes[0].wide > WIDE * sizes[0].tall
    drawing, size = draw(sizes, spell, LYING if lying else STANDING)
    lying = lying or size[0] > BESIDE
    told = [(letter, values) for values, letter in letters.items()]
    return {
        **words.head_words(family.owned, family.letters),
        "rows": [list(row) for row in words.straight_rows(record, family, figures)],
        "meets": [list(row) for row in words.meetings(family.owned)],
        "table": words.table(family, told, figures),
        "figure": picture(drawing, size),
        "width": size[0] / 100,
        "lying": lying,
        "rounded": figures.note(),
    }


def _strip(record: Record, own: Own) -> dict[str, Any]:
    """The card of a strip on the bias, which is ruled from its like and not drafted."""
    figures = Figures(record.units)
    draft = Draft(own.piece, (own.piece.letter,), stretches(own.piece))
    (n,) = scales((draft,))
    drawing, size = figure(draft, n, record.units)
    return {
        **words.head_words((own,), draft.letters),
        "rows": [list(row) for row in words.strip_rows(record, own, figures)],
        "meets": [list(row) for row in words.meetings((own,))],
        "table": None,
        "figure": picture(drawing, size),
        "width": size[0] / 100,
        "lying": True,
        "rounded": figures.note(),
    }


def _letter(number: int) -> str:
    """A name for a size that differs: a to z, then aa and so on."""
    more, rest = divmod(number, len(LETTERS))
    return (LETTERS[more - 1] if more else "") + LETTERS[rest]


def _draft(record: Record, draft: Draft, n: int) -> dict[str, Any]:
    """The card of a shaped piece, which is its draft."""
    figures, units = Figures(record.units), record.units
    drawing, size = figure(draft, n, units)
    owned = [own for own in owners(record) if own.piece.letter in draft.letters]
    told = draft_words(draft, units)
    sewn = ", ".join(
        f"{quoted(name)} {figures.near(round(long))}" for name, long in sewn_edges(draft)
    )
    rows = [("box", "; ".join((told["box"], *words.source(record, owned))))]
    if sewn:
        rows.append(("finished", f"{sewn}, along the lines inside"))
    return {
        **words.head_words(owned, draft.letters),
        "rows": [list(row) for row in rows],
        "tables": told["tables"],
        "edges": words.edges_with_meetings(told["edges"], owned),
        "inside": told["inside"],
        "figure": picture(drawing, size),
        "width": size[0] / 100,
        "scale": f"drawn 1:{n}",
        "rounded": figures.note(),
    }
