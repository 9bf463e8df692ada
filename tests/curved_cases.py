"""Cases of curved garments for the tests: from text to drafts, and to what refuses them."""

from __future__ import annotations

import pytest

from marker.casefile import parse
from marker.errors import BadInput
from marker.garments.order import Draft
from marker.piece import Piece


def read_drafts(text: str) -> tuple[Draft, ...]:
    """All drafts of the first order of a case, read under the name "a.toml"."""
    return parse(text, "a.toml").orders[0].drafts()


def refused(text: str) -> str:
    """The one sentence with which a case, or its first order, is refused."""
    with pytest.raises(BadInput) as raised:
        read_drafts(text)
    told = str(raised.value)
    assert told.startswith("a.toml: ") and "\n" not in told
    return told


def named(draft: Draft, name: str) -> Piece:
    """The one piece of that name."""
    (found,) = [piece for piece in draft.pieces if piece.name == name]
    return found


def figure(draft: Draft, name: str) -> int:
    """The one finished length told under that name."""
    (found,) = [item.length for item in draft.garment.figures if item.name == name]
    return found


def hem_case(
    more: str, kind: str = "circle skirt", keys: str = 'circle = "half"\npanels = 2'
) -> str:
    """A half circle in two panels: waist 28 in, 30 in long, so the hem is 28 + 30 pi."""
    return (
        'title = "A hem"\nunits = "in"\n'
        '[wearer.ada]\nwaist = "28 in"\nlength = "30 in"\nneck = "15 in"\n'
        '[cloth.main]\nwidth = "60 in"\n[cloth.lining]\nwidth = "36 in"\n'
        f'[garment.skirt]\nkind = "{kind}"\ncloth = "main"\nseam = "1/2 in"\n{keys}\n{more}'
    )
