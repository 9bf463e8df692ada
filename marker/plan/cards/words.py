"""The words of a card: how many, of what cloth, for whom, what is left of it, what it meets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from marker.piece import Grain, Piece
from marker.plan.cards.family import Family, Own
from marker.plan.cards.finished import Inside, inside
from marker.plan.drawing.lettering import clean
from marker.plan.words.figures import Figures
from marker.plan.words.sizes import cut_size, listed, quoted
from marker.plan.words.wishes import wish_words
from marker.record import Record
from marker.units import System, beside, set_fractions

MOST_LETTERS = 6
"""More letters than this stand in the table alone, not in the card's head."""
GRAINS = {
    Grain.ALONG: "length along the warp",
    Grain.ACROSS: "length across the warp",
    Grain.EITHER: "length along or across",
    Grain.BIAS: "length on the bias",
}
Row = tuple[str, str]
"""A label and what stands behind it."""


def head_words(owned: Sequence[Own], letters: Sequence[str]) -> dict[str, Any]:
    """What stands in the head of a card."""
    count = sum(own.piece.count for own in owned)
    mirrored = sum(own.piece.mirrored for own in owned)
    over = ""
    if mirrored:
        over = ", turned over" if mirrored == count else f", {mirrored} of them turned over"
    return {
        "letters": list(letters) if len(letters) <= MOST_LETTERS else [],
        "name": clean(owned[0].piece.name),
        "count": f"cut {count}{over}",
    }


def rows(record: Record, owned: Sequence[Own], *, wearers: bool = True) -> Iterator[Row]:
    """The grain, the cloth, and whose a piece is."""
    piece = owned[0].piece
    yield "grain", ", ".join((GRAINS[piece.grain], *asks(piece)))
    yield "cloth", _listed(own.lay.cloth.name for own in owned)
    if whose := _whose(record, owned, wearers=wearers):
        yield "for", whose


def source(record: Record, owned: Sequence[Own]) -> Iterator[str]:
    """What the rows tell besides the grain, each in a few words."""
    yield from asks(owned[0].piece)
    yield f"of {_listed(own.lay.cloth.name for own in owned)}"
    if whose := _whose(record, owned):
        yield f"for {whose}"


def asks(piece: Piece) -> Iterator[str]:
    """What a piece asks of its place on the cloth besides the grain."""
    if wish := wish_words(piece):
        yield wish
    if piece.matches:
        yield "matched to the repeat"
    if not piece.torn and piece.outline is None:
        yield "not to be torn"


def _whose(record: Record, owned: Sequence[Own], *, wearers: bool = True) -> str:
    """The garments, and the wearers whose names those don't hold; empty where all are of one."""
    if len(record.garments) < 2:
        return ""
    garments = _listed(own.garment.name for own in owned if own.garment)
    named = _listed(own.piece.wearer for own in owned if own.piece.wearer not in garments)
    return ", ".join(part for part in (garments, named if wearers else "") if part)


def _listed(names: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(name for name in map(clean, names) if name))


def edges_with_meetings(lines: Sequence[str], owned: Sequence[Own]) -> list[str]:
    """The edges of a draft, each with what it meets behind it."""
    told = []
    for line in lines:
        known = [
            f"; meets {what}" for edge, what in meetings(owned) if f", {quoted(edge)}:" in line
        ]
        told.append(line.removesuffix(".") + "".join(known) + ".")
    return told


def straight_rows(record: Record, family: Family, figures: Figures) -> Iterator[Row]:
    """The rows of a straight piece's card; sizes that differ stand in its table."""
    piece = family.piece
    if len(family.sorts) == 1:
        yield "cut", figures.size(piece.length, piece.breadth)
        if left := finished(piece, figures):
            yield "finished", left
    elif any(_ways(piece)):
        yield "finished", f"in the table, {_of_what(piece)}"
    yield from rows(record, family.owned, wearers=len(family.sorts) == 1)


def strip_rows(record: Record, own: Own, figures: Figures) -> Iterator[Row]:
    """The rows of a strip on the bias."""
    yield "cut", figures.size(*cut_size(own.piece))
    yield from rows(record, (own,))


def finished(piece: Piece, figures: Figures) -> str:
    """The finished size of a straight piece, with what it is."""
    size = finished_size(piece, figures)
    return f"{size}, {_of_what(piece)}" if size else ""


def _ways(piece: Piece) -> tuple[Inside | None, Inside | None]:
    return inside(piece, lengthwise=True), inside(piece, lengthwise=False)


def _of_what(piece: Piece) -> str:
    """What a finished size is: what of the piece lies inside which lines."""
    kinds = dict.fromkeys(mark.kind.value for mark in piece.marks if mark.name != "tuck")
    named = [word for word in ("seam", "hem", "fold") if word in kinds]
    told = f"inside {listed(named)} lines"
    if any(way and way.folded for way in _ways(piece)):
        told += ", folded in two"
    if any(mark.name == "tuck" for mark in piece.marks):
        told += ", before the tucks are sewn"
    return told


def finished_size(piece: Piece, figures: Figures) -> str:
    """What is left inside the lines of a straight piece; empty where it has none."""
    ways = _ways(piece)
    if not any(ways):
        return ""

    def said(system: System) -> str:
        along, across = (
            _lengths(way, whole, figures, system)
            for way, whole in zip(ways, (piece.length, piece.breadth), strict=True)
        )
        return f"{along} × {across} {system.value}"

    return beside(figures.units, said)


def _lengths(way: Inside | None, whole: int, figures: Figures, system: System) -> str:
    """A length left one way, or one for each place of the waist."""
    places = way.places if way else (("", whole),)
    told = [
        f"{figures.number(size, system)}{f' {place}' if place else ''}" for place, size in places
    ]
    return ", ".join(told)


def meetings(owned: Sequence[Own]) -> list[Row]:
    """Which edge meets what, each as it is named on the card."""
    told = dict.fromkeys(
        (clean(meeting.edge), set_fractions(clean(meeting.what)))
        for own in owned
        for meeting in own.piece.meets
    )
    return list(told)


def table(family: Family, letters: Sequence[tuple[str, tuple[int, ...]]], figures: Figures) -> Any:
    """The sizes that differ between the sorts of a card: a column for each letter drawn.

    None where a card tells of one sort alone.
    """
    if len(family.sorts) == 1:
        return None
    ready = any(_ways(family.piece))
    several = len({own.lay.cloth.key for own in family.owned}) > 1
    whose = len({own.piece.wearer for own in family.owned}) > 1
    head = [
        "", *(["for"] if whose else []), *(["cloth"] if several else []), "cut",
        *(letter for letter, _ in letters), *(["finished"] if ready else []),
    ]  # fmt: skip
    return {
        "head": head,
        "letters": [letter for letter, _ in letters],
        "rows": [
            [
                ", ".join(sort.letters),
                *([_listed(own.piece.wearer for own in sort.owned)] if whose else []),
                *([_listed(own.lay.cloth.name for own in sort.owned)] if several else []),
                str(sort.count),
                *(figures.numbers(values[number]) for _, values in letters),
                *([finished_size(sort.piece, figures)] if ready else []),
            ]
            for number, sort in enumerate(family.sorts)
        ],
    }
