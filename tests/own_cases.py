"""Case files with one piece of the user's own, for the tests."""

from __future__ import annotations

from pathlib import Path

from marker.casefile import Case, parse
from marker.garments.order import Draft
from marker.piece import Piece

CLOTH = 'width = "140 cm"'
YOKE = """points = [["0 cm", "0 cm"], ["40 cm", "0 cm"], ["36 cm", "18 cm"], ["4 cm", "18 cm"]]
edges = ["centre", "side", "neck", "side"]"""
"""A trapeze: a half, 40 cm along the fold and 18 cm broad."""
DRAWN = """<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 50 40">
<g transform="translate(5 5)"><path id="yoke" d="M 0 0 H 30 L 20 15 H 0 Z"/></g>
<text id="word">yoke</text></svg>"""
"""Two millimetres to the figure: 60 mm along, 30 mm down; the slanted side is the right one."""


def own_text(piece: str, *, cloth: str = CLOTH, more: str = "", key: str = "yoke") -> str:
    """A case file of nothing but one piece; `more` is put at the end."""
    return f'title = "Own"\nunits = "cm"\n[cloth.main]\n{cloth}\n[piece.{key}]\n{piece}\n{more}'


def own_case(piece: str, folder: Path = Path(), **parts: str) -> Case:
    """The case read from `own_text`, under the name "own.toml"."""
    return parse(own_text(piece, **parts), "own.toml", folder)


def own_draft(piece: str, folder: Path = Path(), **parts: str) -> Draft:
    """The only draft of its only order."""
    (order,) = own_case(piece, folder, **parts).orders
    (draft,) = order.drafts()
    return draft


def own_piece(piece: str, folder: Path = Path(), **parts: str) -> Piece:
    """The only piece of that draft."""
    (made,) = own_draft(piece, folder, **parts).pieces
    return made
