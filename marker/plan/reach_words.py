"""What `reach` found, in the sentences that terminal and page share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from marker.casefile.changes import told
from marker.cloth import Cloth
from marker.decide.reach import Miss, Most, Offer, Reached, Standing
from marker.lay import Lay
from marker.plan import words
from marker.record import Record
from marker.units import INCH, MM, Rounding, System, ceil_to, format_bought, format_length

VERDICT = {
    Standing.FITS: "It fits.",
    Standing.REFUTED: "It can't fit: that is proved.",
    Standing.OPEN: "No lay was found that fits, though none is proved impossible.",
}
MOST = {
    "round": "The greatest round hem",
    "length": "The longest skirt",
    "facing": "The deepest facing",
}
SHOWN = 6
"""So many changes are drawn; all stand in the table."""


@dataclass(frozen=True)
class Change:
    """A change in words: its number, what it is, what to write, what it takes, what is proved."""

    mark: str
    what: str
    write: str
    takes: str
    less: str


def verdict(reached: Reached) -> tuple[str, ...]:
    """Whether it fits, and what is left over or lacking; the first sentence says which."""
    found = [VERDICT[reached.standing]]
    if reached.record:
        found += _left(reached.record, reached.case.units)
        # How strips were pieced, and what came from which of several cloths.
        found += reached.record.choices
    else:
        found += _misses(reached)
    return tuple(found)


def _left(record: Record, units: System) -> Iterator[str]:
    """What of each remnant is used and what is left, in length and in its largest rectangle."""
    for lay in record.lays:
        if not lay.cloth.length:
            yield f"Of {lay.cloth.name}, {format_bought(lay.buy, units)} are to be bought."
            continue
        whole, taken, left = words.remnant(lay, units)
        yield f"Of {lay.cloth.name}, {whole} long, {taken} are used and {left} left{_piece(lay)}."


def _piece(lay: Lay) -> str:
    kept = [cut.rect for cut in lay.offcuts if cut.keep]
    if not kept:
        return ""
    system = lay.cloth.system
    largest = max(kept, key=lambda rect: rect.area)
    sizes = " by ".join(format_length(size, system) for size in (largest.along, largest.across))
    return f"; the largest rectangle left is {sizes}"


def _misses(reached: Reached) -> Iterator[str]:
    units = reached.case.units
    for miss in reached.misses:
        yield f"{miss_words(miss, reached.case.cloths[miss.cloth], units)}."


def miss_words(miss: Miss, cloth: Cloth, units: System) -> str:
    """By how much one cloth is too short or too narrow, and whether that is proved."""
    there, least, short = (
        format_length(size, units, Rounding.UP)
        for size in (miss.there, miss.least, miss.least - miss.there)
    )
    if miss.wide:
        begin = f"{cloth.name} is {short} too narrow: {there} wide, where {least} are needed"
    else:
        begin = f"{cloth.name} is {short} too short: {there} there, where {least} would do"
    if miss_proved(miss, units):
        return f"{begin}, and it is proved that no less would"
    if miss.bound > miss.there:
        bound = format_length(miss.bound, units, Rounding.UP)
        return f"{begin}; that it takes {bound} at the least is proved"
    return f"{begin}; what it takes at the least is not proved"


def miss_proved(miss: Miss, units: System) -> bool:
    """Whether nothing less would do, to the millimetre or the eighth of an inch."""
    return ceil_to(miss.bound, INCH // 8 if units is System.IN else MM) >= miss.least


def changes(reached: Reached) -> tuple[Change, ...]:
    """The offers in words, numbered from 1, in their order."""
    return tuple(_change(offer, number) for number, offer in enumerate(reached.offers, 1))


def _change(offer: Offer, number: int) -> Change:
    less = ""
    if offer.figured:
        less = "no, proved" if offer.refuted else "not known"
    return Change(str(number), capital(offer.words), told(offer.changes), share(offer.lost), less)


def share(lost: Fraction) -> str:
    """What a change takes of the finished garment's length and round, rounded up."""
    if not lost:
        return "nothing"
    tenths = -(-lost * 1000 // 1)
    return f"{int(tenths) // 10}.{int(tenths) % 10} %"


def no_change(reached: Reached) -> str:
    """What to say where nothing was found that makes it fit."""
    return (
        "No change was found that makes it fit, and no two of them at once."
        if not reached.stopped
        else "No change was found that makes it fit before the search was stopped."
    )


def most_words(reached: Reached) -> tuple[str, ...]:
    """The most that can be had, what to write for it, and what is proved of it."""
    most, units = reached.most, reached.case.units
    if not reached.most_asked:
        return ()
    if most is None:
        return (f"{MOST[reached.most_asked]}: nothing was found that fits.",)
    found = [f"{MOST[most.of]}: {most_figure(most, units)}.", _proof(most, units)]
    if most.others:
        less = "; ".join(most_figure(other, units) for other in most.others)
        found.append(f"Also to be had: {less}.")
    found.append(f"Write: {told(most.changes) or 'nothing, it is what the file says'}.")
    return tuple(found)


def most_figure(most: Most, units: System) -> str:
    """What it comes to: "264 cm of 2 panels 134 cm wide"."""
    if most.of == "round" and most.figure:
        return f"{format_length(most.figure, units)} of {most.words}"
    if most.of == "facing":
        return f"{format_length(most.figure, units)} deep"
    return most.words


def _proof(most: Most, units: System) -> str:
    if most.whole and most.of != "round":
        return "There is no more to ask for."
    within = f" of {most.within}" if most.within else ""
    if most.refuted:
        fine = "whole millimetres" if units is System.CM else "eighths of an inch"
        return f"It is proved that no more can be had{within}, cut to {fine}."
    if most.limit is not None and most.limit > most.figure:
        limit = _figure(most, most.limit, units)
        return f"That is the most found; it is proved that no more than {limit} can be had{within}."
    return "That is the most found; what more there could be is not known."


def _figure(most: Most, figure: int, units: System) -> str:
    spelled = format_length(abs(figure), units)
    if most.of != "length":
        return spelled
    return f"{spelled} {'longer' if figure >= 0 else 'shorter'} than asked"


def capital(text: str) -> str:
    """With a capital letter."""
    return text[:1].upper() + text[1:]
