"""Pages that are drawn, numbered and bound as one SVG, each under the one before.

The first page keeps its ids, so that its group `lay` is the whole lay; on every further page
they begin with the number of the page, as ids may stand but once in a file.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from marker.plan.drawing import style
from marker.plan.drawing.block import page_place
from marker.plan.drawing.page import Point

_TAG = r"<[a-zA-Z]+(?: [\w:-]+=\"[^\"]*\")*? "
_ID = re.compile(rf"({_TAG}id=\")")
_LABELLED = re.compile(rf"({_TAG}aria-labelledby=\")([^\"]*)")
_SIZE = re.compile(r" (?:width|height|viewBox|x|y)=\"[^\"]*\"")


def numbered(svg: str, size: Point, text: str) -> str:
    """A page with its number in the title block."""
    x, y = page_place(size)
    number = f'<text fill="{style.INK}" font-size="{style.TEXT}" x="{x}" y="{y}">{text}</text>'
    return svg.removesuffix("</svg>\n") + number + "\n</svg>\n"


def bound(pages: Sequence[str], size: Point) -> str:
    """All pages of one size in 1/100 mm as one SVG, numbered, as high as they are together."""
    width, height = size
    told = [numbered(page, size, f"{n} of {len(pages)}") for n, page in enumerate(pages, 1)]
    first, *others = told
    if not others:
        return first
    start, tag, rest = _opened(first)
    frame = f'width="{width / 100:g}mm" height="{height * len(told) / 100:g}mm"'
    root = _SIZE.sub("", tag)[:-1] + f' {frame} viewBox="0 0 {width} {height * len(told)}">'
    inner = "".join(_nested(page, number, size) for number, page in enumerate(others, 2))
    return start + root + rest.removesuffix("</svg>\n") + inner + "</svg>\n"


def _nested(page: str, number: int, size: Point) -> str:
    width, height = size
    _, tag, rest = _opened(page)
    frame = f'x="0" y="{height * (number - 1)}" width="{width}" height="{height}"'
    tag = _SIZE.sub("", tag)[:-1] + f' {frame} viewBox="0 0 {width} {height}">'
    ids = _ID.sub(rf"\g<1>p{number}-", tag + rest)
    return _LABELLED.sub(
        lambda found: found[1] + " ".join(f"p{number}-{name}" for name in found[2].split()), ids
    )


def _opened(page: str) -> tuple[str, str, str]:
    """What stands before the root's tag, the tag, and the rest."""
    start = page.index("<svg")
    end = page.index(">", start) + 1
    return page[:start], page[start:end], page[end:]
