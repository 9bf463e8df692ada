"""The row guides of a record: a page for every garment that is drawn up by running stitches."""

from __future__ import annotations

from dataclasses import dataclass

from marker.gauging import row_guide
from marker.plan.drawing.lettering import clean
from marker.plan.drawing.page import Paper
from marker.plan.pleats.words import panel_cloth
from marker.plan.templates.rowguide import draw_guide
from marker.plan.typeset import typeset
from marker.plan.unscaled import unscaled
from marker.record import Record


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
    """A page of dots for every gauged garment, all in one file; no file where there is none."""
    pages, told, warned = [], [], []
    name = f"row-guide-{paper.value}.pdf"
    for garment in record.garments:
        cloth = panel_cloth(record, garment)
        guide = row_guide(garment, cloth) if cloth else None
        if guide is None:
            continue
        whose = (
            f"{clean(garment.name)}, {clean(garment.wearer)}" if garment.wearer else garment.name
        )
        page = draw_guide(guide, whose, record.title, paper, record.units)
        if page is None:
            warned.append(
                f"{clean(garment.name)}: its rows reach too far down for a guide on {paper.value}; "
                "mark them by tape, as the sheet says"
            )
            continue
        pages.append(page)
        told.append(f"{clean(whose)}: {guide.pleats} pleats to a panel, on one page")
    if not pages:
        return Made({}, (), tuple(warned))
    data = {"title": record.title, "pages": pages}
    return Made({name: unscaled(typeset("thumbs/pages.typ", data))}, tuple(told), tuple(warned))
