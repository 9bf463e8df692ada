"""The faces that pages are set in, in a folder of their own for the typesetting library.

The fonts' package holds every face twice, in two formats; which of them the library would find
first hangs on the disk, and the bytes of the PDF with it. It takes folders alone, so the faces in
use stand in one among the user's caches, made once. Where that can't be, they are laid out in a
passing folder every time; one that is killed meanwhile leaves such a folder behind.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from filecmp import cmp
from hashlib import sha256
from pathlib import Path
from shutil import copyfile, rmtree
from tempfile import TemporaryDirectory, mkdtemp
from time import time

import font_source_sans_pro
from platformdirs import user_cache_path

from marker.errors import CannotWrite

FACES = tuple(f"SourceSansPro-{face}.ttf" for face in ("Regular", "It", "Semibold", "Bold"))
KEPT, MAKING = "fonts-", ".part"
"""What the names of kept folders begin with, and those of unfinished ones end with."""
LONG = 86_400
"""Seconds after which an unfinished folder is nobody's work any more."""


@contextmanager
def faces() -> Iterator[str]:
    """A folder with the faces in use and nothing else. `CannotWrite` where there is no room."""
    with ExitStack() as held:
        yield str(_found() or _passing(held))


def _found() -> Path | None:
    """The folder in the caches; None where there is nowhere to write, or no home at all."""
    try:
        return _kept(user_cache_path("marker"))
    except (OSError, RuntimeError):
        return None


def _passing(held: ExitStack) -> Path:
    try:
        folder = Path(held.enter_context(TemporaryDirectory(prefix="marker-")))
        _lay_out(folder)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise CannotWrite(
            f"the fonts find no room in the system's folder for passing files ({reason}); make "
            "some, or name another folder in TMPDIR; nothing was changed"
        ) from None
    return folder


def _kept(caches: Path) -> Path:
    """The folder in the caches, made where it isn't there or isn't whole."""
    source = Path(font_source_sans_pro.font_directory)
    digest = sha256(b"".join((source / face).read_bytes() for face in FACES))
    folder = caches / f"{KEPT}{digest.hexdigest()[:16]}"
    if _is_whole(folder, source):
        return folder
    caches.mkdir(parents=True, exist_ok=True)
    for old in caches.glob(f"{KEPT}*{MAKING}"):
        if time() - old.stat().st_mtime > LONG:
            rmtree(old, ignore_errors=True)
    made = Path(mkdtemp(prefix=KEPT, suffix=MAKING, dir=caches))
    try:
        _lay_out(made)
        rmtree(folder, ignore_errors=True)
        made.rename(folder)
    except OSError:
        # another process was quicker, or there is no room
        rmtree(made, ignore_errors=True)
        if not _is_whole(folder, source):
            raise
    return folder


def _is_whole(folder: Path, source: Path) -> bool:
    """Whether a folder holds the faces in use, each byte of them, and nothing else."""
    try:
        here = {path.name for path in folder.iterdir()}
        return here == set(FACES) and all(cmp(source / f, folder / f, shallow=False) for f in FACES)
    except OSError:
        return False


def _lay_out(folder: Path) -> None:
    for face in FACES:
        copyfile(Path(font_source_sans_pro.font_directory) / face, folder / face)
