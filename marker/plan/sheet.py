"""The printed sheet: what to buy, what to cut, the plans, the tears, and what to mind.

`sheet.typ` holds the setting and no words of a case; this module hands it the words as
JSON, so that a title full of markup is printed as it stands.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from decimal import Decimal
from importlib.resources import files
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory
from typing import Any

import font_source_sans_pro
import typst

from marker import buying
from marker.lay import Lay
from marker.piece import Grain, Piece
from marker.plan import steps, words
from marker.plan.page import Paper
from marker.record import Garment, Record
from marker.units import CM, YARD, Rounding, System, format_length, is_rounded, set_fractions

FACES = ("Regular", "It", "Semibold", "Bold")

STAR = "*"
"""Stands behind a figure that print shows rounded."""

GRAIN = {
    Grain.ALONG: "along the warp",
    Grain.ACROSS: "across",
    Grain.EITHER: "either way",
}

MANNER = (
    "Lay the cloth as on the plan, free end at the left, near edge towards you. "
    "Snip through the edge first, then tear along one thread."
)

CAUTIONS = (
    "Blades: snip away from the hand that holds the cloth, and put shears down closed.",
    "Tear only after snipping. Torn strips narrower than about 4 cm (1½ in) stretch and curl.",
    "Print is not always on grain: tear a short way and look before going on.",
    "Long full skirts: keep away from open flame, lift them on stairs, and tie them back "
    "near machinery.",
    "On a stage or at a public event follow the venue's fire rules, and the local code for "
    "treated cloth.",
    "Where the law asks for licensed practice, such as flame treatment, ask someone who "
    "holds the licence.",
)


def compile_sheet(record: Record, plans: Mapping[str, str], paper: Paper) -> bytes:
    """Set the whole record as a PDF.

    `plans` holds the drawing of each cloth, by the cloth's key, as SVG text of the paper's
    own size; a page is given to each, at true size. The same record gives the same bytes
    on every machine: fonts come with the package and no date is kept.
    """
    template = files("marker.plan").joinpath("sheet.typ").read_bytes()
    data = json.dumps(_data(record, plans, paper), ensure_ascii=False)
    with TemporaryDirectory() as fonts:
        _lay_out_fonts(Path(fonts))
        pdf = typst.compile(
            template,
            format="pdf",
            font_paths=typst.Fonts(include_system_fonts=False, font_paths=[fonts]),
            sys_inputs={"data": data},
            timestamp=0,
        )
    assert isinstance(pdf, bytes)
    return pdf


def _lay_out_fonts(folder: Path) -> None:
    """Put the faces in use into a folder of their own.

    The fonts' package holds every face twice, in two formats; which of them typst would
    find first hangs on the disk, and the bytes of the PDF with it.
    """
    for face in FACES:
        name = f"SourceSansPro-{face}.ttf"
        copyfile(Path(font_source_sans_pro.font_directory) / name, folder / name)


def _data(record: Record, plans: Mapping[str, str], paper: Paper) -> dict[str, Any]:
    """Everything that the template sets, as plain words; the template reckons nothing."""
    figures = _Figures(record.units)
    garments = {garment.key: garment.name for garment in record.garments}
    data = {
        "paper": {"width": paper.size[0] / 100, "height": paper.size[1] / 100},
        "title": record.title,
        "short": _shorten(record.title, 110),
        "subtitle": _subtitle(record),
        "cloths": [_cloth(lay, plans[lay.cloth.key], figures) for lay in record.lays],
        "total": _total(record),
        "notions": [
            {"name": item.name, "garment": garment.name, "length": figures.up(item.length)}
            for garment in record.garments
            for item in garment.notions
        ],
        "pieces": [
            _piece(piece, lay.cloth.name, garments.get(piece.garment, ""), figures)
            for lay in record.lays
            for piece in lay.pieces
        ],
        "garments": [_garment(garment, figures) for garment in record.garments],
        "choices": [set_fractions(sentence) for sentence in record.choices],
        "manner": MANNER,
        "cautions": CAUTIONS,
    }
    return {**data, "rounded": figures.note()}


class _Figures:
    """Lengths as print shows them; remembers whether one was rounded."""

    def __init__(self, units: System) -> None:
        self.units = units
        self.rounded = False

    def up(self, value: int) -> str:
        """A length that is bought or cut: never printed short."""
        return self._set(value, Rounding.UP)

    def near(self, value: int) -> str:
        """A length that is only told."""
        return self._set(value, Rounding.NEAREST)

    def size(self, length: int, breadth: int) -> str:
        """A cut size, the unit named once."""
        first = self.up(length).replace(f" {self.units.value}", "")
        return f"{first} × {self.up(breadth)}"

    def bought(self, lay: Lay) -> str:
        """A length as the shop measures it."""
        grid = CM if self.units is System.CM else YARD // 8
        return self._star(words.buy(lay, self.units), lay.buy % grid != 0)

    def note(self) -> str:
        """What the mark behind a rounded figure means; empty if none was rounded."""
        if not self.rounded:
            return ""
        step = "1 mm" if self.units is System.CM else "⅛ in"
        return f"{STAR} rounded in print to {step}; what is bought or cut is rounded up."

    def _set(self, value: int, rounding: Rounding) -> str:
        text = set_fractions(format_length(value, self.units, rounding))
        return self._star(text, is_rounded(value, self.units))

    def _star(self, text: str, rounded: bool) -> str:
        self.rounded = self.rounded or rounded
        return set_fractions(text) + (STAR if rounded else "")


def _subtitle(record: Record) -> str:
    wearers = dict.fromkeys(garment.wearer for garment in record.garments if garment.wearer)
    whose = f" for {', '.join(wearers)}" if wearers else ""
    return f"Shopping list, pieces and tear plan{whose}"


def _shorten(text: str, most: int) -> str:
    """A text short enough for one line of the title block."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def _cloth(lay: Lay, drawing: str, figures: _Figures) -> dict[str, Any]:
    cloth, units = lay.cloth, figures.units
    cost, mass = buying.cost(lay), buying.grams(lay)
    told = steps.steps(lay, units)
    return {
        "name": cloth.name,
        "short": _shorten(cloth.name, 34),
        "alt": f"Tear plan of {cloth.name}",
        "drawing": drawing,
        "detail": _detail(lay, figures),
        "buy": figures.bought(lay),
        "need": figures.up(lay.need),
        "cost": f"{cost:.2f} {cloth.price.currency}" if cost is not None and cloth.price else "",
        "mass": _mass(mass) if mass is not None else "",
        "steps": [{"numbers": s.numbers, "text": set_fractions(s.text)} for s in told],
        "rounded": _rounded_readings(lay, units),
        "sum": set_fractions(steps.check_sum(lay, units)),
        "proof": _proof(lay, figures),
        "left": [set_fractions(line) for line in steps.leftovers(lay, units)],
    }


def _detail(lay: Lay, figures: _Figures) -> str:
    """How the cloth lies on the table, in a line."""
    cloth = lay.cloth
    said = [f"{figures.near(cloth.width)} wide"]
    if cloth.selvedge:
        edge = figures.near(cloth.selvedge)
        said.append(
            f"selvedges kept ({edge})" if cloth.keep_selvedges else f"selvedges torn off ({edge})"
        )
    if cloth.one_way:
        said.append("one way")
    if cloth.washed:
        said.append(
            f"wash before laying (shrinks {cloth.warp_shrinkage} % in length, "
            f"{cloth.weft_shrinkage} % in width, to {figures.near(cloth.laid_width)})"
        )
    return ", ".join(said)


def _mass(grams: int) -> str:
    return f"{grams} g" if grams < 1000 else f"{grams // 1000}.{grams % 1000 // 10:02d} kg"


def _total(record: Record) -> str:
    """What all cloths cost together; empty unless several are priced in one currency."""
    priced = [
        (buying.cost(lay) or Decimal(0), lay.cloth.price.currency)
        for lay in record.lays
        if lay.cloth.price
    ]
    if len(priced) < 2 or len({currency for _, currency in priced}) > 1:
        return ""
    return f"{sum(cost for cost, _ in priced):.2f} {priced[0][1]}"


def _rounded_readings(lay: Lay, units: System) -> str:
    if not any(is_rounded(tear.at, units) for tear in lay.tears):
        return ""
    step = "millimetre" if units is System.CM else "⅛ in"
    return f"Some readings are rounded up to the next {step}."


def _proof(lay: Lay, figures: _Figures) -> list[str]:
    """What is known of the length, and from what to what the need grows."""
    known = words.proof(lay, figures.units)
    lines = [f"{known[0].upper()}{known[1:]}."]
    lines.append(
        f"The lay is {figures.up(lay.length)} long, and none can be shorter: {lay.bound_by}."
        if lay.bound == lay.length
        else f"The lay is {figures.up(lay.length)} long; none can be shorter than "
        f"{figures.near(lay.bound)}: {lay.bound_by}."
    )
    squared = f", squaring {figures.up(lay.cloth.squaring)}" if lay.cloth.squaring else ""
    shrunk = ", shrinkage counted" if lay.cloth.washed else ""
    lines.append(
        f"Exact need {figures.up(lay.need)}{squared}{shrunk}; in steps of "
        f"{figures.near(lay.cloth.step)} that is {figures.bought(lay)}."
    )
    lines.append(f"{words.used(lay)} of the lay becomes pieces.")
    return [set_fractions(line) for line in lines]


def _piece(piece: Piece, cloth: str, garment: str, figures: _Figures) -> dict[str, str]:
    return {
        "letter": piece.letter,
        "name": piece.name,
        "count": str(piece.count),
        "size": figures.size(piece.length, piece.breadth),
        "grain": GRAIN[piece.grain],
        "cloth": cloth,
        "whose": ", ".join(part for part in (_wearer(piece.wearer, garment), garment) if part),
    }


def _wearer(wearer: str, garment: str) -> str:
    """The wearer, unless the garment's own name says whose it is."""
    return "" if wearer in garment else wearer


def _garment(garment: Garment, figures: _Figures) -> dict[str, Any]:
    facts = [
        ("panels", str(garment.panels)),
        ("cut length of a panel", figures.up(garment.cut_length)),
    ]
    if garment.round_hem:
        facts.append(("round the hem", figures.near(garment.round_hem)))
    if garment.round_hem and garment.drawn:
        facts.append(("drawn up to", figures.near(garment.drawn)))
        facts.append(("fulness", f"{garment.fulness:.1f} to 1"))
    if garment.opening:
        facts.append(("opening", figures.near(garment.opening)))
    return {
        "name": garment.name,
        "wearer": _wearer(garment.wearer, garment.name),
        "facts": facts,
        "turns": [
            {
                "place": turn.place,
                "finished": figures.near(turn.finished),
                "depth": figures.near(turn.depth),
            }
            for turn in garment.turn_downs
        ],
        "advice": [set_fractions(sentence) for sentence in garment.advice],
    }
