"""How runs end: joints, settings, edges and lengths at every kind of corner."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.estimate.takeoff.model import Edge, Joint
from service.firm import Position
from service.problems import Code, Problems
from service.survey import CornerKind, InsideJoint, OpenEnd
from tests.invented import SETTINGS, bay, inches, l_shape, opening, order, rectangle, room, run_of, runs_in, wall


def joints(runs, position):
    """Joint kinds (left, right) by wall."""
    return {run.wall: (str(run.left.joint), str(run.right.joint)) for run in runs if run.position is position}


def test_copes_go_round_in_ring_order():
    """The longest wall is square at both ends, then each is coped left and square right, the last coped at both."""
    runs = runs_in(rectangle(), order("crown alone"))
    assert joints(runs, Position.CROWN) == {
        "B": ("square", "square"), "C": ("cope", "square"), "D": ("cope", "square"), "A": ("cope", "cope"),
    }  # fmt: skip


def test_a_wall_with_a_door_does_not_go_in_first():
    """With a door in the longest walls the ring starts on the longest wall without one."""
    doors = (opening("B", "door", "24", "32", "80"), replace(opening("D", "door", "24", "32", "80"), wall="D"))
    runs = runs_in(rectangle(openings=doors), order("crown alone"))
    assert joints(runs, Position.CROWN)["A"] == ("square", "square")


def test_an_outside_corner_breaks_the_ring():
    """In an L the order starts after the outside corner and ends before it: mitered there, five copes."""
    found = joints(runs_in(l_shape(), order("crown alone")), Position.CROWN)
    assert found["D"] == ("miter", "square")
    assert found["C"] == ("cope", "miter")
    assert sum(pair.count("cope") for pair in found.values()) == 5


def test_every_coped_corner_has_one_cope_and_one_square_end():
    """At each coped corner one of the two ends is coped, the other square."""
    found = joints(runs_in(rectangle(), order("crown alone")), Position.CROWN)
    for left_wall, right_wall in ("AB", "BC", "CD", "DA"):
        assert sorted((found[left_wall][1], found[right_wall][0])) == ["cope", "square"]


def test_a_crown_on_a_wall_board_starts_at_its_face():
    """Inside 90° corners take t off each end: 12' less 2 · ¾" at the bottom edge; the ceiling edge is shorter again."""
    runs = runs_in(rectangle(), order("built-up mitered"))
    crown = run_of(runs, "A", Position.CROWN)
    assert crown.length == inches("11' 10 1/2\"")
    assert crown.left.long_edge is Edge.BOTTOM
    assert float(crown.cut_short) == pytest.approx(float(crown.length) - 2 * 2.8474, abs=1 / 64)


def test_at_an_outside_corner_the_far_edge_carries_the_long_point():
    """Wall C of the L: bottom edge starts ¾" in, top edge ends t + projection past the corner."""
    crown = run_of(runs_in(l_shape(), order("built-up mitered")), "C", Position.CROWN)
    assert crown.right.long_edge is Edge.TOP
    assert float(crown.length) == pytest.approx(96 - 0.75 + 0.75 + 2.8474, abs=1 / 64)


def test_the_coped_and_the_square_piece_of_a_skew_corner_are_not_equally_long():
    """At a 95° corner the square end stops where it first touches the face behind; the cope reaches its mitered long point."""
    skew = room(
        wall("A", "10'", angle=95.0),
        wall("B", "12'", angle=85.0),
        wall("C", "10'", angle=95.0),
        wall("D", "12'", angle=85.0),
    )
    runs = runs_in(skew, order("crown alone"), problems=Problems())
    a, b = run_of(runs, "A", Position.CROWN), run_of(runs, "B", Position.CROWN)
    assert (a.right.joint, b.left.joint) == (Joint.COPE, Joint.SQUARE)
    assert a.right_setback != b.left_setback
    assert b.left_setback.inches == 0


def test_corners_out_of_cope_range_are_mitered():
    """At a 135° reading a coped order is mitered: 22.5° nested, both flat settings."""
    run = run_of(runs_in(bay(), order("crown alone")), "C", Position.CROWN)
    assert (run.left.joint, run.left.nested_miter_deg) == (Joint.MITER, 22.5)
    assert (run.left.miter_deg, run.left.bevel_deg) == (14.31, 17.55)


def test_a_trim_row_beats_the_layer_and_the_layer_the_firm():
    """Inside joint: the row's miter beats the firm's cope; the layer's miter beats it too."""
    by_row = runs_in(rectangle(), order("crown alone", inside_joint=InsideJoint.MITER))
    by_layer = runs_in(rectangle(), order("crown alone mitered"))
    assert SETTINGS.inside_joint is InsideJoint.COPE
    assert {run.left.joint for run in (*by_row, *by_layer)} == {Joint.MITER}


def test_open_ends_are_returned_for_crown_and_butted_for_base():
    """Blank Ends: a crown is returned with its face at the wall's end, a base ends square."""
    hall = room(wall("A", "10'", "open"))
    runs = runs_in(hall, order("crown alone"), order("base"))
    crown, base = run_of(runs, "A", Position.CROWN), run_of(runs, "A", Position.BASE)
    assert (crown.left.joint, crown.right.joint) == (Joint.RETURN, Joint.RETURN)
    assert crown.right.long_edge is Edge.TOP
    assert crown.cut_length == inches("10'")
    assert (base.left.joint, base.cut_length) == (Joint.BUTT, inches("10'"))


def test_ends_of_a_trim_row_beat_the_blank():
    """Ends = square on a crown leaves it square."""
    runs = runs_in(room(wall("A", "10'", "open")), order("crown alone", ends=OpenEnd.SQUARE))
    assert {run.left.joint for run in runs} == {Joint.SQUARE}


def test_where_the_next_wall_has_none_the_run_stops_square_inside_and_returns_outside():
    """Crown on wall C of the L alone: square into wall B inside, returned at the outside corner, finished face at L."""
    crown = run_of(runs_in(l_shape(), order("crown alone", ("C",))), "C", Position.CROWN)
    assert (crown.left.joint, crown.right.joint) == (Joint.SQUARE, Joint.RETURN)
    assert crown.right.corner is CornerKind.OUTSIDE
    assert crown.cut_length == inches("8'")


def test_a_crown_stops_at_the_board_on_a_wall_without_crown():
    """Crown on A alone between boards on B and D: it runs to the boards' faces."""
    runs = runs_in(rectangle(), order("crown alone", ("A",)), order("wall board", ("B", "D")))
    assert run_of(runs, "A", Position.CROWN).cut_length == inches("12'") - inches("3/4") * 2


def test_different_profiles_are_butted_with_a_warning():
    """Two crowns that differ at a corner: butt, and `profiles-do-not-meet` at that corner."""
    problems = Problems()
    runs = runs_in(rectangle(), order("crown alone", ("A", "C")), order("small crown", ("B", "D")), problems=problems)
    assert [p.pointer for p in problems if p.code is Code.PROFILES_DO_NOT_MEET] == [
        f"/walls/{name}/corner" for name in "ABCD"
    ]
    assert {run.left.joint for run in runs} == {Joint.BUTT}


def test_base_stops_at_a_door_and_crown_does_not():
    """A door takes its width out of the base; the crown above runs on."""
    item = rectangle(openings=(opening("A", "door", "40", "32", "80"),))
    runs = runs_in(item, order("base"), order("crown alone"))
    parts = [run for run in runs if run.wall == "A" and run.position is Position.BASE]
    assert [(float(run.cut_start), float(run.cut_length)) for run in parts] == [(0.0, 40.0), (72.0, 72.0)]
    assert next(run.right.joint for run in parts) is Joint.BUTT
    assert run_of(runs, "A", Position.CROWN).cut_length == inches("12'")


def test_base_dies_into_casing():
    """A cased door takes casing width and reveal more on each side."""
    door = opening("A", "door", "40", "32", "80", casing="casing")
    parts = [run for run in runs_in(rectangle(openings=(door,)), order("base")) if run.wall == "A"]
    margin = inches("3 1/4") + SETTINGS.casing_reveal
    assert parts[0].cut_length == inches("40") - margin
    assert parts[1].cut_start == inches("72") + margin


def test_a_window_leaves_the_base_and_cuts_a_rail_at_its_height():
    """A window with its sill at 30" lets base run through and stops a chair rail at 36"."""
    window = opening("A", "window", "40", "32", "80", sill_height=inches("30"))
    runs = runs_in(rectangle(openings=(window,)), order("base"), order("rail", height=inches("36")))
    assert len([run for run in runs if run.wall == "A" and run.position is Position.BASE]) == 1
    assert len([run for run in runs if run.wall == "A" and run.position is Position.RAIL]) == 2


def test_saw_limits_are_noted_with_the_way_out():
    """Past the saw: a 30° corner (75° nested) is jig or hand work at a 50° limit, nested work at an 80° limit."""
    sharp = room(wall("A", "10'", angle=30.0), wall("B", "10'", angle=75.0), wall("C", "62 1/8", angle=75.0))
    details = {}
    for limit in (50.0, 80.0):
        problems = Problems()
        firm = replace(SETTINGS, saw_miter_limit_deg=limit, saw_bevel_limit_deg=45.0)
        runs_in(sharp, order("crown alone mitered"), problems=problems, firm=firm)
        details[limit] = [
            p.detail for p in problems if p.code is Code.SAW_LIMIT_PASSED and p.pointer == "/walls/A/angle_deg"
        ]
    assert "jig or by hand" in details[50.0][-1]
    assert "standing against the fence at 75°" in details[80.0][-1]


def test_within_the_saw_limits_nothing_is_noted():
    """A square room is within 50° and 45°: no note."""
    problems = Problems()
    firm = replace(SETTINGS, saw_miter_limit_deg=50.0, saw_bevel_limit_deg=45.0)
    runs_in(rectangle(), order("crown alone mitered"), problems=problems, firm=firm)
    assert list(problems) == []


def test_one_crown_at_two_heights_is_butted_with_a_warning():
    """The crown under a ceiling board on A and C and without one on B and D hangs ¾" lower: told at each corner, butted."""
    problems = Problems()
    runs = runs_in(rectangle(), order("built-up", ("A", "C")), order("crown alone", ("B", "D")), problems=problems)
    told = [p for p in problems if p.code is Code.PROFILES_DO_NOT_MEET]
    assert [p.pointer for p in told] == [f"/walls/{name}/corner" for name in "ABCD"]
    assert "stands at different heights" in told[0].detail
    assert run_of(runs, "A", Position.CROWN).left.joint is Joint.BUTT


def test_a_board_between_an_inside_and_an_outside_corner_keeps_both_edges():
    """A 2" jog under a 5½" ceiling board is a parallelogram: both edges 2" long, 7½" long point to long point.

    Wall edge: 0 to 2 (inside end set back by nothing, outside end at the wall's end). Room edge: 5½ to
    2 + 5½. Long point to long point 7½, shortest edge 7½ − 5½ = 2.
    """
    problems = Problems()
    jog = room(
        wall("A", "10'"), wall("B", "5'"), wall("C", "4'"), wall("D", "2", "outside"), wall("E", "6'"), wall("F", "5' 2\""),
    )  # fmt: skip
    runs = runs_in(jog, order("ceiling board", inside_joint=InsideJoint.MITER), problems=problems)
    board = run_of(runs, "D", Position.CEILING)
    assert (board.left.long_edge, board.right.long_edge) == (Edge.WALL, Edge.ROOM)
    assert (board.cut_length, board.cut_short) == (inches("7 1/2"), inches("2"))
    assert Code.PIECE_CANNOT_BE_CUT not in {problem.code for problem in problems}


def test_a_board_too_short_for_its_two_inside_miters_is_refused():
    """Between two inside corners a 10" wall leaves nothing of an 5½" board's room edge: 10 − 11 is below zero."""
    problems = Problems()
    niche = rectangle("10", "14'")
    runs_in(niche, order("ceiling board", inside_joint=InsideJoint.MITER), problems=problems)
    assert (Code.PIECE_CANNOT_BE_CUT, "/walls/A/length") in {(p.code, p.pointer) for p in problems}
