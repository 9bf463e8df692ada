"""What `reach` found, in the sentences that terminal and page share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from marker.casefile.changes import told
from marker.cloth import Cloth
from marker.decide.reach import Miss, Most, Offer, Reached, Standing
from marker.decide.reach.losses import Loss, What
from marker.lay import Lay
from marker.plan.words import phrases as words
from marker.record import Record
from marker.units import Rounding, System, Units, ceil_to, format_bought, format_length, print_step

VERDICT = {
    Standing.FITS: "It fits.",
    Standing.REFUTED: "It can't fit: that is proved.",
    Standing.OPEN: "No lay was found that fits, though none is proved impossible.",
}
LOST = {
    What.ROUND: "of the {whole} round the hem",
    What.LENGTH: "of the length of {whole}",
    What.FACING: "of the facing's {whole}",
    What.TURN_DOWN: "of the turn-down's {whole}",
}
NAMED = 8
"""So many things that the time was out for are named."""
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
    buys: str = ""

    @property
    def notes(self) -> tuple[str, ...]:
        """What stands under it, a sentence each."""
        return tuple(note for note in (self.takes, self.less, self.buys) if note)


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


def _left(record: Record, units: Units) -> Iterator[str]:
    """What of each remnant is used and what is left, in length and in its largest rectangle."""
    for lay in record.lays:
        if not lay.cloth.length:
            yield f"Of {lay.cloth.name}, {format_bought(lay.buy, units)} are to be bought."
            continue
        whole, taken, left = words.remnant(lay, units)
        piece = _piece(lay, units)
        yield f"Of {lay.cloth.name}, {whole} long, {taken} are used and {left} left{piece}."


def _piece(lay: Lay, units: Units) -> str:
    kept = lay.remnants
    if not kept:
        return ""
    largest = max(kept, key=lambda rect: rect.area)
    sizes = " by ".join(format_length(size, units) for size in (largest.along, largest.across))
    return f"; the largest rectangle left is {sizes}"


def _misses(reached: Reached) -> Iterator[str]:
    units = reached.case.units
    for miss in reached.misses:
        yield f"{miss_words(miss, reached.case.cloths[miss.cloth], units)}."


def miss_words(miss: Miss, cloth: Cloth, units: Units) -> str:
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


def miss_proved(miss: Miss, units: Units) -> bool:
    """Whether nothing less would do, to the millimetre or the eighth of an inch."""
    return ceil_to(miss.bound, print_step(units.lead)) >= miss.least


def changes(reached: Reached) -> tuple[Change, ...]:
    """The offers in words, numbered from 1, in their order."""
    units = reached.case.units
    return tuple(_change(offer, number, units) for number, offer in enumerate(reached.offers, 1))


def _change(offer: Offer, number: int, units: Units) -> Change:
    less = buys = ""
    if offer.figured:
        less = (
            "It is proved that less of this change wouldn't do."
            if offer.refuted
            else "Whether less of this change would do isn't known."
        )
    if offer.bought:
        lays = [lay for lay in offer.record.lays if not lay.cloth.length]
        bought = [f"{format_bought(lay.buy, units)} of {lay.cloth.name}" for lay in lays]
        buys = f"To be bought for it: {' and '.join(bought)}."
    takes = f"Takes away {takes_away(offer, units)}."
    return Change(str(number), capital(offer.words), told(offer.changes), takes, less, buys)


def takes_away(offer: Offer, units: Units) -> str:
    """What goes, in lengths, and how much of the finished cloth that is."""
    if not offer.losses:
        return "nothing"
    told = " and ".join(_lost(loss, units) for loss in offer.losses)
    return f"{told}: {share(offer.lost)} of the finished cloth"


def _lost(loss: Loss, units: Units) -> str:
    whole = format_length(loss.whole, units)
    if loss.taken == loss.whole:
        return f"the whole {loss.what.value} of {whole}"
    return f"{format_length(loss.taken, units)} {LOST[loss.what].format(whole=whole)}"


def share(lost: Fraction) -> str:
    """A part of the finished cloth in whole percent."""
    return f"{round(lost * 100)} %" if lost * 100 >= 1 else "less than 1 %"


def no_change(reached: Reached) -> str:
    """What to say where nothing was found that makes it fit."""
    found = "No change was found that makes it fit"
    if reached.stopped:
        return f"{found} before the search was stopped."
    return f"{found}." if reached.unasked else f"{found}, and no two of them at once."


def not_asked(reached: Reached) -> tuple[str, ...]:
    """What the time was out for, in a sentence."""
    if not reached.unasked:
        return ()
    names = list(dict.fromkeys(reached.unasked))
    more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
    told = "; ".join(names[:NAMED])
    return (f"The time was out before this was looked into: {told}{more}. Give more --seconds.",)


def most_words(reached: Reached) -> tuple[str, ...]:
    """The most that can be had, what is proved of it, and what to write for it."""
    write = reached.most and (told(reached.most.changes) or "nothing, it is what the file says")
    return (*most_told(reached), *((f"Write: {write}.",) if write else ()))


def most_told(reached: Reached) -> tuple[str, ...]:
    """The most that can be had, and what is proved of it."""
    most, units = reached.most, reached.case.units
    if not reached.most_asked:
        return ()
    if most is None:
        return (f"{most_heading(reached)}: nothing was found that fits.",)
    found = [f"{most_heading(reached)}: {most_figure(most, units)}.", _proof(most, units)]
    if most.others:
        less = "; ".join(most_figure(other, units) for other in most.others)
        found.append(f"Also to be had: {less}.")
    return tuple(found)


def most_heading(reached: Reached) -> str:
    """What was to be made most of, by the garment's own kind."""
    return {
        "round": "The greatest round hem",
        "length": f"The longest {reached.kind}",
        "facing": "The deepest facing",
    }[reached.most_asked]


def most_figure(most: Most, units: Units) -> str:
    """What it comes to: "264 cm of 2 panels 134 cm wide"."""
    if most.of == "round" and most.figure:
        figure = format_length(most.figure, units)
        return figure if most.words.startswith(figure) else f"{figure} of {most.words}"
    if most.of == "length":
        return _figure(most, most.figure, units)
    if most.of == "facing":
        return f"{format_length(most.figure, units)} deep"
    return most.words


def _proof(most: Most, units: Units) -> str:
    if most.whole and most.of != "round":
        return "There is no more to ask for."
    within = f" of {most.within}" if most.within else ""
    if most.refuted:
        fine = "whole millimetres" if units.lead is System.CM else "eighths of an inch"
        return f"It is proved that no more can be had{within}, cut to {fine}."
    if most.limit is not None and most.limit > most.figure:
        limit = _figure(most, most.limit, units) + ("," if most.of == "length" else "")
        return f"That is the most found; it is proved that no more than {limit} can be had{within}."
    return "That is the most found; what more there could be is not known."


def _figure(most: Most, figure: int, units: Units) -> str:
    spelled = format_length(abs(figure), units)
    if most.of != "length":
        return spelled
    long = (
        f"{format_length(most.long + figure, units)}{'' if most.even else ' where it is shortest'}"
    )
    if not figure:
        return f"{long}, as asked"
    return f"{long}, {spelled} {'longer' if figure >= 0 else 'shorter'} than asked"


def capital(text: str) -> str:
    """With a capital letter."""
    return text[:1].upper() + text[1:]
