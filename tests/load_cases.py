"""Case files of any size: a company whose skirts come to a number of pieces, torn or cut or curved.

Everything comes from a seed, so that tests and benchmarks share the very same cases.
"""

from __future__ import annotations

from random import Random

TORN, SHEARS, CURVED = "torn", "shears", "curved"
EACH = {TORN: 7, SHEARS: 7, CURVED: 6}
"""Pieces that one wearer's skirt takes; pockets make up what is over."""
STRAIGHT = """seam = "1 cm"
turn_down = "6 cm"
hem = "own hem"
take_up = "4 cm"
[garment.{key}.panels]
count = 5
width = "{width} cm"
[garment.{key}.band]
width = "3 cm"
[garment.{key}.opening]
placket = "strip"
"""
GORED = """kind = "gored skirt"
seam = "1.5 cm"
[garment.{key}.gores]
round = "{round} cm"
count = 5
[garment.{key}.band]
width = "3 cm"
"""


def case_text(kind: str, pieces: int, seed: int = 0) -> str:
    """The case file of a company whose garments take just so many pieces."""
    random = Random(seed)
    wearers = max(1, pieces // EACH[kind])
    told = [f'title = "Company of {wearers}"\nunits = "cm"\n']
    told.append(f'[cloth.main]\nwidth = "150 cm"\nselvedge = "1 cm"\nsquaring = "3 cm"\n'
                f"tears = {str(kind == TORN).lower()}\n")  # fmt: skip
    for number in range(1, wearers + 1):
        length, waist = random.randrange(82, 102), random.randrange(60, 95)
        told.append(
            f'[wearer.w{number}]\nwaist = "{waist} cm"\nhip = "{waist + 25} cm"\n'
            f'length = "{length} cm"\n[garment.s{number}]\nname = "Skirt"\nwearer = "w{number}"\n'
        )
        body = GORED if kind == CURVED else STRAIGHT
        told.append(
            body.format(
                key=f"s{number}",
                width=random.choice((48, 60, 74)),
                round=random.randrange(240, 300),
            )
        )
    if over := pieces - wearers * EACH[kind]:
        told.append(f'[piece.pocket]\nlength = "30 cm"\nbreadth = "20 cm"\ncount = {over}\n')
    return "\n".join(told)


def chart_text(cells: int) -> str:
    """A case file whose chart has just so many cells, a multiple of ten."""
    return "\n".join(
        (
            'title = "Chart of many"\nunits = "cm"\n[wearer.w]\nwaist = "72 cm"\nlength = "88 cm"',
            '[cloth.main]\nwidth = "150 cm"\nselvedge = "1 cm"\n[garment.skirt]',
            STRAIGHT.format(key="skirt", width=60),
            "[chart]",
            f'lengths = {{ from = "60 cm", to = "{60 + cells // 10 - 1} cm", step = "1 cm" }}',
            'widths = { from = "80 cm", to = "170 cm", step = "10 cm" }',
        )
    )


def compare_text(options: int) -> str:
    """A case file with bolts enough that just so many options are compared."""
    told = [
        'title = "Options of many"\nunits = "cm"\n[wearer.w]\nwaist = "72 cm"\nlength = "88 cm"'
    ]
    for number in range(options):
        told.append(f'[cloth.c{number}]\nwidth = "{80 + number} cm"\nselvedge = "1 cm"')
    body = STRAIGHT.replace("count = 5", "count = 4").format(key="skirt", width=60)
    asked = f'[compare]\nmost = {options}\npanels = 4\nlie = "along"'
    told += ['[garment.skirt]\ncloth = "c0"', body, asked]
    return "\n".join(told)
