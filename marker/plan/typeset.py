"""Set a template as a PDF: the one door to the typesetting library."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from importlib.resources import as_file, files
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory
from typing import Any

import font_source_sans_pro
import typst

from marker.plan.drawing import style

FACES = ("Regular", "It", "Semibold", "Bold")
PICTOGRAPH = re.compile("[\U0001f000-\U0001faff](?:[\ufe0f\u20e3\U0001f000-\U0001faff]|\u200d.)*")
"""Emoji and their kind, which no face in use has, with what joins and colours them."""


def typeset(template: str, data: Mapping[str, Any]) -> bytes:
    """The PDF that a template of this package, told by its path in it, makes of plain data.

    A template may import others by their paths; `drawing/look.typ` gives it the sizes, pens and
    letters of the table that drawings share.

    The same data gives the same bytes on every machine: fonts come with the package and no
    date is kept.
    """
    with TemporaryDirectory() as fonts, as_file(files("marker.plan")) as root:
        _lay_out_fonts(Path(fonts))
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


def _lay_out_fonts(folder: Path) -> None:
    """Put the faces in use into a folder of their own.

    The fonts' package holds every face twice, in two formats; which of them typst would
    find first hangs on the disk, and the bytes of the PDF with it.
    """
    for face in FACES:
        name = f"SourceSansPro-{face}.ttf"
        copyfile(Path(font_source_sans_pro.font_directory) / name, folder / name)
