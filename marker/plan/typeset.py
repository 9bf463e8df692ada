"""Set a template as a PDF: the one door to the typesetting library."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from importlib.resources import as_file, files
from typing import Any

import typst

from marker.plan.drawing import style
from marker.plan.fonts import faces

PICTOGRAPH = re.compile("[\U0001f000-\U0001faff](?:[\ufe0f\u20e3\U0001f000-\U0001faff]|\u200d.)*")
"""Emoji and their kind, which no face in use has, with what joins and colours them."""


def typeset(template: str, data: Mapping[str, Any]) -> bytes:
    """The PDF that a template of this package, told by its path in it, makes of plain data.

    A template may import others by their paths; `drawing/look.typ` gives it the sizes, pens and
    letters of the table that drawings share.

    The same data gives the same bytes on every machine: fonts come with the package and no
    date is kept.
    """
    with faces() as fonts, as_file(files("marker.plan")) as root:
        pdf = typst.compile(
            root / template,
            root=root,
            format="pdf",
            font_paths=typst.Fonts(include_system_fonts=False, font_paths=[fonts]),
            sys_inputs={
                "data": printable(json.dumps(data, ensure_ascii=False)),
                "look": json.dumps(style.look()),
            },
            timestamp=0,
        )
    assert isinstance(pdf, bytes)
    return pdf


def printable(text: str) -> str:
    """The text with a star for each run of emoji, where an empty box would be printed."""
    return PICTOGRAPH.sub("*", text)
