"""The referee on the order of work and on what edges meet; plans leave out what is only chalked."""

from __future__ import annotations

from dataclasses import replace

import pytest
from lays import record

from marker.piece import Mark, MarkKind, Meeting
from marker.plan.drawing.page import Paper
from marker.plan.lays.svg import draw
from marker.record import Record, Stage, Task, dump, parse
from marker.referee import check_record
from marker.units import CM

MARKED = Task(Stage.MARK, "Chalk the quarter points.", ("A",))
JOINED = Task(Stage.JOIN, "Sew the panels together.")
SEWN = Meeting("side seam", "the next panel's side seam", ("panel",))


def told(*work: Task, meets: tuple[Meeting, ...] = (), marks: tuple[Mark, ...] = ()) -> Record:
    """A good record whose skirt is worked so, and whose first piece meets and is marked so."""
    good = record()
    lay = good.lays[0]
    first = replace(lay.pieces[0], meets=meets, marks=(*lay.pieces[0].marks, *marks))
    lay = replace(lay, pieces=(first, *lay.pieces[1:]))
    skirt = replace(good.garments[0], work=work)
    return replace(good, garments=(skirt, *good.garments[1:]), lays=(lay, *good.lays[1:]))


def test_work_and_meetings_pass_and_so_does_their_text() -> None:
    good = told(MARKED, JOINED, meets=(SEWN,))
    assert check_record(good) == ()
    assert parse(dump(good), "lay.json") == good


def test_a_record_from_before_they_were_kept_still_reads() -> None:
    text = dump(record())
    for key in ('   "work": []', '     "meets": []'):
        assert key in text
        text = text.replace(f",\n{key}", "")
    assert '"work"' not in text and '"meets"' not in text
    assert parse(text, "lay.json") == record()


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        (told(MARKED, replace(JOINED, text=" ")), "Task 2 of its work says nothing."),
        (told(replace(MARKED, letters=("C",))), "Task 1 of its work is about C, no piece of it."),
        (told(JOINED, MARKED), "Task 2 of its work, to mark, comes after one to join."),
        (told(meets=(replace(SEWN, edge="top"),)),
         "Piece A has no edge top, and yet that is said to meet something."),
        (told(meets=(replace(SEWN, pieces=("facing",)),)),
         "Piece A meets facing, which the garment doesn't have."),
        (told(meets=(replace(SEWN, pieces=("band",)),)),
         "Piece A meets band, which says nothing of it."),
    ],
)  # fmt: skip
def test_faults_of_the_work(bad: Record, said: str) -> None:
    assert check_record(bad) == (f"Garment skirt: {said}",)


def test_a_plan_leaves_out_what_is_chalked() -> None:
    chalk = Mark(MarkKind.CHALK, "quarter point", 0, 30 * CM, 7 * CM, 30 * CM)
    plain, marked = told(), told(marks=(chalk,))
    paper = Paper.A4
    assert draw(marked, marked.lays[0], paper) == draw(plain, plain.lays[0], paper)
    notched = told(marks=(replace(chalk, kind=MarkKind.NOTCH),))
    assert draw(notched, notched.lays[0], paper) != draw(plain, plain.lays[0], paper)
