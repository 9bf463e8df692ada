"""All templates of a record as files, judged before they are given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from marker import referee
from marker.errors import BadInput, Refused
from marker.plan import files
from marker.plan.drawing.page import Paper
from marker.plan.lays.svg import picture
from marker.plan.putting import put
from marker.plan.templates import MOST_PAGES, words
from marker.plan.templates.band import draw_large
from marker.plan.templates.guides import Made, make_guides
from marker.plan.templates.key import page_map
from marker.plan.templates.large import Kind, Large, is_huge, large_sheets
from marker.plan.templates.page import FULL_SIZE, Sheet, draw_page
from marker.plan.templates.shapes import Template, straight, templates
from marker.plan.templates.tiling import Tiling, fewest, overlap, tile
from marker.plan.typeset import typeset
from marker.plan.unscaled import unscaled
from marker.record import Record, load
from marker.units import Units

FAR_OVER = 4
"""A piece of so many times the most isn't even counted page by page."""
MAP = (5400, 6600)
"""The room of a map on the first page."""


@dataclass(frozen=True)
class Paged:
    """A template with its pages; `tiling` is None where they would be too many."""

    template: Template
    tiling: Tiling | None
    count: int
    huge: bool = False


def write(
    record: Record, folder: Path, paper: Paper, *, most: int = MOST_PAGES, name: str = ""
) -> tuple[tuple[Path, ...], Made]:
    """Write all templates and row guides of a record, or none; gives the paths and what is told.

    `name` is what messages call the case. Raises `BadInput` where there is nothing to print at
    full size, `Refused` where the referee finds a fault in the record, or that a page departs from
    its piece, and `CannotWrite` where the folder can't take the files.
    """
    if faults := referee.check_record(record):
        raise Refused(name or "the plan", faults)
    made = make(record, paper, most)
    if not made.files:
        if made.warned:
            raise BadInput(f"{name or record.title}: {made.warned[0]}")
        raise BadInput(
            f"{name or record.title}: it has no curved piece and no gauged top, so there is "
            "nothing to print at full size; straight pieces are drawn by tape measure, as the "
            "sheet of marker plan says"
        )
    return put(folder, made.files, made.stale), made


def other_plan(record: Record, folder: Path) -> str:
    """A sentence where the plan that stands in a folder has other curved pieces; else nothing."""
    path = folder / files.RECORD
    try:
        kept = templates(load(path)) if path.is_file() else None
    except BadInput:
        return ""  # no plan that could be followed stands there
    if kept is None or [one.cut for one in kept] == [one.cut for one in templates(record)]:
        return ""
    return (
        f"{path} is of another plan, whose curved pieces differ from these; plan the case again, "
        f"or print those of that plan with marker templates {path}"
    )


def make(record: Record, paper: Paper, most: int = MOST_PAGES) -> Made:
    """The templates of a record's curved pieces and its row guides; no files where it has none.

    Pieces that would take more than `most` pages are on the large sheet alone. Raises
    `Refused` where the referee finds that a page departs from its piece.
    """
    guides, found = make_guides(record, paper), templates(record)
    if not found:
        return guides
    curved = _templates(record, found, paper, most)
    return Made(
        curved.files | guides.files,
        curved.told + guides.told,
        curved.warned + guides.warned,
        curved.stale,
    )


def _templates(record: Record, found: Sequence[Template], paper: Paper, most: int) -> Made:
    sheet, lap = Sheet(paper), overlap(record.units)
    paged = [_paged(template, sheet, lap, most) for template in found]
    pages = _judged(paged, sheet, record.units)
    wide = [one.template for one in paged if not one.huge]
    large = large_sheets(wide, lap) if wide else ()
    name, told_large = _large_name(large), words.large_words(large, record.units) if large else ""
    warned = tuple(_warning(one, most, paper, name) for one in paged if not one.tiling)
    data = _first_page(record, paged, sheet, warned)
    if large:
        data["how"].append(f"{name} holds the same templates on {told_large}, for a copy shop.")
    data["pages"] = [page for some in pages for page in some]
    made = {f"templates-{paper.value}.pdf": unscaled(typeset("templates/templates.typ", data))}
    if large:
        made[name] = _large_file(record, large, wide, told_large)
    told = [f"{one.template.letter} {one.template.name}: {_pages(one, paper)}" for one in paged]
    if large:
        told.append(f"{name}: {told_large}")
    stale = tuple(name for kind in Kind if (name := _large_file_name(kind)) not in made)
    return Made(made, tuple(told), warned, stale)


def _large_name(large: Sequence[Large]) -> str:
    return _large_file_name(large[0].kind) if large else ""


def _large_file_name(kind: Kind) -> str:
    return f"templates-{kind.value}.pdf"


def _paged(template: Template, sheet: Sheet, lap: int, most: int) -> Paged:
    window = sheet.window.width, sheet.window.height
    least = fewest(template, window, lap)
    if least > FAR_OVER * most:
        return Paged(template, None, least, is_huge(template, lap))
    tiling = tile(template, window, lap)
    count = len(tiling.tiles)
    return Paged(template, tiling if count <= most else None, count)


def _pages(one: Paged, paper: Paper) -> str:
    if one.tiling:
        return words.pages_words(one.tiling, paper)
    return "too large for a template" if one.huge else "on the large sheet alone"


def _warning(one: Paged, most: int, paper: Paper, large_name: str) -> str:
    place = (
        "it is too large for any template, so draft it from its readings in the sheet"
        if one.huge
        else f"it is in {large_name} alone; --most-pages {one.count} would print it"
    )
    return words.too_many(one.template, one.count, most, paper, place)


def _judged(paged: Sequence[Paged], sheet: Sheet, units: Units) -> list[list[str]]:
    """The pages of every template, which the referee has read back."""
    found = []
    for one in paged:
        if one.tiling is None:
            continue
        template, tiles = one.template, one.tiling.tiles
        pages = [draw_page(one.tiling, number, sheet, units) for number in range(len(tiles))]
        _judge(f"the template of {template.letter} {template.name}", template, pages)
        found.append(pages)
    return found


def _judge(what: str, template: Template, pages: Sequence[str]) -> None:
    """Have the referee read a template back. Raises `Refused` with every finding."""
    if faults := referee.check_template(pages, template.piece, half=template.half):
        raise Refused(what, faults)


def _large_file(
    record: Record, large: Sequence[Large], found: Sequence[Template], told: str
) -> bytes:
    """The large sheet, judged like the pages."""
    title = found[0].title
    drawn = [draw_large(sheet, title, (told[0].upper() + told[1:] + ".", FULL_SIZE))
             for sheet in large]  # fmt: skip
    for template in found:
        _judge(f"the large template of {template.letter} {template.name}", template, drawn)
    return unscaled(typeset("thumbs/pages.typ", {"title": record.title, "pages": drawn}))


def _first_page(
    record: Record, paged: Sequence[Paged], sheet: Sheet, warned: Sequence[str]
) -> dict[str, Any]:
    """What the first page says and shows, as plain words and maps."""
    (width, height), found = sheet.size, [one.template for one in paged]
    return {
        "paper": {"width": width / 100, "height": height / 100},
        "title": record.title,
        "how": list(words.how_words(found, straight(record))),
        "warned": list(warned),
        "maps": [_map(one, sheet.paper) for one in paged],
    }


def _map(one: Paged, paper: Paper) -> dict[str, Any]:
    told: dict[str, Any] = {
        "letter": one.template.letter,
        "name": one.template.name,
        "words": words.template_words(one.template, _pages(one, paper)),
        "map": "",
        "width": 0,
    }
    if one.tiling:
        drawing, size = page_map(one.tiling, MAP)
        told |= {"map": picture(drawing, size), "width": size[0] / 100}
    return told
