"""The words for one parting of cloth: torn, or cut with shears along a thread, and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.geometry import Rect
from marker.lay import Direction, Lay, Tear

NARROW = "too narrow to tear"


def how(lay: Lay, tears: Sequence[Tear], what: str = "") -> str:
    """What to do at the places snipped: "tear across", "cut along a thread (not to be torn)".

    `what` belongs to the verb, such as "across" or "off the selvedge". Several tears that are
    partly cut are told as torn; `exceptions` names the others.
    """
    word = f" {what}" if what else ""
    if tears and all(tear.cut for tear in tears):
        return f"cut{word} along a thread ({_why(lay, tears)})"
    return f"tear{word}"


def exceptions(lay: Lay, tears: Sequence[Tear], spelled: Sequence[str]) -> str:
    """A clause on those of several tears that are cut; `spelled` are their places in words."""
    cuts = [(tear, place) for tear, place in zip(tears, spelled, strict=True) if tear.cut]
    if not cuts or len(cuts) == len(tears):
        return ""
    places = " and ".join(place for _, place in cuts)
    return f"; at {places} cut along a thread ({_why(lay, [tear for tear, _ in cuts])})"


def _why(lay: Lay, tears: Sequence[Tear]) -> str:
    """Why these are cut: the pieces that are not to be torn, or strips too narrow to tear."""
    spared = sorted({letter for tear in tears for letter in _spared(lay, tear)})
    reasons = [f"{', '.join(spared)} not to be torn"] if spared else []
    if any(narrow(lay, tear) for tear in tears) or not spared:
        reasons.append(NARROW)
    return ", or ".join(reasons)


def _spared(lay: Lay, tear: Tear) -> Iterator[str]:
    """The letters of pieces with an edge on this line that no tear may make."""
    for spot in lay.placements:
        piece = lay.piece(spot.letter)
        if not piece.torn and tear.in_hand.holds(rect := spot.rect(piece)):
            across = tear.direction is Direction.ACROSS
            if tear.at in ((rect.x0, rect.x1) if across else (rect.y0, rect.y1)):
                yield spot.letter


def narrow(lay: Lay, tear: Tear) -> bool:
    """Whether a strip narrower than the cloth lets tear comes off or stays."""
    across = tear.direction is Direction.ACROSS
    return any(
        (part.along if across else part.across) < lay.cloth.least_strip and not _bare(lay, part)
        for part in (tear.falls, tear.stays)
    )


def _bare(lay: Lay, part: Rect) -> bool:
    """Whether a part is squaring strip or selvedge alone, which come off however narrow."""
    usable = lay.cloth.usable
    return part.x1 <= 0 or part.y1 <= usable.y0 or part.y0 >= usable.y1
