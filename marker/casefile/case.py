"""A case as the rest of the program sees it: read, checked, and every length in units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from marker.cloth import Cloth
from marker.errors import BadInput
from marker.garments.order import Order, Wearer
from marker.record import Notion, Thread
from marker.units import Units


@dataclass(frozen=True)
class Case:
    """What is to be made: one order for each garment and wearer, in the file's order.

    `file` is the name that messages about the case start with; lengths are units of 1/160 mm.
    `tables` is the file as it was read, and `folder` the one its drawings are looked for from:
    from these `changes.changed` reads the case anew with some values changed. `notions` are what
    the user brings to the list, by the keys of the garments that they are for, those for none in
    particular under "". `pace` is the stitches a minute that an estimate of time is wanted by.
    """

    file: str
    title: str
    units: Units
    wearers: Mapping[str, Wearer]
    cloths: Mapping[str, Cloth]
    orders: tuple[Order, ...]
    tables: Mapping[str, Any] = field(default_factory=dict, repr=False)
    folder: Path = Path()
    thread: Thread = field(default_factory=Thread)
    notions: Mapping[str, tuple[Notion, ...]] = field(default_factory=dict)
    pace: int = 0

    def parted(self, *, tears: bool) -> Case:
        """The same case with every cloth torn, or every cloth cut with shears.

        Raises `BadInput` where a cloth to be torn is laid folded.
        """
        for key, cloth in self.cloths.items():
            if tears and cloth.folded:
                raise BadInput(
                    f"{self.file}: cloth.{key}.folded is true, and folded cloth is cut with "
                    "shears, not torn; take folded out, or plan it without --mode tear"
                )
        cloths = {key: replace(cloth, tears=tears) for key, cloth in self.cloths.items()}
        orders = tuple(replace(order, cloths=cloths) for order in self.orders)
        return replace(self, cloths=cloths, orders=orders)
