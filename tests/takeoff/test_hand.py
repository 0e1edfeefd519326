"""Which way each end is cut: what lies against the fence, where table and blade go, what is kept."""

from __future__ import annotations

import pytest

from service.estimate.cuts.pieces import pieces_of
from service.estimate.cuts.scarf import left_scarf, right_scarf
from service.estimate.takeoff.hand import EDGES_OF, casing_edges, flat_hand, nested_hand
from service.estimate.takeoff.model import Edge, Hand, Joint, Member, Side
from service.estimate.takeoff.saw import Lay
from service.firm import Position
from service.problems import Problems
from service.survey import OpenEnd
from tests.invented import inches, l_shape, opening, order, rectangle, room, run_of, runs_in, wall

LEFT, RIGHT = Side


def test_a_ceiling_board_lies_face_up_with_its_left_end_at_the_left():
    """Inside 90: room edge to the fence, wall edge long toward one; the right end swings right, the left end left."""
    board = run_of(runs_in(rectangle(), order("built-up mitered")), "A", Position.CEILING)
    assert board.right.hand == Hand(RIGHT, None, Edge.ROOM, Edge.FACE, LEFT)
    assert board.left.hand == Hand(LEFT, None, Edge.ROOM, Edge.FACE, RIGHT)
    assert board.left.nested_hand is None


def test_a_wall_board_tilts_flat_or_swings_on_edge():
    """Inside 90: flat it only tilts; on edge, back to the fence and top up, left end swings right and right end left."""
    board = run_of(runs_in(rectangle(), order("built-up mitered")), "A", Position.WALL)
    assert board.right.hand == Hand(None, LEFT, Edge.TOP, Edge.FACE, LEFT)
    assert board.left.hand == Hand(None, LEFT, Edge.BOTTOM, Edge.FACE, LEFT)
    assert board.right.nested_hand == Hand(LEFT, None, Edge.BACK, Edge.TOP, LEFT)
    assert board.left.nested_hand == Hand(RIGHT, None, Edge.BACK, Edge.TOP, RIGHT)


def test_both_sides_of_one_corner_differ_and_so_do_inside_and_outside():
    """The four ends of a crown at an inside and an outside corner have four unlike hands, flat and nested."""
    runs = runs_in(l_shape(), order("crown alone mitered"))
    ends = [
        run_of(runs, "B", Position.CROWN).right, run_of(runs, "C", Position.CROWN).left,
        run_of(runs, "C", Position.CROWN).right, run_of(runs, "D", Position.CROWN).left,
    ]  # fmt: skip
    assert len({end.hand for end in ends}) == 4
    assert len({end.nested_hand for end in ends}) == 4


def test_a_coped_end_is_first_cut_like_the_miter_it_comes_from():
    """Cope: the hand of the inside miter; the square piece it meets has none."""
    mitered, coped = (runs_in(rectangle(), order(name)) for name in ("crown alone mitered", "crown alone"))
    pairs = [
        (one, other)
        for run, as_mitered in zip(coped, mitered, strict=True)
        for one, other in ((run.left, as_mitered.left), (run.right, as_mitered.right))
    ]
    assert all(cope.hand == miter.hand for cope, miter in pairs if cope.joint is Joint.COPE)
    assert all(end.hand is end.nested_hand is end.long_edge is None for end, _ in pairs if end.joint is Joint.SQUARE)
    assert sum(end.joint is Joint.COPE for end, _ in pairs) == 4


def test_base_rail_and_shoe_are_held_like_wall_boards():
    """At the outside corner of an L base, cap, shoe and rail all lie with the bottom edge to the fence, kept right."""
    runs = runs_in(l_shape(), order("base cap shoe"), order("rail", height=inches("36")))
    for position in (Position.BASE, Position.CAP, Position.SHOE, Position.RAIL):
        end = run_of(runs, "C", position).right
        assert end.hand == Hand(None, LEFT, Edge.BOTTOM, Edge.FACE, RIGHT)


def test_an_end_butted_off_square_has_the_hand_of_its_long_edge():
    """A base into a bare wall at 105°: its face is the longer, so it is kept right of the blade."""
    skew = room(wall("A", "10'", angle=105.0), wall("B", "10'", "open"))
    end = run_of(runs_in(skew, order("base", ("A",)), problems=Problems()), "A", Position.BASE).right
    assert (end.joint, end.bevel_deg, end.long_edge) == (Joint.BUTT, 15.0, Edge.FACE)
    assert end.hand == Hand(None, LEFT, Edge.BOTTOM, Edge.FACE, RIGHT)


def test_a_return_is_the_other_hand_of_the_end_it_closes():
    """An open right end and the left end of its return piece are the two sides of an outside 90."""
    (run,) = runs_in(room(wall("A", "10'", "open")), order("crown alone", ends=OpenEnd.RETURN))
    first, main, last = pieces_of((run,), {}, 45.0)
    assert main.right.hand == Hand(LEFT, LEFT, Edge.BOTTOM, Edge.FACE, RIGHT)
    assert last.left.hand == Hand(RIGHT, LEFT, Edge.TOP, Edge.FACE, RIGHT)
    assert (first.right.hand, first.right.nested_hand) == (main.right.hand, main.right.nested_hand)
    assert (main.left.hand, main.left.nested_hand) == (last.left.hand, last.left.nested_hand)
    assert first.left.hand is last.right.hand is None


@pytest.mark.parametrize(("lay", "at_fence"), [(Lay.CEILING, Edge.ROOM), (Lay.WALL, Edge.TOP), (Lay.SPRUNG, Edge.TOP)])
def test_both_pieces_of_a_scarf_come_from_one_setting(lay, at_fence):
    """Same edge to the fence, same tilt; one piece is left of the blade and the other right of it."""
    first, second = right_scarf(45.0, lay), left_scarf(45.0, lay)
    assert first.hand == Hand(None, LEFT, at_fence, Edge.FACE, LEFT)
    assert second.hand == Hand(None, LEFT, at_fence, Edge.FACE, RIGHT)


def test_a_square_splice_has_no_hand():
    """A scarf angle of 0° leaves nothing to swing or tilt."""
    assert right_scarf(0.0).hand is None


def test_casing_legs_are_mirror_images():
    """Left leg outer edge, right leg inner edge to the fence, foot at the left: they swing opposite ways."""
    item = rectangle(openings=(opening("A", "door", "40", "32", "80", casing="casing"),))
    runs = {run.member: run for run in runs_in(item)}
    assert runs[Member.LEFT_LEG].right.hand == Hand(LEFT, None, Edge.OUTER, Edge.FACE, LEFT)
    assert runs[Member.RIGHT_LEG].right.hand == Hand(RIGHT, None, Edge.INNER, Edge.FACE, LEFT)
    assert runs[Member.HEAD].left.hand == Hand(RIGHT, None, Edge.OUTER, Edge.FACE, RIGHT)
    assert runs[Member.HEAD].right.hand == Hand(LEFT, None, Edge.OUTER, Edge.FACE, LEFT)
    assert runs[Member.LEFT_LEG].left.hand is None
    assert casing_edges(Member.SILL).unturned is Edge.INNER


@pytest.mark.parametrize("lay", list(Lay))
@pytest.mark.parametrize("end", list(Side))
def test_a_square_cut_has_no_hand(lay, end):
    """Settings at zero, or no long point: nothing to tell."""
    assert flat_hand(EDGES_OF[lay], end, None, 45.0, 0.0) is None
    assert flat_hand(EDGES_OF[lay], end, Edge.BACK, 0.0, None) is None
    assert nested_hand(lay, end, Edge.BACK, 0.0) is None
    assert nested_hand(lay, end, None, 45.0) is None
