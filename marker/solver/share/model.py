"""Several cloths at once as one constraint model: which gives what, and how strips are pieced.

Pieces may lie on any cloth that they name; a strip is so many segments, used or not, of free
lengths. The goals are taken up one after another: least to buy, least length off the bolts, fewest
segments, then even ones.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import gcd

from marker.cloth import Cloth
from marker.errors import CannotLay
from marker.geometry import Rect
from marker.lay import Mode
from marker.piece import Piece, Pieced
from marker.solver.arrangement import Arrangement, Choice, Copy, Var
from marker.solver.model import arrangement
from marker.solver.rules.model import Bound, renumbered
from marker.solver.rules.question import Way
from marker.solver.rules.read import matched_sets, ways_of
from marker.solver.separate import knots


@dataclass(frozen=True)
class Segment:
    """A segment of a strip: the cloth that gives it, and its length."""

    cloth: str
    length: int


@dataclass(frozen=True)
class Shares:
    """What each piece comes to: the cloth of each copy, or a strip's segments."""

    copies: Mapping[int, tuple[str, ...]]
    segments: Mapping[int, tuple[Segment, ...]]

    @property
    def joins(self) -> int:
        """Segments of all strips."""
        return sum(len(found) for found in self.segments.values())


@dataclass(frozen=True)
class Task:
    """Pieces to be shared out; `sizes` are the lengths that segments of each strip may have."""

    cloths: Mapping[str, Cloth]
    modes: Mapping[str, Mode]
    pieces: Sequence[Piece]
    sizes: Mapping[int, range]
    longest: Mapping[str, int]
    """The longest lay of each cloth that is worth a look."""

    def keys(self, piece: Piece) -> tuple[str, ...]:
        """The cloths that may give a piece."""
        return tuple(key for key in (piece.cloth, *piece.also) if key in self.cloths)


@dataclass
class _Strip:
    piece: int
    pieced: Pieced
    copies: list[int]
    used: list[Var]
    numbers: list[Var]
    """Which of the lengths allowed each segment has."""
    lengths: list[Var]
    real: list[Var]
    """The length of each segment, nought where it isn't used."""


@dataclass
class Share:
    """The model of a task, in steps of `unit`."""

    task: Task
    made: Arrangement = field(default_factory=arrangement)
    unit: int = 1
    owners: list[int] = field(default_factory=list)
    """The piece of each copy of the model."""
    strips: list[_Strip] = field(default_factory=list)
    used: dict[str, Var] = field(default_factory=dict)
    steps: dict[str, Var] = field(default_factory=dict)
    ways: dict[tuple[int, str], tuple[Way, ...]] = field(default_factory=dict)

    def build(self) -> None:
        """All variables and rules but the goals."""
        for number, piece in enumerate(self.task.pieces):
            for key in self.task.keys(piece):
                self.ways[number, key] = self._ways(piece, key)
        self.unit = self._common()
        for key, cloth in self.task.cloths.items():
            self._sheet(key, cloth)
        for number, piece in enumerate(self.task.pieces):
            if not self.task.keys(piece):
                continue  # it lies on a cloth that isn't asked about
            if piece.pieced is None:
                choices = [way for key in self.task.keys(piece)
                           for way in self._choices(number, key, None)]  # fmt: skip
                if not choices:
                    raise CannotLay(_nowhere(piece, self.task.keys(piece)), proved=True)
                for _ in range(piece.count):
                    self.made.copy(number, choices)
                    self.owners.append(number)
                self._together(number, piece)
            else:
                self._strip(number, piece, piece.pieced)
        self.made.apart()
        for index, key in enumerate(self.task.cloths):
            self._room(index, key)

    def _together(self, number: int, piece: Piece) -> None:
        """Mirrored pairs stay on one cloth: what is worn left and right must look alike.

        Where as drawn and turned over aren't equally many, all copies stay together.
        """
        if not piece.mirrored or len(self.task.keys(piece)) == 1:
            return
        lot = 2 if 2 * piece.mirrored == piece.count else piece.count
        copies = [
            copy for copy, owner in zip(self.made.copies, self.owners, strict=True)
            if owner == number
        ]  # fmt: skip
        for index in range(len(self.task.cloths)):
            lots = self.made.number([(0, piece.count // lot)])
            self.made.model.add(sum(copy.on(index) for copy in copies) == lot * lots)

    def _ways(self, piece: Piece, key: str) -> tuple[Way, ...]:
        """The ways of a piece on a cloth; of a strip those of its shortest segment."""
        cloth = self.task.cloths[key]
        if piece.pieced is not None:
            # As long as it is broad it would lie one way only, where longer segments lie two:
            # it is told a hair shorter, which rules no place out that the lengths themselves allow.
            short = piece.pieced.least - (piece.pieced.least == piece.breadth)
            piece = replace(piece, length=short, matches=())
        mates = [other for other in self.task.pieces if key in self.task.keys(other)]
        sets = matched_sets(cloth, [mate for mate in mates if mate.pieced is None])
        try:
            ways = ways_of(cloth, piece, sets)
        except CannotLay:
            return ()
        # How near a segment's end lies to a selvedge would hang on its length, which is free.
        ends = piece.pieced is not None and piece.selvedges
        return tuple(way for way in ways if not ends or way.turn % 180 == 0)

    def _common(self) -> int:
        """The step that divides every size and every least value, as in `Question.steps`."""
        sizes: list[int] = []
        for (number, key), ways in self.ways.items():
            cloth, strip = self.task.cloths[key], self.task.pieces[number].pieced
            for way in ways:
                sizes += [way.a, way.b] if strip is None else [self.task.pieces[number].breadth]
                sizes += [low - cloth.usable.y0 for low, _ in way.ys]
                for points, repeat in (
                    (way.along, cloth.repeat.along), (way.across, cloth.repeat.across),
                ):  # fmt: skip
                    sizes += [repeat, *(at for _, at in points)] if points else []
            if strip is not None:
                sizes += [self.task.sizes[number].start, self.task.sizes[number].step]
        for cloth in self.task.cloths.values():
            for flaw in cloth.flaws:
                sizes += [max(flaw.x1, 0), max(0, flaw.y1 - cloth.usable.y0)]
        return gcd(*sizes) or 1

    def _sheet(self, key: str, cloth: Cloth) -> None:
        unit, low, model = self.unit, cloth.usable.y0, self.made.model
        flaws = [
            (max(f.x0, 0) // unit, max(f.y0 - low, 0) // unit, f.x1 // unit,
             min(-(-(f.y1 - low) // unit), cloth.usable.across // unit))
            for f in cloth.flaws
            if f.x1 > 0 and f.y1 > low and f.y0 < cloth.usable.y1
        ]  # fmt: skip
        most = self.task.longest[key] // unit
        sheet = self.made.sheet(
            cloth.usable.across // unit,
            [(0, most)],
            (cloth.repeat.along // unit, cloth.repeat.across // unit),
            flaws,
        )
        used = self.used[key] = self.made.flag()
        model.add(sheet.length == 0).only_enforce_if(~used)
        if not cloth.length:
            # (squaring + length) / kept <= steps x step
            kept = 1 - Fraction(cloth.warp_shrinkage) / 100
            steps = self.made.number([(0, cloth.buy(self.task.longest[key]) // cloth.step)])
            need = kept.denominator * (cloth.squaring + unit * sheet.length)
            model.add(need <= kept.numerator * cloth.step * steps).only_enforce_if(used)
            self.steps[key] = steps

    def _choices(self, number: int, key: str, length: Var | None) -> list[Choice]:
        """The ways of a piece on a cloth; `length` is a segment's own, in steps."""
        cloth, unit = self.task.cloths[key], self.unit
        index = list(self.task.cloths).index(key)
        most, low = self.task.longest[key] // unit, cloth.usable.y0
        found = []
        for way in self.ways[number, key]:
            a, b = way.a // unit, way.b // unit
            if a > most:
                continue
            turned = way.turn % 180 == 90
            found.append(
                Choice(
                    a if length is None or turned else length,
                    b if length is None or not turned else length,
                    ((0, most - a),),
                    tuple(((one - low) // unit, (two - low) // unit) for one, two in way.ys),
                    tuple((name, at // unit) for name, at in way.along),
                    tuple((name, at // unit) for name, at in way.across),
                    tuple((name, way.half) for name in way.senses),
                    index,
                )
            )
        return found

    def _strip(self, number: int, piece: Piece, pieced: Pieced) -> None:
        """So many segments, the longer first: sum(lengths) - 2s(k - 1) >= total."""
        made, model, unit = self.made, self.made.model, self.unit
        strip = _Strip(number, pieced, [], [], [], [], [])
        sizes = self.task.sizes[number]
        first, step = sizes.start // unit, sizes.step // unit
        for at in range(pieced.most):
            which, used = made.number([(0, len(sizes) - 1)]), made.flag()
            length, real = first + step * which, made.number([(0, sizes[-1] // unit)])
            model.add(real == length).only_enforce_if(used)
            model.add(real == 0).only_enforce_if(~used)
            if at:
                model.add_implication(used, strip.used[-1])
                model.add(real <= strip.real[-1])
            choices = [way for key in self.task.keys(piece)
                       for way in self._choices(number, key, length)]  # fmt: skip
            strip.copies.append(len(made.copies))
            made.copy(-1 - len(made.copies), choices, used)
            self.owners.append(number)
            for each, variable in zip(
                (strip.used, strip.numbers, strip.lengths, strip.real),
                (used, which, length, real),
                strict=True,
            ):
                each.append(variable)
        joined = unit * sum(strip.real) - 2 * pieced.seam * (sum(strip.used) - 1)
        model.add(joined >= pieced.total)
        self.strips.append(strip)

    def _room(self, index: int, key: str) -> None:
        """What lies on a cloth uses it, and takes no more area than there is to its length."""
        sheet, model, areas = self.made.sheets[index], self.made.model, []
        for at, copy in enumerate(self.made.copies):
            piece = self.task.pieces[self.owners[at]]
            model.add(self.used[key] >= copy.on(index))
            if piece.pieced is None:
                areas.append(
                    (piece.length // self.unit) * (piece.breadth // self.unit) * copy.on(index)
                )
        for strip in self.strips:
            breadth = self.task.pieces[strip.piece].breadth // self.unit
            for at, length in zip(strip.copies, strip.lengths, strict=True):
                on = self.made.copies[at].on(index)
                here = self.made.number([(0, self.task.sizes[strip.piece][-1] // self.unit)])
                model.add(here >= length).only_enforce_if(self._flag(on))
                areas.append(breadth * here)
        model.add(sum(areas) <= sheet.width * sheet.length)

    def _flag(self, on: Var) -> Var:
        """A flag that is set where a sum of flags is."""
        flag = self.made.flag()
        self.made.model.add(flag >= on)
        return flag

    def bought(self) -> Var:
        """What is bought of all bolts."""
        return sum(self.task.cloths[key].step * steps for key, steps in self.steps.items())

    def off_bolts(self) -> Var:
        """What is used of all bolts, in steps of the model."""
        sheets = zip(self.task.cloths.values(), self.made.sheets, strict=True)
        return sum(sheet.length for cloth, sheet in sheets if not cloth.length)

    def segments(self) -> Var:
        """How many segments all strips take."""
        return sum(used for strip in self.strips for used in strip.used)

    def unevenness(self) -> Var:
        """How far the segments of a strip differ; of equal spreads, the least cloth in them."""
        model, total = self.made.model, []
        for strip in self.strips:
            longest = self.made.number([(0, self.task.sizes[strip.piece][-1] // self.unit)])
            shortest = self.made.number([(0, self.task.sizes[strip.piece][-1] // self.unit)])
            for used, length in zip(strip.used, strip.lengths, strict=True):
                model.add(longest >= length).only_enforce_if(used)
                model.add(shortest <= length).only_enforce_if(used)
            total.append(1000 * (longest - shortest) + sum(strip.real))
        return sum(total)

    def asked(self) -> list[Var]:
        """What tells an answer: where every copy lies, then the segments' lengths."""
        lengths = [length for strip in self.strips for length in strip.lengths]
        return [*self.made.asked(), *lengths]

    def hint(self, values: Sequence[int]) -> None:
        """Start from an answer."""
        copies = len(self.owners)
        triples = [(values[3 * at], values[3 * at + 1], values[3 * at + 2]) for at in range(copies)]
        self.made.hint(dict(enumerate(triples)))
        lengths = iter(values[3 * copies :])
        for strip in self.strips:
            sizes = self.task.sizes[strip.piece]
            for at, used, number in zip(strip.copies, strip.used, strip.numbers, strict=True):
                which = sizes.index(next(lengths) * self.unit)
                self.made.model.add_hint(number, which)
                self.made.model.add_hint(
                    used, int(triples[at][2] < len(self.made.copies[at].choices))
                )

    def shares(self, values: Sequence[int]) -> Shares:
        """The answer told by those values."""
        keys, told = list(self.task.cloths), values[2 : 3 * len(self.owners) : 3]
        copies: dict[int, list[str]] = {}
        for owner, way, copy in zip(self.owners, told, self.made.copies, strict=True):
            if self.task.pieces[owner].pieced is None:
                copies.setdefault(owner, []).append(keys[copy.choices[way].sheet])
        lengths = list(values[3 * len(self.owners) :])
        segments: dict[int, tuple[Segment, ...]] = {}
        for strip in self.strips:
            found = []
            for at in strip.copies:
                length, copy = lengths.pop(0) * self.unit, self.made.copies[at]
                if told[at] < len(copy.choices):
                    found.append(Segment(keys[copy.choices[told[at]].sheet], length))
            segments[strip.piece] = tuple(found)
        return Shares({at: tuple(found) for at, found in copies.items()}, segments)

    def knotted(self, values: Sequence[int]) -> list[Bound]:
        """The knots on all sheets that are torn, by the numbers of the copies."""
        lengths = dict(
            zip((at for strip in self.strips for at in strip.copies),
                values[3 * len(self.owners) :], strict=False)
        )  # fmt: skip
        found = []
        for index, key in enumerate(self.task.cloths):
            if self.task.modes[key] is not Mode.TEAR:
                continue
            members, rects = [], []
            for at, copy in enumerate(self.made.copies):
                x, y, way = values[3 * at : 3 * at + 3]
                if way < len(copy.choices) and copy.choices[way].sheet == index:
                    a, b = _sizes(copy, way, lengths.get(at, 0))
                    members.append(at)
                    rects.append(Rect(x, y, x + a, y + b))
            for knot in knots(rects):
                found.append(renumbered(knot, dict(enumerate(members))))
        return found

    def forbid(self, bounds: Sequence[Bound]) -> None:
        """Let no knot that has turned up come again on any sheet that is torn."""
        torn = [at for at, key in enumerate(self.task.cloths)
                if self.task.modes[key] is Mode.TEAR]  # fmt: skip
        for bound in bounds:
            self.made.tearable(bound.members, bound.along, bound.across, torn)


def _sizes(copy: Copy, way: int, length: int) -> tuple[int, int]:
    choice = copy.choices[way]
    return (
        choice.a if isinstance(choice.a, int) else length,
        choice.b if isinstance(choice.b, int) else length,
    )


def _nowhere(piece: Piece, keys: Sequence[str]) -> str:
    names = ", ".join(repr(key) for key in keys)
    return (
        f"the {piece.name} finds no room on any cloth that may give it ({names}): each is too "
        "short or too narrow; name another cloth, or let it lie another way"
    )
