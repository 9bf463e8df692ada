"""When a lay serves other pieces too, so that what one cell of a chart takes bounds another's.

Let B be pieces with a lay of length l on some cloth, and A as many kinds of pieces, each no
longer, no broader and no more often cut than its fellow in B, of the same grain and edges.
Then A needs no more than l, on that cloth or a wider one:

* Cut with shears, every piece of A lies where a copy of its fellow lies, at one corner of it
  and turned alike. It touches nothing that the fellow didn't: no other piece, no selvedge, no
  flaw, nor does a margin shrink.
* Torn, the fellow comes off as before and is then torn down to size, lengthwise and across:
  a torn lay may be torn on. Both have the same allowance at torn edges, counted in their size.
* A wider cloth is first cut or torn along to the usable width of the narrower, from one
  selvedge on. What lies there lies as it did. Flaws, though, are measured on one bolt, and a
  fold lies in its middle, so that widths are not compared where there are any.

A shorter skirt of the same breadths is thus served by a longer one's lay, and panels of a given
width by a lay on narrower cloth. Full breadths grow with the cloth, so their pieces are larger
on wider cloth and nothing follows. Nor does it from pieces that must match, lie at a selvedge or
are joined from segments, whose places hang together, nor for curves other than the same ones.

What holds of lengths holds of bounds the other way round: A's bound bounds B.
"""

from __future__ import annotations

from dataclasses import replace

from marker.cloth import Cloth
from marker.lay import Lay
from marker.piece import Piece


def serves(lay: Lay, other: Lay) -> bool:
    """Whether the first lay, cut down, gives all pieces of the other, in the same mode."""
    return (
        lay.mode is other.mode
        and not lay.regions
        and _as_wide(lay.cloth, other.cloth)
        and len(lay.pieces) == len(other.pieces)
        and all(
            _within(small, large) for small, large in zip(other.pieces, lay.pieces, strict=True)
        )
    )


def _as_wide(narrow: Cloth, wide: Cloth) -> bool:
    """Whether the second cloth is the first, or one like it and wider."""
    if narrow == wide:
        return not narrow.folded
    alike = replace(wide, width=narrow.width) == narrow and wide.width > narrow.width
    return alike and not narrow.flaws and not narrow.folded


def _within(small: Piece, large: Piece) -> bool:
    """Whether every copy of the one can be cut down from a copy of the other."""
    if any(piece.selvedges or piece.matches or piece.pieced for piece in (small, large)):
        return False
    if small.outline != large.outline or small.mirrored != large.mirrored:
        return False
    terms = [(piece.grain, piece.up, piece.torn) for piece in (small, large)]
    return (
        terms[0] == terms[1]
        and small.count <= large.count
        and small.length <= large.length
        and small.breadth <= large.breadth
    )
