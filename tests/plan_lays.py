"""Lays for the tests of the plan, each with something hard to label; made by hand, never solved."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache

from example_lays import Drop, in_drops
from plan_asks import ASKING
from plan_shapes import SHAPED

from marker.cloth import Cloth
from marker.lay import Lay, Proof
from marker.piece import Edges, Grain, Mark, MarkKind, Piece
from marker.plan.drawing.page import Paper
from marker.plan.lays.layout import Plan, layout
from marker.record import Record
from marker.solver.goals import goals
from marker.units import INCH, System, parse


def record(lay: Lay, title: str, units: System = System.CM, others: Sequence[Lay] = ()) -> Record:
    return Record(title, units, (), (with_goals(lay), *others))


def with_goals(lay: Lay) -> Lay:
    """The lay with its four goals, reckoned from what it is; nothing is searched."""
    return replace(lay, goals=goals(lay, 0, 0)) if lay.pieces else lay


def panel(letter: str, length: str, breadth: str, count: int, seam: str, turn: str, hem: str,
          wearer: str = "") -> Piece:  # fmt: skip
    """A skirt panel with every mark that the recipes draw."""
    long, broad, side = parse(length), parse(breadth), parse(seam)
    top, low = parse(turn), parse(hem)
    notch = top + parse("25 cm")
    marks = (
        Mark(MarkKind.SEAM, "seam", 0, side, long, side),
        Mark(MarkKind.SEAM, "seam", 0, broad - side, long, broad - side),
        Mark(MarkKind.FOLD, "fold of the turn-down", top, 0, top, broad),
        Mark(MarkKind.HEM, "hem line", long - low, 0, long - low, broad),
        Mark(MarkKind.NOTCH, "opening", notch, 0, notch, side),
    )
    edges = Edges("waist", "hem", "seam", "seam")
    return Piece(letter, "panel", long, broad, count, "main", edges=edges, marks=marks,
                 wearer=wearer)  # fmt: skip


def band(letter: str, length: str, breadth: str, count: int = 1, wearer: str = "") -> Piece:
    long, broad = parse(length), parse(breadth)
    fold = Mark(MarkKind.FOLD, "fold", 0, broad // 2, long, broad // 2)
    return Piece(letter, "band", long, broad, count, "main", Grain.EITHER, "breadth",
                 marks=(fold,), wearer=wearer)  # fmt: skip


def main_cloth(width: str = "114 cm", **more: object) -> Cloth:
    plain = Cloth("main", "indigo sprig cotton", parse(width), parse("10 cm"),
                  squaring=parse("2.5 cm"), selvedge=parse("1 cm"))  # fmt: skip
    return replace(plain, **more)  # type: ignore[arg-type]


def skirt() -> Record:
    """Three panels and a band, selvedges torn off, in centimetres."""
    pieces = (panel("A", "108 cm", "112 cm", 3, "1.5 cm", "6 cm", "2 cm"),
              band("B", "78 cm", "7.5 cm"))  # fmt: skip
    drops: list[Drop] = [(parse("108 cm"), [("A", 0, 1)])] * 3
    lay = in_drops(main_cloth(), pieces, [*drops, (parse("7.5 cm"), [("B", 90, 1)])])
    return record(lay, "Harvest skirt")


def inches() -> Record:
    """Two panels abreast and bands beside them, selvedges kept, in inches, with a gap to tell."""
    cloth = Cloth("main", "brown linsey", 54 * INCH, parse("1/8 yd"), selvedge=INCH // 2,
                  keep_selvedges=True, squaring=INCH, one_way=True)  # fmt: skip
    pieces = (panel("A", "42 1/2 in", "22 5/8 in", 4, "1/2 in", "2 1/2 in", "1 in"),
              replace(band("B", "30 in", "3 1/4 in", 2), up="length"))  # fmt: skip
    rows = [("A", 0, 1), ("A", 0, 1), ("B", 0, 1)]
    lay = in_drops(cloth, pieces, [(parse("42 1/2 in"), rows)] * 2)
    lay = replace(lay, bound=lay.length - 4 * INCH, proof=Proof.OPEN)
    return record(lay, "Two petticoats of linsey", System.IN)


def strips() -> Record:
    """Strips of 2 cm across the bolt, tears 1 cm apart, and strips of 1 cm along it."""
    pieces = (
        Piece("S", "hem strip", parse("110 cm"), parse("2 cm"), 6, "main", Grain.ACROSS),
        Piece("T", "tape", parse("112 cm"), parse("1 cm"), 8, "main", Grain.ACROSS),
        Piece("U", "tie", parse("60 cm"), parse("1 cm"), 10, "main"),
        Piece("V", "yoke", parse("60 cm"), parse("50 cm"), 2, "main", edges=Edges("neck", "", "")),
    )
    rows = [("U", 0, 1)] * 5 + [("V", 0, 1)] + [("U", 0, 1)] * 5 + [("V", 0, 1)]
    drops: list[Drop] = [
        *[(parse("2 cm"), [("S", 90, 1)])] * 6,
        *[(parse("1 cm"), [("T", 90, 1)])] * 8,
        (parse("60 cm"), rows),
    ]
    return record(in_drops(main_cloth(), pieces, drops), "Strips and ties")


def many() -> Record:
    """Sixty pieces of five kinds for two wearers."""
    pieces = (
        panel("A", "100 cm", "55 cm", 8, "1.5 cm", "6 cm", "2 cm", "Ilse"),
        panel("B", "92 cm", "55 cm", 4, "1.5 cm", "6 cm", "2 cm", "Jorun"),
        Piece("C", "facing", parse("55 cm"), parse("12 cm"), 12, "main", Grain.ACROSS,
              wearer="Ilse"),
        Piece("D", "pocket", parse("16 cm"), parse("18 cm"), 24, "main", wearer="Jorun"),
        Piece("E", "gusset", parse("9 cm"), parse("9 cm"), 12, "main", wearer="Jorun"),
    )  # fmt: skip
    drops: list[Drop] = [
        *[(parse("100 cm"), [("A", 0, 1)] * 2)] * 4,
        *[(parse("92 cm"), [("B", 0, 1)] * 2)] * 2,
        (parse("72 cm"), [("C", 90, 6)] * 2),
        (parse("64 cm"), [("D", 0, 4)] * 6),
        (parse("9 cm"), [("E", 0, 1)] * 12),
    ]
    return record(in_drops(main_cloth(), pieces, drops), "A company in two sizes")


def long_bolt() -> Record:
    """Twenty metres: eighteen panels and eighteen narrow facings."""
    facing = Piece("F", "hem facing", parse("112 cm"), parse("8 cm"), 18, "main", Grain.ACROSS)
    pieces = (panel("A", "100 cm", "112 cm", 18, "1.5 cm", "6 cm", "2 cm"), facing)
    drops: list[Drop] = [
        *[(parse("100 cm"), [("A", 0, 1)])] * 18,
        *[(parse("8 cm"), [("F", 90, 1)])] * 18,
    ]
    return record(in_drops(main_cloth(), pieces, drops), "Skirts for the whole company")


def scrap() -> Record:
    """One small piece from 30 cm of cloth, with a title that tries to break out."""
    cloth = main_cloth(keep_selvedges=True, squaring=0)
    piece = Piece("A", "<b>pocket</b> & flap\x07 " + "of many words " * 20, parse("28 cm"),
                  parse("110 cm"), 1, "main")  # fmt: skip
    lay = in_drops(cloth, (piece,), [(parse("28 cm"), [("A", 0, 1)])])
    return record(lay, "<script>alert(1)</script> \x00\x1b[31m" + "ever longer title " * 20)


RECORDS: dict[str, Callable[[], Record]] = {
    "skirt": skirt, "inches": inches, "strips": strips, "many": many, "long": long_bolt,
    "scrap": scrap, **ASKING, **SHAPED,
}  # fmt: skip


@cache
def worked_out(case: Record, lay: Lay, paper: Paper) -> Plan:
    """The plan of a lay; worked out once for all tests."""
    return layout(case, lay, paper)


@cache
def drawn(name: str, paper: Paper) -> tuple[Record, Lay, Plan]:
    """A record with the plan of its first cloth."""
    case = RECORDS[name]()
    return case, case.lays[0], worked_out(case, case.lays[0], paper)
