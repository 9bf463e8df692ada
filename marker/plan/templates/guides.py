"""The row guides of a record: a page for the garments that are drawn up by one stitch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.gauging import RowGuide, row_guide
from marker.plan.drawing.lettering import clean
from marker.plan.drawing.page import Paper
from marker.plan.pleats.words import panel_cloth
from marker.plan.templates.rowguide import draw_guide
from marker.plan.typeset import typeset
from marker.plan.unscaled import unscaled
from marker.record import Garment, Record


@dataclass(frozen=True)
class Made:
    """Files by name, and what is to be told of them on the terminal.

    Files named `stale` are of an earlier run, and these take their place.
    """

    files: dict[str, bytes]
    told: tuple[str, ...] = ()
    warned: tuple[str, ...] = ()
    stale: tuple[str, ...] = ()


def make_guides(record: Record, paper: Paper) -> Made:
    """A page of dots for gauged garments, those alike on one; no file where there is none."""
    pages, told, warned = [], [], []
    for guide, whose in _guides(record).items():
        names = _named(whose)
        page = draw_guide(guide, names, record.title, paper, record.units)
        if page is None:
            warned.append(
                f"{names}: the rows reach too far down for a guide on this paper; mark them by "
                "tape, as marker pleats says"
            )
            continue
        pages.append(page)
        told.append(f"{names}: {guide.pleats} pleats to a panel, on one page")
    name = f"row-guide-{paper.value}.pdf"
    if not pages:
        return Made({}, (), tuple(warned))
    data = {"title": record.title, "pages": pages}
    return Made({name: unscaled(typeset("thumbs/pages.typ", data))}, tuple(told), tuple(warned))


def _guides(record: Record) -> dict[RowGuide, list[Garment]]:
    """Every guide with the garments that it serves, in the order of the record."""
    found: dict[RowGuide, list[Garment]] = {}
    for garment in record.garments:
        cloth = panel_cloth(record, garment)
        guide = row_guide(garment, cloth) if cloth else None
        if guide:
            found.setdefault(guide, []).append(garment)
    return found


def _named(garments: Sequence[Garment]) -> str:
    """Garments by name, those of one name together: "Round skirt (Hesse, Ilka), Petticoat"."""
    wearers: dict[str, list[str]] = {}
    for garment in garments:
        wearers.setdefault(clean(garment.name), []).append(clean(garment.wearer))
    told = []
    for name, some in wearers.items():
        known = ", ".join(dict.fromkeys(wearer for wearer in some if wearer))
        told.append(f"{name} ({known})" if known else name)
    return ", ".join(told)
