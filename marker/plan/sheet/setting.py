"""The printed sheet: what to buy, what to cut, the plans, the tears, and what to mind.

`sheet.typ` puts the parts in order, each a template of its own made of `kit.typ`, and holds no
words of a case; this module hands it the words as JSON, so that a title full of markup is printed
as it stands.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from marker import buying
from marker.lay import Mode
from marker.plan.cards.pages import cards_data
from marker.plan.drawing.block import page_place
from marker.plan.drawing.page import Half, Paper
from marker.plan.lays.svg import picture
from marker.plan.pleats.page import pleats_data
from marker.plan.pleats.words import of_record
from marker.plan.sheet import bias
from marker.plan.sheet.cloths import cloth_words, shorten
from marker.plan.sheet.sewing import sewing_page
from marker.plan.sheet.slips import in_order, slips_data, told_to_all
from marker.plan.sheet.words import cautions, garment_words, piece_words
from marker.plan.typeset import typeset
from marker.plan.words import shopping
from marker.plan.words.figures import Figures
from marker.plan.words.segments import joins
from marker.plan.work.page import work_data
from marker.record import Record
from marker.units import set_fractions

MOST_NAMED = 6
"""So many wearers are named under the title; more are only counted there."""


def compile_sheet(
    record: Record,
    plans: Mapping[str, str],
    paper: Paper,
    halves: Mapping[str, str] | None = None,
    strips: Mapping[str, Sequence[str]] | None = None,
) -> bytes:
    """Set the whole record as a PDF.

    `plans` holds the drawing of each cloth, by the cloth's key, as SVG text of the paper's
    own size; a page is given to each, at true size. `halves` holds smaller drawings of
    scraps, half as high: two of them that follow each other share a page. `strips` holds the
    pages of the stretches of long bolts. The same record gives the same bytes on every
    machine: fonts come with the package and no date is kept.
    """
    data = _data(record, plans, paper, halves or {})
    data["strips"] = [list((strips or {}).get(lay.cloth.key, ())) for lay in record.lays]
    return typeset("sheet/sheet.typ", data)


def _data(
    record: Record, plans: Mapping[str, str], paper: Paper, halves: Mapping[str, str]
) -> dict[str, Any]:
    """Everything that the template sets, as plain words; the template reckons nothing."""
    figures, slips = Figures(record.units), slips_data(record)
    lines = buying.shopping(record)
    whole = buying.total(lines)
    garments = {garment.key: garment.name for garment in record.garments}
    data = {
        "paper": {
            "width": paper.size[0] / 100,
            "height": paper.size[1] / 100,
            "number": page_place(paper.size),
            "halves": Half(paper).places,
        },
        "title": record.title,
        "short": shorten(record.title, 110),
        "subtitle": _subtitle(record),
        "cloths": [cloth_words(lay, figures) for lay in record.lays],
        "drawings": [halves.get(lay.cloth.key, plans[lay.cloth.key]) for lay in record.lays],
        "spreads": _spreads(record, halves),
        "counters": shopping.counters(record, lines, figures),
        "total": shopping.sum_of(whole),
        "uncounted": shopping.uncounted(whole),
        "pieces": [
            piece_words(piece, lay.cloth.name, garments.get(piece.garment, ""), figures)
            for lay in record.lays
            for piece in in_order(lay.pieces)
        ],
        "garments": []
        if slips
        else [garment_words(garment, figures) for garment in record.garments],
        "to_all": told_to_all(slips),
        "slips": slips,
        "choices": [set_fractions(sentence) for sentence in record.choices],
        "joins": [
            {
                "strip": join.strip,
                "segments": set_fractions(join.segments),
                "lines": [set_fractions(line) for line in join.lines],
            }
            for join in joins(record)
        ],
        "bias": {
            "figure": picture(*bias.figure(bias.joins(record), bias.continuous(record))),
            "lines": [set_fractions(line) for line in bias.bias_words(record)],
        },
        "pleats": pleats_data(of_record(record), record.units),
        "sewing": sewing_page(record),
        "cards": cards_data(record),
        "work": work_data(record),
        "cautions": cautions(record),
    }
    return {**data, "rounded": figures.note()}


def _subtitle(record: Record) -> str:
    wearers = dict.fromkeys(garment.wearer for garment in record.garments if garment.wearer)
    many = len(wearers) > MOST_NAMED
    whose = f" for {len(wearers)} wearers" if many else f" for {', '.join(wearers)}"
    whose = whose if wearers else ""
    torn = any(lay.mode is Mode.TEAR for lay in record.lays)
    return f"Shopping list, pieces and {'tear' if torn else 'cutting'} plan{whose}"


def _spreads(record: Record, halves: Mapping[str, str]) -> list[list[int]]:
    """Which cloths, by their place in the record, share a page of drawings."""
    found: list[list[int]] = []
    for index, lay in enumerate(record.lays):
        before = record.lays[found[-1][0]].cloth.key if found else ""
        if lay.cloth.key in halves and before in halves and len(found[-1]) == 1:
            found[-1].append(index)
        else:
            found.append([index])
    return found
