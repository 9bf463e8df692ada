"""The options of a case: every mixture of its axes, each a case of its own, drafted once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import prod
from typing import Any

from marker.casefile import Case
from marker.casefile.changes import Key, changed, told
from marker.casefile.comparing import MOST_ASKED, CompareTable
from marker.decide.axes import Axis, axes
from marker.errors import BadInput, CannotLay
from marker.piece import Piece


@dataclass(frozen=True)
class Option:
    """One way the case might be made; `own` if it is the case as it stands.

    `words` tell in what it differs from the others, `changes` what the file must say for it.
    """

    words: str
    changes: Mapping[Key, Any]
    own: bool = False

    @property
    def written(self) -> str:
        """The changes as they would stand in the file; empty where there is nothing to change."""
        return told(self.changes)


@dataclass(frozen=True)
class Refusal:
    """An option that can't be made, and why in short."""

    option: Option
    reason: str


@dataclass(frozen=True)
class Options:
    """What can be drafted, each with its case, and what can't; with the faults met."""

    able: tuple[tuple[Option, Case], ...]
    refused: tuple[Refusal, ...]
    faults: tuple[BadInput | CannotLay, ...]


def options(case: Case, table: CompareTable) -> Options:
    """Every option of a case that can be drafted, each once, in the order of the axes.

    Options that ask for the very same pieces are one. Raises `BadInput` where they are too many.
    """
    found = axes(case, table)
    _few_enough(case, table, found)
    able: list[tuple[Option, Case, tuple[Piece, ...]]] = []
    refused, faults = [], []
    for option in _mixed(found):
        try:
            asks = changed(case, option.changes)
            pieces = tuple(
                piece for order in asks.orders for draft in order.drafts() for piece in draft.pieces
            )
        except (BadInput, CannotLay) as fault:
            refused.append(Refusal(option, short(fault, case)))
            faults.append(fault)
            continue
        if not any(pieces == other for _, _, other in able):
            able.append((option, asks, pieces))
    return Options(tuple((option, asks) for option, asks, _ in able), tuple(refused), tuple(faults))


def short(fault: Exception, case: Case) -> str:
    """What is wrong, without the file's name, which all options share."""
    return str(fault).removeprefix(f"{case.file}: ")


def _few_enough(case: Case, table: CompareTable, found: Sequence[Axis]) -> None:
    count = prod(axis.size for axis in found)
    if count <= table.most:
        return
    parts = " x ".join(f"{axis.size} {axis.name}" for axis in found if axis.size > 1)
    more = f", or write compare.most = {count}" if count <= MOST_ASKED else ""
    raise BadInput(
        f"{case.file}: there are {count} options to compare ({parts}), and {table.most} are laid "
        f"at most; narrow them in the table [compare], as with panels = [2, 3]{more}"
    )


def _mixed(found: Sequence[Axis]) -> Iterator[Option]:
    for values in product(*(axis.values for axis in found)):
        changes = {key: value for one in values for key, value in one.changes.items()}
        words = ", ".join(
            value.words for axis, value in zip(found, values, strict=True) if axis.size > 1
        )
        own = all(value.own for value in values)
        yield Option(words or "as the case has it", changes, own)
