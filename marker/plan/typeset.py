"""Set a template as a PDF: the one door to the typesetting library."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from importlib.resources import as_file, files
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory
from typing import Any

import font_source_sans_pro
import typst

from marker.errors import CannotWrite
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
    with _fonts() as fonts, as_file(files("marker.plan")) as root:
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


@contextmanager
def _fonts() -> Iterator[str]:
    """A passing folder with the faces in use. Raises `CannotWrite` where it finds no room."""
    with ExitStack() as held:
        try:
            folder = held.enter_context(TemporaryDirectory(prefix="marker-"))
            _lay_out_fonts(Path(folder))
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise CannotWrite(
                f"the fonts find no room in the system's folder for passing files ({reason}); make "
                "some, or name another folder in TMPDIR; nothing was changed"
            ) from None
        yield folder


def _lay_out_fonts(folder: Path) -> None:
    """Put the faces in use into a folder of their own.

    The fonts' package holds every face twice, in two formats; which of them typst would
    find first hangs on the disk, and the bytes of the PDF with it.
    """
    for face in FACES:
        name = f"SourceSansPro-{face}.ttf"
        copyfile(Path(font_source_sans_pro.font_directory) / name, folder / name)
