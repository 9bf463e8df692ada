"""A new case file from a handful of answers: commented, and ready to plan.

>>> text = compose("Harvest skirt", "cm", {"waist": "72 cm"})
>>> text.splitlines()[0]
'# Harvest skirt: a gauged skirt of 2 panels.'
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from marker import casefile, units
from marker.errors import BadInput
from marker.garments.panel import MOST
from marker.garments.words import text_fault
from marker.units import System, Units

HEMS = ("own hem", "facing", "none")
TOPS = ("band", "tape")


@dataclass(frozen=True)
class Question:
    """One thing to ask: `prompt` on one line, `help` in a sentence, an answer as text.

    `metric` and `inches` are the usual answers in either measure. `check` gives the answer
    as it is written to the file, or raises `BadInput` with one sentence.
    """

    key: str
    prompt: str
    help: str
    metric: str
    inches: str
    check: Callable[[str], str]

    def usual(self, system: System) -> str:
        """The answer that is taken where none is given."""
        return self.inches if system is System.IN else self.metric


def _size(text: str) -> str:
    if units.parse(text) == 0:
        raise BadInput(f"{text!r} is nothing; give a length above nought")
    return text.strip()


def _length(text: str) -> str:
    units.parse(text)
    return text.strip()


def _count(text: str) -> str:
    plain = text.strip()
    if not (plain.isascii() and plain.isdigit() and 1 <= int(plain[:9]) <= MOST):
        raise BadInput(f"{text!r} is not a whole number from 1 to {MOST}; write it as 3")
    return str(int(plain))


def _one_of(words: tuple[str, ...]) -> Callable[[str], str]:
    def check(text: str) -> str:
        plain = " ".join(text.lower().split())
        if plain not in words:
            raise BadInput(f"{text!r} is not among the answers; write {' or '.join(words)}")
        return plain

    return check


QUESTIONS = (
    Question("waist", "Waist", "The girth at the natural waist.", "72 cm", "28 in", _size),
    Question(
        "length", "Waist to hem",
        "The finished length, from the lower edge of the band to the hem.",
        "90 cm", "36 in", _size,
    ),
    Question(
        "width", "Width of the cloth", "From edge to edge, selvedges counted.",
        "150 cm", "60 in", _size,
    ),
    Question(
        "selvedge", "One selvedge", "The firm edge that is torn off; nought if there is none.",
        "1 cm", "1/2 in", _length,
    ),
    Question("panels", "Panels", "How many full breadths go round.", "2", "2", _count),
    Question("hem", "Hem (own hem, facing, none)", "How the hem is finished.", "own hem",
             "own hem", _one_of(HEMS)),
    Question("top", "Waist finish (band, tape)", "A waistband, or a tape with ties.", "band",
             "band", _one_of(TOPS)),
)  # fmt: skip
"""What `marker new` asks, in order; every one has a usual answer."""


USUAL = {
    "squaring": ("2 cm", "1 in"),
    "step": ("10 cm", "1/8 yd"),
    "repeat": ("12 cm", "5 in"),
    "flaw begins": ("40 cm", "16 in"),
    "flaw ends": ("46 cm", "18 in"),
    "price": ("12.50 EUR/m", "9 USD/yd"),
    "weight": ("150 g/m2", "4.5 oz/yd2"),
    "seam": ("1 cm", "1/2 in"),
    "turn_down": ("6 cm", "2 1/2 in"),
    "take_up": ("5 cm", "2 in"),
    "depth": ("15 cm", "6 in"),
    "tie": ("60 cm", "24 in"),
    "band": ("3 cm", "1 1/4 in"),
    "underlap": ("7.5 cm", "3 in"),
    "opening": ("26 cm", "10 1/2 in"),
    "margin": ("5 mm", "1/4 in"),
    "pocket length": ("20 cm", "8 in"),
    "pocket breadth": ("16 cm", "6 1/2 in"),
}
"""What the file is filled with besides the answers, in centimetres and in inches."""


def compose(title: str, system: Units | str, answers: Mapping[str, str]) -> str:
    """The text of a case file; a question without an answer takes the usual one.

    Raises `BadInput` naming the question whose answer can't be used, or the key at fault
    where the answers clash, such as a waist wider than the round hem.
    """
    told = _told(system)
    if fault := text_fault(title):
        raise BadInput(f"title: {fault}")
    unknown = set(answers) - {question.key for question in QUESTIONS}
    if unknown:
        known = ", ".join(question.key for question in QUESTIONS)
        raise BadInput(f"{min(unknown)!r} is not a question; the questions are: {known}")
    given = {q.key: _answer(q, answers.get(q.key, q.usual(told.lead))) for q in QUESTIONS}
    text = _text(title, told, given)
    for order in casefile.parse(text, "the new case").orders:
        order.drafts()  # a file that can't be drafted is not worth writing
    return text


def _told(system: Units | str) -> Units:
    if system not in units.SPELLED:
        raise BadInput(f"{system!r} is not a measure; write cm or in, or both")
    told: Units = units.SPELLED[system]
    return told


def _answer(question: Question, text: str) -> str:
    try:
        return question.check(text)
    except BadInput as error:
        raise BadInput(f"{question.key}: {error}") from None


def _text(title: str, told: Units, given: Mapping[str, str]) -> str:
    plain = " ".join(title.split())
    count = int(given["panels"])
    quoted = {key: _quote(value) for key, value in given.items()}
    usual = {
        key: _quote(inches if told.lead is System.IN else metric)
        for key, (metric, inches) in USUAL.items()
    }
    return "\n".join(
        [
            f"# {plain}: a gauged skirt of {count} panel{'' if count == 1 else 's'}.",
            f"# Lengths are written with their unit: {units.CHOICE}.",
            f"title = {_quote(title)}",
            _key("units", _quote(told.value), 'what is printed: "cm", "in" or "both"'),
            *_wearer(quoted),
            *_cloth(quoted, usual),
            *_garment(quoted, usual),
            "",
            "[garment.skirt.panels]",
            _key("count", given["panels"]),
            _key("width", '"full"', "or a cut width, and the band comes out beside the panels"),
            _key("lie", '"either"', "along the bolt or railroaded, whichever needs less"),
            *_top(given["top"], usual),
            "",
            "[garment.skirt.opening]",
            _key("length", usual["opening"]),
            _key("at", '"side"', 'or "front", "back"'),
            *_piece(usual),
            "",
        ]
    )


def _wearer(quoted: Mapping[str, str]) -> list[str]:
    return [
        "",
        "[wearer.first]",
        _key("name", '"Dancer"'),
        _key("waist", quoted["waist"]),
        _key("length", quoted["length"], "waist to hem; or give front, side and back"),
    ]


def _cloth(quoted: Mapping[str, str], usual: Mapping[str, str]) -> list[str]:
    return [
        "",
        "[cloth.main]",
        _key("name", '"Main cloth"'),
        _key("width", quoted["width"], "from edge to edge"),
        _key("selvedge", quoted["selvedge"], "the firm edge on one side"),
        _key("selvedges", '"trimmed"', 'or "kept", inside the seams'),
        _key("squaring", usual["squaring"], "lost to straighten the shop's cut end"),
        _key("# step", usual["step"], "how the shop sells it"),
        _key("# shrinkage", '{ warp = "3 %", weft = "2 %" }', "if it is washed first"),
        _key("# tears", "false", "if it is cut with shears"),
        _key("# folded", "true", "if it is cut in two layers"),
        _key("# margin", usual["margin"], "what shears need between pieces"),
        _key("# repeat", f"{{ along = {usual['repeat']} }}", "if hems or stripes are to match"),
        _key("# flaws", _flaw(usual), "right across, from the cut end"),
        _key("# price", usual["price"]),
        _key("# weight", usual["weight"]),
    ]


def _flaw(usual: Mapping[str, str]) -> str:
    return f"[{{ along = [{usual['flaw begins']}, {usual['flaw ends']}] }}]"


def _garment(quoted: Mapping[str, str], usual: Mapping[str, str]) -> list[str]:
    lines = [
        "",
        "[garment.skirt]",
        _key("name", '"Skirt"'),
        _key("seam", usual["seam"]),
        _key("turn_down", usual["turn_down"], "at the top, inside the pleats"),
        _key("hem", quoted["hem"], '"own hem", "facing" or "none"'),
    ]
    if quoted["hem"] == '"own hem"':
        lines.append(_key("take_up", usual["take_up"], "the whole depth of the hem"))
    if quoted["hem"] == '"facing"':
        lines.append(_key("facing", f"{{ depth = {usual['depth']} }}", "in as few strips as fit"))
    return lines


def _piece(usual: Mapping[str, str]) -> list[str]:
    """A piece of the user's own, to be opened or to show how one is written."""
    return [
        "",
        _key("# [piece.pocket]", "", "a piece of your own, beside the skirt"),
        _key("# length", usual["pocket length"], "or points, or the path of a drawing"),
        _key("# breadth", usual["pocket breadth"]),
        _key("# count", "2"),
        _key("# seam", usual["seam"], "added all round"),
    ]


def _top(top: str, usual: Mapping[str, str]) -> list[str]:
    if top == "tape":
        return ["", "[garment.skirt.tape]", _key("tie", usual["tie"], "each end")]
    return [
        "",
        "[garment.skirt.band]",
        _key("width", usual["band"], "finished; it is cut double"),
        _key("underlap", usual["underlap"]),
    ]


def _key(key: str, value: str, comment: str = "") -> str:
    """One line of the file, its comment set in a column of its own."""
    line = f"{key} = {value}" if value else key
    return f"{line:<23} # {comment}" if comment else line


def _quote(text: str) -> str:
    """A TOML basic string; JSON's escapes are all TOML's too."""
    return json.dumps(text, ensure_ascii=False)
