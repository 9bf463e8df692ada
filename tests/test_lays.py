"""What must hold between lays of one case: tears and shears, wider cloth, fewer pieces."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, example, given, settings
from strategies import asks

from marker.cloth import Cloth
from marker.lay import Lay, Mode, Proof
from marker.piece import Grain, Piece
from marker.referee import findings
from marker.solver import solve, usual_mode
from marker.units import CM

Ask = tuple[Cloth, tuple[Piece, ...]]
TRIED = settings(max_examples=15, deadline=None, derandomize=True)


def torn(cloth: Cloth, pieces: tuple[Piece, ...]) -> Lay:
    return solve(cloth, pieces, mode=Mode.TEAR, iterations=5)


def sheared(cloth: Cloth, pieces: tuple[Piece, ...]) -> Lay:
    return solve(replace(cloth, tears=False), pieces, mode=Mode.SHEARS, iterations=5)


PINWHEEL = (
    Cloth("c", "cloth", 50 * CM, 10 * CM),
    (
        Piece("A", "long", 30 * CM, 20 * CM, 2, "c"),
        Piece("B", "wide", 20 * CM, 30 * CM, 2, "c"),
        Piece("C", "middle", 10 * CM, 10 * CM, 1, "c"),
    ),
)
"""Fills 50 by 50 cm by shears, with no line across that cuts no piece."""


@given(asks())
@example(PINWHEEL)
@TRIED
def test_shears_never_need_more_than_tears(ask: Ask) -> None:
    tears, shears = torn(*ask), sheared(*ask)
    assert findings(tears) == findings(shears) == ()
    assert shears.bound <= shears.length <= tears.length
    assert shears.bound <= tears.bound or tears.proof is not Proof.LENGTH


def test_a_pinwheel_is_shorter_by_shears_and_both_are_proved() -> None:
    tears, shears = torn(*PINWHEEL), sheared(*PINWHEEL)
    assert (shears.length, shears.proof) == (50 * CM, Proof.LENGTH)
    # Torn: 20 x 30 beside 30 x 20 twice over leave the small square a band of its own
    assert (tears.length, tears.proof) == (60 * CM, Proof.LENGTH)


@given(asks())
@TRIED
def test_wider_cloth_never_needs_more(ask: Ask) -> None:
    cloth, pieces = ask
    for lay in (torn, sheared):
        narrow, wide = lay(cloth, pieces), lay(replace(cloth, width=cloth.width + 7 * CM), pieces)
        assume(narrow.proof is wide.proof is Proof.LENGTH)
        assert wide.length <= narrow.length


@given(asks())
@TRIED
def test_fewer_pieces_never_need_more(ask: Ask) -> None:
    cloth, pieces = ask
    assume(len(pieces) > 1)
    for lay in (torn, sheared):
        all_of_them, fewer = lay(cloth, pieces), lay(cloth, pieces[1:])
        assume(all_of_them.proof is fewer.proof is Proof.LENGTH)
        assert fewer.length <= all_of_them.length


@given(asks())
@TRIED
def test_a_nap_never_saves_cloth(ask: Ask) -> None:
    cloth, pieces = ask
    # Every piece then fits in every turn that a nap leaves it
    free = tuple(replace(piece, grain=Grain.EITHER) for piece in pieces)
    for lay in (torn, sheared):
        napped, plain = (lay(replace(cloth, one_way=nap), free) for nap in (True, False))
        assume(napped.proof is plain.proof is Proof.LENGTH)
        assert plain.length <= napped.length


def test_the_usual_mode_follows_cloth_and_pieces() -> None:
    cloth, pieces = PINWHEEL
    spared = tuple(replace(piece, torn=False) for piece in pieces)
    assert usual_mode(cloth, pieces) is Mode.TEAR
    assert usual_mode(replace(cloth, tears=False), pieces) is Mode.SHEARS
    assert usual_mode(cloth, spared) is Mode.SHEARS
    assert usual_mode(cloth, (*spared[:2], pieces[2])) is Mode.TEAR
    assert solve(cloth, spared, iterations=3).mode is Mode.SHEARS
