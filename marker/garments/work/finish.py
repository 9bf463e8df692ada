"""The last things: what closes the garment, threads and pins taken out, and the last press."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marker.garments.order import Order
from marker.garments.work.job import Job, many
from marker.record import Method, Notion, Stage


def closed(
    order: Order, notions: Sequence[Notion], lengths: tuple[int, int], pieces: tuple[str, ...]
) -> Iterator[Job]:
    """What closes a band, by what was bought for it.

    `lengths` are the drawn one and that of the underlap.
    """
    drawn, underlap = lengths
    under = "where the underlap begins" if underlap else "to the other end, so that they meet"
    for notion in notions:
        count = notion.count
        how = {
            "hooks and eyes": f"Sew {many(count, 'hook')} to the end of the band, and "
            f"{many(count, 'eye')} {under}",
            "buttons": f"Work {many(count, 'buttonhole')} in the end of the band, and sew "
            f"{many(count, 'button')} {under}",
            "press studs": f"Sew {many(count, 'press stud')}, one half to the end of the band and "
            f"the other {under}",
            "tape for ties": "Cut the tape for the ties into equal lengths, hem their ends, and "
            f"sew them to the end of the band and {under}",
        }.get(notion.name)
        if how:
            yield Job(
                Stage.FINISH, f"{how}; closed the band goes {order.spell(drawn)} round.", pieces
            )


def last(pressed: str, method: Method | None = None) -> Iterator[Job]:
    """Threads, pins and needles out, and the last press: `pressed` says of what.

    `method` is how the top is drawn up, if it is.
    """
    rows = {
        Method.GAUGED: " Leave the rows that draw up the top.",
        Method.STROKE: " Draw out what shows of the gathering threads.",
    }
    yield Job(
        Stage.FINISH,
        f"Take out tacking threads.{rows.get(method, '') if method else ''} Count pins and "
        "needles, and feel along every seam and fold before anybody tries it on.",
    )
    but = {Method.GAUGED: ", not the pleats", Method.STROKE: ", not the gathers"}
    kept = but.get(method, "") if method else ""
    yield Job(
        Stage.FINISH,
        f"Press {pressed}{kept}, with a cloth between. A hot iron burns: never leave it lying.",
    )
