"""Numbers of panels that the file leaves open: what each is called, and which drop out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from marker.errors import BadInput
from marker.garments.order import Draft, Order
from marker.garments.panel import Panels, Tube

Faults = Mapping[tuple[int, str], BadInput]
"""Why a number of panels can't be had, along the bolt or across."""
BARRED = "panels.lie can't be across: "


def way_of(panels: Panels, tube: Tube, *, numbered: bool) -> str:
    """How a tube differs from the others that the file leaves open, in a few words."""
    if not numbered:
        return "panels railroaded" if tube.railroaded else "panels along the bolt"
    if tube.railroaded:
        alone = panels.width is None and panels.round is not None
        return "panels railroaded" if alone else f"{_many(panels.count)} railroaded as one"
    return _many(panels.count)


def none_left(faults: Faults) -> BadInput:
    """What to say where no number will do: what is wrong with the most panels."""
    last = str(faults[max(faults)])
    return BadInput(last.replace("panels.count is", "panels.count goes up to", 1))


def left_out(order: Order, drafts: Sequence[Draft], faults: Faults) -> tuple[Draft, ...]:
    """The drafts, each with a sentence on every number of panels that can't be had."""
    said = dict.fromkeys(_sentence(order, *key, fault) for key, fault in faults.items())
    return tuple(replace(draft, left_out=tuple(said)) for draft in drafts)


def _sentence(order: Order, count: object, lie: str, fault: BadInput) -> str:
    """What is wrong, without the file and the remedy, which is another number."""
    text = str(fault).removeprefix(str(order.fault(""))).rsplit(";", 1)[0]
    if text.startswith(BARRED):
        return f"The panels can't be railroaded: {text.removeprefix(BARRED)}."
    if text.startswith("panels.count is"):
        text = text.split(", and ", 1)[1]
    railroaded = " railroaded" if lie == "across" else ""
    return f"{_many(count)}{railroaded} won't do: {text}."


def _many(count: object) -> str:
    return f"{count} {'panel' if count == 1 else 'panels'}"
