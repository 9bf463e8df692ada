"""Reading cloth and pieces into a question by rules, with a remedy where a piece can't lie so."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from marker.cloth import Cloth
from marker.errors import BadInput, CannotLay
from marker.lay import Placement
from marker.piece import AtSelvedge, Piece, Side, Wise
from marker.solver.problem import shapes_of
from marker.solver.rules.question import Kind, Question, Span, Way
from marker.units import Rounding, format_length


def read(cloth: Cloth, pieces: Sequence[Piece]) -> Question:
    """The question that these pieces ask of a cloth.

    Raises `BadInput` where there is nothing to lay, and `CannotLay` with a remedy where a
    piece can't lie on the cloth as it must.
    """
    if not pieces:
        raise BadInput(f"cloth {cloth.key!r}: there is no piece to lay; give at least one")
    sets = matched_sets(cloth, pieces)
    groups: dict[tuple[Way, ...], list[tuple[str, int]]] = {}
    for piece in pieces:
        copies = [(piece.letter, copy) for copy in range(1, piece.count + 1)]
        groups.setdefault(ways_of(cloth, piece, sets), []).extend(copies)
    kinds = [Kind(ways, tuple(copies)) for ways, copies in _settled(cloth, sets, groups)]
    kinds.sort(key=lambda kind: (-kind.area, kind.copies))
    most = cloth.longest_lay(cloth.length) if cloth.length else 0
    question = Question(cloth, tuple(kinds), most, sets)
    _short(question)
    return question


def matched_sets(cloth: Cloth, pieces: Sequence[Piece]) -> tuple[tuple[str, Wise], ...]:
    """The matched sets that bind anything: the cloth has the repeat, and two points share it."""
    repeats = {Wise.LENGTHWISE: cloth.repeat.along, Wise.CROSSWISE: cloth.repeat.across}
    points: Counter[tuple[str, Wise]] = Counter()
    for piece in pieces:
        for match in piece.matches:
            points[match.name, match.wise] += piece.count
    return tuple(key for key, times in points.items() if times > 1 and repeats[key[1]])


def _names(sets: Sequence[tuple[str, Wise]]) -> list[str]:
    """The names of matched sets, each once."""
    return list(dict.fromkeys(name for name, _ in sets))


def _settled(
    cloth: Cloth,
    sets: Sequence[tuple[str, Wise]],
    groups: dict[tuple[Way, ...], list[tuple[str, int]]],
) -> list[tuple[tuple[Way, ...], list[tuple[str, int]]]]:
    """The groups without the ways half a turn round of matches for which these gain nothing.

    All pieces of a match lie the same way round. Where half a turn moves the points of every
    piece of each set by one and the same part of the repeat, and leaves each its room across,
    the set may as well stay: only its place in the repeat moves, and that is free.
    """
    gains = dict.fromkeys(range(len(_names(sets))), False)
    moves: dict[tuple[int, int], set[int]] = {}
    for ways in groups:
        for way in ways:
            mates = [mate for mate in ways if mate.turn == (way.turn + 180) % 360]
            alike = bool(mates) and mates[0].ys == way.ys
            for name in way.senses:
                gains[name] = gains[name] or not alike or len(way.senses) > 1
            for axis, repeat in ((0, cloth.repeat.along), (1, cloth.repeat.across)):
                points = (way.along, way.across)[axis]
                others = dict((mates[0].along, mates[0].across)[axis]) if mates else {}
                for name, at in points:
                    if not way.half:
                        moves.setdefault((axis, name), set()).add(
                            (others.get(name, 0) - at) % repeat
                        )
    for (_, at), found in moves.items():
        if len(found) > 1:
            gains[_names(sets).index(sets[at][0])] = True
    return [
        (tuple(way for way in ways if not way.half or _worth(way, gains)), copies)
        for ways, copies in groups.items()
    ]


def _worth(way: Way, gains: dict[int, bool]) -> bool:
    return not way.senses or any(gains[name] for name in way.senses)


def ways_of(cloth: Cloth, piece: Piece, sets: Sequence[tuple[str, Wise]]) -> tuple[Way, ...]:
    """All ways in which the piece may lie that differ in what they ask of their place."""
    shapes_of(piece, cloth)  # says what is too wide, and what helps
    turns = piece.turns(cloth.one_way)
    if not cloth.one_way:
        turns = (*turns, *(turn + 180 for turn in turns))
    found: dict[Way, Way] = {}
    for turn in turns:
        for way in _way(cloth, piece, turn, sets):
            # Which way round a piece lies is of note only where a match is tied to it.
            found.setdefault(way if way.senses else replace(way, turn=0), way)
    if not found:
        raise CannotLay(no_selvedge(cloth, piece), proved=True)
    return tuple(found.values())


def _way(cloth: Cloth, piece: Piece, turn: int, sets: Sequence[tuple[str, Wise]]) -> Iterator[Way]:
    """The piece in one turn, if its wanted edges can then lie at the selvedges."""
    placed = Placement(piece.letter, 1, 0, 0, turn)
    rect = placed.rect(piece)
    low, high = cloth.usable.y0, cloth.usable.y1 - rect.across
    if high < low:
        return
    ys = spans(cloth, piece, placed, rect.across)
    points: dict[Wise, list[tuple[int, int]]] = {Wise.LENGTHWISE: [], Wise.CROSSWISE: []}
    for match in piece.matches:
        if (match.name, match.wise) in sets:
            x, y = placed.to_cloth(piece, match.u, match.v)
            lengthwise = match.wise is Wise.LENGTHWISE
            repeat = cloth.repeat.along if lengthwise else cloth.repeat.across
            offset = (x if lengthwise else y) % repeat
            points[match.wise].append((sets.index((match.name, match.wise)), offset))
    if ys:
        along, across = (tuple(sorted(set(found))) for found in points.values())
        names = _names(sets)
        own = {match.name for match in piece.matches if (match.name, match.wise) in sets}
        senses = tuple(sorted(names.index(name) for name in own))
        yield Way(turn, rect.along, rect.across, tuple(ys), along, across, senses)


def spans(cloth: Cloth, piece: Piece, placed: Placement, across: int) -> list[Span]:
    """Where the low side of a piece may start so that all wanted edges lie near a selvedge.

    `placed` lies at 0, 0, `across` the cloth; none where its turn leaves it no place.
    """
    found: list[Span] = [(cloth.usable.y0, cloth.usable.y1 - across)]
    for wish in piece.selvedges:
        found = _meet(found, _starts(cloth, piece, placed, across, wish))
    return found


def _starts(
    cloth: Cloth, piece: Piece, placed: Placement, across: int, wish: AtSelvedge
) -> list[Span]:
    """Where the low side may start so that the wanted edge lies near a selvedge."""
    low, high = cloth.usable.y0, cloth.usable.y1
    ends = {Side.START: (0, 0), Side.END: (piece.length, piece.length)}
    sides = {Side.LOW: (0, 0), Side.HIGH: (piece.breadth, piece.breadth)}
    wanted = (Side.LOW, Side.HIGH) if wish.edge is Side.EITHER_SIDE else (wish.edge,)
    found: list[Span] = []
    for edge in wanted:
        if edge in sides and placed.turn % 180 == 0:
            at = placed.to_cloth(piece, 0, sides[edge][0])[1]
        elif edge in ends and placed.turn % 180 == 90:
            at = placed.to_cloth(piece, ends[edge][0], 0)[1]
        else:
            continue  # in this turn the edge runs across the cloth
        found.append((low - at, low + wish.within - at))
        found.append((high - wish.within - at, high - at))
    return _meet(_joined(found), [(low, high - across)])


def _joined(spans: Sequence[Span]) -> list[Span]:
    """Spans in order, joined where they touch or overlap."""
    joined: list[Span] = []
    for low, high in sorted(spans):
        if joined and low <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
        else:
            joined.append((low, high))
    return joined


def _meet(spans: Sequence[Span], others: Sequence[Span]) -> list[Span]:
    """What lies in both."""
    both = [(max(a, c), min(b, d)) for a, b in spans for c, d in others]
    return _joined([(low, high) for low, high in both if low <= high])


def no_selvedge(cloth: Cloth, piece: Piece) -> str:
    """That a piece can't lie at the selvedge that it wants, and what helps."""
    edges = " and ".join(wish.edge.value for wish in piece.selvedges)
    why = (
        f"piece {piece.letter} ({piece.name}) wants a selvedge at its {edges}, and on cloth "
        f"{cloth.key!r} it can't lie so"
    )
    if cloth.one_way:
        return f"{why} with its up along the warp; ask for another edge, or for none"
    return f"{why}; let it turn, give a greater distance from the selvedge, or ask for none"


def _short(question: Question) -> None:
    """Say so where a remnant is plainly too short. Raises `CannotLay`."""
    cloth, most = question.cloth, question.most
    if not most:
        return
    tallest = max(min(way.a for way in kind.ways) for kind in question.kinds)
    least = max(tallest, -(-question.area // cloth.usable.across))
    if least > most:
        raise CannotLay(too_short(cloth, least), proved=True)


def too_short(cloth: Cloth, least: int) -> str:
    """That a remnant does not hold its pieces, and how much would at the least be needed."""
    system = cloth.system
    need = cloth.need(least)
    return (
        f"the remnant {cloth.key!r} is {format_length(cloth.length, system)} long and its pieces "
        f"take at least {format_length(need, system, Rounding.UP)}; take some of them from "
        "another cloth, or make them smaller"
    )
