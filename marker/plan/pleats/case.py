"""The pleat plans of a case whose lays aren't made: read off the drafts of its garments."""

from __future__ import annotations

from marker.casefile import Case
from marker.garments.order import Draft, Order
from marker.plan.pleats.told import Told
from marker.plan.pleats.words import told


def of_case(case: Case) -> tuple[tuple[Told, ...], tuple[str, ...]]:
    """Every pleat plan of a case, and a sentence on each garment that has none.

    Where the file leaves open how panels are cut, each way with pleats of its own is told.
    Raises `BadInput` where a garment can't be drafted.
    """
    plans: list[Told] = []
    others: list[str] = []
    for order in case.orders:
        found = _of_order(order, case)
        plans += found
        if not found:
            others.append(
                f"{order.name}: no pleats to plan; straight skirts and petticoats on a band "
                "have them."
            )
    return tuple(plans), tuple(dict.fromkeys(others))


def _of_order(order: Order, case: Case) -> list[Told]:
    """The plans of one garment, one for every way that its pleats differ in."""
    drafts = order.drafts()
    seen: dict[object, Told] = {}
    for draft in drafts:
        cloth = max(
            (order.cloths[key] for key in (order.panel_cloth, *order.also)),
            key=lambda each: each.thickness,
        )
        plan = told(
            draft.garment, cloth, case.units, _way(draft, many=len(drafts) > 1), case.thread
        )
        if plan:
            seen.setdefault(plan.plan, plan)
    return list(seen.values())


def _way(draft: Draft, *, many: bool) -> str:
    """How this draft differs, and that its width is open where it is."""
    said = [draft.way] if many and draft.way else []
    if draft.flex:
        said.append("panels at their least width, which `marker plan` settles")
    return "; ".join(said)
