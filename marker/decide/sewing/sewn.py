"""The whole of a garment's sewing: its edges, its rows, its band, and what is bought for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import ceil

from marker.buying import thread as yarn
from marker.cloth import Cloth
from marker.decide.edges import edge_length
from marker.decide.sewing.edges import Line, lines
from marker.gauging import Gauging, gauging
from marker.piece import Piece
from marker.record import Garment, Method, Record, Sewn, Stage, Stitch, Thread

Cut = tuple[Piece, Cloth]
JOINED, RECTANGLE = ", joined", "cloth for the "
"""How recipes call the figure of a joined strip, and the rectangle that it is cut from."""
TAPE = "waist tape"
BASTING_ROWS = 2
"""Pressed pleats are held by two rows until the band is on (common practice, no source)."""
SEAM_LAYERS, TOP_LAYERS = 2, 4
"""Layers that a needle goes through: of a seam, and of a pleat on a folded band."""


def with_sewing(record: Record, thread: Thread) -> Record:
    """The record with what is sewn of every garment, and the thread it is sewn with."""
    cut = [(piece, lay.cloth) for lay in record.lays for piece in lay.pieces]
    garments = tuple(
        replace(garment, sewing=_sewing(garment, own, thread))
        for garment in record.garments
        for own in [[one for one in cut if one[0].garment == garment.key]]
    )
    return replace(record, garments=garments, thread=thread)


def _sewing(garment: Garment, cut: Sequence[Cut], thread: Thread) -> tuple[Sewn, ...]:
    """All that is sewn of one garment in the order of work; equal things in one."""
    if not (cut and garment.panels):
        return ()
    cloths = {cloth.key: cloth for _, cloth in cut}
    pieces = [piece for piece, _ in cut]
    plan = gauging(garment, cut[0][1])
    whipped = plan if garment.pleating and garment.pleating.method is Method.GAUGED else None
    told = [*lines(pieces), *_besides(garment, pieces, whipped)]
    found = [_sewn(line, cloths, thread) for line in told]
    if plan:
        found += _rows(plan, thread)
    if whipped:
        onto = "tape" if any(one.name == TAPE for one in garment.notions) else "band"
        found.append(_whipped(whipped, onto, cut[0][1], thread))
    together: dict[tuple[Stage, str, Stitch], Sewn] = {}
    for one in found:
        key = one.stage, one.what, one.stitch
        together[key] = _sum(together[key], one) if key in together else one
    order = list(Stage)
    return tuple(sorted(together.values(), key=lambda one: order.index(one.stage)))


def _sum(first: Sewn, other: Sewn) -> Sewn:
    return replace(
        first,
        length=first.length + other.length,
        stitches=first.stitches + other.stitches,
        thread=first.thread + other.thread,
    )


def _sewn(line: Line, cloths: Mapping[str, Cloth], thread: Thread) -> Sewn:
    stitch = line.stitch or thread.seams
    through = SEAM_LAYERS * cloths[line.cloth].thickness if line.cloth in cloths else 0
    count = -(-line.length // yarn.spacing(stitch, thread.stitch))
    taken = count * yarn.per_stitch(stitch, thread.stitch, through)
    return Sewn(line.stage, line.what, stitch, line.length, count, taken)


def _rows(plan: Gauging, thread: Thread) -> Iterator[Sewn]:
    """The rows that draw the top up; a pleat is one stitch, with its space."""
    for number in range(len(plan.rows)):
        drawn = ceil(plan.drawn_at(number))
        yield Sewn(
            Stage.GAUGE,
            f"row {number + 1}",
            Stitch.RUNNING,
            plan.round,
            plan.pleats,
            yarn.flat_row(plan.round, thread.tail),
            yarn.pushed_row(drawn, thread.slack, thread.tail),
        )


def _whipped(plan: Gauging, onto: str, cloth: Cloth, thread: Thread) -> Sewn:
    """Every pleat whipped by its fold to the band or the tape, a stitch each.

    Common practice, no source.
    """
    apart = -(-plan.drawn // plan.pleats)
    each = yarn.zigzag(apart, thread.stitch) + 2 * TOP_LAYERS * cloth.thickness
    return Sewn(
        Stage.BAND,
        f"pleats to the {onto}",
        Stitch.WHIP,
        plan.drawn,
        plan.pleats,
        plan.pleats * each,
    )


def _besides(garment: Garment, pieces: Sequence[Piece], whipped: Gauging | None) -> Iterator[Line]:
    """What no edge of a piece tells: the top where it isn't whipped, and what is bought."""
    cloth, bought = pieces[0].cloth, {notion.name: notion.length for notion in garment.notions}
    if garment.pleating and not garment.pleating.method.stitched:
        yield Line(
            Stage.GAUGE, "basting pleats", Stitch.RUNNING, BASTING_ROWS * garment.drawn, cloth
        )
    if whipped is None:
        yield from _top(garment, pieces, bought)
    if around := bought.get("hem binding"):
        yield Line(Stage.HEM, "binding", None, around, cloth)
        yield Line(Stage.HEM, "binding", Stitch.HEMMING, around, cloth)
    if garment.opening and not any("placket" in piece.name for piece in pieces):
        yield Line(Stage.FINISH, "opening", Stitch.HEMMING, 2 * garment.opening, cloth)
    joined = {item.name.removesuffix(JOINED): item.length for item in garment.figures}
    for piece in pieces:
        # Bias out of one rectangle has no edges of its own until it is joined.
        name = piece.name.removeprefix(RECTANGLE)
        if name != piece.name and name in joined:
            part = "facing" if "facing" in name else "binding"
            yield Line(Stage.HEM, part, None, joined[name], piece.cloth)
            yield Line(Stage.HEM, part, Stitch.HEMMING, joined[name], piece.cloth)


def _top(garment: Garment, pieces: Sequence[Piece], bought: Mapping[str, int]) -> Iterator[Line]:
    """How a top goes on its band or tape that isn't drawn up by rows, or how its casing is sewn."""
    cloth = pieces[0].cloth
    if "drawstring" in bought:
        yield Line(Stage.BAND, "casing", Stitch.HEMMING, garment.round_hem, cloth)
    elif TAPE in bought:
        top = sum(
            edge_length(piece, "start") * piece.count
            for piece in pieces
            if piece.edges.start in ("waist", "neck")
        )
        yield Line(Stage.BAND, "tape", None, garment.drawn or top, cloth)
        yield Line(Stage.BAND, "tape", Stitch.HEMMING, garment.drawn or top, cloth)
    for piece in pieces:
        if piece.name.startswith("band") and "lining" not in piece.name:
            for side in ("low", "high"):
                if getattr(piece.edges, side) == "skirt":
                    length = edge_length(piece, side) * piece.count
                    yield Line(Stage.BAND, "band", None, length, piece.cloth)
