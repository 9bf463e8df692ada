"""What becomes of the edges and marks of pieces: when they are sewn, and by which stitch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marker.decide.edges import SIDES, edge_length, is_seam
from marker.piece import MarkKind, Piece
from marker.record import Stage, Stitch


@dataclass(frozen=True)
class Line:
    """Something to sew along: `stitch` is none where it is the one that seams are sewn by.

    `cloth` is the key of the cloth that the needle goes through.
    """

    stage: Stage
    what: str
    stitch: Stitch | None
    length: int
    cloth: str


Way = tuple[Stage, str, Stitch | None]
ANY = ""
EDGES: dict[tuple[str, str], Way] = {
    (ANY, "side"): (Stage.HEM, "sides", Stitch.HEMMING),
    (ANY, "front edge"): (Stage.HEM, "front edges", Stitch.HEMMING),
    (ANY, "seam of the flounce"): (Stage.JOIN, "flounces", None),
    (ANY, "seam of the next flounce"): (Stage.JOIN, "flounces", None),
    (ANY, "apron"): (Stage.BAND, "band", None),
    (ANY, "inside"): (Stage.BAND, "inside of the band", Stitch.HEMMING),
    (ANY, "tie"): (Stage.BAND, "ties", None),
    (ANY, "bib"): (Stage.FINISH, "strap", None),
    ("band lining", "skirt"): (Stage.BAND, "inside of the band", Stitch.HEMMING),
    ("placket", "skirt"): (Stage.FINISH, "placket", None),
    ("placket", "inside"): (Stage.FINISH, "placket", Stitch.HEMMING),
    ("pocket", "top"): (Stage.FINISH, "pockets", Stitch.HEMMING),
    ("pocket", "side"): (Stage.FINISH, "pockets", None),
    ("pocket", "bottom"): (Stage.FINISH, "pockets", None),
    ("bib", "band"): (Stage.BAND, "bib", None),
    ("bib", "top"): (Stage.HEM, "bib", Stitch.HEMMING),
    ("facing", "hem"): (Stage.HEM, "facing", None),
    ("facing", "top"): (Stage.HEM, "facing", Stitch.HEMMING),
    ("binding", "hem"): (Stage.HEM, "binding", None),
    ("binding", "top"): (Stage.HEM, "binding", Stitch.HEMMING),
}
"""By a word in the piece's name and the name of its edge; the piece's own word goes first."""
HALVES: dict[tuple[str, str], Way] = {
    ("band", "end"): (Stage.BAND, "ends of the band", None),
    ("band", "underlap"): (Stage.BAND, "ends of the band", None),
    ("band", "upper edge"): (Stage.BAND, "band", None),
}
"""Edges that are folded on themselves, or sewn to a lining: two of them make one seam."""
WORDS = (*dict.fromkeys(word for word, _ in (*EDGES, *HALVES) if word), ANY)
GATHERING_ROWS = 2
"""A flounce is gathered by two rows of running stitches (common practice, no source)."""
BOUND = ("facing", "binding")
"""Pieces that finish the hem, which is then not turned up itself."""


def lines(pieces: Sequence[Piece]) -> Iterator[Line]:
    """Everything that the edges and marks of one garment's pieces ask to be sewn.

    The edge of a band that the top goes on to is left out: it takes other stitches.
    """
    faced = any(word in piece.name for piece in pieces for word in BOUND)
    for piece in pieces:
        for side in SIDES:
            length = edge_length(piece, side) * piece.count
            yield from _edge(piece, getattr(piece.edges, side), length, faced)
        yield from _marks(piece)


def _edge(piece: Piece, name: str, length: int, faced: bool) -> Iterator[Line]:
    """How one edge of all copies is sewn; nothing for edges that others are sewn to."""
    if is_seam(name):
        yield Line(Stage.JOIN, "seams", None, -(-length // 2), piece.cloth)
    elif name == "gathered":
        for _ in range(GATHERING_ROWS):
            yield Line(Stage.JOIN, "gathering flounces", Stitch.RUNNING, length, piece.cloth)
    elif way := _way(EDGES, piece.name, name):
        yield Line(*way, length, piece.cloth)
    elif way := _way(HALVES, piece.name, name):
        yield Line(*way, -(-length // 2), piece.cloth)
    elif name == "hem" and not faced and _has_hem(piece):
        yield Line(Stage.HEM, "hem", Stitch.HEMMING, length, piece.cloth)


def _way(table: dict[tuple[str, str], Way], piece: str, edge: str) -> Way | None:
    for word in WORDS:
        if word in piece and (word, edge) in table:
            return table[word, edge]
    return None


def _has_hem(piece: Piece) -> bool:
    """Whether anything is taken in at its hem; else the edge stays as it is."""
    return any(mark.kind is MarkKind.HEM for mark in piece.marks)


def _marks(piece: Piece) -> Iterator[Line]:
    """Tucks along their creases, and flounces that go on over the panels."""
    for mark in piece.marks:
        length = (abs(mark.u1 - mark.u0) + abs(mark.v1 - mark.v0)) * piece.count
        if mark.name == "tuck":
            yield Line(Stage.JOIN, "tucks", Stitch.RUNNING, length, piece.cloth)
        elif mark.name == "flounce goes on":
            yield Line(Stage.JOIN, "flounces", None, length, piece.cloth)
