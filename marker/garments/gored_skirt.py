"""The gored skirt: panels narrower at the waist than at the hem, front, side and back or alike."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from pydantic import Field

from marker.garments.bias import Made
from marker.garments.curved_hem import SEAM, Finish, finishes, hemmed
from marker.garments.gore_shape import gore_outline
from marker.garments.gores import PLACES, Gore, Gores, Kind, Worn, half, kinds, length_at, seams
from marker.garments.lengths import finished_lengths
from marker.garments.order import Draft, Order, Usual
from marker.garments.registry import garment
from marker.garments.shape import SKIRT, Shape
from marker.garments.words import Size
from marker.garments.worn import Skirted, drafted, opened, opening_made, top_made, waist_of
from marker.piece import Edges, MarkKind
from marker.record import Item, TurnDown

HIPS = Usual("20 cm", "8 in")
"""How far below the waist the hips are greatest (common practice, no source)."""

SIDED = Edges(start="waist", end="hem", low="towards the front", high="towards the back")


@garment("gored skirt")
class GoredSkirt(Skirted):
    """The keys of a gored skirt; `gores` or the tables of its kinds of gores must be given."""

    gores: Gores = Field(default=Gores(), description="a table for all gores together")
    front: Gore | None = Field(default=None, description="a table for the front gores")
    side: Gore | None = Field(default=None, description="a table for the side gores")
    back: Gore | None = Field(default=None, description="a table for the back gores")
    turn_down: Size | None = Field(
        default=None, description='what is turned down at the waist, such as "3 cm"'
    )

    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """One draft for each way to finish the hem; raises `BadInput` naming file and key."""
        return tuple(_draft(self, order, finish) for finish in finishes(order, self))


def _draft(spec: GoredSkirt, order: Order, finish: Finish) -> Draft:
    seam = order.usual(spec.seam, SEAM)
    waist = waist_of(order)
    top = waist + spec.ease + spec.gores.gathers
    tables = {"front": spec.front, "side": spec.side, "back": spec.back}
    found = kinds(order, spec.gores, tables, top)
    lengths = finished_lengths(order, spec.shorter)
    shapes = [hemmed(shape, finish) for shape in _shapes(spec, order, half(found), lengths, seam)]
    rest = top_made(order, spec, waist, seam) + opening_made(order, spec, seam)
    rest += Made(
        figures=tuple(_figures(order, found, lengths)),
        advice=tuple(_advice(order, shapes, _hips(order, found, lengths))),
    )
    return drafted(
        order,
        spec,
        finish,
        "gores",
        shapes,
        rest,
        longest=max(lengths.values()),
        drawn=waist + spec.ease,
        opening=opened(order, spec, min(lengths.values())),
        turn_downs=_turned(spec, lengths),
    )


def _shapes(
    spec: GoredSkirt, order: Order, worn: list[Worn], lengths: dict[str, int], seam: int
) -> list[Shape]:
    """One shape for all gores that are the same; those of one kind that differ are numbered."""
    opening = _opening_notches(spec, order, worn, lengths)
    added = {"low": seam, "high": seam, "start": spec.turn_down or seam}
    lines = {"start": (MarkKind.FOLD, "fold of the turn-down")} if spec.turn_down else {}
    found: dict[object, Shape] = {}
    for index, gore in enumerate(worn):
        low, middle, high = _lengths(gore, lengths)
        key = (gore.kind, low, middle, high)
        copies = 1 if gore.middle else 2
        if key in found:
            known = found[key]
            marks = tuple(dict.fromkeys((*known.notches, *opening[index])))
            found[key] = replace(known, count=known.count + copies, notches=marks)
            continue
        top, hem = float(gore.kind.top), float(gore.kind.hem)
        even = low == high
        shape = Shape(
            gore.kind.name if gore.kind.name == "gore" else f"{gore.kind.name} gore",
            gore_outline(top, hem, low, middle, high),
            count=copies,
            mirrored=0 if even else 1,
            folds=even,
            added=added,
            edges=SKIRT if even else SIDED,
            lines=lines,
            notches=(
                ("start", top / 2, "middle"),
                ("end", hem / 2, "middle"),
                ("low", low / 2, "match"),
                ("high", high / 2, "match"),
            ),
        )
        found[key] = shape.notched(*opening[index])
    return list(_numbered(list(found.values())))


def _lengths(gore: Worn, lengths: dict[str, int]) -> tuple[float, float, float]:
    """From waist to hem along the seam towards the front, down the middle, and along the other."""
    begins, ends = (length_at(lengths, place) for place in (gore.begins, gore.ends))
    if not gore.middle:
        return begins, length_at(lengths, (gore.begins + gore.ends) / 2), ends
    return (ends, begins, ends) if gore.begins == PLACES["front"] else (begins, ends, begins)


def _numbered(shapes: list[Shape]) -> Iterator[Shape]:
    names = [shape.name for shape in shapes]
    for index, shape in enumerate(shapes):
        alike = names.count(shape.name) > 1
        number = f" {names[: index + 1].count(shape.name)}"
        yield replace(shape, name=shape.name + number) if alike else shape


def _opening_notches(
    spec: GoredSkirt, order: Order, worn: list[Worn], lengths: dict[str, int]
) -> dict[int, list[tuple[str, float, str]]]:
    """For each gore of the half the notches where the opening ends, in the seam nearest to it."""
    wanted = PLACES[spec.opening.at]
    place, *sides = min(seams(worn), key=lambda seam: abs(seam[0] - wanted))
    long = length_at(lengths, place)
    length = opened(order, spec, long)
    notches: dict[int, list[tuple[str, float, str]]] = {index: [] for index in range(len(worn))}
    for index, side in dict.fromkeys(sides):
        # The low side runs from the waist down, the high side up to it.
        at = length if side == "low" else long - length
        notches[index].append((side, at, "opening ends (in one seam)"))
    return notches


def _turned(spec: GoredSkirt, lengths: dict[str, int]) -> tuple[TurnDown, ...]:
    """The turn-down, which is as deep all round: the waist itself slopes where lengths differ."""
    if not spec.turn_down:
        return ()
    if len(set(lengths.values())) == 1:
        return (TurnDown("all round", lengths["front"], spec.turn_down),)
    return tuple(TurnDown(place, lengths[place], spec.turn_down) for place in PLACES)


def _figures(order: Order, found: list[Kind], lengths: dict[str, int]) -> Iterator[Item]:
    """What the gores measure sewn, and all of them at the hips."""
    for kind in found:
        name = kind.name if kind.name == "gore" else f"{kind.name} gore"
        yield Item(f"{name} at the waist", round(kind.top))
        yield Item(f"{name} at the hem", round(kind.hem))
    depth = HIPS.of(order.system)
    yield Item(f"round, {order.spell(depth)} below the waist", _hips(order, found, lengths))


def _hips(order: Order, found: list[Kind], lengths: dict[str, int]) -> int:
    """What all gores measure at the hips, rounded down: a gore widens evenly from top to hem."""
    part = Fraction(min(HIPS.of(order.system), min(lengths.values())), max(lengths.values()))
    return int(sum(kind.count * (kind.top + (kind.hem - kind.top) * part) for kind in found))


def _advice(order: Order, shapes: list[Shape], hips: int) -> Iterator[str]:
    wearer = order.wearer.measures.get("hip", 0)
    if hips < wearer:
        yield (
            f"The skirt measures {order.spell(hips)} round at the hips, less than the wearer's "
            f"{order.spell(wearer)}; give it a wider hem, or gathers at the waist."
        )
    if any(shape.name[-1].isdigit() for shape in shapes):
        yield (
            "Sew gores of one kind in the order of their numbers, from the front to the back, and "
            "each mirrored one on the other side."
        )
