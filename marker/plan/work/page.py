"""The sheet's pages on the order of work, from the tearing to the last press."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from typing import Any

from marker.lay import Lay, Mode
from marker.plan.drawing.lettering import clean
from marker.plan.words.runs import join_ids
from marker.plan.words.whose import initial
from marker.plan.work.alike import Order, orders
from marker.record import Record, Stage

STAGES = {
    "mark": "Mark",
    "join": "Join",
    "hem": "Hem",
    "gauge": "Draw up the top",
    "band": "Band",
    "finish": "Finish",
}
PRESSED = "Pleat the top"
"""The stage of drawing up, where pleats are folded and pressed and nothing is drawn."""
MOST_IDS = 8
"""Runs of pieces told one by one where a step tears or cuts all there are."""
FEW = 4
"""So many letters are told one by one."""
FIGURES = (
    "Letters in heavy type stand for figures that differ from one to another; the table has them."
)


def work_data(record: Record) -> list[dict[str, Any]]:
    """Every order of work, its steps by their stages; none where the record tells of none."""
    return [_page(record, order) for order in orders(record.garments)]


def _page(record: Record, order: Order) -> dict[str, Any]:
    cut = _cut(record, order)
    stages: list[dict[str, Any]] = [{"name": _first(record), "tasks": cut}] if cut else []
    for task in order.tasks:
        name = _stage(order, task.stage)
        if not stages or stages[-1]["name"] != name:
            stages.append({"name": name, "tasks": []})
        stages[-1]["tasks"].append(
            {"words": [list(bit) for bit in task.words], "letters": in_hand(task.letters)}
        )
    names = dict.fromkeys(clean(garment.name) for garment in order.garments)
    wearers = (clean(garment.wearer) for garment in order.garments)
    whose = [name for name in dict.fromkeys(wearers) if name and not any(name in n for n in names)]
    return {
        "name": ", ".join(names),
        "whose": ", ".join(whose),
        "stages": stages,
        "figures": FIGURES if order.table else "",
        "head": [name for name, _ in order.table],
        "rows": [
            [_called(record, garment.key, garment.wearer or garment.name)]
            + [values[number] for _, values in order.table]
            for number, garment in enumerate(order.garments)
        ],
    }


def in_hand(letters: Sequence[str]) -> str:
    """The pieces that a step works on: of many wearers in a row the first two and the last.

    "A1, B1 … T1" are the first pieces of all from A to T.
    """
    if len(letters) <= FEW:
        return ", ".join(letters)
    runs: list[list[str]] = []
    for letter in sorted(letters, key=_by_number):
        if runs and _next(runs[-1][-1], letter):
            runs[-1].append(letter)
        else:
            runs.append([letter])
    return ", ".join(
        ", ".join(run) if len(run) <= 3 else f"{run[0]}, {run[1]} … {run[-1]}" for run in runs
    )


def _by_number(letter: str) -> tuple[int, int, str]:
    wearer = initial(letter)
    return int(letter.removeprefix(wearer)) if wearer else 0, len(wearer or letter), letter


def _next(before: str, after: str) -> bool:
    """Whether a piece of one wearer is followed by the like piece of the next."""
    one, two = initial(before), initial(after)
    same = before.removeprefix(one) == after.removeprefix(two)
    return bool(one and two) and same and _place(one) + 1 == _place(two)


def _place(wearer: str) -> int:
    """A wearer's place in the row: A is 1, Z is 26, AA is 27."""
    return reduce(lambda so_far, letter: 26 * so_far + ord(letter) - ord("A") + 1, wearer, 0)


def _stage(order: Order, stage: str) -> str:
    pleating = order.garments[0].pleating
    if stage == Stage.GAUGE and pleating and not pleating.method.stitched:
        return PRESSED
    return STAGES[stage]


def _called(record: Record, key: str, name: str) -> str:
    """A garment in the table of figures: its wearer's letter, and her name."""
    letters = {
        initial(piece.letter)
        for lay in record.lays
        for piece in lay.pieces
        if piece.garment == key and initial(piece.letter)
    }
    return " ".join([*sorted(letters), clean(name)])


def _first(record: Record) -> str:
    modes = {lay.mode for lay in record.lays}
    if modes == {Mode.TEAR}:
        return "Tear"
    return "Cut" if modes == {Mode.SHEARS} else "Tear or cut"


def _cut(record: Record, order: Order) -> list[dict[str, Any]]:
    """The first steps, which stand on pages of their own: the pieces torn or cut of each cloth."""
    keys = {garment.key for garment in order.garments}
    told = []
    for lay in record.lays:
        if ids := _ids(lay, keys):
            verb = "Tear" if lay.mode is Mode.TEAR else "Cut"
            name = clean(lay.cloth.name)
            text = f"{verb} {_pieces(lay, ids)} of {name}, step by step as its own page says."
            told.append({"words": [[text, False]], "letters": ""})
    return told


def _pieces(lay: Lay, ids: Sequence[str]) -> str:
    """The pieces one by one, or that they are all there are where that is a long list."""
    held = {one.split("-")[0] for one in ids}
    every = held == {spot.letter for spot in lay.placements}
    if every and len(ids) > MOST_IDS:
        return f"all {len(lay.placements)} pieces"
    whose = list(dict.fromkeys(initial(letter) for letter in held))
    own = [spot for spot in lay.placements if initial(spot.letter) in whose]
    if all(whose) and len(ids) > MOST_IDS and {spot.letter for spot in own} == held:
        return f"all {len(own)} pieces of {', '.join(sorted(whose, key=_place))}"
    return ", ".join(ids)


def _ids(lay: Lay, keys: set[str]) -> list[str]:
    mine = {piece.letter for piece in lay.pieces if piece.garment in keys}
    return join_ids((spot.letter, spot.copy) for spot in lay.placements if spot.letter in mine)
