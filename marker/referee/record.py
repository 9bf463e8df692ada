"""Judge a whole record: each of its lays, and what must agree between them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import chain
from math import ceil

from marker.cloth import Cloth
from marker.lay import Lay
from marker.piece import Grain, Piece
from marker.record import Garment, Notion, Record
from marker.referee.alone import alone_faults
from marker.referee.lay import findings
from marker.referee.pleating import pleating_faults
from marker.referee.sewing import sewing_faults, thread_faults
from marker.referee.strips import strip_faults
from marker.referee.texts import text_faults
from marker.referee.words import figure, plain, spell
from marker.referee.work import work_faults

_WAIST_TO_HEM = ("waist", "hem")

Cut = tuple[Piece, Cloth]
"""A piece with the cloth that it is cut from."""


def check_record(record: Record) -> tuple[str, ...]:
    """Every fault of a record, one sentence each; an empty tuple passes it.

    A fault of a lay starts with its cloth, one of a garment with its key.
    """
    return tuple(_faults(record))


def _faults(record: Record) -> Iterator[str]:
    if not record.title.strip():
        yield "The record has no title."
    if not record.lays:
        yield "The record has no lay."
    yield from text_faults(record)
    yield from _twice("The cloth", (lay.cloth.key for lay in record.lays))
    yield from _twice("The garment", (garment.key for garment in record.garments))
    yield from _shared_letters(record.lays)
    yield from _mixed_wearers(record.lays)
    yield from alone_faults(record)
    yield from notion_faults(record.notions)
    yield from thread_faults(record.thread)
    for lay in record.lays:
        yield from (f"Cloth {plain(lay.cloth.key)}: {fault}" for fault in findings(lay))
    yield from strip_faults(record.lays)
    pieces = [(piece, lay.cloth) for lay in record.lays for piece in lay.pieces]
    for garment in record.garments:
        own = [(piece, cloth) for piece, cloth in pieces if piece.garment == garment.key]
        faults = (
            garment_faults(garment, own),
            work_faults(garment, [piece for piece, _ in own]),
            sewing_faults(garment, record.thread),
        )
        yield from (f"Garment {plain(garment.key)}: {fault}" for fault in chain(*faults))
    keys = {garment.key for garment in record.garments}
    for piece, _ in pieces:
        if piece.garment and piece.garment not in keys:
            yield (
                f"Piece {plain(piece.letter)} is for garment {plain(piece.garment)}, "
                "which the record doesn't have."
            )


def _twice(what: str, keys: Iterable[str]) -> Iterator[str]:
    for key, times in Counter(keys).items():
        if times > 1:
            yield f"{what} {plain(key)} stands {times} times in the record."


def _shared_letters(lays: Iterable[Lay]) -> Iterator[str]:
    """A letter means one piece in the whole record; a lay's own doubles are its findings."""
    cloths: dict[str, list[str]] = {}
    for lay in lays:
        for letter in {piece.letter: None for piece in lay.pieces}:
            cloths.setdefault(letter, []).append(plain(lay.cloth.key))
    for letter, keys in cloths.items():
        if len(keys) > 1:
            yield f"The letter {plain(letter)} is used on cloths {' and '.join(keys)}."


def _mixed_wearers(lays: Iterable[Lay]) -> Iterator[str]:
    """A letter with a number behind it, "A3", tells the wearer: one letter is for one of them."""
    whose: dict[str, str] = {}
    for piece in (piece for lay in lays for piece in lay.pieces):
        letter = piece.letter.rstrip("0123456789")
        if letter == piece.letter:
            continue
        known = whose.setdefault(letter, piece.wearer)
        if known != piece.wearer:
            yield (
                f"Piece {plain(piece.letter)} is for {plain(piece.wearer)}, but others "
                f"of the letter {plain(letter)} are for {plain(known)}."
            )


def garment_faults(garment: Garment, pieces: list[Cut]) -> Iterator[str]:
    """Faults of a garment's own arithmetic, and against the pieces cut for it.

    A figure of nought doesn't apply, as the round hem of an apron.
    """
    for field in ("panels", "cut_length", "round_hem", "drawn", "opening"):
        value = getattr(garment, field)
        if value < 0:
            name = "drawn length" if field == "drawn" else field.replace("_", " ")
            yield f"Its {name} is {_size(field, value)}."
    if garment.drawn > garment.round_hem > 0:
        yield (
            f"A round hem of {spell(garment.round_hem)} can't be drawn into {spell(garment.drawn)}."
        )
    if garment.opening >= garment.cut_length > 0:
        yield (
            f"An opening of {spell(garment.opening)} doesn't fit "
            f"a cut length of {spell(garment.cut_length)}."
        )
    for item in garment.figures:
        if item.length <= 0:
            yield f"{plain(item.name)} is {spell(item.length)} long."
    yield from notion_faults(garment.notions)
    yield from pleating_faults(garment)
    yield from _turn_down_faults(garment, [piece for piece, _ in pieces if _is_panel(piece)])
    yield from _panel_faults(garment, pieces)


def notion_faults(notions: Iterable[Notion]) -> Iterator[str]:
    """What is bought is measured or counted, and not both."""
    for notion in notions:
        if notion.length < 0 or notion.count < 0 or notion.step < 0:
            yield f"{plain(notion.name)} is less than nothing."
        elif not notion.count and not notion.length:
            yield f"{plain(notion.name)} is {spell(notion.length)} long."
        elif notion.count and notion.length:
            yield f"{plain(notion.name)} is both counted and measured."


def _size(field: str, value: int) -> str:
    return figure(value) if field == "panels" else spell(value)


def _is_panel(piece: Piece) -> bool:
    return (piece.edges.start, piece.edges.end) == _WAIST_TO_HEM


def _turn_down_faults(garment: Garment, panels: list[Piece]) -> Iterator[str]:
    """Straight panels are levelled at the waist: length and turn-down make one sum all round.

    The waist of panels with outlines may slope as it is cut, and then the turn-down is of one
    depth all round.
    """
    for turn in garment.turn_downs:
        if turn.depth < 0 or turn.finished <= 0:
            yield (
                f"At {plain(turn.place)} it is {spell(turn.finished)} long "
                f"with {spell(turn.depth)} turned down."
            )
    sums = {turn.finished + turn.depth for turn in garment.turn_downs}
    depths = {turn.depth for turn in garment.turn_downs}
    sloping = bool(panels) and all(piece.outline is not None for piece in panels)
    if len(sums) > 1 and not (sloping and len(depths) == 1):
        told = ", ".join(
            f"{spell(turn.finished + turn.depth)} at {plain(turn.place)}"
            for turn in garment.turn_downs
        )
        nor = ", nor is the turn-down of one depth" if sloping else ""
        yield f"Finished length and turn-down don't make one sum{nor}: {told}."
    if sums and max(sums) > garment.cut_length:
        yield (
            f"Finished length and turn-down make {spell(max(sums))}, "
            f"more than the cut length of {spell(garment.cut_length)}."
        )


def _allowed(piece: Piece, cloth: Cloth) -> int:
    """What two torn edges add to a piece's size."""
    return 2 * cloth.torn_edge if piece.torn and cloth.tears else 0


def _panel_faults(garment: Garment, pieces: list[Cut]) -> Iterator[str]:
    """Panels are the pieces that run from waist to hem; nothing is judged where none does.

    Breadths of straight ones close the round hem: C = n x (w - 2s) leaves 2s for each of the n
    seams, so what the hem lacks of the summed breadths must share out evenly over the panels.
    """
    cuts = [cut for cut in pieces if _is_panel(cut[0])]
    shaped = [piece for piece, _ in cuts if piece.outline is not None]
    for piece, cloth in cuts:
        if piece.outline is None:
            yield from _length_faults(garment, piece, cloth)
    count = sum(piece.count for piece, _ in cuts)
    if not cuts or (shaped and not garment.panels):
        return
    if count != garment.panels:
        yield f"It has {figure(garment.panels)} panels, but {figure(count)} are cut."
    elif shaped:
        yield from _hem_faults(garment, [piece for piece, _ in cuts])
    else:
        yield from _breadth_faults(garment, [piece for piece, _ in cuts], count)


def _length_faults(garment: Garment, piece: Piece, cloth: Cloth) -> Iterator[str]:
    most = _allowed(piece, cloth)
    # A railroaded panel that reaches from selvedge to selvedge has no torn end.
    least = 0 if piece.grain == Grain.ACROSS and cloth.keep_selvedges else most
    if not least <= piece.length - garment.cut_length <= most:
        over = f" and {spell(most)} for torn edges" if most else ""
        yield (
            f"Panel {plain(piece.letter)} is cut {spell(piece.length)} long, "
            f"not {spell(garment.cut_length)}{over}."
        )


def _breadth_faults(garment: Garment, panels: list[Piece], count: int) -> Iterator[str]:
    broad = sum(piece.breadth * piece.count for piece in panels)
    seams = broad - garment.round_hem
    if seams < 0 or seams % (2 * count) or 2 * seams > broad:
        yield (
            f"Its panels are {spell(broad)} broad in all, which {figure(count)} even seams "
            f"can't close to a round hem of {spell(garment.round_hem)}."
        )


def _hem_faults(garment: Garment, panels: list[Piece]) -> Iterator[str]:
    """Gores are cut with seams beside their hems, so these are no shorter than the round hem.

    Where a panel narrows towards the hem the finished hem lies above the cut one, and is wider.
    """
    hems = 0.0
    for piece in panels:
        waist, hem = _edge(piece, "start"), _edge(piece, "end")
        if hem < waist:
            return
        hems += hem * piece.count
    if ceil(hems) < garment.round_hem:
        yield (
            f"The hems of its panels measure {spell(ceil(hems))} as they are cut, less than "
            f"a round hem of {spell(garment.round_hem)}."
        )


def _edge(piece: Piece, name: str) -> float:
    """Length of an edge; of an outline without it that of the whole, so nothing is claimed."""
    if piece.outline is None:
        return float(piece.breadth)
    found = [edge.length for edge in piece.outline.edges if edge.name == name]
    return found[0] if len(found) == 1 else piece.outline.length
