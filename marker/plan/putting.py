"""Put files into a folder: all of them, or none.

They are first written into a hidden folder beside their places. What they replace is held back
there until all is done, and put back if anything fails. Where the process is killed among the
moves, the next one that writes to the folder puts back what was held: a list of the names, kept
beside it, says that moving had begun. Two processes never move at once, where the system knows
locks.
"""

from __future__ import annotations

import errno
import json
import os
import secrets
import shutil
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from marker.errors import CannotWrite

try:
    import fcntl
except ImportError:  # not every system has it
    fcntl = None  # type: ignore[assignment]

BENCH, OLD, MOVING = ".marker-", "old", "moving.json"
"""How the hidden folder's name begins, what is held back in it, and the list of what is moved."""
LEFT_FOR = 24 * 3600
"""Seconds after which a hidden folder that was never moved from is taken away, where no lock tells
whether it is in use."""

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


def check_place(folder: Path) -> None:
    """See beforehand whether a folder can be written to, so that nobody waits for a plan in vain.

    Raises `CannotWrite` as `put` would, as far as that can be told without writing.
    """
    with in_a_sentence(folder):
        place = folder
        while not os.path.lexists(place) and place != place.parent:
            place = place.parent
        if not place.is_dir():
            raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR))
        if not os.access(place, os.W_OK | os.X_OK):
            code = errno.EROFS if _is_read_only(place) else errno.EACCES
            raise OSError(code, os.strerror(code))


def _is_read_only(place: Path) -> bool:
    """Whether the disk under a folder takes nothing from anybody."""
    told = os.statvfs(place) if hasattr(os, "statvfs") else None
    return told is not None and bool(told.f_flag & os.ST_RDONLY)


def put(folder: Path, pages: Mapping[str, bytes], stale: Sequence[str] = ()) -> tuple[Path, ...]:
    """Write files under their names, all or none of them; gives their paths in order.

    Files named `stale`, which these take the place of, are taken away where they stand.
    Raises `CannotWrite` where the folder can't take them; then it is as it was.
    """
    with in_a_sentence(folder):
        return _put(folder, pages, [name for name in stale if (folder / name).is_file()])


def _put(folder: Path, pages: Mapping[str, bytes], stale: list[str]) -> tuple[Path, ...]:
    with _folder(folder), _workbench(folder) as bench:
        for name, content in pages.items():
            _write_through(bench / name, content)
        with _alone(folder):
            _recover(folder, bench)
            _exchange(bench, folder, list(pages), stale)
    return tuple(folder / name for name in pages)


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Keep other processes from work in the folder, where the system knows locks."""
    if fcntl is None:
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        with suppress(OSError):  # some disks of other machines know none
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def recover(folder: Path) -> None:
    """Undo what a killed process left half moved in a folder, if it is there at all."""
    if any(folder.glob(f"{BENCH}*/{MOVING}")):
        with _alone(folder):
            _recover(folder, None)


def _recover(folder: Path, mine: Path | None) -> None:
    """The same, for who has the folder to himself.

    `mine` is a hidden folder in use. Those that were never moved from go once nobody is at work
    in them.
    """
    for bench in sorted(folder.glob(f"{BENCH}*")):
        if bench == mine or not bench.is_dir():
            continue
        if (bench / MOVING).is_file():
            _undo(bench, folder, *_moving(bench))
            _clear(bench)
        elif _is_left(bench):
            _clear(bench)


def _is_left(bench: Path) -> bool:
    """Whether nobody works in a hidden folder any more: its lock went with the process."""
    if fcntl is not None:
        try:
            handle = os.open(bench, os.O_RDONLY)
        except OSError:
            return False  # its owner just took it away
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return True
        except BlockingIOError:
            return False
        except OSError:
            pass  # some disks of other machines know none
        finally:
            os.close(handle)
    return _age(bench) > LEFT_FOR


def _age(bench: Path) -> float:
    """Seconds since a hidden folder was changed; nought where its owner just took it away."""
    try:
        return time.time() - bench.stat().st_mtime
    except FileNotFoundError:
        return 0.0


def _moving(bench: Path) -> tuple[list[str], list[str]]:
    """What was held back and what was new; nothing where the list was cut short, or isn't ours."""
    try:
        told = json.loads((bench / MOVING).read_text(encoding="utf-8"))
        lists = [str(name) for name in told["held"]], [str(name) for name in told["fresh"]]
    except (ValueError, KeyError, TypeError, RecursionError):
        return [], []
    plain = all(name != ".." and Path(name).name == name for names in lists for name in names)
    return lists if plain else ([], [])


@contextmanager
def in_a_sentence(folder: Path) -> Iterator[None]:
    """Tell in one sentence why a folder can't be written to."""
    try:
        yield
    except OSError as error:
        raise CannotWrite(_sentence(folder, error)) from None
    except ValueError:
        raise CannotWrite(
            f"{str(folder)!r}: the name can't be used; choose another folder"
        ) from None


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
    bench = folder / f"{BENCH}{secrets.token_hex(8)}"
    old, done = bench / OLD, False
    try:
        with ExitStack() as held:
            with _alone(folder):  # else it might be taken for one that was left, before it is held
                old.mkdir(parents=True)
                held.enter_context(_alone(bench))
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
    """Move the new files into place; on any failure, Ctrl-C too, put the old ones back."""
    fresh: list[str] = []
    try:
        for name in (*names, *stale):
            _hold_back(folder / name, bench / OLD / name)
        held = [name for name in (*names, *stale) if os.path.lexists(bench / OLD / name)]
        fresh = [name for name in names if name not in held]
        # From here on a killed process leaves work to be undone.
        _write_through(bench / MOVING, json.dumps({"held": held, "fresh": fresh}).encode())
        for name in names:
            (bench / name).replace(folder / name)
        for name in stale:
            (folder / name).unlink()
        _settle(folder)
        (bench / MOVING).unlink()
    except BaseException:
        _undo(bench, folder, [*names, *stale], fresh)
        (bench / MOVING).unlink(missing_ok=True)
        raise


def _undo(bench: Path, folder: Path, held: Sequence[str], fresh: Sequence[str]) -> None:
    """Put back what is held; take away what was moved in where nothing had stood.

    What to do is read off the disk, so that an interruption between two calls can't make the
    two disagree, and undoing once more does no harm.
    """
    for name in held:
        kept = bench / OLD / name
        if os.path.lexists(kept):
            kept.replace(folder / name)
            # Two names of one file: POSIX then leaves both, and the move is done.
            kept.unlink(missing_ok=True)
    for name in fresh:
        if not (bench / name).exists():
            (folder / name).unlink(missing_ok=True)


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
