"""The sheet's words on one cloth: to buy, in order, proved, left over."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from marker import buying
from marker.lay import Lay, Mode, Proof
from marker.plan.words import phrases as words
from marker.plan.words import shopping
from marker.plan.words.figures import Figures, step_words
from marker.plan.words.reached import goal_lines
from marker.plan.words.runs import apart, count
from marker.plan.words.sums import check_sum, leftovers
from marker.plan.words.tearing import full_steps
from marker.plan.words.told import Step
from marker.units import Units, is_rounded, set_fractions

LONGEST_HOLD = 90
"""A longer beginning of a step is a sentence, and not set apart."""
MANNER = (
    "Lay the cloth as on the plan, free end at the left, near edge towards you. "
    "Snip through the edge first, then tear along one thread."
)
MANNER_CUT = " Where it says cut, draw out a thread at the snip and follow its gap with shears."
MANNER_SHEARS = (
    "Lay the cloth flat as on the plan, free end at the left, near {side} towards you, with "
    "a tape along it. Lines on the plan are where the shears go."
)
MANNER_REGION = (
    " A part for the shears is torn off whole; what lies in it is cut out afterwards, with shears."
)
MANNER_FOLDED = (
    "The plan shows the cloth unfolded, free end at the left, near {side} towards you. On the "
    "table the far half lies under the near one, and shears go through both layers at once."
)

KEEP_TO_ONE = " Keep to one side of the tape: centimetres and inches are rounded each on their own."


def cloth_words(lay: Lay, figures: Figures) -> dict[str, Any]:
    """Everything that the sheet says of one cloth."""
    cloth, units = lay.cloth, figures.units
    cost, mass = buying.cost(lay), buying.grams(lay)
    bought = not cloth.length
    return {
        "name": cloth.name,
        "short": shorten(cloth.name, 34),
        "part": f"{'tears' if lay.mode is Mode.TEAR else 'cuts'} of {shorten(cloth.name, 34)}",
        "alt": f"Plan of {cloth.name}",
        "detail": _detail(lay, figures),
        "buy": figures.bought(lay) if bought else "nothing to buy",
        "bought": bought,
        "heading": _heading(lay, figures),
        "need": figures.up(lay.need),
        "cost": f"{cost:.2f} {cloth.price.currency}"
        if bought and cost is not None and cloth.price
        else "",
        "mass": shopping.mass(mass, units) if bought else "",
        "order": "Tear by tear" if lay.mode is Mode.TEAR else "Cut by cut",
        "manner": _manner(lay),
        "steps": [_step(step) for step in full_steps(lay, units)],
        "rounded": _rounded_readings(lay, units),
        "sum": set_fractions(check_sum(lay, units)),
        "proof": _proof(lay, figures),
        "goals": _goals(lay, units),
        "left": [set_fractions(line) for line in leftovers(lay, units)],
    }


def _step(step: Step) -> dict[str, Any]:
    """A step with what to take in hand set apart, where a colon ends that."""
    text = set_fractions(step.text)
    hold, colon, rest = text.partition(": ")
    apart = colon and len(hold) <= LONGEST_HOLD
    return {
        "numbers": step.numbers,
        "hold": f"{hold}:" if apart else "",
        "text": rest if apart else text,
        "sums": [set_fractions(line) for told in step.sums for line in told.split("\n")],
    }


def shorten(text: str, most: int) -> str:
    """A text short enough for one line of the title block."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def _goals(lay: Lay, units: Units) -> list[dict[str, str]]:
    """The goals in a table; the ground of a bound is told once where two goals share it."""
    lines = goal_lines(lay, units)
    after = [line.how for line in lines[1:]] + [""]
    return [
        {
            "name": line.name,
            "value": line.value,
            "bound": line.bound,
            "how": "" if line.how == then else line.how,
        }
        for line, then in zip(lines, after, strict=False)
    ]


def _heading(lay: Lay, figures: Figures) -> str:
    if lay.cloth.length:
        return set_fractions(words.heading(lay, figures.units))
    return f"Buy {figures.bought(lay)}"


def _manner(lay: Lay) -> str:
    """How to set about it, in two or three sentences."""
    if lay.cloth.folded:
        return MANNER_FOLDED.format(side=words.side(lay))
    if lay.mode is Mode.SHEARS:
        return MANNER_SHEARS.format(side=words.side(lay))
    return (
        MANNER
        + (MANNER_REGION if lay.regions else "")
        + (MANNER_CUT if any(tear.cut for tear in lay.tears) else "")
    )


def _detail(lay: Lay, figures: Figures) -> str:
    """How the cloth lies on the table, in a line."""
    cloth = lay.cloth
    said = [f"{figures.near(cloth.width)} wide"]
    if cloth.length:
        said.insert(0, f"a remnant of {figures.near(cloth.length)} in hand")
    if cloth.selvedge:
        edge = figures.near(cloth.selvedge)
        how = "kept" if cloth.keep_selvedges else f"{words.parted(lay)} off"
        said.append(f"selvedges {how}{apart(figures.units, edge)}")
    if cloth.one_way:
        said.append("one way")
    if cloth.washed:
        said.append(
            f"wash before laying (shrinks {cloth.warp_shrinkage} % in length, "
            f"{cloth.weft_shrinkage} % in width, to {figures.near(cloth.laid_width)})"
        )
    return ", ".join([*said, *_more_detail(lay, figures)])


def _more_detail(lay: Lay, figures: Figures) -> Iterator[str]:
    """What else was reckoned with: the repeat, flaws, torn edges and narrow strips."""
    cloth = lay.cloth
    ways = ((cloth.repeat.along, "along"), (cloth.repeat.across, "across"))
    if told := [f"{figures.near(size)} {way}" for size, way in ways if size]:
        yield f"repeat {' and '.join(told)}"
    if cloth.squaring:
        yield f"{figures.up(cloth.squaring)} of the need for squaring the end"
    if flaws := len(cloth.flaws):
        yield f"{count(flaws)} {'flaw' if flaws == 1 else 'flaws'} to avoid"
    if cloth.folded:
        yield "laid folded lengthwise"
    if cloth.margin and (lay.mode is Mode.SHEARS or lay.regions):
        yield f"{figures.up(cloth.margin)} between pieces that shears part"
    if cloth.torn_edge and lay.mode is Mode.TEAR:
        yield f"torn sizes include {figures.up(cloth.torn_edge)} for every torn edge"
    if any(tear.cut for tear in lay.tears) and cloth.least_strip:
        yield f"strips under {figures.near(cloth.least_strip)} are cut along a thread"


def _rounded_readings(lay: Lay, units: Units) -> str:
    places = [tear.at for tear in lay.tears]
    if lay.mode is Mode.SHEARS:
        rects = [spot.rect(lay.piece(spot.letter)) for spot in lay.placements]
        places = [at for r in rects for at in (r.x0, r.y0, r.along, r.across)]
    if not any(is_rounded(at, units) for at in places):
        return ""
    said = f"Some readings are rounded up to the next {step_words(units)}."
    return said + (KEEP_TO_ONE if len(units.systems) > 1 else "")


def _proof(lay: Lay, figures: Figures) -> list[str]:
    """What is known of the length, and from what to what the need grows."""
    known = words.proof(lay, figures.units)
    lines = [f"{known[0].upper()}{known[1:]}."]
    if not lay.goals:
        lines.append(_bound(lay, figures))
    if lay.proof is not Proof.LENGTH and words.area_alone(lay):
        lines.append("No bound better than the area of the pieces is known.")
    squared = f", squaring {figures.up(lay.cloth.squaring)}" if lay.cloth.squaring else ""
    shrunk = ", shrinkage counted" if lay.cloth.washed else ""
    need = f"Exact need {figures.up(lay.need)}{squared}{shrunk}"
    if lay.cloth.length:
        lines.append(f"{need}, of {figures.near(lay.cloth.length)} in hand.")
    else:
        step = figures.near(lay.cloth.step)
        lines.append(f"{need}; in steps of {step} that is {figures.bought(lay)}.")
    lines.append(f"{words.used(lay)} of the lay becomes pieces.")
    return [set_fractions(line) for line in lines]


def _bound(lay: Lay, figures: Figures) -> str:
    """The length and its bound, for a record that keeps no goals."""
    if lay.bound == lay.length:
        return f"The lay is {figures.up(lay.length)} long, and none can be shorter: {lay.bound_by}."
    return (
        f"The lay is {figures.up(lay.length)} long; none can be shorter than "
        f"{figures.near(lay.bound)}: {lay.bound_by}."
    )
