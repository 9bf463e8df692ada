"""Rectangles on strips of cloth as variables and rules of a constraint model.

The solver that takes the model in is handed over (see `model.py`), so that nothing here
needs to import it. It is told the same thing in three ways, since each prunes where the others
are blind: no two rectangles overlap, no row or column across a strip is overfull, and of
any two pieces one lies before, behind, below or above the other. The last is what proves:
without it cases of 15 pieces of mixed measure were left open after 10 s that are closed in 2 s.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import Any

MOST_PAIRS = 1500
"""So many pairs of pieces are told apart one by one; more would drown the search."""
FAR = 1 << 32
"""Longer than any cloth, in whatever unit."""
Var = Any
"""A variable or an expression in them; also a plain number where that is fixed."""
Span = tuple[int, int]
"""Allowed values from the first to the last."""
Box = tuple[int, int, int, int]
"""x0, y0, x1, y1."""


@dataclass(frozen=True)
class Choice:
    """One way in which a copy may lie: on which sheet, its sizes, and where it may start."""

    a: Var
    b: Var
    xs: tuple[Span, ...]
    ys: tuple[Span, ...]
    along: tuple[tuple[int, int], ...] = ()
    """(set, offset): x + offset falls in the place of the repeat that the set shares."""
    across: tuple[tuple[int, int], ...] = ()
    """The same for y."""
    senses: tuple[tuple[int, int], ...] = ()
    """(name, 0 or 1): which way round it lies, which all that share the name do alike."""
    sheet: int = 0


@dataclass
class Copy:
    """The variables of one copy. `takes` are flags, one a choice; `kind` tells equals."""

    kind: int
    choices: tuple[Choice, ...]
    takes: tuple[Var, ...]
    x: Var
    y: Var
    a: Var
    b: Var
    kept: bool = False
    """Pieces laid already, that move as one: flaws are kept off by its `xs` alone."""

    def on(self, sheet: int) -> Var:
        """Whether it lies on a sheet: a flag, or a plain truth where nothing is open."""
        takes = [take for take, way in zip(self.takes, self.choices, strict=True)
                 if way.sheet == sheet]  # fmt: skip
        return takes[0] if len(takes) == 1 else sum(takes)


@dataclass(frozen=True)
class Sheet:
    """A strip of cloth: its breadth, the variable of its length, repeats and flaws."""

    width: int
    length: Var
    most: int
    repeats: Span = (0, 0)
    """Along and across; nought where there is none."""
    flaws: tuple[Box, ...] = ()


@dataclass
class Apart:
    """Flags of a pair of copies: the first lies before, behind, below or above the second."""

    before: Var
    after: Var
    below: Var
    above: Var


@dataclass
class Arrangement:
    """Copies on sheets, in small whole numbers; one method a rule."""

    model: Any
    domain: Callable[[list[list[int]]], Any]
    sheets: list[Sheet] = field(default_factory=list)
    copies: list[Copy] = field(default_factory=list)
    pairs: dict[tuple[int, int], Apart] = field(default_factory=dict)
    phases: dict[tuple[int, int, int], Var] = field(default_factory=dict)

    def number(self, spans: Iterable[Span]) -> Var:
        """A whole number within these spans."""
        domain = self.domain([list(span) for span in spans])
        return self.model.new_int_var_from_domain(domain, "")

    def flag(self) -> Var:
        """Yes or no."""
        return self.model.new_bool_var("")

    def sheet(
        self,
        width: int,
        lengths: Sequence[Span],
        repeats: Span = (0, 0),
        flaws: Sequence[Box] = (),
    ) -> Sheet:
        """A strip whose length lies in these spans."""
        made = Sheet(width, self.number(lengths), lengths[-1][1], repeats, tuple(flaws))
        self.sheets.append(made)
        return made

    def copy(
        self, kind: int, choices: Sequence[Choice], used: Var = 1, *, kept: bool = False
    ) -> Copy:
        """A copy that lies in just one of its ways, or in none where `used` is no."""
        model, free = self.model, len(choices) > 1 or not isinstance(used, int)
        takes = tuple(self.flag() if free else 1 for _ in choices)
        if free:
            model.add(sum(takes) == used)
        x = self.number(_union(way.xs for way in choices))
        y = self.number(_union(way.ys for way in choices))
        made = Copy(kind, tuple(choices), takes, x, y,
                    self._size([way.a for way in choices], takes),
                    self._size([way.b for way in choices], takes), kept)  # fmt: skip
        for way, take in zip(choices, takes, strict=True):
            self._lie(made, way, take, len(choices) > 1)
        if self.copies and self.copies[-1].kind == kind and isinstance(used, int):
            self._in_order(self.copies[-1], made)
        self.copies.append(made)
        return made

    def _size(self, sizes: Sequence[Var], takes: Sequence[Var]) -> Var:
        if len(sizes) == 1:
            return sizes[0]
        if all(isinstance(size, int) for size in sizes):
            least = min(sizes)
            return least + sum((s - least) * take for s, take in zip(sizes, takes, strict=True))
        size = self.number([(0, FAR)])
        for each, take in zip(sizes, takes, strict=True):
            self.model.add(size == each).only_enforce_if(take)
        return size

    def _lie(self, copy: Copy, way: Choice, take: Var, several: bool) -> None:
        """What a way asks, where it is taken: within the sheet, in its place of the repeat."""
        model, sheet = self.model, self.sheets[way.sheet]
        rules = [
            model.add(copy.x + way.a <= sheet.length),
            model.add(copy.y + way.b <= sheet.width),
        ]
        if several:
            for variable, spans in ((copy.x, way.xs), (copy.y, way.ys)):
                domain = self.domain([list(span) for span in spans])
                rules.append(model.add_linear_expression_in_domain(variable, domain))
        for axis, at, points in ((0, copy.x, way.along), (1, copy.y, way.across)):
            repeat = sheet.repeats[axis]
            most = (sheet.most, sheet.width)[axis]
            for name, offset in points:
                low, high = offset // repeat - 1, (most + offset) // repeat + 1
                times = self.number([(low, high)])
                phase = self._phase(way.sheet, axis, name, repeat)
                rules.append(model.add(at + offset == repeat * times + phase))
        rules += [
            model.add(self._phase(way.sheet, 2, name, 2) == half) for name, half in way.senses
        ]
        if not isinstance(take, int):
            for rule in rules:
                rule.only_enforce_if(take)

    def _phase(self, sheet: int, axis: int, name: int, repeat: int) -> Var:
        """The place in the repeat that a set shares."""
        key = (sheet, axis, name)
        if key not in self.phases:
            self.phases[key] = self.number([(0, repeat - 1)])
        return self.phases[key]

    def _in_order(self, one: Copy, two: Copy) -> None:
        """Equal copies may change places, so they are numbered by x, then by y."""
        model, behind = self.model, self.flag()
        model.add(one.x <= two.x)
        model.add(one.x < two.x).only_enforce_if(behind)
        model.add(one.y <= two.y).only_enforce_if(~behind)

    def apart(self, *, flat: bool = False) -> None:
        """No two copies share cloth, and none touches a flaw.

        `flat` asks no more than that no row across a sheet is overfull: a relaxation whose
        bound is found sooner.
        """
        for index, sheet in enumerate(self.sheets):
            self._fill(index, sheet, flat)
        if flat:
            return
        few = len(self.copies) * (len(self.copies) - 1) // 2 <= MOST_PAIRS
        for one, two in combinations(range(len(self.copies)), 2):
            if few:
                self._pair(one, two)

    def _fill(self, index: int, sheet: Sheet, flat: bool) -> None:
        """Rows, columns and area of one sheet."""
        model = self.model
        taken = [
            (copy.x, copy.y, way.a, way.b, take)
            for copy in self.copies
            for way, take in zip(copy.choices, copy.takes, strict=True)
            if way.sheet == index
        ]
        if not any(copy.kept for copy in self.copies):
            taken += [(x0, y0, x1 - x0, y1 - y0, 1) for x0, y0, x1, y1 in sheet.flaws]
        along = [self._interval(x, a, take) for x, _, a, _, take in taken]
        high = [b for *_, b, _ in taken]
        if all(isinstance(size, int) for size in high):
            model.add_cumulative(along, high, sheet.width)
        if flat:
            return
        across = [self._interval(y, b, take) for _, y, _, b, take in taken]
        model.add_no_overlap_2d(along, across)
        wide = [a for _, _, a, _, _ in taken]
        if all(isinstance(size, int) for size in wide) and not sheet.flaws:
            model.add_cumulative(across, wide, sheet.length)
        for copy in self.copies:
            if not copy.kept and any(way.sheet == index for way in copy.choices):
                for box in sheet.flaws:
                    self._clear(copy, index, box)

    def _interval(self, start: Var, size: Var, take: Var) -> Var:
        model = self.model
        if isinstance(size, int):
            if isinstance(take, int):
                return model.new_fixed_size_interval_var(start, size, "")
            return model.new_optional_fixed_size_interval_var(start, size, take, "")
        end = self.number([(0, FAR)])
        if isinstance(take, int):
            return model.new_interval_var(start, size, end, "")
        return model.new_optional_interval_var(start, size, end, take, "")

    def _clear(self, copy: Copy, sheet: int, box: Box) -> None:
        """A copy on this sheet lies before, behind, below or above a flaw."""
        sides = [self.flag() for _ in range(4)]
        rules = (
            copy.x + copy.a <= box[0],
            copy.x >= box[2],
            copy.y + copy.b <= box[1],
            copy.y >= box[3],
        )
        for side, rule in zip(sides, rules, strict=True):
            self.model.add(rule).only_enforce_if(side)
        self.model.add(sum(sides) >= copy.on(sheet))

    def _pair(self, one: int, two: int) -> None:
        model = self.model
        first, second = self.copies[one], self.copies[two]
        common = {way.sheet for way in first.choices} & {way.sheet for way in second.choices}
        if not common:
            return
        flags = Apart(*(self.flag() for _ in range(4)))
        self.pairs[one, two] = flags
        model.add(first.x + self._step(first, second) <= second.x).only_enforce_if(flags.before)
        model.add(second.x + self._step(second, first) <= first.x).only_enforce_if(flags.after)
        model.add(first.y + first.b <= second.y).only_enforce_if(flags.below)
        model.add(second.y + second.b <= first.y).only_enforce_if(flags.above)
        sides = (flags.before, flags.after, flags.below, flags.above)
        for sheet in common:
            model.add(sum(sides) >= first.on(sheet) + second.on(sheet) - 1)
        model.add_at_most_one(flags.before, flags.after)
        model.add_at_most_one(flags.below, flags.above)

    def _step(self, one: Copy, two: Copy) -> Var:
        """How far behind the start of one the other starts at least: in one phase, repeats."""
        if len(one.choices) > 1 or len(two.choices) > 1 or not isinstance(one.a, int):
            return one.a
        repeat, step = self.sheets[one.choices[0].sheet].repeats[0], one.a
        for name, offset in one.choices[0].along:
            for other, theirs in two.choices[0].along:
                if name == other:
                    step = max(step, one.a + (offset - theirs - one.a) % repeat)
        return step

    def mirrored(self, firsts: Sequence[Copy]) -> None:
        """A lay and its mirror images are one: these equals lie in the near half, on average.

        Pushing a lay to the near corner afterwards only lowers positions, so this holds
        together with starts that are sums of sizes; with other rules it doesn't.
        """
        sheet = self.sheets[0]
        self.model.add(sum(2 * copy.x + copy.a for copy in firsts) <= len(firsts) * sheet.length)
        self.model.add(sum(2 * copy.y + copy.b for copy in firsts) <= len(firsts) * sheet.width)

    def tearable(
        self,
        core: Sequence[int],
        along: Iterable[Span],
        across: Iterable[Span],
        sheets: Iterable[int] = (0,),
    ) -> None:
        """Of copies that could not be torn apart, some pair must lie clear of each other.

        As long as the pairs of `along` (a spanning tree) all overlap in x and those of
        `across` in y, no tear can run between the copies of the core. `sheets` are those torn.
        """
        clear: list[Var] = []
        for one, two in along:
            flags = self.pairs[min(one, two), max(one, two)]
            clear += [flags.before, flags.after]
        for one, two in across:
            flags = self.pairs[min(one, two), max(one, two)]
            clear += [flags.below, flags.above]
        for sheet in sheets:
            on = [self.copies[index].on(sheet) for index in core]
            self.model.add(sum(clear) >= sum(on) - len(core) + 1)

    def hint(self, values: Mapping[int, tuple[int, int, int]]) -> None:
        """Start from a lay: for each copy its x, y and the number of its way."""
        for index, (x, y, way) in values.items():
            copy = self.copies[index]
            self.model.add_hint(copy.x, x)
            self.model.add_hint(copy.y, y)
            for at, take in enumerate(copy.takes):
                if not isinstance(take, int):
                    self.model.add_hint(take, int(at == way))

    def asked(self) -> list[Var]:
        """The variables that tell a lay: x, y and the number of the way, of every copy; the
        way is as many as there are where the copy isn't used."""
        told = []
        for copy in self.copies:
            way = sum(at * take for at, take in enumerate(copy.takes))
            told += [copy.x, copy.y, way + len(copy.takes) * (1 - sum(copy.takes))]
        return told


def _union(spans: Iterable[Iterable[Span]]) -> list[Span]:
    """Spans in order, joined where they meet."""
    joined: list[Span] = []
    for low, high in sorted(span for each in spans for span in each):
        if joined and low <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
        else:
            joined.append((low, high))
    return joined
