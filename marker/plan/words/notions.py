"""What is bought besides cloth, in words: its name with the width to ask for, and how much."""

from __future__ import annotations

from marker.buying import Line
from marker.plan.words.figures import Figures
from marker.record import Notion


def name(thing: Notion | Line, figures: Figures) -> str:
    """What to ask for: "waist tape, 2 cm wide", "buttons, horn, 15 mm"."""
    wide = f"{figures.near(thing.width)} wide" if thing.width else ""
    return ", ".join(part for part in (thing.name, wide, thing.ask) if part)


def amount(notion: Notion, figures: Figures) -> str:
    """How much of it one garment takes: its exact length, or how many."""
    return str(notion.count) if notion.count else figures.up(notion.length)
