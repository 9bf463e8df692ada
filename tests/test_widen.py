"""Panels that flex: the shortest length first, then the greatest round hem within it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from marker.casefile import Case
from marker.cloth import Cloth
from marker.decide.desk import LETTING_OUT, Budget, Desk, Laid
from marker.decide.widen import widest
from marker.garments.order import Draft, Flex
from marker.lay import Proof
from marker.piece import Piece
from marker.record import Garment
from marker.referee import findings
from marker.units import CM, MM, System

CLOTH = Cloth(key="c", name="Cloth", width=150 * CM, step=10 * CM)


def draft(width: int, low: int, high: int, step: int = MM) -> Draft:
    """Two panels of a width, with a band 10 cm broad and as long as the drop beside them."""
    pieces = (
        Piece("", "panel", 90 * CM, width, 2, "c"),
        Piece("", "band", 85 * CM, 10 * CM, 1, "c"),
    )
    garment = Garment("g", "Skirt", "Ada", 2, 90 * CM, 2 * (width - 2 * CM), 70 * CM, 0)
    return Draft(pieces, garment, flex=Flex(low, high, step, lambda w: draft(w, low, high, step)))


def let_out(low: int, high: int, step: int = MM) -> tuple[Laid, tuple[str, ...]]:
    case = Case("a.toml", "A", System.CM, {}, {"c": CLOTH}, ())
    desk = Desk(case, Budget(10.0, 0, 20, None))
    (laid,) = desk.lay([(draft(low, low, high, step),)])
    return widest(desk, laid, System.CM)


def panel(laid: Laid) -> Piece:
    return laid.lays[0].pieces[0]


def test_the_widest_panels_that_leave_the_band_its_place() -> None:
    # 150 cm hold two panels and a 10 cm band: 70 cm each, though they might be 75
    laid, (said,) = let_out(60 * CM, 75 * CM)
    assert panel(laid).breadth == 70 * CM
    assert laid.lays[0].length == laid.lays[0].bound == 90 * CM
    assert laid.lays[0].proof is Proof.LENGTH
    assert not findings(laid.lays[0])
    assert "60 cm to 75 cm wide: 70 cm are proved to be the widest" in said
    assert said.endswith("within the shortest length, 136 cm round the hem.")


def test_a_length_that_is_not_proved_is_not_called_the_shortest() -> None:
    case = Case("a.toml", "A", System.CM, {}, {"c": CLOTH}, ())
    desk = Desk(case, Budget(10.0, 0, 20, None))
    (laid,) = desk.lay([(draft(60 * CM, 60 * CM, 60 * CM, MM),)])
    laid = replace(laid, lays=tuple(replace(lay, proof=Proof.OPEN) for lay in laid.lays))
    _, (said,) = widest(desk, laid, System.CM)
    assert "within the length that is used, " in said
    assert "shortest" not in said


def test_steps_that_do_not_meet_the_limit_stop_below_it() -> None:
    laid, _ = let_out(60 * CM, 75 * CM, 4 * CM)
    assert panel(laid).breadth == 68 * CM


def test_panels_are_let_out_to_the_full_where_that_costs_nothing() -> None:
    laid, (said,) = let_out(60 * CM, 69 * CM + 5 * MM, 2 * CM)
    assert panel(laid).breadth == 69 * CM + 5 * MM
    assert "the full 69.5 cm fit" in said


def test_equal_bounds_are_a_fixed_width() -> None:
    laid, _ = let_out(64 * CM, 64 * CM)
    assert panel(laid).breadth == 64 * CM


@pytest.mark.parametrize("refuted", [True, False])
def test_the_widest_is_claimed_only_where_the_next_was_refuted(
    monkeypatch: pytest.MonkeyPatch, refuted: bool
) -> None:
    monkeypatch.setattr("marker.decide.desk.fit", lambda *_, **__: (None, refuted))
    _, (said,) = let_out(60 * CM, 75 * CM)
    assert ("proved to be the widest" in said) == refuted
    assert ("the widest found" in said) != refuted


def test_the_length_in_hand_is_never_outgrown() -> None:
    laid, _ = let_out(50 * CM, 80 * CM, 3 * MM)
    assert laid.lays[0].length == 90 * CM
    assert 70 * CM - 3 * MM < panel(laid).breadth <= 70 * CM


def test_several_garments_are_let_out_alike() -> None:
    # Four panels and two bands on 150 cm: two rows, each with room for two 70 cm panels
    case = Case("a.toml", "A", System.CM, {}, {"c": CLOTH}, ())
    desk = Desk(case, Budget(10.0, 0, 20, None))
    one = draft(60 * CM, 60 * CM, 80 * CM, CM)
    (laid,) = desk.lay([(one, one)])
    laid, said = widest(desk, laid, System.CM)
    assert [chosen.pieces[0].breadth for chosen in laid.way] == [70 * CM, 70 * CM]
    assert len(said) == 2
    assert all("let out alike" in sentence for sentence in said)


def test_ranges_of_several_steps_are_let_out_by_the_same_part() -> None:
    # The one may grow by 20 cm, the other by 10: at nine tenths a row of two is full
    case = Case("a.toml", "A", System.CM, {}, {"c": CLOTH}, ())
    desk = Desk(case, Budget(10.0, 0, 20, None))
    (laid,) = desk.lay(
        [(draft(52 * CM, 52 * CM, 72 * CM, CM), draft(61 * CM, 61 * CM, 71 * CM, CM))]
    )
    laid, _ = widest(desk, laid, System.CM)
    assert [chosen.pieces[0].breadth for chosen in laid.way] == [70 * CM, 70 * CM]


def test_letting_out_keeps_to_what_the_cloth_has_left(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of ten seconds four are kept back: with the rest used up, no more go into widths."""
    case = Case("a.toml", "A", System.CM, {}, {"c": CLOTH}, ())
    desk = Desk(case, Budget(10.0, 0, 20, None), LETTING_OUT)
    assert desk.left == {"c": pytest.approx(6.0)}
    (laid,) = desk.lay([(draft(60 * CM, 60 * CM, 75 * CM, CM),)])
    given: list[float] = []

    def fitted(*_: object, seconds: float, **__: object) -> tuple[None, bool]:
        given.append(seconds)
        return None, False

    monkeypatch.setattr("marker.decide.desk.fit", fitted)
    desk.left["c"] = -0.5
    widest(desk, laid, System.CM)
    assert 2 <= len(given) <= 5
    assert sum(given) <= 4.0
    assert sum(given) > 1.0


def test_a_case_keeps_its_figures_when_parted_with_shears() -> None:
    case = Case("a.toml", "A", System.CM, {}, {"c": CLOTH}, ())
    assert case.parted(tears=False).cloths == {"c": replace(CLOTH, tears=False)}
    assert case.parted(tears=True) == case
