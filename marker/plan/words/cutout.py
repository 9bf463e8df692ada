"""Words for pieces that are cut out with shears: where each is chalked, and which way it lies."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from marker.geometry import Rect
from marker.geometry.outline import Edge
from marker.lay import Placement
from marker.piece import Grain, Piece
from marker.plan.lays.folded import fold_at, lies_below, on_fold, under
from marker.plan.words.drops import Laid, copies
from marker.plan.words.pairing import Grid, grids, plain_turn
from marker.plan.words.runs import Work, apart, extent, join_ids
from marker.plan.words.sizes import edge_name, spoken
from marker.plan.words.told import MOST_READINGS, readings

OF_SHAPES = "A shaped piece lies with its leftmost and its nearest point at the places told"
FACES = 0.7
"""An edge faces a way if it does within 45 degrees of it, where it is half way along."""
FREE_END = "to the free end", "away from the free end"
SIDES = "to the near edge", "to the far edge"
TURNED = {
    0: "the way it is drafted",
    90: "its draft turned a quarter to the left",
    180: "its draft turned half round",
    270: "its draft turned a quarter to the right",
}


@dataclass(frozen=True)
class Measured:
    """Where places are measured from: a corner at x, y, and what its two sides are called."""

    x: int
    y: int
    end: str
    side: str


def place_pieces(work: Work, held: Sequence[Laid], base: Measured) -> Iterator[str]:
    """Pieces by their place; equal ones in even rows are told together."""
    partners = {upper: lower for lower, upper in under(work.lay).items()}
    for grid in _grids(work, held, base, partners):
        first = grid.rects[0]
        piece = work.lay.piece(grid.spots[0].letter)
        each = "each " if len(grid.spots) > 1 else ""
        if piece.outline is not None:
            each += "reaches over "
        tall = first.across
        if on_fold(work.lay, grid.spots[0]):
            each += "its near half, "
            tall = fold_at(work.lay) // 2 - grid.spots[0].rect(piece).y0
        size = extent(work.units, first.along, tall)
        yield (
            f"{_ids(grid, partners)} ({work.names[piece.letter]}){_way(work, grid.spots[0])}: "
            f"chalk {_along(work, grid.xs, base)} and {_over(work, grid.ys, base)}; "
            f"{each}{size}."
        )


def _grids(
    work: Work, held: Sequence[Laid], base: Measured, partners: dict[str, str]
) -> list[Grid]:
    """Even rows of copies, apart by whether they lie on the fold or on others."""
    kinds: dict[tuple[bool, bool], list[Laid]] = {}
    for spot, rect in held:
        kind = on_fold(work.lay, spot), spot.id in partners
        kinds.setdefault(kind, []).append((spot, _from(rect, base)))

    def like(spot: Placement) -> object:
        return _way(work, spot), plain_turn(work.lay.piece(spot.letter), spot)

    found = [grid for alike in kinds.values() for grid in grids(alike, MOST_READINGS, like)]
    return sorted(found, key=lambda grid: (grid.xs[0], grid.ys[0]))


def _from(rect: Rect, base: Measured) -> Rect:
    return Rect(rect.x0 - base.x, rect.y0 - base.y, rect.x1 - base.x, rect.y1 - base.y)


def _ids(grid: Grid, partners: dict[str, str]) -> str:
    """The copies, with those that are cut with them from the layer below."""
    ids = _named(grid.spots)
    below = [partners[spot.id] for spot in grid.spots if spot.id in partners]
    if not below:
        return ids
    pairs = ((one.rpartition("-")[0], int(one.rpartition("-")[2])) for one in below)
    return f"{ids} with {', '.join(join_ids(pairs))} underneath"


def _way(work: Work, spot: Placement) -> str:
    """Which way a shaped piece lies: an edge towards the free end, the bias, turned over."""
    piece = work.lay.piece(spot.letter)
    # A copy alone in the lower layer is chalked on the upper one, as its mirror image.
    over = lies_below(work.lay, spot)
    told = []
    if piece.grain is Grain.BIAS:
        told.append("on the bias")
    elif way := _facing(piece, spot, over):
        told.append(way)
    if spot.flip != over:
        told.append("turned over")
    if on_fold(work.lay, spot):
        told.append("on the fold")
    return f", {', '.join(told)}" if told else ""


def _facing(piece: Piece, spot: Placement, over: bool) -> str:
    """How a shaped piece lies: an edge and where it faces, or the turn from its draft.

    The free end is told of if an edge faces it or faces away, unless another of the same name
    lies opposite; then the near or the far edge. `over`: it is chalked as its mirror image
    across the cloth.
    """
    if piece.outline is None:
        return ""
    faces = [_face(piece, spot, edge, over) for edge in piece.outline.edges]
    for way, wheres in ((0, FREE_END), (1, SIDES)):
        ends = [max(faces, key=partial(_rank, way, side)) for side in (-1, 1)]
        for side, face, where in zip((-1, 1), ends, wheres, strict=True):
            alone = ends[0].name != ends[1].name
            if face.name and alone and side * face.out[way] >= FACES:
                return f"{spoken(face.name)} {where}"
    turn = plain_turn(piece, spot)
    return TURNED[-turn % 360 if over else turn]


@dataclass(frozen=True)
class Face:
    """An edge of a piece as it lies: which way is out half way along, and its reach."""

    name: str
    out: tuple[float, float]
    reach: float


def _rank(way: int, side: int, face: Face) -> tuple[float, float]:
    return round(side * face.out[way], 1), face.reach


def _face(piece: Piece, spot: Placement, edge: Edge, over: bool) -> Face:
    def place(part: float) -> tuple[int, int]:
        u, v = edge.at(part * edge.length)[0]
        return spot.to_cloth(piece, round(u), round(v))

    (xa, ya), (xb, yb) = place(0.49), place(0.51)
    # Outside lies to the right of the way round, the other way about where turned over.
    turn = (-1 if spot.flip else 1) / (math.dist((xa, ya), (xb, yb)) or 1.0)
    x, y = turn * (yb - ya), turn * (xa - xb)
    reach = math.dist(place(0.0), place(1.0)) / edge.length
    return Face(edge_name(piece, edge), (x, -y if over else y), reach)


def cut_out(work: Work, spots: Sequence[Placement]) -> str:
    """The step that cuts pieces out once they are chalked, and through how many layers."""
    ids = _named(spots)
    if work.lay.cloth.folded:
        pairs = set(under(work.lay).values())
        alone = [s for s in spots if s.id not in pairs and not on_fold(work.lay, s)]
        below = [s for s in alone if lies_below(work.lay, s)]
        above = [s for s in alone if s not in below]
        both = [s for s in spots if s not in alone]
        kinds = (
            (both, "through both layers"),
            (above, "through the upper layer only"),
            (below, "through both layers, what comes from the upper one to spare"),
        )
        ids = "; ".join(f"{_named(some)} {how}" for some, how in kinds if some)
    fold = ""
    if any(on_fold(work.lay, spot) for spot in spots):
        fold = "; leave the fold itself uncut"
    whose = "its outline" if len(spots) == 1 else "their outlines"
    return f"Cut out {ids}, along {whose}{fold}."


def _named(spots: Sequence[Placement]) -> str:
    return ", ".join(join_ids((s.letter, s.copy) for s in spots))


def _along(work: Work, xs: tuple[int, ...], base: Measured) -> str:
    if xs == (0,):
        return f"at {base.end}"
    return f"{readings(xs, work.units)} from {base.end}"


def _over(work: Work, ys: tuple[int, ...], base: Measured) -> str:
    if ys == (0,):
        return f"at {base.side}"
    return f"{readings(ys, work.units).removeprefix('at ')} from {base.side}"


def region_lines(work: Work, region: Rect, first: bool) -> Iterator[str]:
    """What the shears do with a part that tears have freed, measured from its own corner.

    Of several parts only the first tells what the places of shaped pieces mean.
    """
    held = [(spot, rect) for spot, rect in copies(work.lay) if region.holds(rect)]
    base = Measured(region.x0, region.y0, "its left edge", "its near edge")
    size = extent(work.units, region.along, region.across)
    called = work.call(region) if region in work.held else held[0][0].id
    yield (
        f"Part of {called}{apart(work.units, size)}, for the shears: chalk round every piece "
        "before you cut, measuring from its left and its near edge."
        + (f" {OF_SHAPES}." if first else "")
    )
    yield from place_pieces(work, held, base)
    yield cut_out(work, [spot for spot, _ in held])
