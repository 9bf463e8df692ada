"""Judge what the record says of sewing: its rows against the garment, and all against sense."""

from __future__ import annotations

from collections.abc import Iterator

from marker.record import Garment, Sewn, Stitch, Thread
from marker.referee.words import figure, plain, spell


def sewing_faults(garment: Garment, thread: Thread | None) -> Iterator[str]:
    """Faults of a garment's sewing.

    A row sewn flat takes the round hem and two tails. Pushed along, it takes at least the drawn
    length, the slack and two tails, and no more than the ease beyond that.
    """
    if garment.sewing and thread is None:
        yield "It is sewn, but the record has no thread."
        return
    for one in garment.sewing:
        yield from _sense(one)
        if thread and one.pushed:
            yield from _row(garment, one, thread)


def thread_faults(thread: Thread | None) -> Iterator[str]:
    """Thread that can be bought and threaded: spools hold some, and arm-lengths outlast a tail."""
    if thread is None:
        return
    lengths = (thread.spool, thread.stitch, thread.tail + 1, thread.slack + 1)
    if min(lengths) <= 0 or thread.tex <= 0:
        yield f"{plain(thread.name)} has a length or a mass below nothing."
    if thread.arm <= thread.tail:
        yield (
            f"{plain(thread.name)} is threaded {spell(thread.arm)} at a time, no longer than the "
            f"tail of {spell(thread.tail)}."
        )


def _sense(one: Sewn) -> Iterator[str]:
    """Every stitch takes some thread, and no stitch joins so much that it holds nothing."""
    if min(one.length, one.stitches, one.thread) <= 0 or one.pushed < 0:
        yield f"{plain(one.what)} is sewn over {spell(one.length)} with no thread or no stitches."
    elif one.stitch is not Stitch.WHIP and one.thread < one.length:
        yield (
            f"{plain(one.what)} is {spell(one.length)} long, more than its thread of "
            f"{spell(one.thread)}."
        )


def _row(garment: Garment, one: Sewn, thread: Thread) -> Iterator[str]:
    flat = garment.round_hem + 2 * thread.tail
    least = garment.drawn + thread.slack + 2 * thread.tail
    ease = garment.pleating.ease if garment.pleating else 0
    if one.thread != flat:
        yield f"Thread of {spell(one.thread)} for {plain(one.what)}, not {spell(flat)}."
    if not least <= one.pushed <= least + ease:
        yield (
            f"Thread of {spell(one.pushed)} for {plain(one.what)} pushed along, not "
            f"{spell(least)} and up to {spell(ease)} for the ease."
        )
    if garment.panels > 0 and one.stitches % garment.panels:
        yield (
            f"{figure(one.stitches)} stitches of {plain(one.what)} don't share out evenly over "
            f"{figure(garment.panels)} panels."
        )
