"""Coverage-guided fuzzing of what comes from outside: case files, lengths, outlines, records.

    python tests/nightly/fuzz.py case|length|path|drawing|record [-max_total_time=600]

Needs `atheris` (`pip install -e '.[nightly]'`). The rest of the command goes to libFuzzer as it
stands. A fault other than one of the project's own errors, an input that takes over 10 seconds
or 2 GB, or a case that is read and then can't be written down as a record ends the run with the
input in a file of the current folder.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["marker"]):
    from marker import casefile, record, units
    from marker.errors import MarkerError
    from marker.geometry.svgfile import from_svg
    from marker.geometry.svgpath import from_path

ROOT = Path(__file__).parents[2]


def case(data: bytes) -> None:
    """A case file: read as text, whatever bytes it holds."""
    text = data.decode("utf-8", "replace")
    read = casefile.parse(text, "case.toml")
    assert read.title


def length(data: bytes) -> None:
    """A length; what is read is spelled out and read again."""
    value = units.parse(data.decode("utf-8", "replace"))
    assert units.parse(units.format_exact(value)) == value


def path(data: bytes) -> None:
    """The data of a path."""
    polygon = from_path(data.decode("utf-8", "replace")).flatten()
    assert polygon.area2 > 0


def drawing(data: bytes) -> None:
    """An SVG drawing with a path of the id "p"."""
    assert from_svg(data, "p").flatten().area2 > 0


def records(data: bytes) -> None:
    """A record; what is read is judged and written down again."""
    from marker import referee

    read = record.parse(data.decode("utf-8", "replace"), "lay.json")
    referee.check_record(read)
    assert record.parse(record.dump(read), "lay.json") == read


TARGETS: dict[str, tuple[Callable[[bytes], None], str, tuple[str, ...]]] = {
    "case": (case, "cases/*.toml", ()),
    "length": (length, "", ("3 ft 6 1/2 in", "1 3/8 yd", "1.08 m", '42.5"', "½ in", "1080 mm")),
    "path": (path, "", ("M 0 0 H 40 V 18 Z", "M0,0 l40 0 a20 20 0 0 1 -3,9 C 1 2 3 4 0 18 z")),
    "drawing": (
        drawing,
        "cases/*.svg",
        (
            '<svg width="40cm" height="30cm" viewBox="0 0 40 30">'
            '<g transform="translate(2 3) rotate(10)"><path id="p" d="M 0 0 H 9 V 8 Z"/></g></svg>',
        ),
    ),
    "record": (records, "out/*/lay.json", ()),
}


def one(check: Callable[[bytes], None]) -> Callable[[bytes], None]:
    """A check that lets the project's own errors pass: they are sentences for the user."""

    def run(data: bytes) -> None:
        try:
            check(data)
        except MarkerError as error:
            told = str(error)
            assert told
            assert "\n" not in told.strip(), told

    return run


def main(arguments: list[str]) -> None:
    """Fuzz one target, beginning with what the project itself holds of its kind."""
    if len(arguments) < 2 or arguments[1] not in TARGETS:
        sys.exit(f"usage: {arguments[0]} {'|'.join(TARGETS)} [options of libFuzzer]")
    check, kept, written = TARGETS[arguments[1]]
    corpus = Path(".fuzz") / arguments[1]
    corpus.mkdir(parents=True, exist_ok=True)
    seeds = [path.read_bytes() for path in sorted(ROOT.glob(kept))] if kept else []
    for at, seed in enumerate([*seeds, *(text.encode() for text in written)]):
        (corpus / f"seed-{at}").write_bytes(seed)
    limits = ["-timeout=10", "-rss_limit_mb=2048", "-max_len=60000"]
    atheris.Setup([arguments[0], str(corpus), *limits, *arguments[2:]], one(check))
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv)
