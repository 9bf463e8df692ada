"""Can the cloth be torn as listed? The tears are done over again, part by part."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from marker.geometry import Rect
from marker.lay import Direction, Lay, Tear
from marker.referee.bought import Shop
from marker.referee.laid import Laid
from marker.referee.regions import region_faults
from marker.referee.words import figure, place, plain, several, spell


class Table:
    """The cloth on the table: the parts in hand, and for each the pieces still within."""

    def __init__(self, lay: Lay, goods: Shop, pieces: Sequence[Laid]) -> None:
        self.parts: dict[Rect, list[Laid]] = {lay.bolt: list(pieces)}
        self.pieces, self.regions = pieces, frozenset(lay.regions)
        self.least, self.goods = lay.cloth.least_strip, goods

    def tear(self, tear: Tear) -> Iterator[str]:
        """Do one tear; the faults it shows. A tear that can't be done leaves all as it is."""
        name, hand = f"Tear {figure(tear.number)}", tear.in_hand
        across = tear.direction == Direction.ACROSS
        if hand not in self.parts:
            yield self._not_in_hand(name, tear)
            yield from (cut for piece in self.pieces if (cut := _cut(name, tear, piece)))
            return
        low, high = (hand.x0, hand.x1) if across else (hand.y0, hand.y1)
        if not low < tear.at < high:
            yield (
                f"{name} stands at {spell(tear.at)}, which isn't inside the part in hand, "
                f"{place(hand)}."
            )
            return
        yield from self._part(name, tear, across)

    def _part(self, name: str, tear: Tear, across: bool) -> Iterator[str]:
        hand, at = tear.in_hand, tear.at
        if across:
            falls, stays = Rect(hand.x0, hand.y0, at, hand.y1), Rect(at, hand.y0, hand.x1, hand.y1)
        else:
            falls, stays = Rect(hand.x0, hand.y0, hand.x1, at), Rect(hand.x0, at, hand.x1, hand.y1)
        yield from self._shears(name, tear, across, falls, stays)
        self.parts[falls], self.parts[stays] = [], []
        freed = []
        for piece in self.parts.pop(hand):
            if cut := _cut(name, tear, piece):
                yield cut
                continue
            side = falls if (piece.rect.x1 if across else piece.rect.y1) <= at else stays
            self.parts[side].append(piece)
            if piece.rect == side and side not in self.regions:
                freed.append(piece.id)
        if Counter(tear.frees) != Counter(freed):
            yield f"{name} is said to free {several(tear.frees)}, but it frees {several(freed)}."

    def _shears(
        self, name: str, tear: Tear, across: bool, falls: Rect, stays: Rect
    ) -> Iterator[str]:
        """Cut along a thread is what is too narrow to tear or may not be torn, and no more."""
        why = ""
        for part, side in ((falls, "comes off"), (stays, "stays")):
            breadth = part.x1 - part.x0 if across else part.y1 - part.y0
            if breadth < self.least and not self._bare(part):
                why = (
                    f"the strip of {spell(breadth)} that {side} is under the "
                    f"{spell(self.least)} that may be torn"
                )
        for piece in self.parts[tear.in_hand]:
            rect = piece.rect
            if not piece.piece.torn and tear.at in (
                (rect.x0, rect.x1) if across else (rect.y0, rect.y1)
            ):
                why = f"no edge of {plain(piece.id)} may be torn"
        if why and not tear.cut:
            yield f"{name} isn't marked to be cut with shears, but {why}."
        elif tear.cut and not why:
            yield f"{name} is marked to be cut with shears, but it may be torn."

    def _bare(self, part: Rect) -> bool:
        """Whether a part is but squaring or selvedge: it comes off, however narrow it is."""
        return part.x1 <= 0 or part.y1 <= self.goods.low or part.y0 >= self.goods.high

    def _not_in_hand(self, name: str, tear: Tear) -> str:
        for part in self.parts:
            if part.holds(tear.in_hand):
                return (
                    f"{name} doesn't run from edge to edge: it parts {place(tear.in_hand)}, "
                    f"but the part in hand is {place(part)}."
                )
        return f"{name} parts {place(tear.in_hand)}, which isn't in hand by then."


def _cut(name: str, tear: Tear, piece: Laid) -> str:
    """Say that a tear goes through a piece; an empty string where it doesn't."""
    hand, rect = tear.in_hand, piece.rect
    if tear.direction == Direction.ACROSS:
        through = rect.x0 < tear.at < rect.x1 and hand.y0 < rect.y1 and rect.y0 < hand.y1
    else:
        through = rect.y0 < tear.at < rect.y1 and hand.x0 < rect.x1 and rect.x0 < hand.x1
    return f"{name} at {spell(tear.at)} goes through {plain(piece.id)}." if through else ""


def tear_faults(lay: Lay, goods: Shop, pieces: Sequence[Laid]) -> Iterator[str]:
    """Everything wrong with the tears, their order, and what lies on the table in the end."""
    yield from _order_faults(lay)
    yield from _sum_faults(lay)
    table = Table(lay, goods, pieces)
    for tear in lay.tears:
        yield from table.tear(tear)
    yield from region_faults(lay, pieces, table.parts)
    yield from _left_faults(lay, pieces, table.parts)


def _order_faults(lay: Lay) -> Iterator[str]:
    for at, tear in enumerate(lay.tears, 1):
        if tear.number != at:
            yield f"The tear in place {at} has the number {figure(tear.number)}."
    first = lay.tears[0] if lay.tears else None
    # A lay that fills the bolt from end to end has nothing to tear across before it is parted
    # along; any other must first come off the bolt.
    overhangs = lay.bolt.x0 < 0 or lay.bolt.x1 > lay.length
    if first and first.direction != Direction.ACROSS and overhangs:
        yield "The first tear runs along the cloth; the first must run across it."
    squared = (
        first
        and first.in_hand == lay.bolt
        and first.direction == Direction.ACROSS
        and first.at == 0
    )
    if lay.cloth.squaring > 0 and not squared:
        strip = spell(lay.cloth.squaring)
        yield f"No first tear at 0 mm squares the cloth, though {strip} is to come off."


def _sum_faults(lay: Lay) -> Iterator[str]:
    """The distances torn off right across the bolt, and what stays, make up its length."""
    bolt = lay.bolt
    through = [
        tear
        for tear in lay.tears
        if tear.direction == Direction.ACROSS
        and (tear.in_hand.y0, tear.in_hand.y1, tear.in_hand.x1) == (bolt.y0, bolt.y1, bolt.x1)
    ]
    if through:
        total = sum(tear.at - tear.in_hand.x0 for tear in through) + bolt.x1 - through[-1].at
        if total != bolt.x1 - bolt.x0:
            yield (
                f"The lengths torn across the bolt add up to {spell(total)}, "
                f"but the bolt is {spell(bolt.x1 - bolt.x0)} long."
            )


def _left_faults(lay: Lay, pieces: Sequence[Laid], parts: dict[Rect, list[Laid]]) -> Iterator[str]:
    """Straight pieces that no tear frees, and parts that are neither piece, region nor offcut."""
    regions = set(lay.regions)
    within = {id(spot) for region in regions for spot in parts.get(region, ())}
    torn = [piece for piece in pieces if piece.polygon is None and id(piece) not in within]
    covered = {piece.rect for piece in torn}
    for piece in torn:
        if piece.rect not in parts or piece.rect in regions:
            yield f"{plain(piece.id)} is never torn free; it lies at {place(piece.rect)}."
    listed = {offcut.rect: at for at, offcut in reversed(list(enumerate(lay.offcuts, 1)))}
    for part in parts:
        if part not in covered and part not in listed and part not in regions:
            yield f"What is left at {place(part)} isn't listed as an offcut."
    ends = [region for region in regions if region in parts]
    for at, offcut in enumerate(lay.offcuts, 1):
        rect = offcut.rect
        if listed[rect] != at:
            yield f"offcut-{at} is listed before, as offcut-{listed[rect]}."
        elif any(region.holds(rect) for region in ends):
            if rect.x0 >= rect.x1 or rect.y0 >= rect.y1:
                yield f"offcut-{at} lies at {place(rect)}, which holds no cloth."
        elif rect in covered or rect not in parts:
            yield f"offcut-{at}, {place(rect)}, isn't what the tears leave over."
