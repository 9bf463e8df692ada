"""The last things: what closes the garment, threads and pins taken out, and the last press."""

from __future__ import annotations

from collections.abc import Iterator

from marker.garments.order import Order
from marker.garments.work.job import Job
from marker.record import Method, Stage


def closed(order: Order, drawn: int, underlap: int, pieces: tuple[str, ...]) -> Iterator[Job]:
    """Hooks and eyes on a band."""
    if underlap:
        where = "hooks to the end of the band, and eyes where the underlap begins"
    else:
        where = "hooks to one end of the band and eyes to the other, so that they meet"
    yield Job(Stage.FINISH, f"Sew {where}; closed it goes {order.spell(drawn)} round.", pieces)


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
