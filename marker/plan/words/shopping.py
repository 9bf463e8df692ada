"""The shopping list in words: what to ask for, how much of it, and what it comes to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any

from marker.buying import Line, Total
from marker.plan.words.figures import Figures
from marker.record import Counter, Notion, Record, Thread
from marker.units import Rounding, Units, format_bought, format_length, format_mass, set_fractions


def mass(grams: Fraction | int | None, units: Units) -> str:
    """What it weighs, in the measure of its case; empty where it isn't known."""
    return "" if grams is None else set_fractions(format_mass(grams, units))


def name(thing: Notion | Line, units: Units) -> str:
    """What to ask for: "waist tape, 2 cm wide", "buttons, horn, 15 mm"."""
    wide = f"{format_length(thing.width, units)} wide" if thing.width else ""
    return ", ".join(part for part in (thing.name, wide, thing.ask) if part)


def amount(notion: Notion, figures: Figures) -> str:
    """How much of it one garment takes: its exact length, or how many."""
    return str(notion.count) if notion.count else figures.up(notion.length)


def to_buy(line: Line, units: Units) -> str:
    """How much to ask for: "3.40 m", "2 spools of 100 m", "6", or that it is in hand."""
    if line.in_hand:
        return "in hand"
    if _spools(line):
        holds = format_bought(line.step, units).replace(".00 m", " m")
        return f"{line.count} {'spool' if line.count == 1 else 'spools'} of {holds}"
    return str(line.count) if line.count else format_bought(line.buy, units)


def _spools(line: Line) -> bool:
    """Whether it is the sewing thread, in spools, and not something else of that counter."""
    return line.counter is Counter.THREAD and bool(line.step and line.count)


def need(line: Line, units: Units) -> str:
    """The exact length that is used up, rounded up in print; empty for what is counted."""
    if line.counter is Counter.THREAD:
        return format_bought(line.need, units) if line.need else ""
    return format_length(line.need, units, Rounding.UP) if line.need else ""


def _used(line: Line, figures: Figures) -> str:
    """The exact length as the sheet prints it, with its mark where that is rounded."""
    return figures.up(line.need) if line.need else ""


def cost(line: Line) -> str:
    """What it costs, in its currency; empty where no price is known."""
    return "" if line.cost is None else f"{line.cost:.2f} {line.currency}"


def sum_of(total: Total) -> str:
    """What all that is priced comes to; empty where there is no such sum."""
    return "" if total.amount is None else f"{total.amount:.2f} {total.currencies[0]}"


def uncounted(total: Total) -> str:
    """What a sum leaves out, and why, in a sentence or two; empty where it is of everything."""
    said = []
    if len(total.currencies) > 1:
        said.append(f"Prices are in {' and '.join(total.currencies)}, so there is no sum.")
    if total.unpriced and total.currencies:
        said.append(f"Not counted, for want of a price: {', '.join(total.unpriced)}.")
    return " ".join(said)


def thread_words(thread: Thread, *, rows: bool) -> str:
    """How heavy the thread is, and whether it wants wax for rows that it draws up."""
    wax = "; wax it for the rows" if thread.waxed and rows else ""
    return f"tex {thread.tex.normalize():f}{wax}"


def besides(lines: Sequence[Line], total: Total, units: Units) -> Iterator[str]:
    """The list in short, for the terminal: what isn't cloth, and what everything comes to."""
    told = [
        f"{name(line, units)}, {to_buy(line, units)}"
        for line in lines
        if line.counter is not Counter.CLOTH
    ]
    if told:
        yield f"To buy besides: {'; '.join(told)}."
    if whole := sum_of(total):
        yield " ".join(filter(None, (f"All that is priced: {whole}.", uncounted(total))))
    elif left := uncounted(total):
        yield left


def shopping_data(lines: Sequence[Line], total: Total, units: Units) -> dict[str, Any]:
    """The whole list as plain data, for programs: lengths in words, money as decimal text."""
    return {
        "shopping": [
            {
                "counter": line.counter.value,
                "name": line.name,
                "ask": name(line, units).removeprefix(line.name).removeprefix(", "),
                "buy": to_buy(line, units),
                "need": need(line, units),
                "count": line.count,
                "cost": None if line.cost is None else f"{line.cost:.2f}",
                "currency": line.currency,
                "grams": line.grams,
                "for": list(line.whose),
            }
            for line in lines
        ],
        "total": {
            "amount": None if total.amount is None else f"{total.amount:.2f}",
            "currencies": list(total.currencies),
            "unpriced": list(total.unpriced),
        },
    }


def counters(record: Record, lines: Sequence[Line], figures: Figures) -> list[dict[str, Any]]:
    """All but the cloths, for the sheet: every counter with its lines."""
    units, named = record.units, len(record.garments) > 1
    rows = any(one.pushed for garment in record.garments for one in garment.sewing)
    found: dict[Counter, list[dict[str, str]]] = {}
    for line in lines:
        if line.counter is Counter.CLOTH and line.key:
            continue
        thread = _spools(line)
        told = [thread_words(record.thread, rows=rows)] if thread and record.thread else []
        if named and 0 < len(line.whose) < len({one.name for one in record.garments}):
            told.append(f"for {', '.join(line.whose)}")
        found.setdefault(line.counter, []).append(
            {
                "name": set_fractions(name(line, units)),
                "detail": "; ".join(told),
                "buy": set_fractions(to_buy(line, units)),
                "need": set_fractions(need(line, units)) if thread else _used(line, figures),
                "cost": cost(line),
                "mass": mass(line.grams, units),
            }
        )
    return [{"counter": counter.value, "lines": told} for counter, told in found.items()]
