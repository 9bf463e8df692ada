"""A printed sheet read back as text: its pages, its parts, and every figure in them.

Nothing here knows how the program words or rounds anything; it only reads what is there.
"""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from shutil import which
from tempfile import TemporaryDirectory

from pypdf import PdfReader

NUMBER = re.compile(r"\d+(?:\.\d+)?[¼½¾⅛⅜⅝⅞]?|[¼½¾⅛⅜⅝⅞]|\d*[⁰¹²³⁴-⁹]+\u2044[₀-₉]+")
"""A figure as print shows it: whole, decimal, or with a fraction set as one."""
IDS = re.compile(r"\b([A-Z]{1,2}\d*)-(\d+)(?: to \1-(\d+))?\b")
FOOT = re.compile(
    r"\ncase\n(?:.*\n){1,6}?on this page\n(?:.*\n){1,4}?date(?: page)?\n"
    r"(?:page\n)?(?:\d+ of \d+\n)?"
)
"""The title block, wherever it comes in the text of a page."""
OTHERS = re.compile(
    r"\non this page\n(order of work|pleats|thread)(?:, weight and time| and weight| and time)?\n"
)
"""What the title block says of the pages behind the cards."""
STEP = re.compile(r"(?:(\d+)(?: to (\d+))?|first|then) (?=[A-Z])(.*)")
STEPS = re.compile(r"(?:Tear by tear|Cut by cut|(?:Tear|Chalk)[a-z, ]* in this order)")
END = re.compile(
    r"(?:Check sum along the bolt|Check|Take care|What is proved|Left over|Wearers|Pieces|Repeat"
    r"|Some readings are rounded.*|Steps \d+ to \d+ stand in the list.*"
    r"|drawn 1:\d+.*|5 cm square at full size.*|date(?: .*)?|\d+ of \d+)"
)


@dataclass(frozen=True)
class Told:
    """One line of the list of steps: the steps `first` to `last`; nought for a line to heed."""

    first: int
    last: int
    text: str


def figures(text: str) -> list[str]:
    """Every figure in a text, the numbers in names of copies left out."""
    return NUMBER.findall(IDS.sub(" ", text))


def ids(text: str) -> set[str]:
    """Every copy named in a text, those between two counted."""
    return {
        f"{letter}-{copy}"
        for letter, first, last in IDS.findall(text)
        for copy in range(int(first), int(last or first) + 1)
    }


def pages(pdf: bytes, tool: str = "") -> list[str]:
    """The text of each page in the order in which it is set, by whatever reader there is."""
    if tool == "pypdf" or which("pdftotext") is None:
        return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]
    with TemporaryDirectory() as folder:
        path = Path(folder) / "sheet.pdf"
        path.write_bytes(pdf)
        told = subprocess.run(
            ["pdftotext", "-raw", "-enc", "UTF-8", path, "-"], capture_output=True, check=True
        )
    return told.stdout.decode().rstrip("\f").split("\f")


@dataclass(frozen=True)
class Cloth:
    """What the sheet says of one cloth: on its plan, and in the words that follow it."""

    plan: str
    words: str


@dataclass(frozen=True)
class Sheet:
    """The parts of a sheet: the pages before the first plan, those of each cloth, and the rest."""

    front: str
    cloths: tuple[Cloth, ...]
    cards: str = ""
    slips: str = ""
    work: str = ""
    pleats: tuple[str, ...] = ()
    thread: str = ""


def sheet_of(told: list[str]) -> Sheet:
    """The parts of a sheet by its pages; a star behind a rounded figure is left out."""
    front, plans, words = [], [], []
    cards, slips = "", ""
    others: dict[str, list[str]] = {"order of work": [], "pleats": [], "thread": []}
    for page in told:
        text = FOOT.sub("\n", f"\n{page.strip()}\n").replace("*", "")
        if slips or "\nSlips for the wearers" in text:
            slips += text
            continue
        if "\non this page\npiece cards\n" in page:
            cards += text
            continue
        if other := OTHERS.search(page):
            others[other[1]].append(text)
            continue
        if re.search(r"\bdrawn 1:\d", text) and STEPS.search(text):
            plans.append(text)
            words.append("")
        elif plans:
            words[-1] += text
        else:
            front.append(text)
    cloths = tuple(Cloth(*pair) for pair in zip(plans, words, strict=True))
    work, thread = "".join(others["order of work"]), "".join(others["thread"])
    return Sheet("\n".join(front), cloths, cards, slips, work, tuple(others["pleats"]), thread)


def steps(text: str) -> list[Told]:
    """The list of steps of a cloth, each with all its lines; it may go on on another page."""
    found: list[Told] = []
    begun, after = False, 1
    for line in text.split("\n"):
        if not begun:
            on = re.match(rf"{after} (?:to \d+ )?(?=[A-Z])", line) if after > 1 else None
            begun = bool(on or STEPS.fullmatch(line.strip()))
            if not on:
                continue
        if END.fullmatch(line.strip()):
            begun = False
            continue
        match = STEP.fullmatch(line.strip())
        if match and int(match[1] or after) == after:
            first, last = int(match[1] or 0), int(match[2] or match[1] or 0)
            found.append(Told(first, last, match[3]))
            after = max(after, last + 1)
        elif found:
            one = found[-1]
            found[-1] = Told(one.first, one.last, f"{one.text} {line.strip()}")
    return found


def part(text: str, head: str, ends: tuple[str, ...]) -> str:
    """What stands under a heading, up to the next one, in one line."""
    match = re.search(rf"\n{head}\n(.*?)(?=\n(?:{'|'.join(ends)})\n|\Z)", text, re.DOTALL)
    return " ".join(match[1].split()) if match else ""


def unknown(text: str, known: Mapping[str, set[str]]) -> Iterator[str]:
    """Figures that nothing known explains, each with the words round it."""
    told = set().union(*known.values())
    plain = IDS.sub(lambda name: " " * len(name[0]), text)
    for match in NUMBER.finditer(plain):
        if match[0] not in told:
            around = plain[max(0, match.start() - 30) : match.end() + 30]
            yield f"{match[0]!r} in {' '.join(around.split())!r}"
