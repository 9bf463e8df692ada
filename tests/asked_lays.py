"""Lays made by hand that fulfil what cloth and pieces may ask, one idea each."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from lays import ACROSS, ALONG, Bench, record

from marker.cloth import Cloth, Repeat
from marker.geometry import Rect
from marker.lay import Lay, Proof
from marker.piece import AtSelvedge, Edges, Grain, Match, Piece, Pieced, Side, Wise
from marker.record import Garment, Record
from marker.units import CM


def pinwheel() -> Lay:
    """Four pieces around a hole, which nobody can tear: felt doesn't tear anyway.

    60 x 40 cm each; 9,600 cm2 of 100 cm cloth are 96 cm long at least, and 100 are bought.
    """
    cloth = Cloth("felt", "felt", width=100 * CM, step=10 * CM, tears=False)
    bench = Bench([Piece("K", "sail", 60 * CM, 40 * CM, 4, "felt", grain=Grain.EITHER)])
    bench.put("K", 0, 0)
    bench.put("K", 60 * CM, 0, 90)
    bench.put("K", 40 * CM, 60 * CM, 180)
    bench.put("K", 0, 40 * CM, 270)
    bench.leave(Rect(40 * CM, 40 * CM, 60 * CM, 60 * CM), keep=True)
    bolt = Rect(0, 0, 100 * CM, 100 * CM)
    # One cut along each side of the hole, on to the end of a piece.
    return bench.lay(
        cloth, 100 * CM, bolt, 96 * CM, Proof.STEP,
        (100 * CM, 100 * CM), left=20 * CM * 20 * CM, cuts=4,
    )  # fmt: skip


def stepped() -> Lay:
    """Shears on squared cloth with trimmed selvedges; what is left makes five rectangles.

    The cloth would tear, but neither piece may be torn. The leftover beside the shorter
    piece runs on past the longer one's end, 45 x 49 cm, and behind the longer one lie 5 x 49 cm.
    """
    cloth = Cloth("net", "net", width=100 * CM, step=10 * CM, selvedge=CM, squaring=5 * CM)
    bench = Bench(
        [
            Piece("L", "veil", 70 * CM, 49 * CM, 1, "net", torn=False),
            Piece("M", "veil", 30 * CM, 49 * CM, 1, "net", torn=False),
        ]
    )
    bench.put("L", 0, CM)
    bench.put("M", 0, 50 * CM)
    bench.leave(Rect(30 * CM, 50 * CM, 75 * CM, 99 * CM), keep=True)
    bench.leave(Rect(-5 * CM, 0, 0, 100 * CM))
    bench.leave(Rect(0, 0, 75 * CM, CM), Rect(0, 99 * CM, 75 * CM, 100 * CM))
    bench.leave(Rect(70 * CM, CM, 75 * CM, 50 * CM))
    bolt = Rect(-5 * CM, 0, 75 * CM, 100 * CM)
    # Across at 0, 30 and 70 cm; along at 1, 50 and 99.
    return bench.lay(
        cloth, 70 * CM, bolt, 70 * CM, Proof.LENGTH,
        (80 * CM, 80 * CM), left=45 * CM * 49 * CM, cuts=6,
    )  # fmt: skip


def flawed() -> Lay:
    """Two drops with a flaw between them that both touch, and flaws off the bolt at either end."""
    flaws = (
        Rect(60 * CM, 20 * CM, 75 * CM, 30 * CM),
        Rect(-5 * CM, 0, 0, 100 * CM),
        Rect(135 * CM, 95 * CM, 200 * CM, 120 * CM),
        Rect(150 * CM, 0, 160 * CM, 100 * CM),
    )
    cloth = Cloth("main", "linen", width=100 * CM, step=10 * CM, flaws=flaws)
    bench = Bench([Piece("A", "panel", 60 * CM, 100 * CM, 2, "main")])
    bolt = Rect(0, 0, 140 * CM, 100 * CM)
    bench.put("A", 0, 0)
    bench.put("A", 75 * CM, 0)
    _, rest = bench.tear(bolt, ACROSS, 60 * CM, "A-1")
    gap, rest = bench.tear(rest, ACROSS, 75 * CM)
    _, tail = bench.tear(rest, ACROSS, 135 * CM, "A-2")
    bench.leave(gap, keep=True)
    bench.leave(tail)
    return bench.lay(
        cloth, 135 * CM, bolt, 120 * CM, Proof.OPEN,
        (140 * CM, 120 * CM), left=15 * CM * 70 * CM,
    )  # fmt: skip


def checked() -> Lay:
    """One-way checked cloth: panels in one phase lengthwise, pockets over the seam crosswise.

    Two panels of 50 cm in a 16 cm repeat begin 64 cm apart, so 64 + 50 = 114 cm at least. The
    pockets lie in the gap; a pocket's match point lies off it, where the next breadth begins.
    """
    cloth = Cloth(
        "check", "check", width=100 * CM, step=10 * CM, one_way=True,
        repeat=Repeat(16 * CM, 10 * CM),
    )  # fmt: skip
    hem = Match("hem", Wise.LENGTHWISE, 50 * CM, 0)
    bars = Match("bars", Wise.CROSSWISE, 0, 50 * CM)
    pocket = (Match("hem", Wise.LENGTHWISE, 0, 0), bars)
    bench = Bench(
        [
            Piece("A", "panel", 50 * CM, 100 * CM, 2, "check", matches=(hem, bars)),
            Piece("B", "pocket", 14 * CM, 45 * CM, 2, "check", matches=pocket),
        ]
    )
    bolt = Rect(0, 0, 120 * CM, 100 * CM)
    bench.put("A", 0, 0)
    bench.put("B", 50 * CM, 0)
    bench.put("B", 50 * CM, 50 * CM)
    bench.put("A", 64 * CM, 0)
    _, rest = bench.tear(bolt, ACROSS, 50 * CM, "A-1")
    gap, rest = bench.tear(rest, ACROSS, 64 * CM)
    _, tail = bench.tear(rest, ACROSS, 114 * CM, "A-2")
    _, gap = bench.tear(gap, ALONG, 45 * CM, "B-1")
    between, gap = bench.tear(gap, ALONG, 50 * CM)
    _, end = bench.tear(gap, ALONG, 95 * CM, "B-2")
    bench.leave(between, end, tail)
    return bench.lay(cloth, 114 * CM, bolt, 114 * CM, Proof.LENGTH, (120 * CM, 120 * CM))


def bordered() -> Lay:
    """A border print: pieces at one selvedge, at either, at both, and one that stands near it."""
    cloth = Cloth("print", "print", width=92 * CM, step=5 * CM, selvedge=CM)
    near, far = AtSelvedge(Side.LOW), AtSelvedge(Side.HIGH)
    bench = Bench(
        [
            Piece("C", "flounce", 100 * CM, 30 * CM, 2, "print", selvedges=(near,)),
            Piece("D", "yoke", 20 * CM, 90 * CM, 1, "print", selvedges=(near, far)),
            Piece("E", "cuff", 40 * CM, 25 * CM, 1, "print", grain=Grain.ACROSS,
                  selvedges=(AtSelvedge(Side.START, 2 * CM),)),
            Piece("F", "pocket", 25 * CM, 20 * CM, 1, "print",
                  selvedges=(AtSelvedge(Side.EITHER_SIDE, 5 * CM),)),
        ]
    )  # fmt: skip
    bolt = Rect(0, 0, 145 * CM, 92 * CM)
    bench.put("C", 0, CM)
    # The low edge comes to the far selvedge by a half turn.
    bench.put("C", 0, 61 * CM, 180)
    bench.put("D", 100 * CM, CM)
    bench.put("E", 120 * CM, 3 * CM, 90)
    bench.put("F", 120 * CM, 66 * CM)
    drop, rest = bench.tear(bolt, ACROSS, 100 * CM)
    yoke, rest = bench.tear(rest, ACROSS, 120 * CM)
    trim, drop = bench.tear(drop, ALONG, CM)
    _, drop = bench.tear(drop, ALONG, 31 * CM, "C-1")
    middle, drop = bench.tear(drop, ALONG, 61 * CM)
    _, end = bench.tear(drop, ALONG, 91 * CM, "C-2")
    bench.leave(middle, keep=True)
    bench.leave(trim, end)
    trim, yoke = bench.tear(yoke, ALONG, CM)
    _, end = bench.tear(yoke, ALONG, 91 * CM, "D-1")
    bench.leave(trim, end)
    trim, rest = bench.tear(rest, ALONG, 3 * CM)
    _, rest = bench.tear(rest, ALONG, 43 * CM, "E-1")
    between, rest = bench.tear(rest, ALONG, 66 * CM)
    _, end = bench.tear(rest, ALONG, 86 * CM, "F-1")
    bench.leave(between, keep=True)
    bench.leave(trim, end)
    return bench.lay(
        cloth, 145 * CM, bolt, 120 * CM, Proof.OPEN,
        (145 * CM, 120 * CM), left=100 * CM * 30 * CM,
    )  # fmt: skip


def scrap() -> Lay:
    """A remnant of 95 cm, washed and squared: 95 x 0.96 - 2 = 89.2 cm to lay on, none to buy."""
    cloth = Cloth(
        "scrap", "scrap", width=60 * CM, step=10 * CM, squaring=2 * CM, length=95 * CM,
        warp_shrinkage=Decimal(4),
    )  # fmt: skip
    bench = Bench([Piece("G", "apron", 70 * CM, 60 * CM, 1, "scrap")])
    bolt = Rect(-2 * CM, 0, 892 * CM // 10, 60 * CM)
    bench.put("G", 0, 0)
    square, rest = bench.tear(bolt, ACROSS, 0)
    _, tail = bench.tear(rest, ACROSS, 70 * CM, "G-1")
    bench.leave(square)
    bench.leave(tail, keep=True)
    return bench.lay(
        cloth, 70 * CM, bolt, 60 * CM, Proof.STEP, (0, 0), left=192 * CM // 10 * 60 * CM
    )


def threads() -> Lay:
    """Steps cut along a thread: strips too narrow to tear, and a piece that isn't to be torn.

    The squaring and the bare selvedges are narrower still, and come off all the same.
    """
    cloth = Cloth(
        "fine", "lawn", width=52 * CM, step=10 * CM, selvedge=CM, squaring=2 * CM,
        least_strip=4 * CM,
    )  # fmt: skip
    bench = Bench(
        [
            Piece("N", "collar", 20 * CM, 50 * CM, 1, "fine", torn=False),
            Piece("P", "cuff", 20 * CM, 25 * CM, 2, "fine"),
            Piece("Q", "loop", 20 * CM, 3 * CM, 2, "fine"),
        ]
    )
    bolt = Rect(-2 * CM, 0, 68 * CM, 52 * CM)
    bench.put("N", 0, CM)
    bench.put("P", 20 * CM, CM)
    bench.put("P", 20 * CM, 26 * CM)
    bench.put("Q", 40 * CM, CM)
    bench.put("Q", 40 * CM, 4 * CM)
    # The squaring is itself an edge of the collar, and so is the tear across behind it.
    square, rest = bench.tear(bolt, ACROSS, 0, cut=True)
    collar, rest = bench.tear(rest, ACROSS, 20 * CM, cut=True)
    cuffs, rest = bench.tear(rest, ACROSS, 40 * CM)
    loops, tail = bench.tear(rest, ACROSS, 60 * CM)
    bench.leave(square)
    trim, collar = bench.tear(collar, ALONG, CM, cut=True)
    _, end = bench.tear(collar, ALONG, 51 * CM, "N-1", cut=True)
    bench.leave(trim, end)
    trim, cuffs = bench.tear(cuffs, ALONG, CM)
    cuffs, end = bench.tear(cuffs, ALONG, 51 * CM)
    bench.tear(cuffs, ALONG, 26 * CM, "P-1", "P-2")
    bench.leave(trim, end)
    trim, loops = bench.tear(loops, ALONG, CM)
    _, loops = bench.tear(loops, ALONG, 4 * CM, "Q-1", cut=True)
    _, loops = bench.tear(loops, ALONG, 7 * CM, "Q-2", cut=True)
    bench.leave(trim)
    bench.leave(loops, keep=True)
    bench.leave(tail)
    return bench.lay(
        cloth, 60 * CM, bolt, 43 * CM, Proof.OPEN, (70 * CM, 50 * CM), left=20 * CM * 44 * CM
    )


def _segments(key: str, letter: str, length: int, count: int, width: int) -> Lay:
    """Segments of one facing, side by side on a remnant: 8 cm broad, and no more to it."""
    cloth = Cloth(key, key, width=width, step=CM, length=length)
    strip = Pieced("hem facing", total=130 * CM, seam=CM, least=30 * CM, most=4, pitch=3 * CM)
    piece = Piece(letter, "facing", length, 8 * CM, count, key, garment="apron", pieced=strip)
    bench = Bench([piece])
    rest = bolt = Rect(0, 0, length, width)
    for copy in range(count):
        bench.put(letter, 0, copy * 8 * CM)
    for copy in range(1, count):
        last = (f"{letter}-{count}",) if copy == count - 1 and width == count * 8 * CM else ()
        _, rest = bench.tear(rest, ALONG, copy * 8 * CM, f"{letter}-{copy}", *last)
    if width > count * 8 * CM:
        _, rest = bench.tear(rest, ALONG, count * 8 * CM, f"{letter}-{count}")
        bench.leave(rest)
    return bench.lay(cloth, length, bolt, length, Proof.LENGTH, (0, 0))


def two() -> Lay:
    """Two segments of a facing, 50 cm each, from one scrap."""
    return _segments("blue-scrap", "S", 50 * CM, 2, 16 * CM)


def one() -> Lay:
    """The third segment, 35 cm, from another: 50 + 50 + 35 - 2 x 1 x 2 = 131 cm for 130."""
    return _segments("red-scrap", "T", 35 * CM, 1, 10 * CM)


def pieced() -> Record:
    """A record of one facing joined from three segments that lie on two scraps."""
    apron = Garment(
        key="apron", name="apron", wearer="Anna", panels=1, cut_length=60 * CM,
        round_hem=130 * CM, drawn=70 * CM, opening=0,
    )  # fmt: skip
    return replace(record(), garments=(apron,), lays=(two(), one()))


def grown() -> Record:
    """A skirt whose panels are torn larger by 5 mm at every edge: 60 + 1, and 49 + 1 broad."""
    cloth = Cloth("main", "linen", width=100 * CM, step=CM, torn_edge=CM // 2)
    edges = Edges(start="waist", end="hem")
    bench = Bench([Piece("A", "panel", 61 * CM, 50 * CM, 2, "main", edges=edges, garment="skirt")])
    bolt = Rect(0, 0, 61 * CM, 100 * CM)
    bench.put("A", 0, 0)
    bench.put("A", 0, 50 * CM)
    bench.tear(bolt, ALONG, 50 * CM, "A-1", "A-2")
    lay = bench.lay(cloth, 61 * CM, bolt, 61 * CM, Proof.LENGTH, (61 * CM, 61 * CM))
    skirt = Garment(
        key="skirt", name="skirt", wearer="Anna", panels=2, cut_length=60 * CM,
        round_hem=94 * CM, drawn=70 * CM, opening=0,
    )  # fmt: skip
    return replace(record(), garments=(skirt,), lays=(lay,))


ASKED = {
    make.__name__: make
    for make in (
        pinwheel, stepped, flawed, checked, bordered, scrap, threads, two, one,
    )
}  # fmt: skip
"""The lays by name; each passes the referee."""
