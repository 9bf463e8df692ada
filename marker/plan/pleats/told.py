"""What is told of the pleats of one garment: facts, tables and sentences, for page and terminal."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from marker.cloth import Cloth
from marker.gauging import Gauging, Pressed, quarters
from marker.plan.pleats.spell import near, number
from marker.record import Garment
from marker.units import Units

Plan = Gauging | Pressed
CLOSED = {"front": "in front", "side": "at the left side", "back": "at the back"}


def onto(garment: Garment) -> str:
    """What the top is sewn to: a tape, or a band."""
    taped = any(item.name == "waist tape" for item in garment.notions)
    return "tape" if taped else "band"


def band_note(plan: Plan, garment: Garment, units: Units) -> str:
    """Which way the quarter points go round, and where the underlap lies."""
    pleating = garment.pleating
    lap = pleating.underlap if pleating else 0
    where = (
        "before the first" if isinstance(plan, Pressed) and plan.laps_first else "beyond the last"
    )
    beyond = f" The underlap of {near(lap, units)} lies {where} of them." if lap else ""
    return (
        "Quarter points go round from the opening to the right as the outside is looked at; pleats "
        f"and {onto(garment)} are counted from there.{beyond}"
    )


@dataclass(frozen=True)
class Table:
    """A small table: a title, the heads of its columns, its rows."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Told:
    """The pleat plan of a garment in words.

    `way` names the way of cutting where the case leaves several open. `warnings` are what keeps
    the plan from being sewn as it stands. `data` holds the figures for `--json`.
    """

    garment: Garment
    cloth: Cloth
    plan: Plan
    method: str
    facts: tuple[tuple[str, str], ...]
    tables: tuple[Table, ...]
    notes: tuple[str, ...]
    warnings: tuple[str, ...]
    data: dict[str, Any]
    way: str = ""
    letter: str = ""
    """The wearer's, where letters tell wearers apart."""

    @property
    def whose(self) -> str:
        """The wearer by her letter and name; the garment where it is for nobody in particular."""
        return f"{self.letter} {self.garment.wearer or self.garment.name}".strip()

    @property
    def title(self) -> str:
        """What stands at the head of its page."""
        wearer = self.garment.wearer
        whose = f", for {wearer}" if wearer and wearer not in self.garment.name else ""
        return f"Pleats of {self.garment.name}{whose}"


def quarter_table(plan: Plan, garment: Garment, units: Units) -> Table:
    """Where the quarters of skirt and band meet, from the opening to the right, outside up."""
    pleating = garment.pleating
    assert pleating is not None
    points = quarters(plan, pleating.opening_at)
    rows = [("opening", "0", "0", "the opening's first edge")]
    for point in points[1:]:
        where = _on_panel(point.panel, point.after, plan, units)
        rows.append((point.place, near(point.on_band, units), number(point.pleat), where))
    rows.append(("opening", near(garment.drawn, units), f"{plan.pleats}", "its other edge"))
    heads = ("worn at", onto(garment), "pleats", "on the skirt")
    return Table("Quarter points", heads, tuple(rows))


def _on_panel(panel: int, after: Fraction, plan: Plan, units: Units) -> str:
    """A place on a panel, from the nearer of its seams."""
    if not after:
        return f"the seam of panels {panel - 1} and {panel}"
    if 2 * after <= plan.panel:
        return f"panel {panel}, {near(after, units)} from its first seam"
    return f"panel {panel}, {near(plan.panel - after, units)} from its last seam"
