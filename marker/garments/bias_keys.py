"""The keys of a part that may be cut on the bias, and the ways in which it is."""

from __future__ import annotations

from typing import Self

from pydantic import Field, model_validator

from marker.garments.words import Counts, Size, Strict, Texts, refuse

STRIPS, RECTANGLE, CONTINUOUS = "bias strips", "bias rectangle", "continuous bias"
CUTS = (STRIPS, RECTANGLE, CONTINUOUS)
"""How bias is cut: single strips among the other pieces, or out of one rectangle."""
WORDS = {
    STRIPS: "bias strips",
    RECTANGLE: "bias from a rectangle",
    CONTINUOUS: "continuous bias",
}


class OnBias(Strict):
    """The keys of a part that may be cut on the bias, in one way or in one of several."""

    cut: tuple[str, ...] = ()
    strips: Counts | None = Field(
        default=None, description="how many bias strips are joined, or a list to compare"
    )
    shortest: Size | None = Field(
        default=None, description='the shortest bias strip, such as "10 cm"'
    )
    across: Size | None = Field(
        default=None, description="how broad the rectangle is that bias is cut from"
    )
    cloth: Texts | None = Field(
        default=None, description="the key of the cloth it is cut from, or a list of them"
    )

    @model_validator(mode="after")
    def _agree(self) -> Self:
        """Refuse keys of bias that no way of cutting asks for."""
        for key in ("strips", "shortest", "across"):
            if getattr(self, key) is not None and not set(self.cut) & set(CUTS):
                refuse(f'{key} is for bias; write cut = "{STRIPS}", or take it out')
        if self.strips and STRIPS not in self.cut:
            refuse(f'strips is for strips cut singly; write cut = "{STRIPS}", or take it out')
        return self

    def each(self) -> tuple[Self, ...]:
        """The part cut in every way that is left open, the first named first."""
        return tuple(
            self.model_copy(update={"cut": (cut,), "strips": None if count is None else (count,)})
            for cut in self.cut
            for count in (self.strips if cut == STRIPS and self.strips else (None,))
        )

    @property
    def open(self) -> bool:
        """Whether there are several ways to cut it."""
        return len(self.each()) > 1

    @property
    def only(self) -> str:
        """The one way to cut it, once chosen."""
        return self.cut[0]

    @property
    def count(self) -> int | None:
        """How many strips are cut singly, once chosen."""
        return self.strips[0] if self.strips else None

    def words(self, part: str) -> str:
        """The chosen way in a few words, such as "facing of 6 bias strips"."""
        if self.only not in CUTS:
            return f"{self.only} {part}"  # a shaped facing, a bought binding
        if not self.count:
            return f"{part} of {WORDS[self.only]}"
        return f"{part} of {self.count} bias {'strips' if self.count > 1 else 'strip'}"
