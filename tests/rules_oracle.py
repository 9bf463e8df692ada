"""The shortest lay by rules, by trying every place of every copy: slow, plain, and independent.

Good for four or five small pieces on cloth a few units wide. Nothing is shared with the
solver: places are walked one unit at a time, and whether a lay can be torn is decided by
trying every line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.cloth import Cloth
from marker.geometry import Rect
from marker.lay import Mode, Placement
from marker.piece import Piece, Side, Wise

State = tuple[tuple[str, str, int], ...]


def shortest(cloth: Cloth, pieces: Sequence[Piece], mode: Mode, most: int) -> int | None:
    """Least length of a lay that keeps every rule; None where none of up to `most` does."""
    copies = [piece for piece in pieces for _ in range(piece.count)]
    copies.sort(key=lambda piece: -piece.length * piece.breadth)
    area = sum(piece.length * piece.breadth for piece in copies)
    if not all(any(_lays(cloth, [piece], most, (), ())) for piece in pieces):
        return None
    return next(
        (
            length
            for length in range(-(-area // cloth.usable.across), most + 1)
            if any(
                mode is Mode.SHEARS or separable(rects)
                for rects in _lays(cloth, copies, length, (), ())
            )
        ),
        None,
    )


def separable(rects: Sequence[Rect]) -> bool:
    """Whether some line parts the rectangles, and then each side again, down to single ones."""
    if len(rects) < 2:
        return True
    for at in {end for rect in rects for end in (rect.x0, rect.x1)}:
        low = [rect for rect in rects if rect.x1 <= at]
        high = [rect for rect in rects if rect.x0 >= at]
        if low and high and len(low) + len(high) == len(rects):
            return separable(low) and separable(high)
    for at in {end for rect in rects for end in (rect.y0, rect.y1)}:
        low = [rect for rect in rects if rect.y1 <= at]
        high = [rect for rect in rects if rect.y0 >= at]
        if low and high and len(low) + len(high) == len(rects):
            return separable(low) and separable(high)
    return False


def _lays(
    cloth: Cloth,
    copies: Sequence[Piece],
    length: int,
    placed: tuple[Rect, ...],
    falls: State,
) -> Iterator[tuple[Rect, ...]]:
    if not copies:
        yield placed
        return
    piece, *rest = copies
    for spot in _places(cloth, piece, length):
        rect = spot.rect(piece)
        if any(rect.overlaps(other) for other in (*placed, *cloth.flaws)):
            continue
        now = (*falls, *_matched(cloth, piece, spot))
        if len({fall[:2] for fall in now}) == len(set(now)) and _at_selvedges(cloth, piece, spot):
            yield from _lays(cloth, rest, length, (*placed, rect), now)


def _places(cloth: Cloth, piece: Piece, length: int) -> Iterator[Placement]:
    turns = set(piece.turns(cloth.one_way))
    if not cloth.one_way:
        turns |= {turn + 180 for turn in turns}
    for turn in sorted(turns):
        size = Placement(piece.letter, 1, 0, 0, turn).rect(piece)
        for x in range(length - size.along + 1):
            for y in range(cloth.usable.y0, cloth.usable.y1 - size.across + 1):
                yield Placement(piece.letter, 1, x, y, turn)


def _matched(cloth: Cloth, piece: Piece, spot: Placement) -> State:
    """Where in the repeat each matched point falls, and which way round its print runs."""
    falls: list[tuple[str, str, int]] = []
    for match in piece.matches:
        x, y = spot.to_cloth(piece, match.u, match.v)
        lengthwise = match.wise is Wise.LENGTHWISE
        repeat = cloth.repeat.along if lengthwise else cloth.repeat.across
        if repeat:
            falls.append((match.name, match.wise, (x if lengthwise else y) % repeat))
            falls.append((match.name, "way round", spot.turn // 180))
    return tuple(falls)


def _at_selvedges(cloth: Cloth, piece: Piece, spot: Placement) -> bool:
    """Whether every wanted edge lies along the cloth and near one side of it."""
    corners = {
        Side.LOW: ((0, 0), (piece.length, 0)),
        Side.HIGH: ((0, piece.breadth), (piece.length, piece.breadth)),
        Side.START: ((0, 0), (0, piece.breadth)),
        Side.END: ((piece.length, 0), (piece.length, piece.breadth)),
    }
    for wish in piece.selvedges:
        sides = (Side.LOW, Side.HIGH) if wish.edge is Side.EITHER_SIDE else (wish.edge,)
        lines = [[spot.to_cloth(piece, u, v)[1] for u, v in corners[side]] for side in sides]
        away = [
            min(abs(one - cloth.usable.y0), abs(cloth.usable.y1 - one))
            for one, two in lines
            if one == two
        ]
        if not away or min(away) > wish.within:
            return False
    return True
