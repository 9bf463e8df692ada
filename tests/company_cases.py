"""Case files for whole companies: every wearer with measures of her own, on one bolt."""

from __future__ import annotations

from random import Random

from marker.casefile import Case, parse

NAMES = [
    *("Ada", "Bea", "Cora", "Dorrit", "Elke", "Fenna", "Gerda", "Hilke", "Ilse", "Jorun"),
    *("Kaja", "Liv", "Maren", "Nele", "Oda", "Petra", "Runa", "Sanna", "Tilda", "Wenna"),
    *("Ylva", "Zita", "Alma", "Berit", "Dagny", "Edda", "Frida", "Gunda", "Hedda", "Inga"),
]

CLOTH = 'width = "150 cm"\nselvedge = "1 cm"\nsquaring = "3 cm"\nprice = "12.50 EUR/m"'
ROUND = """seam = "1 cm"
turn_down = "6 cm"
hem = "facing"
[garment.{key}.panels]
count = {panels}
width = "{width}"
[garment.{key}.facing]
depth = "14 cm"
[garment.{key}.band]
width = "3 cm"
[garment.{key}.opening]
placket = "strip"
"""


def company_text(wearers: int, seed: int = 0, cloth: str = CLOTH, hem: str = "facing") -> str:
    """A company's skirts: half of them of four narrow panels, half of three full breadths."""
    random = Random(seed)
    keys = [name.lower() for name in NAMES[:wearers]]
    told = [f'title = "Company of {wearers}"\nunits = "cm"\n']
    for key, name in zip(keys, NAMES, strict=False):
        length = random.randrange(82, 102)
        told.append(
            f'[wearer.{key}]\nname = "{name}"\nwaist = "{random.randrange(60, 100)} cm"\n'
            f'front = "{length} cm"\nside = "{length + 1} cm"\n'
            f'back = "{length + random.randrange(1, 4)} cm"\n'
        )
    told.append(f'[cloth.main]\nname = "Madder linen"\n{cloth}\n')
    half = -(-len(keys) // 2)
    for table, name, whose, panels, width in (
        ("round", "Round skirt", keys[:half], 4, "74 cm"),
        ("walking", "Walking skirt", keys[half:], 3, "full"),
    ):
        if whose:
            named = ", ".join(f'"{key}"' for key in whose)
            body = ROUND.format(key=table, panels=panels, width=width).replace("facing", hem, 1)
            if hem != "facing":
                body = body.replace(f'[garment.{table}.facing]\ndepth = "14 cm"\n', "")
            told.append(f'[garment.{table}]\nname = "{name}"\nwearers = [{named}]\n{body}')
    return "\n".join(told)


def company(wearers: int, seed: int = 0, cloth: str = CLOTH, hem: str = "facing") -> Case:
    """The case read from `company_text`, under the name "company.toml"."""
    return parse(company_text(wearers, seed, cloth, hem), "company.toml")
