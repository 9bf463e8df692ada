"""Cases of every recipe and finish, for tests of the order of work and of what edges meet."""

from __future__ import annotations

from pathlib import Path

from marker.casefile import Case, parse, read

HEAD = """title = "Every way"
units = "cm"
[wearer.ada]
name = "Ada"
waist = "70 cm"
hip = "96 cm"
neck = "38 cm"
front = "89 cm"
side = "90 cm"
back = "91 cm"
[cloth.main]
name = "Wool"
width = "150 cm"
selvedge = "1 cm"
"""
SKIRT = '[garment.a]\npanels = { count = 3, width = "full" }\n'
GORED = '[garment.a]\nkind = "gored skirt"\n'
CIRCLE = '[garment.a]\nkind = "circle skirt"\ncircle = "half"\n'
CAPE = '[garment.a]\nkind = "cape"\nlength = "60 cm"\n'
APRON = '[garment.a]\nkind = "apron"\nlength = "60 cm"\n'

GARMENTS = {
    "gauged, lined band": SKIRT + 'band = { lining = "main" }\nfacing = {}',
    "gauged, band in strips": SKIRT + 'band = { strips = 2, underlap = "0 cm" }\nhem = "none"',
    "gauged, tape": SKIRT + "tape = {}\nopening = { placket = 'strip', at = 'back' }",
    "stroke gathered": SKIRT + 'top = "stroke gathered"\nfacing = { strips = "free" }',
    "stroke gathered, tape": SKIRT + 'top = "stroke gathered"\ntape = {}\nbinding = {}',
    "knife pleated": SKIRT + 'top = "knife pleated"\nbinding = { cut = "bias strips" }',
    "box pleated": '[garment.a]\npanels = { count = 3, width = "68 cm" }\ntop = "box pleated"\n'
    'facing = { cut = ["straight", "bias strips", '
    '"bias rectangle", "continuous bias"] }',
    "one railroaded panel": '[garment.a]\npanels = { count = 1, round = "3 m", lie = "across" }',
    "numbered panels": '[garment.a]\ncloth = "check"\nopening = { placket = "strip" }\npanels = { '
    'count = 3, width = "95 cm", match = "crosswise" }',
    "petticoat, string": '[garment.a]\nkind = "petticoat"\npanels = { count = 2, width = "full" }\n'
    'tucks = { depth = "1 cm", gap = "2 cm", count = 3 }\nflounce = { depth = "20 cm" }',
    "petticoat, opening": '[garment.a]\nkind = "petticoat"\nopening = {}\n'
    'panels = { count = 2, width = "120 cm" }',
    "petticoat, tiers": '[garment.a]\nkind = "petticoat"\ntop = "band"\n'
    'panels = { count = 2, width = "120 cm" }\n[[garment.a.flounce]]\ndepth = "20 cm"\n'
    'tucks = { depth = "1 cm", gap = "2 cm", count = 2 }\n[[garment.a.flounce]]\ndepth = "15 cm"\n'
    '[[garment.a.flounce]]\nsewn = "over"\ncut = "ring"\nfulness = 2\ndepth = "10 cm"',
    "six gores": GORED + 'turn_down = "3 cm"\n'
    'gores = { count = 6, round = "3 m", gathers = "20 cm" }',
    "gores front, side, back": GORED + 'opening = { at = "back", placket = "strip" }\n'
    'facing = { cut = ["shaped", "bias strips"] }\ngores = { round = "2.8 m" }\n'
    'front = { count = 1, hem = "50 cm" }\nside = { count = 2, hem = "55 cm" }\n'
    "back = { count = 2 }",
    "half circle": CIRCLE + "binding = {}",
    "half circle, gathered on a tape": CIRCLE + 'gathers = "20 cm"\ntape = {}\nfacing = {}',
    "full circle": '[garment.a]\nkind = "circle skirt"\ncircle = "full"\nhem = "none"',
    "half cape": CAPE + 'circle = "half"\nfacing = {}',
    "full cape": CAPE + 'circle = "full"\npanels = 4\ntape = {}\n'
    'binding = { cut = "continuous bias" }',
    "full cape in a pair": CAPE + 'circle = "full"\npanels = 2\nfront = "0 cm"',
    "apron": APRON + 'pocket = { count = 2 }\nbib = { strap = "60 cm" }',
    "apron of three": APRON + 'panels = { count = 3, width = "60 cm" }\nties = { cut = "in one" }',
    "apron of four": APRON + 'panels = { count = 4, width = "60 cm" }\nties = { cut = "tape" }\n'
    "bib = {}\nbinding = {}",
    "round apron": APRON + 'corners = "round"\npanels = { width = "90 cm" }\n'
    'pocket = { corners = "round" }\nties = { cut = "in one", strips = "free" }',
    "round apron of three": APRON + 'corners = "round"\npanels = { count = 3, width = "60 cm" }',
    "round apron of four": APRON + 'corners = "round"\npanels = { count = 4, width = "60 cm" }\n'
    'binding = { cut = "bias rectangle" }',
}
CHECK = '[cloth.check]\nname = "Check"\nwidth = "150 cm"\nrepeat = { across = "10 cm" }\n'
FILES = tuple(sorted((Path(__file__).parent.parent / "cases").glob("*.toml")))
"""The demo cases."""


def case(name: str) -> Case:
    """One of the cases by name, or a demo case by its stem."""
    if name in GARMENTS:
        check = CHECK if "check" in GARMENTS[name] else ""
        return parse(f"{HEAD}{check}{GARMENTS[name]}\n", "a.toml")
    (path,) = (path for path in FILES if path.stem == name)
    return read(path)


NAMES = (*GARMENTS, *(path.stem for path in FILES))
