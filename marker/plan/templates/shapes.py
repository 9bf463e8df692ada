"""Which pieces get a template, and what is on it: the whole piece, or its half on the fold.

A template is told in the piece's own frame, in units of 1/160 mm. Straight pieces get none:
a tape measure draws them faster and truer than taped paper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from marker.geometry import Outline, Polygon
from marker.geometry.curves import Line as Straight
from marker.geometry.curves import Segment, Spot
from marker.geometry.pole import pole
from marker.lay import Lay
from marker.piece import Grain, Piece
from marker.plan.drafts.draft import Draft, drafts
from marker.plan.drawing.lettering import clean
from marker.plan.lays.folded import on_fold
from marker.plan.templates.curves import below
from marker.plan.templates.seams import Inner, cut_off, lines
from marker.record import Record
from marker.units import MM

FOLD = "the fold"
"""The edge at which half a piece is laid on the fold of the cloth."""
CLOSE = 10 * MM
"""How near the place with most room in a piece is found."""
STEP = 4 * MM
"""How close the places along an edge are that its names are set by."""
FLAT = 0.5
"""A line no further than this from the fold, in units, runs along it."""


@dataclass(frozen=True)
class Template:
    """One shape at full size, for all pieces that are cut alike.

    `letters` and `counts` go together; `cloths` are the names of what it is cut from.
    `half` says that only the part with v up to the middle is drawn, every copy being laid
    with that edge on the fold of the cloth.
    """

    draft: Draft
    letters: tuple[str, ...]
    pieces: tuple[Piece, ...]
    cloths: tuple[str, ...]
    title: str
    half: bool = False
    grain: tuple[int, ...] = (0,)
    """How the warp runs on the piece, in degrees from u, one for each way in which it is laid."""
    upward: bool = False
    """Whether the cloth has an up, which is then towards u = 0."""

    @property
    def piece(self) -> Piece:
        """The piece whose frame the template is told in."""
        return self.draft.piece

    @property
    def letter(self) -> str:
        """The letter, or all letters, of the pieces it is for."""
        return ", ".join(self.letters)

    @property
    def name(self) -> str:
        """What the piece is called, made fit for print."""
        return clean(self.piece.name)

    @cached_property
    def axis(self) -> float:
        """The middle of the outline across its breadth, where a half one ends."""
        _, low, _, high = self._whole.box
        return (low + high) / 2

    @property
    def _whole(self) -> Outline:
        if self.piece.outline is None:
            raise ValueError("a template is made of an outline")
        return self.piece.outline

    @cached_property
    def cut(self) -> tuple[tuple[Segment, ...], ...]:
        """The runs of the cut line: one ring, or what is left of it beside the fold."""
        if not self.half:
            return (self._whole.segments,)
        return tuple(tuple(run) for run in below(self._whole.segments, self.axis))

    @cached_property
    def fold(self) -> tuple[tuple[Spot, Spot], ...]:
        """Lines along the fold of the cloth, each from the end of one run to the next start."""
        if not self.half:
            return ()
        return tuple((run[-1].end, run[0].start) for run in self.cut)

    @cached_property
    def polygon(self) -> Polygon:
        """What of the piece is on the paper, held by a polygon within 0.1 mm of it."""
        if not self.half:
            return self.piece.polygon
        (run,) = self.cut
        (start, end) = self.fold[0]
        return Outline.of((*run, Straight(start, end, FOLD))).flatten()

    @cached_property
    def heart(self) -> Spot:
        """Where the grain arrow runs: the broadest part, or the middle of what is symmetric."""
        u, v, _ = pole(self.polygon, CLOSE)
        return (u, self.axis) if self.piece.folds and not self.half else (u, v)

    @cached_property
    def lines(self) -> tuple[Inner, ...]:
        """Seam, hem and fold lines as the places they run through; a notch from its edge inwards.

        Of half a piece what lies beyond the fold is left out, and so are lines along it.
        """
        if not self.half:
            return lines(self.draft)
        cut = (
            (mark, cut_off(run, self.axis))
            for mark, run in lines(self.draft)
            if any(v < self.axis - FLAT for _, v in run)
        )
        return tuple(line for line in cut if len(line[1]) > 1)

    @cached_property
    def edges(self) -> tuple[tuple[str, tuple[Spot, ...]], ...]:
        """The named edges as places along them; of half a piece, those on its side of the fold."""
        found = []
        for stretch in self.draft.stretches:
            count = max(2, math.ceil(stretch.length / STEP))
            spots = (stretch.edge.at(stretch.length * i / count)[0] for i in range(count + 1))
            kept = tuple(spot for spot in spots if not self.half or spot[1] <= self.axis)
            if stretch.name and kept:
                found.append((stretch.name, kept))
        return tuple(found)

    @property
    def counts(self) -> tuple[tuple[int, int], ...]:
        """For every letter how many are cut, and how many of them turned over."""
        return tuple((piece.count, piece.mirrored) for piece in self.pieces)


def templates(record: Record) -> tuple[Template, ...]:
    """A template for every curved shape of a record, in the order of the pieces."""
    return tuple(_template(record, draft) for draft in drafts(record) if draft.curved)


def straight(record: Record) -> tuple[str, ...]:
    """The letters of the pieces that get no template."""
    curved = {letter for draft in drafts(record) if draft.curved for letter in draft.letters}
    found = (piece.letter for lay in record.lays for piece in lay.pieces)
    return tuple(dict.fromkeys(letter for letter in found if letter not in curved))


def _template(record: Record, draft: Draft) -> Template:
    found = [
        (lay, piece) for lay in record.lays for piece in lay.pieces if piece.letter in draft.letters
    ]
    by_letter: dict[str, Piece] = {}
    for _, piece in found:
        known = by_letter.get(piece.letter)
        if known:
            piece = replace(
                known, count=known.count + piece.count, mirrored=known.mirrored + piece.mirrored
            )
        by_letter[piece.letter] = piece
    cloths = dict.fromkeys(clean(lay.cloth.name) or clean(lay.cloth.key) for lay, _ in found)
    half = draft.piece.folds and all(_all_on_fold(lay, piece) for lay, piece in found)
    made = Template(
        draft,
        tuple(by_letter),
        tuple(by_letter.values()),
        tuple(cloths),
        clean(record.title),
        half,
        _grain(found),
        draft.piece.up == "length" and any(lay.cloth.one_way for lay, _ in found),
    )
    # An edge that crosses the middle more than once would leave the half in several parts.
    return replace(made, half=False) if half and len(made.cut) != 1 else made


def _grain(found: Sequence[tuple[Lay, Piece]]) -> tuple[int, ...]:
    """The ways in which the warp runs on copies that lie right side up, each told once."""
    fixed = {Grain.ALONG: (0,), Grain.ACROSS: (90,)}.get(found[0][1].grain)
    if fixed:
        return fixed
    spots = (
        spot
        for lay, piece in found
        for spot in lay.placements
        if spot.letter == piece.letter and not spot.flip
    )
    return tuple(sorted({-spot.turn % 180 for spot in spots})) or (45,)


def _all_on_fold(lay: Lay, piece: Piece) -> bool:
    """Whether every copy of a piece lies across the fold with its own middle along it."""
    spots = [spot for spot in lay.placements if spot.letter == piece.letter]
    return bool(spots) and all(on_fold(lay, spot) and spot.turn in (0, 180) for spot in spots)
