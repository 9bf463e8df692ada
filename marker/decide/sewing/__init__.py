"""What is sewn of every garment, and the thread and stitches it takes: kept in the record.

Which stitch an edge takes is common practice, no source. Edges are as long as they are cut, so
that every length is told rather too long than too short. Closings and pieces of the user's own
are left out.
"""

from marker.decide.sewing.sewn import with_sewing

__all__ = ["with_sewing"]
