"""The work on pieces that the user brings, of which no more is known than their outlines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.garments.brought.piece import OwnPiece
from marker.garments.order import Order
from marker.garments.work.job import Job, many
from marker.piece import MarkKind, Piece
from marker.record import Stage

UNKNOWN = (
    "The case does not say which edges are sewn together: follow your own drawing. Before each "
    "seam measure both edges, and mind that they are as long as each other."
)


def own_worked(order: Order, own: Sequence[OwnPiece], pieces: Sequence[Piece]) -> Iterator[Job]:
    """What is marked on each piece, and that the sewing is the user's own."""
    for brought, piece in zip(own, pieces, strict=True):
        if told := ", and ".join(_marked(order, brought, piece)):
            yield Job(Stage.MARK, f"{brought.name}: {told}.", (piece.name,))
    pairs = [piece for piece in pieces if piece.mirrored]
    for piece in pairs:
        yield Job(
            Stage.MARK,
            f"{piece.name}: {many(piece.count, 'copy', 'copies')}, {piece.mirrored} of them turned "
            "over. Chalk a cross on the wrong side of each, so that left and right stay known.",
            (piece.name,),
        )
    yield Job(Stage.JOIN, UNKNOWN, tuple(piece.name for piece in pieces))
    yield Job(
        Stage.FINISH,
        "Count pins and needles, and feel along every seam before anybody tries it on.",
        tuple(piece.name for piece in pieces),
    )


def _marked(order: Order, brought: OwnPiece, piece: Piece) -> Iterator[str]:
    if any(mark.kind is MarkKind.SEAM for mark in piece.marks):
        wide = brought.seam or 0
        inside = f" {order.fine(wide)} inside the edges" if wide else ""
        others = ", ".join(
            f"{order.fine(own) if own else 'none'} at {name}"
            for name, own in (brought.seams or {}).items()
        )
        told = f" ({others})" if others else ""
        yield f"chalk the stitching lines on the wrong side{inside}{told}"
    if brought.fold:
        yield "mark the fold at its two notches"
