"""Pieces and remnants on the plan: their labels, inside or called out to the margin."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import zip_longest

from marker.lay import Lay, Placement
from marker.piece import Edges, Grain, Piece
from marker.plan.drawing import style
from marker.plan.drawing.labels import Room, find
from marker.plan.drawing.lettering import clean
from marker.plan.drawing.page import Box, Point, View
from marker.plan.drawing.slabs import Slab
from marker.plan.drawing.verbs import Drawing
from marker.plan.lays.blocks import Block, beside, choices, in_line, keys, short_name, stack
from marker.plan.lays.folded import on_fold, under
from marker.plan.lays.margins import Form, Tag
from marker.plan.lays.rings import clearest
from marker.plan.lays.shape import Shape, shape_of
from marker.plan.words.runs import left_over, measured
from marker.plan.words.sizes import cut_size
from marker.plan.words.wishes import edge_names
from marker.units import Units, in_brackets, set_fractions

LOOK_ON = 7
"""A block so many places down the list is about one size of type smaller."""


@dataclass(frozen=True)
class Naming:
    """What the whole record adds to the names on one cloth.

    `wearers`: whether pieces must say whose they are. `segments`: for a segment of a pieced
    strip, which it is of how many, wherever the others are cut.
    """

    wearers: bool = False
    segments: Mapping[str, tuple[int, int]] = field(default_factory=dict)


@dataclass(frozen=True)
class Laid:
    """One copy of a piece as it lies, with the words that name it."""

    spot: Placement
    piece: Piece
    box: Box
    name: str
    wearer: str
    sizes: tuple[str, ...]
    """Its cut size in every measure told."""
    number: int
    total: int
    """Which copy it is of how many, or which segment of its strip."""
    edges: Edges
    shape: Shape | None = None
    """The outline on the page of a piece that has one."""
    under: str = ""
    """On folded cloth, the copy that it lies under and is cut with."""
    folds: bool = False
    """Whether it lies across the fold of the cloth."""

    @property
    def tall(self) -> bool:
        """Whether it stands higher than it is broad."""
        return self.box.height > self.box.width

    @property
    def least(self) -> int:
        """How broad it is where most goes across it."""
        return 2 * self.shape.reach if self.shape else min(self.box.width, self.box.height)

    @property
    def heart(self) -> Point:
        """The place in it that stands for all of it."""
        if self.shape is None:
            return self.box.middle
        return self.box.x0 + self.shape.heart[0], self.box.y0 + self.shape.heart[1]

    @property
    def ring(self) -> tuple[Point, ...]:
        """The corners of its outline on the page; nothing for a rectangle."""
        if self.shape is None:
            return ()
        return tuple((x + self.box.x0, y + self.box.y0) for x, y in self.shape.ring)

    @property
    def how(self) -> str:
        """How it lies, where that is out of the way: on the bias, turned over, on the fold."""
        told = (
            (self.piece.grain is Grain.BIAS, "bias"),
            (self.spot.flip, "turned over"),
            (self.folds, "on the fold"),
        )
        return ", ".join(words for so, words in told if so)

    def seats(self, width: int, height: int, angle: int) -> Iterator[Slab]:
        """Slabs of a size that lie inside its outline, the best first."""
        if self.shape:
            for seat in self.shape.seats(width, height, angle):
                at = seat.at[0] + self.box.x0, seat.at[1] + self.box.y0
                yield Slab(at, width, height, angle)

    def holds(self, slab: Slab) -> bool:
        """Whether a slab lies inside its outline."""
        at = slab.at[0] - self.box.x0, slab.at[1] - self.box.y0
        return self.shape is not None and self.shape.holds(replace(slab, at=at))

    @property
    def size(self) -> str:
        """Its cut size in one line."""
        return in_brackets(*self.sizes)

    @property
    def lines(self) -> tuple[tuple[str, bool], ...]:
        """The lines of its full label."""
        return self._lines(self.size)

    @property
    def parted_lines(self) -> tuple[tuple[str, bool], ...]:
        """The same with every measure in a line of its own."""
        return self._lines(*self.sizes)

    def _lines(self, *sizes: str) -> tuple[tuple[str, bool], ...]:
        name = f"{self.name} {self.number} of {self.total}" if self.total > 1 else self.name
        if self.under:
            return ((name, False), (f"under {self.under}", True))
        middle = ((self.wearer, False),) if self.wearer else ()
        last = ((self.how, False),) if self.how else ()
        return ((name, False), *middle, *((size, True) for size in sizes), *last)


def size_words(along: int, across: int, units: Units) -> str:
    """A cut size, rounded up in print, with its unit."""
    return set_fractions(measured(units, "{} × {}", along, across))


def laid(lay: Lay, view: View, units: Units, naming: Naming) -> list[Laid]:
    """Every placement with its words, in the order of the lay."""
    found = []
    beneath = under(lay)
    for spot in lay.placements:
        piece = lay.piece(spot.letter)
        number, total = naming.segments.get(spot.id, (spot.copy, piece.count))
        found.append(
            Laid(
                spot,
                piece,
                view.box(spot.rect(piece)),
                short_name(clean(piece.name)),
                short_name(clean(piece.wearer)) if naming.wearers else "",
                tuple(size_words(*cut_size(piece), system) for system in units.systems),
                number,
                total,
                edge_names(lay.cloth, piece, spot),
                shape_of(spot.polygon(piece), view) if piece.outline else None,
                beneath.get(spot.id, ""),
                on_fold(lay, spot),
            )
        )
    return found


def put_full(drawing: Drawing, room: Room, one: Laid, start: int) -> tuple[int, Box | Slab] | None:
    """Label a piece in full inside its outline, with the best form from `start` on.

    Gives the number of the form and its box; None where none fits.
    """
    upright = one.tall and not one.shape
    blocks = choices(one.spot.letter, one.lines, upright)
    if len(one.sizes) > 1:
        parted = choices(one.spot.letter, one.parted_lines, upright)
        pairs = zip_longest(parted, blocks)
        blocks = [block for pair in pairs for block in pair if block is not None]
    found = put_inside(drawing, room, one, blocks[start:])
    return (found[0] + start, found[1]) if found else None


def put_key(drawing: Drawing, room: Room, one: Laid, *, bare: bool) -> bool:
    """Label a piece with what leads to the piece list; tells whether that fits.

    How it lies is left out only on a `bare` plan, where nothing is called out either.
    """
    copy = f"{one.number} of {one.total}" if one.total > 1 else one.name
    size = f"under {one.under}" if one.under else one.size
    blocks = keys(one.spot.letter, one.spot.id, copy, size, one.tall and not one.shape)
    last = len(style.BLOCKS) - 1
    if one.how and not one.under:
        # Whatever else is left out: a copy cut the wrong way over is cloth lost.
        whole = ((copy, False), (size, True), (one.how, False))
        brief = ((copy, False), (one.how, False))
        told = [make(one.spot.letter, lines, tier) for lines in (whole, brief)
                for tier in (2, last) for make in (stack, beside, in_line)]  # fmt: skip
        name, how = (one.spot.id, True), (one.how, False)
        told += [in_line("", (name, (size, False), how), last), in_line("", (name, how), last),
                 beside("", (name, how), last)]  # fmt: skip
        blocks = [*told, *(blocks if bare else ())]
    if one.under:
        name = one.spot.id, True
        told = [
            stack(one.spot.letter, ((size, True),), last),
            beside("", (name, (size, False)), last),
            in_line("", (name, (size, False)), last),
        ]
        blocks = [*blocks[:6], *told, *(blocks[6:] if bare else ())]
    return put_inside(drawing, room, one, blocks) is not None


def put_inside(
    drawing: Drawing, room: Room, one: Laid, blocks: list[Block]
) -> tuple[int, Box | Slab] | None:
    """Set the first block that fits in a piece; in a shaped one level, or along its length."""
    if one.shape is None:
        return put_block(drawing, room, one.box, blocks, "piece", one.spot.id)
    for number, block in enumerate(blocks):
        slab = find_slab(room, one, block)
        if slab is None:
            continue
        if room.covers(slab):
            fill = style.PAPER if one.under else style.TINT
            drawing.solid(slab.grown(style.GAP // 3).corners, fill)
        block.slanted(drawing, slab)
        drawing.label("piece", one.spot.id, slab)
        room.take(slab)
        return number, slab
    return None


def find_slab(room: Room, one: Laid, block: Block) -> Slab | None:
    """A free place for a block in a shaped piece; one that dodges marks first."""
    second = None
    for angle in one.shape.angles if one.shape else ():
        for slab in one.seats(block.width, block.height, angle):
            if room.open(slab):
                if not room.marked(slab):
                    return slab
                second = second or slab
    return second


def put_block(
    drawing: Drawing, room: Room, area: Box, blocks: list[Block], kind: str, owner: str
) -> tuple[int, Box] | None:
    """Set the first block that fits in a box, over a patch that hides marks under it.

    Gives the block's number in the list and its box.
    """
    found = _fitting(room, area.grown(-style.PAD), blocks)
    if found is None:
        return None
    number, box = found
    patch(drawing, room, box, style.TINT if kind == "piece" else style.PAPER)
    blocks[number].draw(drawing, box)
    drawing.label(kind, owner, box)
    room.take(box)
    return found


def _fitting(room: Room, inner: Box, blocks: list[Block]) -> tuple[int, Box] | None:
    """The first block that fits, or one a little smaller that needn't be set over a mark."""
    first: tuple[int, Box] | None = None
    for number, block in enumerate(blocks):
        if first and number > first[0] + LOOK_ON:
            break
        box = find(room, inner, *block.size)
        if box and room.dodges(box):
            return number, box
        if box and first is None:
            first = number, box
    return first


def patch(drawing: Drawing, room: Room, box: Box, fill: str) -> None:
    """Hide what a label would otherwise be set over: a mark on a piece, or hatching."""
    if fill == style.PAPER:
        drawing.field(box.grown(style.GAP), fill)
    elif room.covers(box):
        drawing.field(box.grown(style.GAP // 3), fill)


def chains(outside: list[Laid]) -> list[list[Laid]]:
    """Gather unlabelled pieces of one letter that lie in a row, so that one call-out names them."""
    found: list[list[Laid]] = []
    for one in sorted(outside, key=lambda o: (o.spot.letter, o.box.x0, -o.box.y1)):
        for chain in found:
            last = chain[-1]
            if last.spot.letter != one.spot.letter or last.how != one.how or one.under:
                continue
            if last.shape or one.shape:
                continue
            stacked = (last.box.x0, last.box.x1) == (one.box.x0, one.box.x1)
            abreast = (last.box.y0, last.box.y1) == (one.box.y0, one.box.y1)
            if (stacked and abs(last.box.y0 - one.box.y1) < 300) or (
                abreast and abs(one.box.x0 - last.box.x1) < 300
            ):
                chain.append(one)
                break
        else:
            found.append([one])
    return found


def copies_words(chain: list[Laid]) -> str:
    """Which copies a call-out stands for: "3 to 7 of 10"."""
    total = chain[0].total
    copies = sorted(one.number for one in chain)
    if total == 1:
        return ""
    if len(copies) == total:
        return f"all {total}"
    if len(copies) == 1:
        return f"{copies[0]} of {total}"
    if len(copies) > 2 and copies == list(range(copies[0], copies[-1] + 1)):
        return f"{copies[0]} to {copies[-1]} of {total}"
    if len(copies) <= 4:
        return f"{', '.join(map(str, copies[:-1]))} and {copies[-1]} of {total}"
    return f"{len(copies)} of {total}"


def call_out(room: Room, chain: list[Laid], edge: int, down: bool) -> Tag | None:
    """The tag in the margin that names a row of pieces too small for their label.

    None where a leader would have to run over a label.
    """
    head = chain[0]
    boxes = [one.box for one in chain]
    whole = Box(
        min(b.x0 for b in boxes), min(b.y0 for b in boxes),
        max(b.x1 for b in boxes), max(b.y1 for b in boxes),
    )  # fmt: skip
    if len(boxes) == 1:
        tail = _alone(room, head, edge, down)
    elif boxes[0].x0 == whole.x0 and boxes[0].x1 == whole.x1:
        tail = _stacked(room, boxes, edge, down)
    else:
        tail = _abreast(room, boxes, edge, down)
    if tail is None:
        return None
    each = "each " if len(chain) > 1 else ""
    copies = copies_words(chain)
    name = head.name + (", " if copies.startswith("all") else " ") + copies if copies else head.name
    how = "" if head.under else head.how
    size = f"under {head.under}" if head.under else each + head.size
    asides = [(aside, False) for aside in (head.wearer, how) if aside]
    block = beside(head.spot.letter, ((name, False), *asides, (size, True)), 2)
    least = stack(head.spot.letter, (), 2)
    # How a piece lies is never left out: a copy cut the wrong way over is cloth lost.
    told = (block,) if how or head.under else (block, least)
    forms = tuple(Form(*one.size, one.draw) for one in told)
    owner = " ".join(one.spot.id for one in chain)
    return Tag("call-out", owner, (tail,), False, forms)


def anchors(box: Box, y: int) -> list[Point]:
    """Places in a box, at one height, from which a leader may start; the middle first."""
    parts = sorted(range(2, 23), key=lambda part: (abs(part - 12), part))
    return [(box.x0 + box.width * part // 24, y) for part in parts]


def _alone(room: Room, one: Laid, edge: int, down: bool) -> tuple[Point, ...] | None:
    box = one.box
    if one.shape:
        inside = [slab.at for slab in one.seats(style.DOT_LEAST, style.DOT_LEAST, 0)] or [one.heart]
        return clearest(room, sorted(inside, key=lambda at: -at[1] if down else at[1]), edge)
    inset = min(150, box.height // 2)
    y = box.y1 - inset if down else box.y0 + inset
    return clearest(room, anchors(box, y), edge)


def _stacked(room: Room, boxes: list[Box], edge: int, down: bool) -> tuple[Point, ...] | None:
    far = min(boxes, key=lambda b: b.y0) if down else max(boxes, key=lambda b: b.y1)
    found = clearest(room, anchors(far, far.middle[1]), edge)
    if found is None:
        return None
    start, end = found
    others = sorted((b.middle[1] for b in boxes), reverse=not down)
    return (start, *((start[0], y) for y in others if y != start[1]), end)


def _abreast(room: Room, boxes: list[Box], edge: int, down: bool) -> tuple[Point, ...] | None:
    """A level line dotted on every piece, then one leader from one of the dots."""
    head = boxes[0]
    for part in (1, 2, 3, 4, 5):
        y = head.y1 - head.height * part // 10 if down else head.y0 + head.height * part // 10
        dots = [(box.middle[0], y) for box in boxes]
        if not room.clear(dots[0], dots[-1]):
            continue
        middle_out = sorted(dots, key=lambda dot: abs(dot[0] - (dots[0][0] + dots[-1][0]) // 2))
        found = clearest(room, middle_out, edge)
        if found:
            room.run(dots[0], dots[-1])
            return (*dots, *found)
    return None


def remnant_words(box_along: int, box_across: int, units: Units) -> str:
    """The size of a remnant, rounded down in print."""
    return set_fractions(left_over(units, "{} × {}", box_along, box_across))
