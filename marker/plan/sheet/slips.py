"""Slips to hand out: every wearer's pieces, finished measures and notions, on paper of her own."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from marker.lay import Lay
from marker.piece import Piece
from marker.plan.pleats.together import together
from marker.plan.pleats.words import of_record
from marker.plan.sheet.words import garment_words, piece_words
from marker.plan.words import shopping
from marker.plan.words.figures import Figures
from marker.plan.words.runs import rank
from marker.plan.words.segments import joins
from marker.plan.words.sewing import in_short, work_of
from marker.plan.words.whose import NOBODY, initial, wearers
from marker.plan.work.alike import orders
from marker.record import Garment, Record
from marker.units import format_bought, set_fractions

Own = tuple[Piece, Lay]
"""A piece, and the lay that it is cut from."""
Shared = dict[str, dict[str, Any]]
"""By the key of a garment, the pages of the sheet that it shares with others."""


def slips_data(record: Record) -> list[dict[str, Any]]:
    """A slip for each wearer, in the order of their letters; none where there is but one."""
    pieces = [(piece, lay) for lay in record.lays for piece in lay.pieces]
    shared = _shared_pages(record)
    return [
        _slip(
            record,
            letter,
            name,
            [own for own in pieces if initial(own[0].letter) == letter],
            shared,
        )
        for letter, name in wearers(record).items()
    ]


def told_to_all(slips: Sequence[dict[str, Any]]) -> list[str]:
    """Take off the slips what every wearer would be told alike, to be told once on the sheet."""
    parts = [part for slip in slips for part in slip["garments"]]
    each = [[line for part in slip["garments"] for line in part["advice"]] for slip in slips]
    if len(slips) < 2:
        return []
    common = [line for line in dict.fromkeys(each[0]) if all(line in other for other in each)]
    for part in parts:
        part["advice"] = [line for line in part["advice"] if line not in common]
    return common


def in_order(pieces: Sequence[Piece]) -> list[Piece]:
    """Pieces in the order of their wearers and numbers; of one wearer alone as they stand."""
    told = all(initial(piece.letter) for piece in pieces)
    return sorted(pieces, key=lambda piece: rank(piece.letter)) if told else list(pieces)


def _shared_pages(record: Record) -> Shared:
    """What every garment's slip points to: its order of work, and the page of its pleats.

    Both are told once for all who share them; where figures differ, hers stand on her slip.
    """
    found: dict[str, dict[str, Any]] = {}
    for number, order in enumerate(orders(record.garments)):
        for place, garment in enumerate(order.garments):
            letters = [[letter, values[place]] for letter, values in order.table]
            found.setdefault(garment.key, {})["work"] = {"page": number, "letters": letters}
    for number, plan in enumerate(together(of_record(record))):
        for told in plan.plans:
            found.setdefault(told.garment.key, {})["pleats"] = number
    return found


def _slip(
    record: Record, letter: str, name: str, own: Sequence[Own], shared: Shared
) -> dict[str, Any]:
    figures = Figures(record.units)  # of the slip alone, since it is cut off the rest
    keys = {piece.garment for piece, _ in own}
    garments = [garment for garment in record.garments if garment.key in keys]
    number = sum(piece.count for piece, _ in own)
    told = {
        "letter": letter,
        "name": "Nobody in particular" if name == NOBODY else name,
        "count": number,
        "number": f"{number} piece{'' if number == 1 else 's'}",
        "garments": [
            _garment(record, garment, own, figures) | shared.get(garment.key, {})
            for garment in garments
        ],
        "alone": _alone(record, letter),
    }
    return {**told, "rounded": figures.note()}


def _garment(
    record: Record, garment: Garment, own: Sequence[Own], figures: Figures
) -> dict[str, Any]:
    mine = sorted(
        (one for one in own if one[0].garment == garment.key), key=lambda one: rank(one[0].letter)
    )
    strips = {piece.pieced.strip for piece, _ in mine if piece.pieced}
    return {
        **garment_words(garment, figures),
        "work": None,
        "pleats": None,
        "sewing": in_short(work_of(record, garment), record.units),
        "pieces": [piece_words(piece, lay.cloth.name, "", figures) for piece, lay in mine],
        "notions": [
            {"name": shopping.name(item, record.units), "length": shopping.amount(item, figures)}
            for item in garment.notions
        ],
        "joins": [
            set_fractions(f"{join.strip}: {join.segments}; {join.lines[0]}")
            for join in joins(record)
            if join.strip in strips
        ],
    }


def _alone(record: Record, letter: str) -> str:
    """What her pieces would take of each cloth without the others', so that costs can be shared."""
    cloths = {lay.cloth.key: lay.cloth for lay in record.lays}
    told = [
        f"{format_bought(one.buy, record.units)} of {cloths[one.cloth].name}"
        for one in record.alone
        if one.letter == letter and one.buy and one.cloth in cloths
    ]
    return set_fractions(f"Laid alone, these pieces would take {', '.join(told)}.") if told else ""
