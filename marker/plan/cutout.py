"""Words for pieces that are cut out with shears: where each is chalked, and which way it lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marker.geometry import Rect
from marker.lay import Placement
from marker.piece import Grain, Piece
from marker.plan.folded import fold_at, on_fold, under
from marker.plan.pairing import Grid, Laid, grids
from marker.plan.runs import Work, join_ids
from marker.plan.sizes import named_edges
from marker.plan.told import MOST_READINGS, readings

OF_SHAPES = "A shaped piece lies with its leftmost and its nearest point at the places told"
NEAR = 160 * 5
"""An edge whose middle is this near the end of its piece, 5 mm, is the one that lies there."""


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
        size = f"{work.number(first.along)} along × {work.number(tall)} {work.units.value}"
        yield (
            f"{_ids(grid, partners)} ({work.names[piece.letter]}){_way(work, grid, piece)}: "
            f"chalk {_along(work, grid.xs, base)} and {_over(work, grid.ys, base)}; "
            f"{each}{size} across."
        )


def _grids(
    work: Work, held: Sequence[Laid], base: Measured, partners: dict[str, str]
) -> list[Grid]:
    """Even rows of copies, apart by whether they lie on the fold or on others."""
    kinds: dict[tuple[bool, bool], list[Laid]] = {}
    for spot, rect in held:
        kind = on_fold(work.lay, spot), spot.id in partners
        kinds.setdefault(kind, []).append((spot, _from(rect, base)))
    found = [grid for alike in kinds.values() for grid in grids(alike, MOST_READINGS)]
    return sorted(found, key=lambda grid: (grid.xs[0], grid.ys[0]))


def _from(rect: Rect, base: Measured) -> Rect:
    return Rect(rect.x0 - base.x, rect.y0 - base.y, rect.x1 - base.x, rect.y1 - base.y)


def _ids(grid: Grid, partners: dict[str, str]) -> str:
    """The copies, with those that are cut with them from the layer below."""
    ids = ", ".join(join_ids(sorted((spot.letter, spot.copy) for spot in grid.spots)))
    below = [partners[spot.id] for spot in grid.spots if spot.id in partners]
    if not below:
        return ids
    pairs = sorted((one.rpartition("-")[0], int(one.rpartition("-")[2])) for one in below)
    return f"{ids} with {', '.join(join_ids(pairs))} underneath"


def _way(work: Work, grid: Grid, piece: Piece) -> str:
    """Which way a shaped piece lies: an edge towards the free end, the bias, turned over."""
    spot = grid.spots[0]
    told = []
    if piece.grain is Grain.BIAS:
        told.append("on the bias")
    elif name := _first_edge(piece, spot):
        told.append(f"{name} to the free end")
    if spot.flip:
        told.append("turned over")
    if on_fold(work.lay, spot):
        told.append("on the fold")
    return f", {', '.join(told)}" if told else ""


def _first_edge(piece: Piece, spot: Placement) -> str:
    """The name of the edge that lies at the free end of a shaped piece, if one alone does."""
    found: dict[str, int] = {}
    box = spot.rect(piece)
    for name, edge in named_edges(piece):
        ends = [edge.at(part * edge.length)[0] for part in (0.0, 0.5, 1.0)]
        xs = [spot.to_cloth(piece, round(u), round(v))[0] for u, v in ends]
        off = sum(xs) // 3 - box.x0
        found[name] = min(found.get(name, off), off)
    ranked = sorted(found, key=lambda name: found[name])
    if not ranked or found[ranked[0]] * 4 > box.along:
        return ""
    alone = len(ranked) == 1 or found[ranked[1]] - found[ranked[0]] > NEAR
    return ranked[0] if alone else ""


def cut_out(work: Work, spots: Sequence[Placement]) -> str:
    """The step that cuts pieces out once they are chalked."""
    ids = ", ".join(join_ids(sorted(((spot.letter, spot.copy) for spot in spots), key=_by_letter)))
    layers = " through both layers" if work.lay.cloth.folded else ""
    fold = ""
    if any(on_fold(work.lay, spot) for spot in spots):
        fold = "; leave the fold itself uncut"
    whose = "its outline" if len(spots) == 1 else "their outlines"
    return f"Cut out {ids}{layers}, along {whose}{fold}."


def _by_letter(one: tuple[str, int]) -> tuple[int, tuple[str, int]]:
    return len(one[0]), one


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
    held: list[Laid] = []
    for spot in work.lay.placements:
        rect = spot.rect(work.lay.piece(spot.letter))
        if region.holds(rect):
            held.append((spot, rect))
    base = Measured(region.x0, region.y0, "its left edge", "its near edge")
    size = f"{work.number(region.along)} along × {work.number(region.across)} {work.units.value}"
    called = work.call(region) if region in work.held else held[0][0].id
    yield (
        f"Part of {called} ({size} across), for the shears: chalk round every piece before you "
        "cut, measuring from its left and its near edge." + (f" {OF_SHAPES}." if first else "")
    )
    yield from place_pieces(work, held, base)
    yield cut_out(work, [spot for spot, _ in held])
