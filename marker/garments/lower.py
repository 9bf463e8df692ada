"""How the lower edge of breadths is finished: a hem, a facing, a binding, flounces; and tucks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Literal

from pydantic import Field, PlainValidator

from marker.garments.bias import Bias, bias, facing_lines
from marker.garments.bias_keys import CUTS, WORDS
from marker.garments.binding import Binding, binding_made
from marker.garments.facing import DEPTH, TOP, Facing, facing_advice, facing_piece
from marker.garments.flounce import Flounces, Round, flounced, shortened
from marker.garments.lengths import Levels, finished_lengths
from marker.garments.made import Made
from marker.garments.order import Order, Usual
from marker.garments.panel import Tube, hem_mark
from marker.garments.tucks import Tucked, Tucks, tucked, tucks_made
from marker.garments.words import Length, Size, Strict, picks
from marker.garments.work.chalk import inset
from marker.garments.work.hems import Rim, faced, hemmed, straight_joined
from marker.piece import Mark, MarkKind, Piece
from marker.record import WITH_FLOUNCES, Item

OWN_HEM = Usual("5 cm", "2 in")
STRAIGHT = "straight"
ON = "seam of the flounce"
"""What the lower edge of panels is called that a flounce is sewn to."""
FacingCuts = Annotated[tuple[str, ...], PlainValidator(picks(STRAIGHT, *CUTS))]


class HemFacing(Facing):
    """The keys of a facing of a straight hem: straight strips, or bias."""

    cut: FacingCuts = Field(
        default=(STRAIGHT,), description="how it is cut, or a list of ways to compare"
    )
    across: Size | None = Field(
        default=None, description="how broad the rectangle is that bias is cut from"
    )


class Lower(Strict):
    """The keys of the lower edge; a garment of breadths adds them to its own."""

    shorter: Length = Field(
        default=0, description="how much shorter than the wearer's lengths it is"
    )
    longer: Length = Field(default=0, description="how much longer than the wearer's lengths it is")
    hem: Literal["own hem", "facing", "none"] | None = Field(
        default=None, description="how the hem is finished"
    )
    take_up: Length | None = Field(
        default=None, description='what the hem takes of the length, such as "5 cm"'
    )
    facing: HemFacing | None = Field(default=None, description="a table for the facing")
    binding: Binding | None = Field(default=None, description="a table for the hem's binding")
    flounce: Flounces = Field(default=[], description="a table for a flounce, or a list of them")
    tucks: Tucks | None = Field(default=None, description="a table for tucks above the hem")


@dataclass(frozen=True)
class Below:
    """What the lower edge comes to: how long the panels are, their tucks, and their facing."""

    levels: Levels
    tucked: Tucked
    facing: HemFacing | None


@dataclass(frozen=True)
class Finish:
    """One of the ways in which facing and binding may be cut, if there are any.

    `way` says it in a few words for each of them that the file leaves open.
    """

    facing: str
    binding: Binding | None
    way: tuple[str, ...]


def below(order: Order, lower: Lower, seam: int, top: int, opening: int) -> Below:
    """The levels of the panels, `top` taken in above the waist and `opening` long below it.

    Flounces sewn to the edge make the lower part of the length. Raises `BadInput` naming keys
    that contradict each other, or leave nothing of the length.
    """
    _agree(order, lower)
    facing = lower.facing or (HemFacing() if lower.hem == "facing" else None)
    lengths = finished_lengths(order, lower.shorter, lower.longer)
    gone = shortened(lower.flounce)
    if min(lengths.values()) <= gone:
        raise order.fault(
            f"flounce: the flounces are {order.spell(gone)} deep, which leaves nothing of a "
            f"length of {order.spell(min(lengths.values()))} above them; give less depth, or "
            'sewn = "over"'
        )
    lengths = {place: length - gone for place, length in lengths.items()}
    over = max((each.depth for each in lower.flounce if each.sewn == "over"), default=0)
    if over > min(lengths.values()):
        raise order.fault(
            f"flounce: one that lies over the panels is {order.spell(over)} deep, and they are "
            f"only {order.spell(min(lengths.values()))} long; give less depth"
        )
    if facing or gone:
        take_up = seam if lower.take_up is None else lower.take_up
    else:
        take_up = 0 if lower.hem == "none" else order.usual(lower.take_up, OWN_HEM)
    made = tucked(order, "tucks", lower.tucks, min(lengths.values()) - opening)
    return Below(Levels(lengths, top, take_up, made.takes), made, facing)


def _agree(order: Order, lower: Lower) -> None:
    """Refuse keys that contradict each other."""
    if lower.facing and lower.hem not in (None, "facing"):
        raise order.fault(f'hem is "{lower.hem}", but there is a facing too; take one out')
    if lower.hem == "none" and lower.take_up:
        raise order.fault('take_up is given, but hem is "none"; take one out')
    if shortened(lower.flounce):
        for key in ("hem", "facing", "take_up"):
            if getattr(lower, key) is not None:
                raise order.fault(
                    f"{key} is given, but a flounce is sewn to the panels' lower edge; take one "
                    'out, or give the flounce sewn = "over"'
                )


def lower_edge(lower: Lower) -> str:
    """What the lower edge of the panels is called."""
    return ON if shortened(lower.flounce) else "hem"


def lower_marks(lower: Lower, found: Below, tube: Tube) -> tuple[Mark, ...]:
    """The hem line, the creases of the tucks, and where flounces go on over the panels."""
    edge = found.levels.cut_length - found.levels.take_up

    def across(kind: MarkKind, name: str, up: int) -> Mark:
        return Mark(kind, name, edge - up, 0, edge - up, tube.width)

    ends = hem_mark(tube, found.levels)
    if shortened(lower.flounce):
        ends = (replace(mark, name=ON, kind=MarkKind.SEAM) for mark in ends)
    folds = (across(MarkKind.FOLD, "tuck", up) for up in found.tucked.folds())
    over = (
        across(MarkKind.SEAM, "flounce goes on", found.tucked.flat(flounce.depth))
        for flounce in lower.flounce
        if flounce.sewn == "over"
    )
    return (*ends, *folds, *over)


def finishes(lower: Lower, found: Below) -> tuple[Finish, ...]:
    """Every way in which facing and binding may be cut, the first named first."""
    facings = found.facing.cut if found.facing else ("",)
    bindings = lower.binding.each() if lower.binding else (None,)
    return tuple(
        Finish(
            facing,
            binding,
            (
                *_told(facings, facing),
                *((binding.words("binding"),) if binding and len(bindings) > 1 else ()),
            ),
        )
        for facing in facings
        for binding in bindings
    )


def _told(cuts: tuple[str, ...], cut: str) -> tuple[str, ...]:
    """The words for one of several ways to face; none where there is but one."""
    if len(cuts) < 2:
        return ()
    return (f"facing of {WORDS[cut]}" if cut in WORDS else f"{cut} facing",)


def finished(
    order: Order,
    lower: Lower,
    found: Below,
    tube: Tube,
    finish: Finish,
    panels: Sequence[Piece],
) -> Made:
    """All that finishes the lower edge of a tube of `panels`, and how it is sewn.

    Raises `BadInput` naming file and key.
    """
    made, around = Made(), Round(tube.round, tube.widest.round)
    rim = Rim(tuple(piece.name for piece in panels), lower_edge(lower))
    if found.facing:
        made += _faced(order, found.facing, tube, finish.facing, found.levels.cut_length)
        sizes = order.usual(found.facing.depth, DEPTH), inset(panels[0], "end", "hem line")
        made += faced(order, made.pieces, rim, sizes, order.usual(found.facing.top, TOP))
    elif rim.edge != ON:
        made += hemmed(order, rim, inset(panels[0], "end", "hem line"))
    flounces, edge, lowest = flounced(order, lower.flounce, around, tube.seam, rim)
    if gone := shortened(lower.flounce):
        made += Made(figures=(Item(WITH_FLOUNCES, found.levels.longest + gone),))
    seam = ON if gone else ""
    made += tucks_made(order, "the panels", found.tucked, rim.pieces, seam) + flounces
    if finish.binding:
        cut = finish.binding.only
        _one_width(order, tube, f"binding.cut is {cut!r}", cut)
        made += binding_made(order, finish.binding, edge.now, lowest, ring=True)
    return made


def _faced(order: Order, facing: HemFacing, tube: Tube, cut: str, longest: int) -> Made:
    """The facing of the tube's round hem, in one of the ways it may be cut."""
    if cut == STRAIGHT:
        if facing.across and facing.cut == (STRAIGHT,):
            raise order.fault(
                f'facing.across is for bias; write facing.cut = "{CUTS[1]}", or take it out'
            )
        piece = facing_piece(order, facing, tube, longest)
        joined = tuple(straight_joined(order, piece, tube.round))
        return Made((piece,), advice=facing_advice(order, facing, piece, tube), work=joined)
    _one_width(order, tube, f"facing.cut is {cut!r}", cut)
    if facing.strips == "free" or facing.most or facing.joins:
        raise order.fault(
            f"facing.cut is {cut!r}, and strips of free lengths are for a straight facing; take "
            "out strips, most and joins"
        )
    depth, top = order.usual(facing.depth, DEPTH), order.usual(facing.top, TOP)
    wanted = Bias(
        part="facing",
        name="bias facing",
        joined=tube.round,
        width=tube.seam + depth + top,
        seam=tube.seam,
        strips=facing.strips if isinstance(facing.strips, int) and cut == CUTS[0] else None,
        shortest=facing.shortest,
        across=facing.across,
        torn=facing.torn,
        lines=facing_lines(tube.seam, depth, top),
    )
    return bias(order, wanted, cut, facing.cloth)


def _one_width(order: Order, tube: Tube, fault: str, cut: str) -> None:
    """Refuse bias where the width is open: let out, it might ask for one strip more."""
    if tube.most and cut in CUTS:
        raise order.fault(
            f"{fault}, and how it is cut hangs on the panels' width, which is left open; "
            "give one width"
        )
