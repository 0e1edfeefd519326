"""Studs, joists and backing; hand-worked."""

from __future__ import annotations

from dataclasses import replace

from service.estimate.takeoff.framing import framed_ends, stud_centers
from service.firm import Position
from service.survey import Studs
from service.units import Length
from tests.invented import inches, joists, l_shape, opening, order, rectangle, run_of, runs_in, wall


def test_studs_run_both_ways_from_the_first():
    """First stud 20", spacing 16" on a 70" wall: 4, 20, 36, 52, 68."""
    centers = stud_centers(Studs(inches("20"), Length.of(16)), inches("70"))
    assert [float(x) for x in centers] == [4, 20, 36, 52, 68]


def test_a_list_of_studs_is_taken_as_it_is():
    """Studs at beats first and spacing."""
    centers = stud_centers(Studs(inches("8"), Length.of(16), (inches("30"), inches("11"))), inches("70"))
    assert [float(x) for x in centers] == [11, 30]


def test_wall_ends_and_jambs_have_studs():
    """¾" in at each end and ¾" outside each jamb."""
    ends = framed_ends(wall("A", "100"), (opening("A", "door", "20", "32", "80"),), inches("3/4"))
    assert [float(x) for x in ends] == [0.75, 19.25, 52.75, 99.25]


def test_joints_land_on_measured_studs_only():
    """End studs take nails, not splices."""
    board = run_of(runs_in(rectangle(joists=joists("A", "8")), order("built-up")), "B", Position.WALL)
    assert inches("3/4") in board.backing.at
    assert inches("3/4") not in board.splice_at
    assert set(board.splice_at) == {inches("8") + Length.of(16) * k for k in range(10)}


def test_the_run_across_the_joists_is_backed_at_each():
    """Joists parallel to A, first 8", 16" on center: wall B (14') crosses them at 8, 24, … 168 − 8."""
    board = run_of(runs_in(rectangle(joists=joists("A", "8")), order("ceiling board")), "B", Position.CEILING)
    assert [float(x) for x in board.backing.at] == [8 + 16 * k for k in range(11) if 8 + 16 * k <= 168]
    assert not board.backing.unbacked


def test_the_run_along_the_joists_is_backed_only_by_an_edge_under_it():
    """Along A the first joist at 8" spans 7¼–8¾", outside the 5½" board: unbacked all along.

    With the first at 5" it spans 4¼–5¾": 1¼" lie under the board (at least ⅜"): backed all along.
    With the first at 6" it spans 5¼–6¾": ¼" under the board: not backed. With 5⅞": ⅜": backed.
    """

    def board(first):
        return run_of(runs_in(rectangle(joists=joists("A", first)), order("ceiling board")), "A", Position.CEILING)

    assert board("8").backing.unbacked[0].length == board("8").cut_length
    assert board("5").backing.is_continuous
    assert not board("6").backing.is_continuous
    assert board("5 7/8").backing.is_continuous


def test_the_far_wall_sees_the_joists_from_its_own_face():
    """Depth 14' = 168", first joist 8": the last is at 8 + 16·9 = 152, then 168: under wall C's own face, half in the room.

    168 − 168 = 0 from C: it spans 0–¾" into the room, ¾" under the board: backed.
    """
    board = run_of(runs_in(rectangle(joists=joists("A", "8")), order("ceiling board")), "C", Position.CEILING)
    assert board.backing.is_continuous


def test_a_crown_without_ceiling_layer_reaches_joists_with_its_top_edge():
    """Crown alone: the top edge at 2.847" crosses the joists that run across the wall; with a ceiling board it does not nail there."""
    item = rectangle(joists=joists("A", "8"))
    alone = run_of(runs_in(item, order("crown alone")), "B", Position.CROWN)
    built = run_of(runs_in(item, order("built-up")), "B", Position.CROWN)
    assert alone.top_edge.at[:2] == (inches("8"), inches("24"))
    assert built.top_edge is None
    assert built.over_wall_layer.name == "board 7"


def test_a_wall_board_takes_the_top_plate_and_base_the_bottom_plate():
    """Without known studs base and wall board are still backed all along by the plates; a rail is not."""
    item = rectangle()
    blind = replace(item, walls=tuple(replace(w, studs=replace(w.studs, first=None)) for w in item.walls))
    runs = runs_in(blind, order("built-up"), order("base"), order("rail", height=inches("36")))
    assert run_of(runs, "A", Position.WALL).backing.on_plate
    assert run_of(runs, "A", Position.BASE).backing.unbacked == ()
    assert run_of(runs, "A", Position.RAIL).backing.unbacked[0].length > inches("11'")


def test_joists_of_an_l_run_along_two_walls_and_across_the_others():
    """Joists parallel to A in an L: A, C, E run along them, B, D, F cross them."""
    runs = runs_in(l_shape(joists=joists("A", "8")), order("ceiling board"))
    across = {run.wall for run in runs if run.backing.at}
    assert across == {"B", "D", "F"}
