"""The ways in which a case may be cut: one draft for each order, and letters for the pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import islice, product
from math import prod

from marker.casefile import Case
from marker.errors import BadInput
from marker.garments.order import Draft
from marker.piece import Piece

MOST_PIECES = 1000
MOST_WAYS = 16
"""So many ways of cutting a case are laid and compared; more would starve each of time."""

Way = tuple[Draft, ...]
"""One draft for each order."""


def ways(drafts: tuple[tuple[Draft, ...], ...], file: str) -> list[Way]:
    """The ways to compare: all, or where they are too many, each garment turned by itself.

    Raises `BadInput` where the garments take too many pieces.
    """
    plain = tuple(options[0] for options in drafts)
    count = sum(piece.count for chosen in plain for piece in chosen.pieces)
    if count > MOST_PIECES:
        raise BadInput(
            f"{file}: the garments take {count} pieces, and {MOST_PIECES} are the most; "
            "split the case into several files"
        )
    if prod(len(options) for options in drafts) <= MOST_WAYS:
        return list(product(*drafts))
    turned = tuple(options[-1] for options in drafts)
    single = (
        (*plain[:index], other, *plain[index + 1 :])
        for index, options in enumerate(drafts)
        for other in options[1:]
    )
    return [plain, turned, *islice(single, MOST_WAYS - 2)]


def pieces_of(way: Way) -> tuple[Piece, ...]:
    """All pieces of a way in the case's order, letters not yet given."""
    return tuple(piece for chosen in way for piece in chosen.pieces)


def letter(index: int) -> str:
    """The letter of a piece by its place in the case: A to Z, then AA, AB and on."""
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


def initials(case: Case) -> dict[str, str]:
    """The letter of the wearer of each garment, by the garment's key; empty for one wearer alone.

    Wearers stand in the file's order, pieces that are for nobody in particular after them.
    """
    known = {order.wearer.key for order in case.orders}
    if len(known - {""}) < 2:
        return {}
    whose = {key: letter(at) for at, key in enumerate(key for key in case.wearers if key in known)}
    whose[""] = letter(len(whose))
    return {order.key: whose[order.wearer.key] for order in case.orders}


def by_cloth(
    cloths: Iterable[str], pieces: Sequence[Piece], whose: Mapping[str, str]
) -> dict[str, tuple[Piece, ...]]:
    """Settled pieces, lettered through the case, under the cloths they are cut from.

    Where `whose` gives the letter of each garment's wearer, her pieces are numbered behind it.
    """
    lettered = [
        replace(piece, letter=name)
        for piece, name in zip(pieces, _names(pieces, whose), strict=True)
    ]
    sorted_out = {key: tuple(piece for piece in lettered if piece.cloth == key) for key in cloths}
    return {key: found for key, found in sorted_out.items() if found}


def _names(pieces: Sequence[Piece], whose: Mapping[str, str]) -> list[str]:
    if not whose:
        return [letter(index) for index in range(len(pieces))]
    numbers = Counter[str]()
    names = []
    for initial in (whose[piece.garment] for piece in pieces):
        numbers[initial] += 1
        names.append(f"{initial}{numbers[initial]}")
    return names
