"""Pleats that several wearers make in one way: told once, and what differs in a row for each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from marker.plan.pleats.told import Table, Told
from marker.plan.work.alike import FIGURE, Bit, Letters

MOST_NAMED = 6
"""So many wearers are named in a title; more are counted there, and named in the table."""
FEW = 5
"""A column of so many rows that is left of a table is told in a line."""
LETTERED = "Letters in heavy type stand for figures that differ; her row has them."


@dataclass(frozen=True)
class Columns:
    """Figures that differ: the heads of some columns under one title, and a row for each plan."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Shared:
    """The plans that share a page, what is the same in all of them, and the columns of the rest.

    A plan that is alone has all of it in `facts`, `tables` and `notes`, and no columns; so have
    several that are the same. In `notes` letters stand for figures that differ.
    """

    plans: tuple[Told, ...]
    facts: tuple[tuple[str, str], ...]
    tables: tuple[Table, ...]
    notes: tuple[tuple[Bit, ...], ...]
    columns: tuple[Columns, ...]

    @property
    def first(self) -> Told:
        """The plan that stands for all where they are the same."""
        return self.plans[0]

    @property
    def title(self) -> str:
        """What stands at the head of the page: the garment, and whose it is."""
        if len(self.plans) == 1:
            return self.first.title
        names = dict.fromkeys(plan.garment.name for plan in self.plans)
        whose = [plan.whose for plan in self.plans if plan.garment.wearer not in " ".join(names)]
        many = len(self.plans) > MOST_NAMED
        told = f", for {len(self.plans)} wearers" if many else f", for {', '.join(whose)}"
        return f"Pleats of {', '.join(names)}" + (told if whose else "")

    @property
    def warnings(self) -> tuple[str, ...]:
        """Every warning, with the name of her whom it is for where there are several."""
        return tuple(
            f"{plan.whose}: {said}" if len(self.plans) > 1 else said
            for plan in self.plans
            for said in plan.warnings
        )

    @property
    def rows(self) -> tuple[str, ...]:
        """Whose each row of the columns is."""
        return tuple(plan.whose for plan in self.plans)


def together(plans: Iterable[Told]) -> tuple[Shared, ...]:
    """The plans, those that differ in nothing but figures put together, in their order."""
    found: dict[object, list[Told]] = {}
    for plan in plans:
        found.setdefault(_kind(plan), []).append(plan)
    return tuple(_shared(tuple(some)) for some in found.values())


def alike(values: Iterable[str], otherwise: str = "") -> str:
    """What is the same of all; `otherwise` where it isn't."""
    found = set(values)
    return found.pop() if len(found) == 1 else otherwise


def _kind(plan: Told) -> object:
    """Equal for plans of one garment that are told in the same words, whatever the figures."""
    garment = plan.garment
    pleating = garment.pleating
    return (
        garment.name.replace(garment.wearer or "\0", ""),
        (plan.way, plan.method, plan.cloth.name, plan.plan.panels),
        pleating and pleating.opening_at,
        tuple(name for name, _ in plan.facts),
        tuple((table.title, table.heads, _looked_up(table)) for table in plan.tables),
        tuple(FIGURE.sub("#", said) for said in plan.notes),
    )


def _looked_up(table: Table) -> tuple[str, ...]:
    return tuple(row[0] for row in table.rows)


def _shared(plans: tuple[Told, ...]) -> Shared:
    each = list(zip(*(plan.facts for plan in plans), strict=True))
    same = [told[0] for told in each if len(set(told)) == 1]
    columns = [_facts([told for told in each if len(set(told)) > 1])]
    tables: list[Table] = []
    for every in zip(*(plan.tables for plan in plans), strict=True):
        table, parts = _parted(every)
        if parts and len(table.heads) == 2 and len(table.rows) <= FEW:
            name = f"{table.title.lower()}, {table.heads[1]}"
            same.append((name, ", ".join(value for _, value in table.rows)))
        elif len(table.heads) > 1:
            tables.append(table)
        columns += parts
    letters = Letters()
    notes = tuple(letters.put(said) for said in zip(*(p.notes for p in plans), strict=True))
    columns.append(_columns("Letters", letters.table))
    told = tuple(part for part in columns if part.heads)
    return Shared(plans, tuple(same), tuple(tables), notes, told)


def _facts(differ: Sequence[tuple[tuple[str, str], ...]]) -> Columns:
    """Facts as columns, each told of all."""
    return _columns("", [(told[0][0], tuple(value for _, value in told)) for told in differ])


def _columns(title: str, told: Sequence[tuple[str, tuple[str, ...]]]) -> Columns:
    """Columns by their heads, each with its values for everybody in her order."""
    rows = zip(*(values for _, values in told), strict=True)
    return Columns(title, tuple(head for head, _ in told), tuple(rows))


def _parted(tables: Sequence[Table]) -> tuple[Table, list[Columns]]:
    """What of a table is the same for all, and each of its other columns turned for a row each."""
    first = tables[0]
    kept, parts = [0], []
    for at, head in enumerate(first.heads[1:], 1):
        told = [tuple(row[at] for row in table.rows) for table in tables]
        if len(set(told)) == 1:
            kept.append(at)
        # The least stitch that closes up has a column already.
        elif head != "closes":
            turned = zip(_named(first), zip(*told, strict=True), strict=True)
            # The ends of the opening are where the band ends, which is told.
            parts.append(
                _columns(f"{first.title}: {head}", [one for one in turned if one[0] != "opening"])
            )
    rows = tuple(tuple(row[at] for at in kept) for row in first.rows)
    return Table(first.title, tuple(first.heads[at] for at in kept), rows), parts


def _named(table: Table) -> Iterator[str]:
    """The rows of a table by what they are looked up by, and what a bare number counts."""
    for cell in _looked_up(table):
        yield f"{table.heads[0]} {cell}" if cell.isdigit() else cell
