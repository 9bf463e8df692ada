"""A lay for shears in words: drops cut right across, and pieces chalked by their place.

All measures run from the squared end and from the near edge of the cloth, so that
small slips never add up; therefore everything is chalked before the cloth is cut up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from marker.lay import Placement
from marker.plan.lays.folded import folding, upper
from marker.plan.words import phrases as words
from marker.plan.words.cutout import OF_SHAPES, Measured, cut_out, place_pieces
from marker.plan.words.drops import Drop, drops
from marker.plan.words.runs import Work, count, join_ids
from marker.plan.words.sums import running_sum
from marker.plan.words.told import MOST_READINGS, Step, readings

PLACES = "along from {end}, across from the {side}"


def end_word(work: Work) -> str:
    """What the tape's nought lies at: the squared end, or the end as it comes."""
    return "the squared end" if work.lay.bolt.x0 < 0 else "the free end"


def chalk_all(work: Work) -> str:
    """What is chalked before any piece is cut."""
    side = f"near {words.side(work.lay)}"
    outer = f"outer edge of the {side}" if work.lay.cloth.selvedge else side
    places = PLACES.format(end=end_word(work), side=outer)
    if work.lay.shaped:
        places += f". {OF_SHAPES}"
    chalk = "chalk round every piece" if work.lay.shaped else "chalk every outline"
    if work.lay.cloth.folded:
        return f"Fold {folding(work.lay)}; then {chalk} of the upper layer: {places}."
    on = " on" if work.lay.bolt.x0 < 0 else ""
    return f"{chalk.capitalize()} before you cut{on}: {places}."


def cut_steps(work: Work) -> tuple[Step, ...]:
    """The cuts in the order of work, from the free end: drops, then the pieces in them."""
    return tuple(
        Step(first, last, text, sums=tuple(running_sum(work.lay, at, work.units) for at in places))
        for first, last, text, places in _numbered(work)
    )


def numbered_lines(work: Work) -> dict[int, int]:
    """The number of the cut right across at each clear line, by its x."""
    return {
        at: number
        for first, _, _, places in _numbered(work)
        for number, at in enumerate(places, first)
    }


def _numbered(work: Work) -> Iterator[tuple[int, int, str, tuple[int, ...]]]:
    """Every step with its first and its last number."""
    last = 0
    for text, places in _lines(work):
        first, last = last + 1, last + max(len(places), 1)
        yield first, last, text, places


def _lines(work: Work) -> Iterator[tuple[str, tuple[int, ...]]]:
    """Every step in words, with the clear lines that it cuts."""
    found = drops(work.lay)
    end = found[-1]
    for alike in _runs(found):
        head, last = alike[0], alike[-1]
        if last.rect.x1 <= 0:
            depth = work.length(last.rect.along)
            square = f"Square the cut end: chalk {depth} from it, cut across along a thread."
            yield f"{square} This edge is 0.", (0,)
            continue
        if last is not end:
            left = end.rect.along if last is found[-2] and not end.held else 0
            yield _across(work, alike, left), tuple(drop.rect.x1 for drop in alike)
        held = upper(work.lay, tuple(one for drop in alike for one in drop.held))
        if head.held:
            yield from ((text, ()) for text in place_pieces(work, held, measured(work)))
            if work.lay.shaped:
                yield cut_out(work, [spot for spot, _ in held]), ()


def measured(work: Work) -> Measured:
    """Where the places of a whole cloth are measured from."""
    return Measured(0, 0, end_word(work), f"the near {words.side(work.lay)}")


def _runs(found: Sequence[Drop]) -> Iterator[tuple[Drop, ...]]:
    """Neighbouring drops that hold the same in the same places, a handful at a time.

    The last drop stands alone: no line is cut behind it.
    """
    for _, same in groupby(found[:-1], key=_inside):
        run = tuple(same)
        for start in range(0, len(run), MOST_READINGS):
            yield run[start : start + MOST_READINGS]
    yield (found[-1],)


def _inside(drop: Drop) -> tuple[object, ...]:
    x = drop.rect.x0
    held = sorted(
        (spot.letter, rect.x0 - x, rect.y0, rect.along, rect.across) for spot, rect in drop.held
    )
    return drop.rect.x1 <= 0, drop.rect.along, tuple(held)


def _across(work: Work, alike: tuple[Drop, ...], left: int) -> str:
    """Cuts right across; `left` is what stays where nothing more is laid on it."""
    places = readings(tuple(drop.rect.x1 for drop in alike), work.units)
    ids = call([spot for drop in alike for spot, _ in drop.held])
    size = work.length(alike[0].rect.along)
    if not ids:
        what = f"waste, {size}"
    elif len(alike) > 1:
        what = f"{count(len(alike))} drops of {size} with {ids}"
    else:
        what = f"a drop of {size} with {ids}"
    over = f"; {work.left(left)} left" if left else ""
    return f"Cut right across {places}, along a thread: {what}{over}."


def call(spots: list[Placement]) -> str:
    """Some copies spelled shortly, or the first of many."""
    spans = join_ids((spot.letter, spot.copy) for spot in spots)
    if len(spans) <= 4:
        return ", ".join(spans)
    return f"{', '.join(spans[:3])} and more"
