"""Thread by length and mass: what rows of gauging and the stitches of hand sewing take.

The thread of a stitch is reckoned from its geometry, as straight lines between the places where
the needle goes through; it goes through `through` of cloth, which is nought where the thickness
isn't known. No source prints these rules; all of them are common practice or plain geometry.

>>> from marker.units import CM, METRE, MM
>>> flat_row(320 * CM, tail=10 * CM) == 340 * CM
True
>>> pushed_row(72 * CM, slack=15 * CM, tail=10 * CM) == 107 * CM
True
>>> arm_lengths(340 * CM, arm=60 * CM), spools(250 * METRE, spool=100 * METRE)
(6, 3)
>>> per_stitch(Stitch.BACK, 3 * MM) == 9 * MM
True
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import isqrt

from marker.record import Garment, Stitch, Thread
from marker.units import METRE


def flat_row(around: int, tail: int) -> int:
    """A row sewn flat and drawn up once: the cloth in the round, and two tails."""
    return around + 2 * tail


def pushed_row(drawn: int, slack: int, tail: int) -> int:
    """A row whose cloth is pushed along as it is sewn: drawn length, slack and two tails."""
    return drawn + slack + 2 * tail


def spacing(stitch: Stitch, length: int) -> int:
    """How far one stitch goes on: a running stitch leaves a space as long as itself."""
    return 2 * length if stitch is Stitch.RUNNING else length


def per_stitch(stitch: Stitch, length: int, through: int = 0) -> int:
    """Thread in one stitch of a length, its space included, up to a whole unit.

    A running stitch lies over and under, a backstitch over and twice its length under. Hemming
    zigzags between two lines half a stitch apart, a whip stitch over an edge between two lines a
    stitch apart. Every stitch goes through the cloth twice.
    """
    plain = {
        Stitch.RUNNING: 2 * length,
        Stitch.BACK: 3 * length,
        Stitch.HEMMING: zigzag(length, -(-length // 2)),
        Stitch.WHIP: zigzag(length, length),
    }
    return plain[stitch] + 2 * through


def zigzag(along: int, apart: int) -> int:
    """Over to a line `apart` and back again while going `along`, up to a whole unit."""
    square = along * along + 4 * apart * apart
    root = isqrt(square)
    return root if root * root == square else root + 1


def arm_lengths(length: int, arm: int) -> int:
    """How many arm-lengths make up a length of thread, a part counted as one."""
    return -(-length // arm)


def spools(length: int, spool: int) -> int:
    """How many spools hold a length of thread."""
    return -(-length // spool)


def grams(length: int, tex: Decimal) -> Fraction:
    """Mass of a length of thread: tex is grams in 1,000 m (ISO 1144, from memory)."""
    return Fraction(tex) * length / (1000 * METRE)


def rows(garment: Garment, thread: Thread) -> int:
    """Thread for a garment's rows of gauging, by the method that thread is bought for."""
    return sum(one.thread if thread.flat else one.pushed for one in garment.sewing if one.pushed)


def needlefuls(garment: Garment, thread: Thread) -> int:
    """Arm-lengths threaded for all other stitches of a garment: each loses a tail."""
    whole = sum(one.thread for one in garment.sewing if not one.pushed)
    return arm_lengths(whole, thread.arm - thread.tail)


def of_garment(garment: Garment, thread: Thread) -> int:
    """All thread that is cut off the spool for a garment."""
    return rows(garment, thread) + needlefuls(garment, thread) * thread.arm
