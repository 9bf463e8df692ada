"""Seams of gored skirts: what each is when sewn, which holds the opening, and sloping tops."""

from __future__ import annotations

import math

import pytest
from curved_cases import figure, named, read_drafts, refused

from marker import referee
from marker.casefile import parse
from marker.decide import plan
from marker.garments.gored.outline import gore_outline
from marker.garments.order import Draft
from marker.geometry.offset import with_allowance
from marker.units import CM, INCH, MM

LEVEL = 'length = "90 cm"'
SLOPING = 'front = "94 cm"\nside = "95 cm"\nback = "96 cm"'
STEEP = 'front = "94 cm"\nside = "95 cm"\nback = "99 cm"'
KINDS = "front.count = {}\nside.count = {}\nback.count = {}\n"


def skirt(gores: str, wearer: str = LEVEL, cloth: str = "") -> str:
    """A gored skirt over a waist of 70 cm, 3 m round, from cloth 150 cm wide."""
    return (
        f'title = "A skirt"\nunits = "cm"\n[wearer.ada]\nwaist = "70 cm"\n{wearer}\n'
        f'[cloth.main]\nwidth = "150 cm"\n{cloth}\n'
        f'[garment.skirt]\nkind = "gored skirt"\ngores.round = "300 cm"\n{gores}'
    )


def marked(draft: Draft) -> dict[str, list[str]]:
    """For each shaped piece the edges on which an opening is marked to end."""
    found = {}
    for piece in draft.pieces:
        ends = [mark for mark in piece.marks if mark.name == "opening ends"]
        if ends:
            found[piece.name] = [
                "low" if mark.v0 + mark.v1 < piece.breadth else "high" for mark in ends
            ]
    return found


def told_of_opening(draft: Draft) -> str:
    (told,) = [line for line in draft.garment.advice if line.startswith("The opening is in")]
    return told


# --- the opening --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("gores", "wearer", "at", "edges", "told"),
    [
        ("gores.count = 4", LEVEL, "back", {"gore": ["low", "high"]},
         "any one seam, 26 cm down from the waist; wear that seam at the back."),
        ("gores.count = 1\ngores.gathers = '150 cm'\ncloth = 'wide'", LEVEL, "back",
         {"gore": ["low", "high"]},
         "the one seam, 26 cm down from the waist; wear it at the back."),
        ("gores.count = 5", SLOPING, "back", {"gore 3": ["high"]},
         "the seam in the middle of the back, 26 cm down from the waist."),
        ("gores.count = 6", SLOPING, "back", {"gore 3": ["high"], "gore 4": ["low"]},
         "one of the seams between gores 3 and 4, beside the middle of the back, "
         "26 cm down from the waist."),
        ("gores.count = 6", SLOPING, "side", {"gore 2": ["high"], "gore 3": ["low"]},
         "one of the seams between gores 2 and 3, at the side, 26 cm down from the waist."),
        (KINDS.format(1, 2, 2), LEVEL, "side", {"side gore": ["high"], "back gore": ["low"]},
         "one of the seams between the side gore and the back gore, nearest to the side, "
         "26 cm down from the waist."),
        (KINDS.format(1, 2, 2), LEVEL, "back", {"back gore": ["high"]},
         "the seam in the middle of the back, 26 cm down from the waist."),
        (KINDS.format(1, 4, 1), LEVEL, "side", {"side gore": ["high", "low"]},
         "one of the seams between two side gores, nearest to the side, "
         "26 cm down from the waist."),
        ('front.count = 2\nfront.top = "17.5 cm"\nback.count = 1', LEVEL, "side",
         {"front gore": ["high"], "back gore": ["low"]},
         "one of the seams between the front gore and the back gore, at the side, "
         "26 cm down from the waist."),
        ("back.count = 2", SLOPING, "side", {"back gore": ["low"]},
         "the seam in the middle of the front, the nearest to the side, "
         "26 cm down from the waist."),
    ],
)  # fmt: skip
def test_the_opening_is_told_and_marked_where_its_edges_meet(
    gores: str, wearer: str, at: str, edges: dict[str, list[str]], told: str
) -> None:
    text = skirt(f'opening.at = "{at}"\n{gores}', wearer, '[cloth.wide]\nwidth = "5 m"')
    (draft,) = read_drafts(text)
    assert marked(draft) == edges
    assert told_of_opening(draft) == f"The opening is in {told}"


def test_even_gores_that_hold_the_opening_on_one_side_are_cut_in_pairs() -> None:
    # Without turning one of them over, both would have the notch on the same hand.
    text = skirt('opening.at = "back"\n' + KINDS.format(1, 2, 2))
    (draft,) = read_drafts(text)
    back, side = named(draft, "back gore"), named(draft, "side gore")
    assert (back.count, back.mirrored, back.folds) == (2, 1, False)
    assert (back.edges.low, back.edges.high) == ("towards the front", "towards the back")
    assert (side.count, side.mirrored, side.folds) == (2, 0, True)


# --- what seams measure -------------------------------------------------------------------


def test_every_seam_is_told_once_as_long_as_it_is_sewn() -> None:
    text = skirt(KINDS.format(1, 2, 2), 'front = "36 in"\nside = "36 1/2 in"\nback = "37 1/2 in"')
    (draft,) = read_drafts(text)
    seams = {i.name: i.length / INCH for i in draft.garment.figures if i.name.startswith("seam ")}
    assert list(seams) == [
        "seam front to side, sewn",
        "seam side to back, sewn",
        "seam back to back, sewn",
    ]
    # Tops share the waist as 1/4, 1/3, 5/12: seams an eighth and 7/24 of the way round.
    middle, swing, lift = (36.75 + 36.5) / 2, -0.75, 0.125

    def at(place: float) -> float:
        turn = math.tau * place
        return middle + swing * math.cos(turn) + lift * math.cos(2 * turn)

    assert list(seams.values()) == pytest.approx([at(1 / 8), at(7 / 24), 37.5], abs=1e-3)
    # Where all are one length, that is told, and no seam by itself.
    (level,) = read_drafts(skirt(KINDS.format(1, 2, 2)))
    assert figure(level, "every seam, sewn") == 90 * CM
    assert not [item for item in level.garment.figures if item.name.startswith("seam ")]


# --- sloping tops -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("gores", "wearer", "depth"),
    [
        ("gores.count = 5", SLOPING, "3 cm"),
        ("gores.count = 6", SLOPING, "3 cm"),
        ("gores.count = 5", STEEP, "1.5 cm"),
        ("gores.count = 5", STEEP, "3 cm"),
        (KINDS.format(1, 2, 2), STEEP, "8 cm"),
    ],
)
def test_a_sloping_waist_is_turned_down_as_deep_all_round(
    gores: str, wearer: str, depth: str
) -> None:
    text = skirt(f'turn_down = "{depth}"\n{gores}', wearer, "tears = false")
    case = parse(text, "a.toml")
    record = plan(case, iterations=1, seed=1)
    assert referee.check_record(record) == ()
    (garment,) = record.garments
    assert [row.place for row in garment.turn_downs] == ["front", "side", "back"]
    (deep,) = {row.depth for row in garment.turn_downs}
    assert deep / CM == float(depth.split()[0])
    told = f"The waist slopes as it is cut: turn down {depth} all round."
    assert told in garment.advice
    (level,) = read_drafts(skirt(f'turn_down = "{depth}"\n{gores}'))
    assert "slopes as it is cut" not in " ".join(level.garment.advice)


def test_what_is_added_above_a_sloping_top_lies_between_the_seams() -> None:
    # The waist of a gore at the back, from 96 to 99 cm: the seam's cut line, 1 cm out, meets that
    # of the turn-down, 3 cm out, before either ends.
    finished = gore_outline(14 * CM, 60 * CM, 95.9 * CM, 98 * CM, 99 * CM)
    made = with_allowance(finished, {"low": CM, "high": CM, "start": 3 * CM, "end": 0})
    for name, out in (("low", CM), ("high", CM), ("start", 3 * CM)):
        (sewn,), (cut,) = (outline.edge(name).segments for outline in (finished, made))
        (u, v), (du, dv) = sewn.at(sewn.length / 2), sewn.heading(sewn.length / 2)
        near = min(
            math.dist(cut.at(cut.length * k / 4000), (u + dv * out, v - du * out))
            for k in range(4001)
        )
        assert near < MM / 4


def test_a_turn_down_that_cannot_be_cut_is_refused_by_its_key() -> None:
    said = refused(skirt('gores.count = 5\nturn_down = "35 cm"'))
    assert said.startswith(
        "a.toml: garment.skirt.turn_down is 35 cm, too deep to be cut above the gore, where the "
        "waist is narrow or slopes; give less, or take turn_down out"
    )


# --- straight gores -----------------------------------------------------------------------


def test_straight_gores_are_torn_as_rectangles_of_measurable_breadth() -> None:
    text = skirt("gores.count = 6", cloth='torn_edge = "5 mm"').replace('"300 cm"', '"70 cm"')
    (draft,) = read_drafts(text)
    piece = named(draft, "gore")
    assert (piece.outline, piece.mirrored, piece.folds) == (None, 0, False)
    # 70 / 6 and two seams of 1 cm are 13.67 cm: 13.7 is cut, and 5 mm more at either torn edge.
    assert piece.breadth == 137 * MM + 10 * MM
    assert piece.length == (900 + 10 + 20 + 10) * MM
    assert draft.garment.round_hem == 6 * 117 * MM
    assert figure(draft, "gore at the waist") == 117 * MM
    # Marks stay where they are sewn: the seam lines lie 1.5 cm within the torn edges.
    lines = {mark.v0 for mark in piece.marks if mark.name == "seam" and mark.v0 == mark.v1}
    assert lines == {15 * MM, piece.breadth - 15 * MM}
    record = plan(parse(text, "a.toml"), iterations=1, seed=1)
    assert referee.check_record(record) == ()


def test_widths_that_a_table_gives_are_not_rounded() -> None:
    front = 'front = { count = 2, top = "20.05 cm", hem = "20.05 cm" }'
    text = skirt(front + '\nback = { count = 1, hem = "50 cm" }')
    (draft,) = read_drafts(text.replace('gores.round = "300 cm"\n', ""))
    assert named(draft, "front gore").breadth == 220 * MM + MM // 2
    assert named(draft, "front gore").outline is None
    assert named(draft, "back gore").outline is not None


def test_on_folded_cloth_a_straight_gore_may_still_lie_on_the_fold() -> None:
    text = skirt("gores.count = 6", cloth="folded = true").replace('"300 cm"', '"70 cm"')
    piece = named(read_drafts(text)[0], "gore")
    assert piece.folds and piece.outline is not None
