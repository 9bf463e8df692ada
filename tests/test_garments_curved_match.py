"""Stripes that match in gores, circles and capes: which points fall in one place of the repeat."""

from __future__ import annotations

import math

import pytest
from curved_cases import named, read_drafts, refused

from marker import referee
from marker.casefile import parse
from marker.decide import plan
from marker.garments.order import Draft
from marker.piece import MarkKind, Piece, Wise
from marker.units import CM

STRIPE = 'repeat = { along = "12 cm", across = "8 cm" }'
GORES = """kind = "gored skirt"
front.hem = "60 cm"
side.hem = "50 cm"
back.hem = "80 cm"
"""
CIRCLE = 'kind = "circle skirt"\ncircle = "half"\npanels = 4\n'


def striped(garment: str, *, cloth: str = STRIPE, wearer: str = 'length = "85 cm"') -> str:
    return (
        f'title = "A"\nunits = "cm"\n[wearer.ada]\nwaist = "68 cm"\nneck = "38 cm"\n{wearer}\n'
        f'[cloth.main]\nwidth = "140 cm"\n{cloth}\n[garment.skirt]\n{garment}'
    )


def panels(draft: Draft, word: str) -> list[Piece]:
    return [piece for piece in draft.pieces if word in piece.name and "facing" not in piece.name]


def hem_places(piece: Piece) -> tuple[tuple[int, int], ...]:
    """Places of the hem line from seam to seam, as it is marked."""
    hem = [mark for mark in piece.marks if mark.kind is MarkKind.HEM]
    return ((hem[0].u0, hem[0].v0), *((mark.u1, mark.v1) for mark in hem))


def test_gores_match_lengthwise_where_the_hem_meets_the_seam() -> None:
    (draft,) = read_drafts(striped(GORES + 'match = "lengthwise"'))
    gores = panels(draft, "gore")
    assert len(gores) == 3
    for gore in gores:
        (match,) = gore.matches
        assert (match.name, match.wise) == ("skirt/hem", Wise.LENGTHWISE)
        begins, *_, ends = hem_places(gore)
        assert (match.u, match.v) == begins
        assert abs(begins[0] - ends[0]) <= 1  # so the other seam's end falls alike
    assert not named(draft, "band").matches


def test_crosswise_one_place_of_the_stripe_runs_down_the_middle_of_every_gore() -> None:
    (draft,) = read_drafts(striped(GORES + 'match = "both"\nfacing.depth = "8 cm"'))
    for gore in panels(draft, "gore"):
        first, middle = gore.matches
        assert first.wise is Wise.LENGTHWISE
        assert (middle.name, middle.wise) == ("skirt/middle", Wise.CROSSWISE)
        assert abs(2 * middle.v - gore.breadth) <= 2
    assert not any(piece.matches for piece in draft.pieces if "facing" in piece.name)


@pytest.mark.parametrize("grain", ["middle", "edge"])
def test_panels_of_a_circle_match_where_their_hems_meet(grain: str) -> None:
    (draft,) = read_drafts(striped(f'{CIRCLE}grain = "{grain}"\nmatch = "lengthwise"'))
    (panel,) = panels(draft, "panel")
    (match,) = panel.matches
    assert (match.u, match.v) in (hem_places(panel)[0], hem_places(panel)[-1])


def test_a_cape_matches_front_and_back_alike() -> None:
    cape = 'kind = "cape"\ncircle = "half"\nlength = "60 cm"\npanels = 4\nmatch = "crosswise"'
    (draft,) = read_drafts(striped(cape))
    fronts, backs = panels(draft, "panel")
    assert [match.name for match in (*fronts.matches, *backs.matches)] == ["skirt/middle"] * 2


def test_what_cannot_match_is_refused() -> None:
    assert refused(striped(f'{CIRCLE}grain = "edge"\nmatch = "both"')).endswith(
        "garment.skirt.match is 'both', but with an edge along the warp no stripe runs down the "
        'middle of a panel; write grain = "middle", or match lengthwise only'
    )
    for match, lacks, has in (
        ("both", "lengthwise", "across"),
        ("crosswise", "crosswise", "along"),
    ):
        told = refused(striped(f'{GORES}match = "{match}"', cloth=f'repeat = {{ {has} = "8 cm" }}'))
        assert f"match is {match!r}, but the cloth 'main' has no {lacks} repeat; give" in told


def test_a_repeat_that_is_not_heeded_is_told_once() -> None:
    for garment, part in ((GORES, "gores"), (CIRCLE, "panels")):
        (draft,) = read_drafts(striped(garment))
        told = [line for line in draft.garment.advice if "repeat" in line]
        assert told == [
            f"The {part} are not matched to the repeat of the cloth 'main'; match = \"lengthwise\" "
            "would have them match."
        ]
        (plain,) = read_drafts(striped(garment, cloth=""))
        assert not any("repeat" in line for line in plain.garment.advice)
        (matched,) = read_drafts(striped(f'{garment}match = "lengthwise"'))
        assert not any("not matched" in line for line in matched.garment.advice)


def test_how_far_out_a_pattern_is_at_the_top_of_seams_that_slant_unlike() -> None:
    (draft,) = read_drafts(striped(GORES + 'match = "lengthwise"'))
    (told,) = [line for line in draft.garment.advice if "The pattern meets" in line]
    # Straight down its middle, a gore's seam is 85 cm x cos(half its angle) high; Ingalls' shares
    # of the waist, 17, 11 1/3 and 14 1/6 cm, give the angles (60 - 17) / 85 and so on.
    angles = [(60 - 17) / 85, (50 - 34 / 3) / 85, (80 - 85 / 6) / 85]
    rises = [85 * math.cos(angle / 2) for angle in angles]
    out = max(rises) - min(rises)
    assert out - 0.1 <= float(told.split(" cm out")[0].rsplit(" ", 1)[1]) - 0.05 <= out + 0.1
    (alike,) = read_drafts(
        striped('kind = "gored skirt"\ngores = { count = 6, round = "3 m" }\nmatch = "lengthwise"')
    )
    assert not any("The pattern meets" in line for line in alike.garment.advice)


def test_matched_gores_lie_whole_repeats_apart_one_way_round() -> None:
    text = striped(GORES + 'match = "both"\ntape.tie = "60 cm"')
    record = plan(parse(text, "a.toml"), iterations=1, seed=1)
    (lay,) = record.lays
    assert referee.check_record(record) == ()
    pieces = {piece.letter: piece for piece in lay.pieces}
    at = {Wise.LENGTHWISE: set[int](), Wise.CROSSWISE: set[int]()}
    for spot in lay.placements:
        for match in pieces[spot.letter].matches:
            x, y = spot.to_cloth(pieces[spot.letter], match.u, match.v)
            long = match.wise is Wise.LENGTHWISE
            at[match.wise].add((x if long else y) % ((12 if long else 8) * CM))
    assert [len(phases) for phases in at.values()] == [1, 1]
    assert len({spot.turn for spot in lay.placements}) == 1
