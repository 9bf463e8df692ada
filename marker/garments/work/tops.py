"""The top of breadths: turned down and gauged, gathered, pleated, or run on a string."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from marker.garments.lengths import Levels
from marker.garments.order import Order
from marker.garments.work.chalk import inset
from marker.garments.work.job import Job, listed, many
from marker.piece import Piece
from marker.record import Direction, Method, Pleating, Stage
from marker.units import nearest

NEEDLES = "Count needles and pins when you lay the work down: one left in the pleats will hurt."


def uneven(
    order: Order, panels: Sequence[Piece], levels: Levels, line: str, above: int = 0
) -> Iterator[Job]:
    """The line at the top where it lies at three depths: chalked round the finished tube.

    What lies further than `above` over it is cut off, nothing where that is nought.
    """
    if levels.level:
        return
    cut = f" Cut off what lies more than {order.spell(above)} above it." if above else ""
    over = inset(panels[0], "start", line) - levels.top
    depths = [f"{order.spell(levels.depth(at) + over)} at the {at}" for at in levels.finished]
    yield Job(
        Stage.GAUGE,
        f"Chalk the {line} on the wrong side, below the top edge: {listed(depths)}. "
        f"Join the three in one smooth line all round.{cut}",
        tuple(piece.name for piece in panels),
    )


def turned_down(order: Order, panels: Sequence[Piece], levels: Levels) -> Iterator[Job]:
    """The turn-down of a gauged top."""
    yield from uneven(order, panels, levels, "fold of the turn-down")
    deep = f", {order.spell(levels.top)} deep" if levels.level else ""
    yield Job(
        Stage.GAUGE,
        f"Turn the top down to the inside along its line{deep}, press the fold, and tack the "
        "turn-down flat.",
        tuple(piece.name for piece in panels),
    )


def stitched(order: Order, names: tuple[str, ...], pleating: Pleating, drawn: int) -> Iterator[Job]:
    """Rows of running stitches, and what they are drawn up into."""
    rows, turned = pleating.rows, pleating.method is Method.GAUGED
    edge = "the fold" if turned else "the cut edge"
    places = [order.fine(pleating.first + row * pleating.spacing) for row in range(rows)]
    layers = " through both layers" if turned else ""
    under = ", each stitch under the one above" if rows > 1 else ""
    threads = "a strong thread for every row, knot one end of each" if rows > 1 else (
        "a strong thread, knot one end of it"
    )  # fmt: skip
    yield Job(
        Stage.GAUGE, f"Cut {threads}, and leave the other end hanging when it is sewn.", names
    )
    yield Job(
        Stage.GAUGE,
        f"Sew {many(rows, 'row')} of running stitches{layers}, from one edge of the opening to "
        f"the other, {listed(places)} below {edge}. Stitches and spaces are "
        f"{order.fine(pleating.stitch)} or a hair off, as the pleat plan has them{under}. "
        f"{NEEDLES}",
        names,
    )
    quarter = order.spell(drawn // 4)
    looser = (
        f" Leave the lowest row {order.spell(pleating.ease)} longer, for the hips."
        if pleating.ease
        else ""
    )
    together = "all rows up together" if rows > 1 else "the row up"
    yield Job(
        Stage.GAUGE,
        f"Draw {together} until the top is {order.spell(drawn)} long, {quarter} from each quarter "
        f"point to the next. Set the pleats even, and wind the ends of the threads round pins."
        f"{looser}",
        names,
    )


TURNED = {
    Direction.RIGHT: "all turned to the right as the outside is looked at",
    Direction.LEFT: "all turned to the left as the outside is looked at",
    Direction.FRONT: "both halves turned to the middle of the front",
    Direction.BACK: "both halves turned to the middle of the back",
}


def pleated(
    order: Order, names: tuple[str, ...], pleating: Pleating, lengths: tuple[int, int, int]
) -> Iterator[Job]:
    """Pleats that are folded and pressed; `lengths` are the cloth, what it is folded into, and
    the number of panels."""
    around, drawn, panels = lengths
    number, kind = pleating.pleats, pleating.method.value.removesuffix(" pleated")
    folds = 1 if pleating.method is Method.KNIFE else 2
    # An eighth of an inch off in every pleat would be inches round the waist.
    deep = order.fine(nearest(Fraction(around - drawn, 2 * folds * number)))
    apart = order.fine(nearest(Fraction(drawn, number)))
    way = f", {TURNED[pleating.direction]}" if pleating.method is Method.KNIFE else ""
    yield Job(
        Stage.GAUGE,
        f"Chalk the folds of {number} {kind} pleats along the top, {number // panels} to a panel, "
        "where the pleat plan has them.",
        names,
    )
    yield Job(
        Stage.GAUGE,
        f"Fold the pleats, each fold {deep} deep{way}, {apart} from one pleat to the next. Pin and "
        f"tack them along the pleating line: the top is then {order.spell(drawn)} long. Chalk its "
        f"quarter points, {order.spell(drawn // 4)} apart.",
        names,
    )
    yield Job(
        Stage.GAUGE,
        "Press the pleats on their wrong side under a damp cloth. Keep hands out of the steam, "
        "and leave the tacking in till the band is on.",
        names,
    )


def gathered_flat(order: Order, names: tuple[str, ...], line: int, drawn: int) -> Iterator[Job]:
    """A top gathered into a band where no plan of pleats is kept; `line` is nought at a fold."""
    if line:
        where = f"one on either side of the gathering line {order.spell(line)} below the edge"
    else:
        where = "through both layers, close below the fold"
    yield Job(
        Stage.GAUGE,
        f"Sew two rows of small running stitches along the top, {where}, with long ends. {NEEDLES}",
        names,
    )
    yield Job(
        Stage.GAUGE,
        f"Draw both rows up together until the top is {order.spell(drawn)} long, "
        f"{order.spell(drawn // 4)} from each quarter point to the next, and spread the gathers. "
        "Wind the ends of the threads round pins.",
        names,
    )


def cased(
    order: Order,
    panels: Sequence[Piece],
    levels: Levels,
    sizes: tuple[int, int],
    string: tuple[int, int],
    *,
    opening: bool,
) -> Iterator[Job]:
    """A casing for a string; `sizes` are its depth and what is turned in, `string` its length
    and what the top is drawn into."""
    names = tuple(piece.name for piece in panels)
    casing, seam = sizes
    yield from uneven(order, panels, levels, "fold of the casing", casing + seam)
    gap = (
        "Leave both ends of the casing open at the opening."
        if opening
        else "Leave three fingers' breadth unsewn at one seam, for the string to go in by."
    )
    yield Job(
        Stage.GAUGE,
        f"Turn the raw edge in by {order.spell(seam)}, turn the top down along its line, and "
        f"stitch it down {order.spell(casing)} below the fold, all round. {gap}",
        names,
    )
    length, drawn = string
    yield Job(
        Stage.GAUGE,
        f"Run the drawstring, {order.spell(length)} long, through the casing with a bodkin, and "
        f"knot its ends so that they can't slip in. Drawn up, the top is {order.spell(drawn)}; "
        "the rest of the string ties.",
        names,
    )
