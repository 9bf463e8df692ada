"""Write a planned case to a folder: all of its files, or none of them.

Everything is drawn, judged and set before the folder is touched. The files are then
written into a hidden folder beside their places, and moved there at the end, the record
last. What they replace is held back until all is done, and put back if anything fails.
"""

from __future__ import annotations

import errno
import json
import os
import re
import secrets
import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from marker import record as records
from marker import referee
from marker.errors import CannotWrite, Refused
from marker.lay import Lay
from marker.plan.drawing.page import Half, Paper
from marker.plan.lays.svg import draw, draw_stretches
from marker.plan.sheet.halves import pairs
from marker.plan.sheet.setting import compile_sheet
from marker.record import Record

RECORD = "lay.json"
SHEET = "sheet.pdf"

_KEY = re.compile(r"\w(?:[\w .-]{0,58}[\w-])?")
"""Cloth keys that any file system takes as part of a name."""

_REASONS = {
    errno.ENOSPC: "the disk is full; make room, or choose another folder",
    getattr(errno, "EDQUOT", errno.ENOSPC): "your share of the disk is full; make room",
    errno.EACCES: "you have no right to write there; choose another folder",
    errno.EPERM: "you have no right to write there; choose another folder",
    errno.EROFS: "the disk is read-only; choose another folder",
    errno.ENOTDIR: "a file stands where a folder should; choose another folder",
    errno.EEXIST: "a file stands where a folder should; choose another folder",
    errno.EISDIR: "a folder stands where a file should; move it away, or choose another folder",
    errno.ENAMETOOLONG: "the name is too long; choose a shorter one",
}


def plan_name(lay: Lay) -> str:
    """Name of the plan's file: "plan-main.svg" for the cloth of key "main".

    Raises `CannotWrite` where the key can't be part of a file name.
    """
    name = _plan_name(lay.cloth.key)
    if name is None:
        raise CannotWrite(
            f"cloth {lay.cloth.key!r}: its key can't be part of a file name; "
            "use letters, figures and hyphens"
        )
    return name


def write(
    record: Record | None, folder: Path, paper: Paper, beside: Mapping[str, bytes] | None = None
) -> tuple[Path, ...]:
    """Draw, set and write a record, and files `beside` it; gives the paths written, its own last.

    Without a record what an earlier one left in the folder is taken away.
    Raises `Refused` where the referee finds a fault in a lay or a drawing, and
    `CannotWrite` where the folder can't take the files; then the folder is as it was.
    """
    pages = {**(beside or {}), **(_make(record, paper) if record else {})}
    with _in_a_sentence(folder):
        old = _listed(folder)
        if old and record is None:
            old += [name for name in (SHEET, RECORD) if (folder / name).is_file()]
        return _put(folder, pages, [name for name in old if name not in pages])


def put(folder: Path, pages: Mapping[str, bytes], stale: Sequence[str] = ()) -> tuple[Path, ...]:
    """Write files under their names, all or none of them; gives their paths in order.

    Files named `stale`, which these take the place of, are taken away where they stand.
    Raises `CannotWrite` where the folder can't take them; then it is as it was.
    """
    with _in_a_sentence(folder):
        return _put(folder, pages, [name for name in stale if (folder / name).is_file()])


def _put(folder: Path, pages: Mapping[str, bytes], stale: list[str]) -> tuple[Path, ...]:
    with _folder(folder), _workbench(folder) as bench:
        for name, content in pages.items():
            _write_through(bench / name, content)
        _exchange(bench, folder, list(pages), stale)
    return tuple(folder / name for name in pages)


@contextmanager
def _in_a_sentence(folder: Path) -> Iterator[None]:
    """Tell in one sentence why a folder can't be written to."""
    try:
        yield
    except OSError as error:
        raise CannotWrite(_sentence(folder, error)) from None
    except ValueError:
        raise CannotWrite(
            f"{str(folder)!r}: the name can't be used; choose another folder"
        ) from None


def _make(record: Record, paper: Paper) -> dict[str, bytes]:
    """Every file of a record under its name, in the order in which they are put in place."""
    if faults := referee.check_record(record):
        raise Refused("the plan", faults)
    plans: dict[str, str] = {}
    names: dict[str, bytes] = {}
    for lay in record.lays:
        name, svg = plan_name(lay), draw(record, lay, paper)
        if faults := referee.check_drawing(svg, lay):
            raise Refused(f"the drawing of {lay.cloth.name}", faults)
        if name.casefold() in {known.casefold() for known in names}:
            raise CannotWrite(
                f"cloth {lay.cloth.key!r}: another cloth's plan has the same file name; "
                "give one of them another key"
            )
        plans[lay.cloth.key], names[name] = svg, svg.encode()
    strips = _stretch_drawings(record, paper)
    sheet = compile_sheet(record, plans, paper, _half_drawings(record, paper), strips)
    return {**names, SHEET: sheet, RECORD: records.dump(record).encode()}


def _half_drawings(record: Record, paper: Paper) -> dict[str, str]:
    """The smaller drawings of scraps that share a page of the sheet, by the cloth's key."""
    found: dict[str, str] = {}
    for lay in (lay for pair in pairs(record) for lay in pair):
        found[lay.cloth.key] = svg = draw(record, lay, Half(paper))
        if faults := referee.check_drawing(svg, lay):
            raise Refused(f"the small drawing of {lay.cloth.name}", faults)
    return found


def _stretch_drawings(record: Record, paper: Paper) -> dict[str, list[str]]:
    """The stretches of every long bolt, by the cloth's key."""
    found: dict[str, list[str]] = {}
    for lay in record.lays:
        for svg, part in draw_stretches(record, lay, paper):
            if faults := referee.check_drawing(svg, part):
                raise Refused(f"the drawing of a stretch of {lay.cloth.name}", faults)
            found.setdefault(lay.cloth.key, []).append(svg)
    return found


def _plan_name(key: str) -> str | None:
    return f"plan-{key}.svg" if _KEY.fullmatch(key) else None


def _listed(folder: Path) -> list[str]:
    """The plans that an earlier record in the folder lists and that still stand there."""
    try:
        known = json.loads((folder / RECORD).read_text(encoding="utf-8"))
        names = [_plan_name(str(lay["cloth"]["key"])) for lay in known["lays"]]
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError):
        return []
    except (ValueError, KeyError, TypeError, RecursionError):
        return []  # not a record of ours: then no file is ours to remove
    return [name for name in names if name and (folder / name).is_file()]


@contextmanager
def _folder(folder: Path) -> Iterator[None]:
    """Make the folder and those above it; take away what was made if the work fails."""
    missing = [path for path in (folder, *folder.parents) if not path.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield
    except BaseException:
        for path in missing:
            with suppress(OSError):
                path.rmdir()
        raise


@contextmanager
def _workbench(folder: Path) -> Iterator[Path]:
    """A hidden folder on the same disk, gone at the end.

    It stays only if it still holds old files that could not be put back.
    """
    bench = folder / f".marker-{secrets.token_hex(8)}"
    old, done = bench / "old", False
    try:
        old.mkdir(parents=True)
        yield bench
        done = True
    finally:
        if done or not any(path.suffix != ".part" for path in old.glob("*")):
            _clear(bench)


def _clear(bench: Path) -> None:
    try:
        shutil.rmtree(bench, ignore_errors=True)
    except KeyboardInterrupt:
        shutil.rmtree(bench, ignore_errors=True)
        raise


def _write_through(path: Path, content: bytes) -> None:
    """Write a file and see it on to the disk."""
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _exchange(bench: Path, folder: Path, names: list[str], stale: list[str]) -> None:
    """Move the new files into place; on any failure, Ctrl-C too, put the old ones back.

    What to put back is read off the disk, not from a list kept beside it, so an
    interruption between two calls can't make the two disagree.
    """
    try:
        for name in (*names, *stale):
            _hold_back(folder / name, bench / "old" / name)
        for name in names:
            (bench / name).replace(folder / name)
        for name in stale:
            (folder / name).unlink()
        _settle(folder)
    except BaseException:
        for name in (*names, *stale):
            kept = bench / "old" / name
            if os.path.lexists(kept):
                kept.replace(folder / name)
                # Two names of one file: POSIX then leaves both, and the move is done.
                kept.unlink(missing_ok=True)
            elif name in names and not (bench / name).exists():
                (folder / name).unlink(missing_ok=True)
        raise


def _hold_back(path: Path, kept: Path) -> None:
    """Keep a second name for a file that is about to be replaced, or a copy of it."""
    if not os.path.lexists(path):
        return
    if path.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    try:
        os.link(path, kept, follow_symlinks=False)
    except (OSError, NotImplementedError):
        # Some disks know no second names. A copy cut short must never count as kept.
        part = kept.with_name(kept.name + ".part")
        shutil.copy2(path, part, follow_symlinks=False)
        part.replace(kept)


def _settle(folder: Path) -> None:
    """See the moves on to the disk, where the system lets a folder be opened."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _sentence(folder: Path, error: OSError) -> str:
    reason = _REASONS.get(error.errno or 0)
    if reason is None:
        told = (error.strerror or str(error)).lower()
        reason = f"it can't be written ({told}); choose another folder"
    return f"{folder}: {reason}; nothing was changed"
