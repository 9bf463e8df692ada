"""Random lays of outlines, put down in columns by plain arithmetic, without any solver."""

from __future__ import annotations

import random
from collections import Counter
from contextlib import suppress
from dataclasses import replace
from functools import cache

from lays import ACROSS, ALONG, Bench
from outlines import blob

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.geometry import Outline, Rect
from marker.lay import Lay, Mode, Placement, Proof
from marker.piece import TURNS, Grain, Piece
from marker.units import CM

KEPT = 10 * CM
SHAPES = 40
Put = tuple[str, int, bool, Rect]
"""A copy to be put down: letter, turn, whether turned over, and its box."""


@cache
def shapes() -> tuple[Outline, ...]:
    """Random outlines that can be laid, also on the bias; the same ones for every lay."""
    found: list[Outline] = []
    seed = 0
    while len(found) < SHAPES:
        seed += 1
        outline = blob(seed, (3_000.0, 15_000.0)[seed % 2])
        if outline is not None:
            with suppress(BadInput):
                outline.flatten()
                outline.turned(45).flatten()
                found.append(outline)
    return tuple(found)


@cache
def _piece_of(outline: Outline) -> Piece:
    return Piece.shaped("P", "part", outline, 1, "main")


def sheared(seed: int) -> Lay:
    """A random lay of outlines and rectangles, all cut with shears."""
    return _Table(random.Random(seed)).lay(Mode.SHEARS)


def parted(seed: int) -> Lay:
    """A random lay of columns torn off: some hold one straight piece, some are regions."""
    return _Table(random.Random(seed)).lay(Mode.TEAR)


def doubled(seed: int) -> Lay:
    """A random lay on folded cloth: pairs, pieces that fold, and copies without an image."""
    return _Table(random.Random(seed)).folded()


class _Table:
    """A cloth with pieces chosen for it, and columns of them put down one after another."""

    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        self.half = dice.choice((0, 180))
        edge = dice.choice((0, 0, 400))
        self.cloth = Cloth(
            "main", "cloth", width=dice.randint(60_000, 100_000), step=dice.choice((1, 1600)),
            selvedge=edge, squaring=dice.choice((0, 0, 800)), one_way=dice.random() < 0.3,
            margin=dice.choice((0, 0, 160)),
        )  # fmt: skip
        self.bench = Bench([self._piece(f"P{at}") for at in range(dice.randint(1, 4))])

    def _piece(self, letter: str) -> Piece:
        dice = self.dice
        count = dice.randint(1, 3)
        grain = dice.choice(list(Grain))
        up = dice.choice(("length", "breadth"))
        if letter != "P0" and grain is not Grain.BIAS and dice.random() < 0.4:
            sides = dice.randint(2_000, 30_000), dice.randint(2_000, 30_000)
            return Piece(letter, "part", *sides, count, "main", grain, up)
        outline = dice.choice(shapes())
        base = _piece_of(outline)
        return replace(
            base, letter=letter, count=count, grain=grain, up=up, mirrored=dice.randint(0, count)
        )

    def _turn(self, piece: Piece) -> int:
        """A turn that the grain allows a copy that isn't turned over."""
        turns = TURNS[piece.grain]
        if self.cloth.one_way:
            across = piece.grain is Grain.EITHER and piece.up == "breadth"
            return (90 if across else turns[0]) + self.half
        return self.dice.choice(turns)

    def _copies(self) -> list[Put]:
        found = []
        for piece in self.bench.pieces:
            for copy in range(piece.count):
                flip = copy < piece.mirrored
                turn = self._turn(piece)
                turn = -turn % 360 if flip else turn
                found.append((piece.letter, turn, flip, _box(piece, turn, flip)))
        self.dice.shuffle(found)
        return found

    def lay(self, mode: Mode) -> Lay:
        low, high = self.cloth.usable.y0, self.cloth.usable.y1
        straight = {piece.letter for piece in self.bench.pieces if piece.outline is None}
        copies = self._copies()
        alone: list[Put] = []
        if mode is Mode.TEAR:
            alone = [put for put in copies if put[0] in straight and self.dice.random() < 0.6]
        left = Counter(alone)
        stacked = []
        for put in copies:
            left[put] -= 1
            if left[put] < 0:
                stacked.append(put)
        columns = [[put] for put in alone] + self._stacked(stacked, high - low)
        self.dice.shuffle(columns)
        x, spans = 0, []
        for column in columns:
            gap = 0 if not spans or mode is Mode.TEAR else self._gap()
            start = x + gap
            x = start + max(put[3].x1 for put in column)
            spans.append((start, x, column))
        if mode is Mode.TEAR:
            return self._torn(spans, x)
        for start, _, column in spans:
            top = self._heap(column, start)
            if high - top > 0 and self.dice.random() < 0.5:
                self._leave(Rect(start, top, _end(column, start), high))
        bolt = self._bolt(x)
        if bolt.x1 > x:
            self._leave(Rect(x, 0, bolt.x1, bolt.y1))
        return self._finish(x, bolt, len(self.bench.placements))

    def _gap(self) -> int:
        return self.cloth.margin + self.dice.choice((0, 0, 1, 500))

    def _stacked(self, copies: list[Put], room: int) -> list[list[Put]]:
        """Copies in columns, each no higher than the room with the widest gaps."""
        columns: list[list[Put]] = []
        left = -1
        for put in copies:
            takes = put[3].y1 + self.cloth.margin + 500
            if takes > left:
                columns.append([])
                left = room
            columns[-1].append(put)
            left -= takes
        return columns

    def _put(self, put: Put, x: int, y: int) -> str:
        name = self.bench.put(put[0], x, y, put[1])
        self.bench.placements[-1] = replace(self.bench.placements[-1], flip=put[2])
        return name

    def _torn(self, spans: list[tuple[int, int, list[Put]]], length: int) -> Lay:
        bench, bolt = self.bench, self._bolt(length)
        low, high = self.cloth.usable.y0, self.cloth.usable.y1
        straight = {piece.letter for piece in bench.pieces if piece.outline is None}
        rest, regions, cut = bolt, [], 0
        if bolt.x0 < 0:
            square, rest = bench.tear(rest, ACROSS, 0)
            self._leave(square)
        for start, end, column in spans:
            drop = rest
            if end < bolt.x1:
                drop, rest = bench.tear(rest, ACROSS, end)
            if low:
                near, drop = bench.tear(drop, ALONG, low)
                drop, far = bench.tear(drop, ALONG, high)
                self._leave(near, far)
            if len(column) == 1 and column[0][0] in straight:
                self._freed(column[0], start, drop)
                continue
            regions.append(drop)
            cut += len(column)
            top = self._heap(column, start)
            if top < high and self.dice.random() < 0.5:
                self._leave(Rect(start, top, end, high))
        if bolt.x1 > length:
            self._leave(rest)
        lay = self._finish(length, bolt, None)
        goals = (*lay.goals[:3], replace(lay.goals[3], value=len(lay.tears) + cut))
        return replace(lay, regions=tuple(regions), goals=goals)

    def _heap(self, column: list[Put], x: int) -> int:
        """Put a column down from the near selvedge on; the height at which the next could lie."""
        y = self.cloth.usable.y0
        for put in column:
            self._put(put, x, y)
            y += put[3].y1 + self._gap()
        return y

    def _freed(self, put: Put, x: int, drop: Rect) -> None:
        """Tear a straight piece off the drop, which is as long as it."""
        name = self._put(put, x, drop.y0)
        if drop.y0 + put[3].y1 < drop.y1:
            _, over = self.bench.tear(drop, ALONG, drop.y0 + put[3].y1, name)
            self._leave(over)
        else:
            last = self.bench.tears[-1]
            self.bench.tears[-1] = replace(last, frees=(*last.frees, name))

    def folded(self) -> Lay:
        """Pairs in two layers, a moon on the fold, and copies that are alone."""
        dice, bench = self.dice, self.bench
        self.cloth = replace(self.cloth, folded=True, width=self.cloth.width // 2 * 2)
        pieces, x = [], 0
        width, low = self.cloth.width, self.cloth.usable.y0
        for piece in bench.pieces:
            pairs, free = dice.randint(1, 2), dice.choice((0, 1))
            mirrored = pairs if piece.outline else 0
            piece = replace(piece, count=2 * pairs + free, mirrored=mirrored)
            pieces.append(piece)
            for at in range(pairs + free):
                turn = self._turn(piece)
                box = _box(piece, turn, False)
                # The margin is kept from the other layer too, half of it on this side.
                most = width // 2 - box.y1 - (self.cloth.margin + 1) // 2
                y = dice.choice((low, min(low + 7, most), most))
                self._put((piece.letter, turn, False, box), x, y)
                if at < pairs:
                    over = bool(piece.outline)
                    back = -turn % 360 if over else turn
                    self._put((piece.letter, back, over, box), x, width - y - box.y1)
                x += box.x1 + self._gap()
        bench.pieces[:] = pieces
        length = x = max(spot.rect(self._of(spot)).x1 for spot in bench.placements)
        if dice.random() < 0.6:
            kite = Piece("K", "belt", 4_000, 2 * dice.randint(300, 3_000), 1, "main", folds=True)
            bench.pieces.append(kite)
            x += self._gap()
            self._put(("K", self.half, False, Rect(0, 0, 0, 0)), x, (width - kite.breadth) // 2)
            length = x + kite.length
        bolt = self._bolt(length)
        return self._finish(length, bolt, len(bench.placements))

    def _of(self, spot: Placement) -> Piece:
        return next(piece for piece in self.bench.pieces if piece.letter == spot.letter)

    def _bolt(self, length: int) -> Rect:
        return Rect(
            -self.cloth.squaring, 0, self._bought(length) - self.cloth.squaring, self.cloth.width
        )

    def _bought(self, length: int) -> int:
        step = self.cloth.step
        return -(-(self.cloth.squaring + length) // step) * step

    def _worth(self, rect: Rect) -> int:
        """Area of what of an offcut is kept."""
        usable = self.cloth.usable
        broad = min(rect.y1, usable.y1) - max(rect.y0, usable.y0)
        along = rect.x1 - max(rect.x0, 0)
        return along * broad if along >= KEPT and broad >= KEPT else 0

    def _leave(self, *rects: Rect) -> None:
        for rect in rects:
            self.bench.leave(rect, keep=self._worth(rect) > 0)

    def _finish(self, length: int, bolt: Rect, cuts: int | None) -> Lay:
        bound = self.dice.randint(1, length)
        bought, least = self._bought(length), self._bought(bound)
        proof = Proof.LENGTH if bound == length else Proof.OPEN
        if proof is Proof.OPEN and bought == least:
            proof = Proof.STEP
        left = max((self._worth(cut.rect) for cut in self.bench.offcuts), default=0)
        return self.bench.lay(
            self.cloth, length, bolt, bound, proof, (bought, least), left, cuts
        )  # fmt: skip


def _end(column: list[Put], start: int) -> int:
    return start + max(put[3].x1 for put in column)


def _box(piece: Piece, turn: int, flip: bool) -> Rect:
    return Placement(piece.letter, 1, 0, 0, turn, flip).rect(piece)
