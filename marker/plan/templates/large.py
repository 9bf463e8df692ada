"""The large sheet for a copy shop: all templates on one A0, or on a roll 914 mm (36 in) wide.

Templates stand on shelves, the deepest first. What is broader than the roll whichever way it
is turned comes in strips that overlap.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from marker.plan.drawing import style
from marker.plan.drawing.page import Box, Point
from marker.plan.templates.joins import View
from marker.plan.templates.shapes import Template
from marker.plan.templates.tiling import PAD, Seen, Tile, Tiling, fewest, tile

A0 = 84100, 118900
"""ISO 216, in 1/100 mm."""
ROLL = 91400
"""Paper on rolls is 914 mm wide (36 in, 914.4 mm, a little less than is told; common practice)."""
LONGEST = 480000
"""A page of a PDF may measure 200 in, 5.08 m (ISO 32000-1, annex C, from memory)."""
MOST_SHEETS = 40
"""A template that takes more strips of a roll is nothing that anybody could use."""
BAND = 7000
"""The foot of the sheet, with its title, how to print it, and the test squares."""
APART = 900
"""Between two templates."""
ROUND = 1000
"""A roll sheet is as long as its templates ask, up to the next centimetre."""


class Kind(StrEnum):
    """What the large sheet is printed on."""

    A0 = "a0"
    ROLL = "roll"


@dataclass(frozen=True)
class Large:
    """A large sheet: its size in 1/100 mm, and the templates' parts on it."""

    kind: Kind
    size: Point
    views: tuple[View, ...]


@dataclass(frozen=True)
class Part:
    """A template's part before it has a place."""

    tiling: Tiling
    tile: Tile

    @property
    def size(self) -> Point:
        """Width and height of the part."""
        return self.tile.window.width, self.tile.window.height


def large_sheets(templates: Sequence[Template], lap: int) -> tuple[Large, ...]:
    """All templates on A0 if one sheet holds them, else on as little of a roll as shelves take.

    More than one sheet only where a page of a PDF can't be so long. Leave out beforehand what
    `is_huge`.
    """
    for size in (A0, A0[::-1]):
        room = _room(size)
        found = [
            _views(shelves)
            for parts in _choices(templates, room, lap, whole=True)
            if _tall(shelves := _shelves(parts, room[0])) <= room[1]
        ]
        if found:
            return (Large(Kind.A0, size, found[0]),)
    room = _room((ROLL, LONGEST))
    ways = [_shelves(parts, room[0]) for parts in _choices(templates, room, lap, whole=False)]
    return tuple(_rolls(min(ways, key=_tall), room[1]))


def is_huge(template: Template, lap: int) -> bool:
    """Whether a template is too large for any paper."""
    return fewest(template, _room((ROLL, LONGEST)), lap) > MOST_SHEETS


def _room(size: Point) -> Point:
    """What of a sheet templates may take."""
    return size[0] - 2 * style.MARGIN, size[1] - 2 * style.MARGIN - BAND - APART


def _choices(
    templates: Sequence[Template], room: Point, lap: int, *, whole: bool
) -> Iterator[list[Part]]:
    """Ways to turn the templates: all as flat as they can lie, or all as upright.

    None where one has to come `whole` and doesn't fit.
    """
    for upright in (False, True):
        parts: list[Part] = []
        for template in templates:
            seens = [seen for seen in (Seen(template), Seen(template, True)) if _fits(seen, room)]
            if not seens and whole:
                return
            if seens:
                seen = min(seens, key=lambda seen: seen.size[upright ^ 1])
                box = Box(0, 0, *seen.size).grown(PAD)
                one = Tile(0, 0, box, 1)
                parts.append(Part(Tiling(seen, (one,), lap), one))
            else:
                parts += _strips(template, room, lap)
        yield parts


def _fits(seen: Seen, room: Point) -> bool:
    return all(long + 2 * PAD <= most for long, most in zip(seen.size, room, strict=True))


def _strips(template: Template, room: Point, lap: int) -> Iterator[Part]:
    """A template in strips as broad as the roll, each no longer than it needs to be."""
    tiling = tile(template, room, lap)
    whole = Box(0, 0, *tiling.seen.size).grown(PAD)
    cut = tuple(replace(one, window=_common(one.window, whole)) for one in tiling.tiles)
    tiling = replace(tiling, tiles=cut)
    return (Part(tiling, one) for one in cut)


def _common(a: Box, b: Box) -> Box:
    return Box(max(a.x0, b.x0), max(a.y0, b.y0), min(a.x1, b.x1), min(a.y1, b.y1))


Shelf = list[tuple[Part, int]]
"""Parts side by side, each with where its left edge stands."""


def _shelves(parts: Sequence[Part], room: int) -> list[Shelf]:
    shelves: list[Shelf] = []
    for part in sorted(parts, key=lambda part: -part.size[1]):
        for shelf in shelves:
            last, x = shelf[-1]
            left = x + last.size[0] + APART
            if left + part.size[0] <= room:
                shelf.append((part, left))
                break
        else:
            shelves.append([(part, 0)])
    return shelves


def _deep(shelf: Shelf) -> int:
    return max(part.size[1] for part, _ in shelf)


def _tall(shelves: Sequence[Shelf]) -> int:
    return sum(_deep(shelf) for shelf in shelves) + APART * (len(shelves) - 1)


def _views(shelves: Sequence[Shelf]) -> tuple[View, ...]:
    found, y = [], style.MARGIN
    for shelf in shelves:
        found += [View(part.tiling, part.tile, (style.MARGIN + x, y), "part") for part, x in shelf]
        y += _deep(shelf) + APART
    return tuple(found)


def _rolls(shelves: Sequence[Shelf], room: int) -> Iterator[Large]:
    """Roll sheets, a new one where the next shelf would make a page too long."""
    some: list[Shelf] = []
    for shelf in shelves:
        if some and _tall([*some, shelf]) > room:
            yield _roll(some)
            some = []
        some.append(shelf)
    yield _roll(some)


def _roll(shelves: Sequence[Shelf]) -> Large:
    long = 2 * style.MARGIN + _tall(shelves) + APART + BAND
    return Large(Kind.ROLL, (ROLL, -(-long // ROUND) * ROUND), _views(shelves))
