"""What `reach` came to, as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from marker.casefile import Case
from marker.casefile.changes import Changes
from marker.decide.reach.losses import Losses
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

    It is `figured` where less of the same change could be asked for, and `figure` what it comes
    to then. `losses` is what it takes of the garments, `lost` the part of all finished cloth.
    """

    name: str
    words: str
    changes: Changes
    record: Record
    figured: bool
    refuted: bool
    losses: Losses
    lost: Fraction
    rank: int
    figure: int | None = None

    @property
    def bought(self) -> bool:
        """Whether some of it must be bought."""
        return any(not lay.cloth.length for lay in self.record.lays)


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
    losses: Losses = ()
    kind: str = "skirt"
    long: int = 0
    """Its finished length as asked, where that is shortest; `even` where it is so everywhere."""
    even: bool = True


@dataclass(frozen=True)
class Reached:
    """All of it: `record` is the plan as asked, where that fits.

    `most_asked` is what was to be made most of, `most` what it came to, if anything was found.
    `several` says that two things change at once in all offers, for no single change was found.
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
    kind: str = "skirt"
    """What the garment to make most of is."""
    unasked: tuple[str, ...] = ()
    """What the time was out for, a name each."""

    @property
    def anything(self) -> bool:
        """Whether there is anything to tell: a lay, or that there can't be one."""
        found = self.record or self.offers or self.most or self.misses
        return bool(found) or self.standing is Standing.REFUTED
