"""An order for one garment for one wearer, and the draft that a recipe makes of it."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from pydantic import Field

from marker import record
from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.words import Strict, Text, Texts
from marker.garments.work.job import Job, Sewn
from marker.piece import Piece
from marker.units import System, Units, format_length, parse, print_step


@dataclass(frozen=True)
class Wearer:
    """One wearer's measures in units of 1/160 mm, by their names in the case file."""

    key: str
    name: str
    measures: Mapping[str, int]


@dataclass(frozen=True)
class Draft:
    """The pieces of one garment, letters not yet given, and what the sheet tells of it.

    Where a recipe offers several drafts, `way` says in a few words how this one differs,
    such as "panels railroaded"; it is empty where there is nothing to choose. `flex` is set
    where the panels' width is open: after the shortest length, the widest is wanted. `left_out`
    holds a sentence on each way that the file leaves open but that can't be drafted. `work` is
    the order of work and `sewn` what edges meet, both by the names of the pieces: these take them
    on once they are laid, since nothing else hangs on it.
    """

    pieces: tuple[Piece, ...]
    garment: record.Garment
    way: str = ""
    flex: Flex | None = None
    left_out: tuple[str, ...] = ()
    work: tuple[Job, ...] = ()
    sewn: tuple[Sewn, ...] = ()


@dataclass(frozen=True)
class Flex:
    """A width left open between two bounds, in steps that can be measured.

    `at` drafts the garment at a width from `low` to `high`; a narrower one never takes more
    cloth. The draft that carries this is the one at `low`.
    """

    low: int
    high: int
    step: int
    at: Callable[[int], Draft]


@dataclass(frozen=True)
class Usual:
    """A usual length in either measure, taken where the case file gives none."""

    metric: str
    inches: str

    def of(self, system: System) -> int:
        """The length in units, from the round figure of the case's own measure."""
        return parse(self.inches if system is System.IN else self.metric)


SEAM = Usual("1 cm", "1/2 in")
"""The seam allowance of a garment whose table gives none."""


class Spec(Strict):
    """What the case file says of a garment: a recipe adds its own keys and drafts from them.

    `several` tells whether its panels may come from several cloths, each from whichever suits.
    """

    several: ClassVar[bool] = False

    kind: Text = Field(default="straight skirt", description="the kind of garment")
    name: Text | None = Field(
        default=None, description='a name for the sheet, such as "Sunday skirt"'
    )
    wearer: Text | None = Field(default=None, description="the key of a wearer")
    wearers: list[Text] | None = Field(default=None, description="a list of the keys of wearers")
    cloth: Texts | None = Field(
        default=None,
        description="the key of the cloth the panels are cut from, or a list of them",
    )

    @abstractmethod
    def drafts(self, order: Order) -> tuple[Draft, ...]:
        """Draft the garment, in every way that the file leaves open; the usual way first."""


@dataclass(frozen=True)
class Order:
    """One garment to be made for one wearer.

    `key` names this garment on the sheet, `table` its table in the file: they differ where
    one table orders the garment for several wearers. `panel_cloth` is the key of its cloth.
    """

    file: str
    key: str
    table: str
    name: str
    wearer: Wearer
    spec: Spec
    cloths: Mapping[str, Cloth]
    panel_cloth: str
    units: Units
    also: tuple[str, ...] = ()
    """Further cloths that the panels may come from."""

    @property
    def system(self) -> System:
        """The measure that usual sizes and steps follow."""
        return self.units.lead

    def drafts(self) -> tuple[Draft, ...]:
        """Draft the garment, in every way that the file leaves open."""
        return self.spec.drafts(self)

    def measure(self, name: str, how: str) -> int:
        """One measure of the wearer; `BadInput` says `how` to take it where it is missing."""
        found = self.wearer.measures.get(name)
        if found is None:
            raise BadInput(
                f"{self.file}: wearer.{self.wearer.key}.{name} is missing; give {how}, "
                f"which garment.{self.table} is drafted from"
            )
        return found

    def cloth(self, part: str, key: str | None) -> Cloth:
        """The cloth that a part is cut from: its own, or else that of the panels."""
        wanted = key or self.panel_cloth
        if wanted not in self.cloths:
            known = ", ".join(self.cloths)
            raise self.fault(f"{part} names the cloth {wanted!r}, but the file has only: {known}")
        return self.cloths[wanted]

    def cloths_of(self, part: str, keys: Sequence[str] | None) -> tuple[Cloth, ...]:
        """The cloths that a part may be cut from, in the order named: any one of them."""
        return tuple(self.cloth(part, key) for key in keys or (self.panel_cloth, *self.also))

    def fault(self, text: str) -> BadInput:
        """An error about this garment: `text` starts with the key at fault."""
        return BadInput(f"{self.file}: garment.{self.table}.{text}")

    def usual(self, value: int | None, usual: Usual) -> int:
        """The length given, or else the usual one."""
        return usual.of(self.system) if value is None else value

    def spell(self, length: int) -> str:
        """A length as messages and advice print it."""
        return format_length(length, self.units)

    def fine(self, length: int) -> str:
        """A length of stitches and narrow seams: inches to 1/16."""
        return format_length(length, self.units, fine=True)

    @property
    def grid(self) -> int:
        """The step that derived cut sizes are rounded up to: 1 mm, or 1/8 in."""
        return print_step(self.system)
