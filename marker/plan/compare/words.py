"""The figures of compared options in words, alike on the terminal, on the page and in JSON."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

from marker.buying import cost
from marker.casefile.changes import told
from marker.decide.comparison import Comparison, Row
from marker.decide.worth import Worn, Worth
from marker.geometry import Rect
from marker.lay import Lay, Mode, Proof
from marker.plan.drawing.lettering import clean
from marker.plan.words import phrases as words
from marker.units import (
    OUNCE,
    SHOP,
    Rounding,
    System,
    Units,
    beside,
    format_bought,
    format_bought_number,
    format_mass,
    format_number,
)

NAMES = {
    "buy": "buy", "cost": "cost", "length": "lay", "proved": "proved", "round": "round hem",
    "fulness": "fulness", "pleats": "pleats", "mass": "mass", "seams": "seams and joins",
    "sewn": "sewn", "joins": "facing joins", "waste": "waste, %", "remnant": "remnant",
    "tears": "tears, cuts",
}  # fmt: skip
"""The columns of the whole table, in their order."""
RANKS = {
    "cost": "cost",
    "buy": "length to buy",
    "length": "length used",
    "remnant": "largest remnant",
    "tears": "fewest tears or cuts",
    "round": "greatest round hem",
    "fulness": "greatest fulness",
    "seams": "shortest seams and joins",
    "joins": "fewest facing joins",
    "mass": "least mass",
    "waste": "least waste",
}
NONE = "–"
FEW = 3
"""Of so many garments each is told by itself; of more, the least and the greatest figure."""
OF_SIZES = "Sizes that print rounded"
"""How the advice begins that is for the sheet alone."""
PRICES = ("The repeat costs", "The shrinkage costs")
"""How the choices begin that tell what a cloth's own ways cost."""
PROVED = (
    "Proved: yes, where no shorter lay exists; step, where no cutting step less is enough; else by "
    "how much a lay may be longer than the shortest, and a shorter one might change its place."
)
NOW = "as the case has it"
PER = {System.CM: "10 cm", System.IN: "the inch"}
"""What pleats are counted on."""
MASS = {System.CM: "g", System.IN: "oz"}
"""What the pieces of an option are weighed in."""


def figures(row: Row, found: Comparison) -> dict[str, str]:
    """Every figure of an option by its column, in the units that stand over the columns."""
    one, units = row.worth, found.units
    told = {
        "buy": beside(units, lambda s: " + ".join(_yards(lay.buy, s) for lay in _bought(one)))
        if _bought(one)
        else "nothing",
        "cost": "" if one.cost is None else f"{one.cost:.2f}",
        "length": beside(
            units, lambda s: " + ".join(_bare(lay.length, s) for lay in one.record.lays)
        ),
        "proved": proved(one),
        "round": _beside(units, lambda system: _around(one, system)),
        "fulness": _garments(one, _edge_fulness if _all_flat(one) else _fulness, _tenth),
        "pleats": _beside(units, lambda s: _garments(one, lambda worn: worn.pleats_per(s), _tenth)),
        "mass": NONE if one.grams is None else beside(units, lambda s: _mass(one.grams or 0, s)),
        "seams": f"{one.seams}" if one.seams else NONE,
        "sewn": beside(units, lambda s: _yards(one.sewn, s)) if one.seams else NONE,
        "joins": _garments(one, _joins, _starred),
        "waste": words.share(one.waste).removesuffix(" %"),
        "remnant": remnant(one, units),
        "tears": str(one.tears),
    }
    return {key: told[key] for key in NAMES if key != "cost" or found.by_cost}


def headings(found: Comparison) -> dict[str, str]:
    """What stands over the columns, with the unit of their figures."""
    per = beside(found.units, lambda system: PER[system])
    unit = beside(found.units, lambda system: SHOP[system])
    small = beside(found.units, lambda system: system.value)
    money = next((lay.cloth.price.currency for row in found.rows for lay in _bought(row.worth)
                  if lay.cloth.price), "")  # fmt: skip
    more = {
        **dict.fromkeys(("buy", "sewn"), f", {unit}"),
        **dict.fromkeys(("length", "round", "remnant"), f", {small}"),
        "cost": f", {money}",
        "mass": f", {beside(found.units, lambda system: MASS[system])}",
        "pleats": f" to {per}",
    }
    names = {**NAMES, "round": "lower edge"} if _flat(found) else NAMES
    return {
        key: name + more.get(key, "")
        for key, name in names.items()
        if key != "cost" or found.by_cost
    }


def _flat(found: Comparison) -> bool:
    return all(_all_flat(row.worth) for row in found.rows)


def _bought(one: Worth) -> list[Lay]:
    return [lay for lay in one.record.lays if not lay.cloth.length]


def _yards(length: int, system: System) -> str:
    """A length in metres or yards, rounded up, without its unit."""
    return format_bought_number(length, system)


def _mass(grams: int, system: System) -> str:
    """Grams, or ounces to a tenth, without the unit."""
    return f"{grams / float(OUNCE):.1f}" if system is System.IN else f"{grams}"


def _bare(length: int, system: System) -> str:
    return format_number(length, system, Rounding.UP)


def _beside(units: Units, spell: Callable[[System], str]) -> str:
    """What `spell` says in each measure, and nothing but a dash where there is no figure."""
    return NONE if spell(units.lead) == NONE else beside(units, spell)


def _around(one: Worth, system: System) -> str:
    """How far it goes round the hem, or along the lower edge, without the unit."""
    of = _edge if _all_flat(one) else _round
    return _garments(one, of, lambda size: format_number(int(size), system))


def _garments(one: Worth, of: Callable[[Worn], float | None], spell: Callable[[float], str]) -> str:
    """One figure, or where garments differ one for each; of many, the least and the greatest."""
    found = [of(worn) for worn in one.worn]
    said = [spell(value) if value else NONE for value in found]
    if len(set(said)) < 2:
        return (said or [NONE])[0]
    if len(said) <= FEW:
        return " / ".join(said)
    known = [value for value in found if value]
    least, most = spell(min(known)), spell(max(known))
    return least if least == most else f"{least} to {most}"


def _round(worn: Worn) -> int:
    return 0 if worn.flat else worn.garment.round_hem


def _edge(worn: Worn) -> int:
    return worn.garment.round_hem


def _all_flat(one: Worth) -> bool:
    """Whether nothing goes round, so that lower edges are told in place of round hems."""
    return all(worn.flat for worn in one.worn)


def _fulness(worn: Worn) -> float:
    return 0 if worn.flat else worn.garment.fulness


def _edge_fulness(worn: Worn) -> float:
    return worn.garment.fulness


def _tenth(value: float) -> str:
    return f"{value:.1f}"


def _joins(worn: Worn) -> float:
    """The joins of a facing, and a half more where they do not all meet seams."""
    return worn.joins.count + (0 if worn.joins.meet else 0.5) if worn.joins else 0


def _starred(value: float) -> str:
    return f"{int(value)}{'*' if value % 1 else ''}"


def per_cent(part: Fraction) -> str:
    """A part in per cent, rounded up to a tenth."""
    tenths = -(-part.numerator * 1000 // part.denominator)
    return f"{tenths / 10:.1f}"


def proved(one: Worth) -> str:
    """The least that is proved of an option's lays, in short."""
    if one.proof is Proof.OPEN:
        return f"{per_cent(one.gap)} % open"
    return "yes" if one.proof is Proof.LENGTH else "step"


def cost_words(one: Worth) -> str:
    """What all cloth of an option costs; nothing where that can't be summed."""
    money = [lay.cloth.price.currency for lay in _bought(one) if lay.cloth.price]
    return f"{one.cost:.2f} {money[0]}" if one.cost is not None and money else ""


def remnant(one: Worth, units: Units) -> str:
    """The largest useful piece left, along by across."""
    rect = _largest(one)
    if rect is None:
        return "none"
    return beside(units, lambda system: _size(rect, system))


def _size(rect: Rect, system: System) -> str:
    return f"{format_number(rect.along, system)} × {format_number(rect.across, system)}"


def _largest(one: Worth) -> Rect | None:
    kept = [rect for lay in one.record.lays for rect in lay.remnants]
    return max(kept, key=lambda each: each.area, default=None)


def flag(row: Row) -> str:
    """Whether it is the case as it stands, and which option is better in every way."""
    flags = [NOW] if row.option.own and row.option.words != NOW else []
    if row.beaten_by:
        flags.append(f"bettered by {row.beaten_by}")
    return "; ".join(flags)


def shopping(one: Worth, units: Units) -> str:
    """What is bought of each cloth, and for how much: "2.00 m of Madder red cotton (25.00 EUR)"."""
    said = []
    for lay in one.record.lays:
        name, paid = clean(lay.cloth.name) or lay.cloth.key, cost(lay)
        if lay.cloth.length:
            said.append(f"{name} in hand")
            continue
        money = f" ({paid:.2f} {lay.cloth.price.currency})" if lay.cloth.price else ""
        said.append(f"{words.buy(lay, units)} of {name}{money}")
    return ", ".join(said)


def advice(one: Worth) -> tuple[str, ...]:
    """What to mind, each sentence once, and what a repeat or a shrinkage costs.

    The garment is named where there are several.
    """
    several = len(one.worn) > 1
    return tuple(
        dict.fromkeys(
            f"{worn.garment.name}: {sentence}" if several else sentence
            for worn in one.worn
            for sentence in worn.advice
            if not sentence.startswith(OF_SIZES)
        )
    ) + tuple(said for said in one.record.choices if said.startswith(PRICES))


def common(found: Comparison) -> tuple[str, ...]:
    """What is to be minded with every option, and so is told once."""
    first, *others = [advice(row.worth) for row in found.rows]
    if not others:
        return ()
    return tuple(sentence for sentence in first if all(sentence in each for each in others))


def own_advice(row: Row, found: Comparison) -> tuple[str, ...]:
    """What is to be minded with this option, and not with all of them."""
    told = common(found)
    return tuple(sentence for sentence in advice(row.worth) if sentence not in told)


def change(row: Row) -> str:
    """What to write into the file for an option."""
    if not row.option.changes:
        return "Nothing to change in the file."
    return f"In the file: {told(row.option.changes)}."


def seams(one: Worth) -> str:
    """What is sewn to join pieces: "5 seams and joins"."""
    return "1 seam or join" if one.seams == 1 else f"{one.seams} seams and joins"


def around(row: Row, found: Comparison) -> str:
    """How far it goes round the hem, with the unit; empty where nothing does."""
    one = row.worth
    if _around(one, found.units.lead) == NONE:
        return ""
    told = beside(found.units, lambda system: f"{_around(one, system)} {system.value}")
    return f"{told} {'along the lower edge' if _all_flat(one) else 'round the hem'}"


def details(row: Row, found: Comparison) -> Iterator[str]:
    """All there is to say of an option, in sentences."""
    one, units = row.worth, found.units
    said = figures(row, found)
    yield f"Buy {shopping(one, units)}."
    yield from _worn(row, found)
    sewing = [f"{seams(one)}, {format_bought(one.sewn, units)} to sew"] if one.seams else []
    if said["joins"] != NONE:
        sewing.append(f"of the joins {said['joins']} in facings")
    if sewing:
        yield _sentence("; ".join(sewing))
    mass = [] if one.grams is None else [f"cut pieces {format_mass(one.grams, units)}"]
    kind = "tears" if all(lay.mode is Mode.TEAR for lay in one.record.lays) else "tears and cuts"
    rect = _largest(one)
    left = beside(units, lambda s: f"{_size(rect, s)} {s.value}") if rect else "none"
    what = [*mass, f"waste {said['waste']} %", f"largest remnant {left}", f"{one.tears} {kind}"]
    yield _sentence(f"{', '.join(what)}; {lay_words(one)}")
    yield from own_advice(row, found)
    yield change(row)


def _worn(row: Row, found: Comparison) -> Iterator[str]:
    """Round the hem, fulness and pleats: of each garment by its name where they are a few."""
    one = row.worth
    few = 1 < len(one.worn) <= FEW
    parts = [replace(row, worth=replace(one, worn=(worn,))) for worn in one.worn] if few else [row]
    for part in parts:
        said = figures(part, found)
        told = [around(part, found)]
        if said["fulness"] != NONE:
            told.append(f"fulness {said['fulness']}")
        if said["pleats"] != NONE:
            told.append(f"{said['pleats']} {headings(found)['pleats']}")
        if any(told):
            name = f"{part.worth.worn[0].garment.name}: " if few else ""
            yield _sentence(name + ", ".join(filter(None, told)))


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def lay_words(one: Worth) -> str:
    """What is proved of the lays, in a few words."""
    if one.proof is Proof.LENGTH:
        return "no shorter lay exists"
    if one.proof is Proof.STEP:
        return "no cutting step less is enough"
    return f"the lay is within {per_cent(one.gap)} % of the bound"


def rules(found: Comparison) -> tuple[str, ...]:
    """How options are ranked, and which are marked as bettered; what the marks mean."""
    ranks = {**RANKS, "round": "broadest lower edge"} if _flat(found) else RANKS
    by = ", then ".join(ranks[key] for key in found.order)
    paid = "costs no more" if found.by_cost else "takes no larger area of cloth bought"
    said = [f"Ranked by {by}.", PROVED]
    if any(row.beaten_by for row in found.rows):
        said.append(
            f"Bettered: another option {paid}, goes at least as far round every hem, has no more "
            "length of seams and joins and no more facing joins, and is better in one of these."
        )
    if any(worn.joins and not worn.joins.meet for row in found.rows for worn in row.worth.worn):
        said.append("Facing joins with a star do not all meet seams.")
    said += found.notes
    if found.left:
        many = f"{found.left} of {found.left + len(found.rows)} options were not laid"
        late = f"The time was out, and {many}; give more with --seconds."
        said.append(late if found.late else f"Stopped: {many}.")
    return tuple(said)


def refusals(found: Comparison) -> tuple[str, ...]:
    """What can't be made, and why."""
    return tuple(f"{one.option.words}: {one.reason}." for one in found.refused)
