"""What the shop is asked for, what it costs, and what it weighs.

`cost` and `grams` are of one cloth as it is bought; `shopping` is the list for a whole case, by
the counters of the shop, and `total` what of it is priced.
"""

from marker.buying.cloth import cost, grams
from marker.buying.shopping import Line, Total, shopping, total

__all__ = ["Line", "Total", "cost", "grams", "shopping", "total"]
