"""What `reach` came to, as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from marker.casefile import Case
from marker.casefile.changes import Changes
from marker.record import Record


class Standing(StrEnum):
    """Whether what is asked can be had from what is there."""

    FITS = "fits"
    REFUTED = "proved not to fit"
    OPEN = "no lay found that fits"


@dataclass(frozen=True)
class Miss:
    """By how much a remnant is too short, or too narrow where `wide` is set; units.

    `least` is what was found to do, `bound` what is proved to be needed at the least; `record`
    is the plan with so much cloth.
    """

    cloth: str
    wide: bool
    there: int
    least: int
    bound: int
    record: Record | None = None


@dataclass(frozen=True)
class Offer:
    """A change that makes it fit, planned; `refuted` where any less is proved not to.

    It is `figured` where less of the same change could be asked for. `lost` is the part of the
    finished garment's length and round that it takes away.
    """

    name: str
    words: str
    changes: Changes
    record: Record
    figured: bool
    refuted: bool
    lost: Fraction
    rank: int


@dataclass(frozen=True)
class Most:
    """The most that can be had: `figure` in units, nought where it is told in words alone.

    `refuted` where more is proved not to fit, `whole` where there is no more to ask for;
    `limit` is a figure beyond which it is proved that nothing fits, or that nothing can be asked
    for; None where there are no figures, or nothing more is open. `others` is what else was found.
    All of it is sought `within` what that says, if anything.
    """

    of: str
    garment: str
    words: str
    figure: int
    changes: Changes
    record: Record
    refuted: bool
    whole: bool
    limit: int | None = None
    others: tuple[Most, ...] = ()
    within: str = ""


@dataclass(frozen=True)
class Reached:
    """All of it: `record` is the plan as asked, where that fits.

    `most_asked` is what was to be made most of, `most` what it came to, if anything was found.
    `several` says that the offers change two things at once, for no single change was found.
    """

    case: Case
    standing: Standing
    record: Record | None
    misses: tuple[Miss, ...] = ()
    offers: tuple[Offer, ...] = ()
    several: bool = False
    most_asked: str = ""
    most: Most | None = None
    stopped: bool = False

    @property
    def anything(self) -> bool:
        """Whether any lay at all was found."""
        return bool(self.record or self.offers or self.most or self.misses)
