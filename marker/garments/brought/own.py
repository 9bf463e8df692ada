"""Pieces that the user brings: an outline of her own, made ready to be laid as any piece is.

The outline comes finished or cut, whole or as the half that lies on a fold. Here it is
unfolded, given its seam allowance and set with its fold along the grain where it can be.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from pydantic import InstanceOf

from marker import units
from marker.errors import BadInput
from marker.garments.allowance import grow
from marker.garments.brought.marks import fold_line, notched, stitching
from marker.garments.brought.match import own_matches, sets_agree, unmatched
from marker.garments.brought.piece import OwnPiece, own_fault
from marker.garments.made import Made
from marker.garments.order import Draft, Order, Spec
from marker.garments.told import garment_told
from marker.garments.work.job import in_order
from marker.garments.work.own import own_worked
from marker.geometry import Line, Outline, Rect
from marker.geometry.curves import NOISE, Spot
from marker.geometry.offset import Corner, with_allowance
from marker.geometry.shapes import SIDES, unfolded
from marker.piece import Edges, Grain, Mark, Match, Piece
from marker.record import Item

MOST_CORNERS = 500
"""Of the polygon that is laid: a sleeve has under a hundred, and a nest takes the square of it."""
OFF_GRAIN = math.radians(0.5)
"""A fold drawn nearer than this to the grain, or square to it, was meant to lie so."""


class OwnPieces(Spec):
    """The pieces of the user's own that are for one wearer, or for none."""

    own: tuple[InstanceOf[OwnPiece], ...]

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """The one draft of them all; raises `BadInput` naming file and key."""
        sets_agree(order, self.own)
        made = [_made(order, own) for own in self.own]
        pieces = tuple(piece for piece, _ in made)
        parts = Made(
            pieces,
            figures=tuple(item for _, figures in made for item in figures),
            advice=(*_advice(order, self.own), *unmatched(order, self.own)),
        )
        work = tuple(own_worked(order, self.own, pieces))
        return (Draft(pieces, garment_told(order, parts), work=in_order(work)),)


@dataclass(frozen=True)
class _Whole:
    """An outline unfolded: where the fold lies, if anywhere, and so how the piece lies."""

    outline: Outline
    grain: Grain
    up: str = "length"
    fold: str = ""
    """"along" or "across", where the fold runs along u or v; else empty."""
    carry: Callable[[Spot], Spot] = lambda spot: spot
    """Where a place of the outline as it is drawn comes to lie."""

    @property
    def folds(self) -> bool:
        return self.fold == "along"


def _made(order: Order, own: OwnPiece) -> tuple[Piece, tuple[Item, ...]]:
    """The piece, and what its finished edges measure."""
    _edges_known(order, own)
    whole = _unfolded(order, own)
    found = tuple(own_matches(order, own, whole.carry))
    try:
        cut = _with_seams(own, whole.outline)
    except BadInput as error:
        raise own_fault(order, own, f".seam: {error}") from None
    try:
        piece = _piece(order, own, replace(whole, outline=cut), tuple(_marks(own, whole)), found)
    except BadInput as error:
        raise own_fault(order, own, f": {error}") from None
    if len(piece.polygon.points) > MOST_CORNERS:
        raise own_fault(
            order,
            own,
            f": the outline takes {len(piece.polygon.points):,} corners to cut round, and "
            f"{MOST_CORNERS:,} are the most; simplify it in the drawing",
        )
    figures = () if own.included or own.plain_names else _figures(own, whole.outline)
    if whole.fold:
        name = "fold" if own.plain_names else own.fold
        piece = notched(piece, name, across=whole.fold == "across", deep=own.seam or 0)
    return piece, figures


def _marks(own: OwnPiece, whole: _Whole) -> Iterator[Mark]:
    """The stitching lines of what is added, and the fold; its name is told at its notches."""
    if own.added:
        yield from stitching(
            whole.outline, own.seams or {}, own.seam or 0, named=not own.plain_names
        )
    if own.fold:
        spine = own.outline.edge(own.fold).segments[0]
        name = "" if whole.fold else own.fold
        yield fold_line(name, (whole.carry(spine.start), whole.carry(spine.end)))


def _edges_known(order: Order, own: OwnPiece) -> None:
    """Refuse names of edges that the outline doesn't have, and an allowance on the fold."""
    names = [edge.name for edge in own.outline.edges if edge.name]
    known = ", ".join(dict.fromkeys(names)) or "without names; name them with edges"
    wanted = {"fold": (own.fold,) if own.fold else (), "seams": tuple(own.seams or ())}
    for key, keys in wanted.items():
        for name in keys:
            if name not in names:
                raise own_fault(
                    order,
                    own,
                    f".{key} names the edge {name!r}, which the outline doesn't have; its edges "
                    f"are {known}",
                )
    if own.fold and names.count(own.fold) > 1:
        raise own_fault(
            order,
            own,
            f".fold names {own.fold!r}, but {names.count(own.fold)} edges are called so; give "
            "the one that lies on the fold a name of its own",
        )
    if own.fold and own.seams and own.fold in own.seams:
        raise own_fault(
            order, own, f".seams has {own.fold!r}, but no seam runs along the fold; take it out"
        )


def _unfolded(order: Order, own: OwnPiece) -> _Whole:
    """The whole outline, turned so that its fold lies on the thread and along u if it may."""
    if not own.fold:
        return _Whole(own.outline, own.grain)
    spine = own.outline.edge(own.fold).segments[0]
    try:
        whole = unfolded(own.outline, own.fold)
    except BadInput as error:
        raise own_fault(order, own, f".fold: {error}") from None
    assert isinstance(spine, Line)
    x, y = spine.heading(0)
    angle = math.atan2(y, x)
    quarters = round(angle / (math.pi / 2))
    askew = angle - quarters * math.pi / 2
    if abs(askew) > OFF_GRAIN or own.grain is Grain.BIAS:
        return _set(whole, 0, own.grain)
    back = -math.degrees(askew) if abs(askew) > NOISE else 0.0
    if quarters % 2 == 0:
        return _set(whole, back, own.grain, fold="along")
    if own.grain is Grain.ALONG:
        return _set(whole, back, own.grain, fold="across")
    # Laid across the bolt, such a fold lies along the warp: turned, the piece says so itself,
    # and on one-way cloth it points the same way as if it were drawn whole.
    if own.grain is Grain.ACROSS:
        return _set(whole, back + 90, Grain.ALONG, "breadth", "along")
    return _set(whole, back - 90, Grain.EITHER, "breadth", "along")


def _set(
    whole: Outline, degrees: float, grain: Grain, up: str = "length", fold: str = ""
) -> _Whole:
    """An outline turned and set against 0, 0."""
    turned = whole.turned(degrees)
    x, y, *_ = turned.box
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def carry(spot: Spot) -> Spot:
        return spot[0] * cos - spot[1] * sin - x, spot[0] * sin + spot[1] * cos - y

    return _Whole(turned.at_nought(), grain, up, fold, carry)


def _with_seams(own: OwnPiece, whole: Outline) -> Outline:
    if not own.added:
        return whole
    seam = own.seam or 0
    return with_allowance(whole, own.seams or {}, own.corners, otherwise=seam)


def _piece(
    order: Order,
    own: OwnPiece,
    whole: _Whole,
    marks: tuple[Mark, ...],
    found: tuple[Match, ...],
) -> Piece:
    """The piece of a cut outline: a plain rectangle where it is one, so that it may be torn."""
    outline, cloths = whole.outline, own.cloths
    if own.plain_names:
        outline = outline.renamed(dict.fromkeys(SIDES, ""))
    shaped = Piece.shaped(
        "",
        own.name,
        outline,
        own.count,
        cloths[0],
        grain=whole.grain,
        up=whole.up,
        mirrored=own.count // 2 if own.pairs and not whole.fold else 0,
        folds=whole.folds,
        garment=order.key,
        wearer=order.wearer.name,
        torn=False,
        also=cloths[1:],
        marks=marks,
        matches=found,
    )
    box = Rect(0, 0, shaped.length, shaped.breadth)
    if whole.grain is Grain.BIAS or shaped.area2 != 2 * box.area:
        if own.torn:
            raise BadInput("torn is true, but only a rectangle on the grain is torn; take it out")
        return shaped
    plain = replace(
        shaped,
        outline=None,
        edges=_edges(outline),
        mirrored=0,
        torn=own.torn is not False,
    )
    return grow(plain, tuple(order.cloths[key] for key in cloths))


def _edges(rectangle: Outline) -> Edges:
    """The names of a rectangle's edges, by where they lie."""
    found: dict[str, str] = {}
    for edge in rectangle.segments:
        x, y = edge.heading(0)
        side = ("low" if x > 0 else "high") if abs(x) > abs(y) else ("end" if y > 0 else "start")
        found[side] = edge.name
    return Edges(**found)


def _figures(own: OwnPiece, outline: Outline) -> tuple[Item, ...]:
    """What the named edges measure when sewn; those alike in name and length are told once."""
    alike: dict[tuple[str, int], int] = {}
    for edge in outline.edges:
        if edge.name:
            key = edge.name, round(edge.length)
            alike[key] = alike.get(key, 0) + 1
    finished = "finished " if own.added else ""
    return tuple(
        Item(f"{own.name}, {finished}{name}{', each' if times > 1 else ''}", length)
        for (name, length), times in alike.items()
    )


def _advice(order: Order, pieces: Sequence[OwnPiece]) -> Iterator[str]:
    """What was done to the outlines, one sentence for all pieces alike."""
    said: dict[str, list[str]] = {}
    for own in pieces:
        said.setdefault(_seams_told(order, own), []).append(own.name)
    for text, names in said.items():
        yield f"{_listed(names)}: {text}."
    for own in pieces:
        if own.fold:
            by = "the fold" if own.plain_names else f"the fold at its edge {own.fold!r}"
            yield f"{_listed([own.name])} is drawn by half, and unfolded at {by}."


def _seams_told(order: Order, own: OwnPiece) -> str:
    seam = own.seam or 0
    if not own.added:
        if own.included:
            of = f" of {_spell(order, seam)}" if seam else ""
            return f"cut as drawn; the outline holds its seam allowance{of}"
        return "cut as drawn; no seam allowance is added"
    width = f"{_spell(order, seam)} seam allowance" if seam else "seam allowance"
    other = ", ".join(
        f"{name} {_spell(order, wide) if wide else 'none'}"
        for name, wide in (own.seams or {}).items()
    )
    corners = ", corners cut square" if own.corners is Corner.SQUARE else ""
    return f"{width} is added outside the outline{f' ({other})' if other else ''}{corners}"


def _spell(order: Order, length: int) -> str:
    return units.format_length(length, order.units, fine=True)


def _listed(names: Sequence[str]) -> str:
    told = ", ".join(dict.fromkeys(names))
    return told[:1].upper() + told[1:]
