"""Where joints fall."""

from __future__ import annotations

import itertools
from decimal import Decimal

import pytest

from service.estimate.cuts.spans import corners
from service.firm import Position
from service.problems import Code, Problems, Severity
from service.units import Units
from tests.cuts.examples import (
    IN,
    OUTSIDE,
    RETURN,
    by_the_foot,
    codes,
    joints,
    lengths,
    planned,
    price_list,
    profile,
    refused,
    run,
)

STUDS = tuple(range(8, 600, 16))
SIXTEEN = by_the_foot(16)


def test_run_that_fits_a_board_is_whole():
    """A run just as long as a board's usable length has no joint."""
    plan = planned([run(length=191, studs=STUDS)], price_list(*SIXTEEN, end_trim=IN(1)))
    assert plan.splices == ()
    assert lengths(plan) == [IN(191)]


def test_run_past_the_end_trim_is_spliced():
    """A sixty-fourth more than a board's usable length takes a joint."""
    plan = planned([run(length="12225/64", studs=STUDS)], price_list(*SIXTEEN, end_trim=IN(1)))
    assert len(plan.splices) == 1


def test_joint_lands_on_the_last_stud_in_reach():
    """Of the lawful studs the one that gives the longest first piece is taken."""
    assert joints(planned([run(length=300, studs=STUDS)], price_list(*SIXTEEN))) == [IN(184)]


def test_joint_keeps_clear_of_the_corner():
    """The farthest stud in reach is passed over when it stands within a stagger of the corner."""
    assert joints(planned([run(length=200, studs=STUDS)], price_list(*SIXTEEN))) == [IN(168)]


def test_joint_near_a_corner_is_told():
    """A run with no other plan takes its joint near the corner, with a warning that names room and wall."""
    found = Problems()
    plan = planned([run(length=200, studs=(180,))], price_list(*SIXTEEN, shortest_piece=IN(12)), found)
    assert joints(plan) == [IN(180)]
    assert codes(found) == [Code.JOINT_NEAR_CORNER]
    (told,) = found
    assert told.severity is Severity.WARNING
    assert "Room 1, wall A" in told.detail
    assert told.pointer == "/rooms/0/walls/0"


@pytest.mark.parametrize("length", [193, 260, 400, 700, 1000])
def test_fewest_joints(length):
    """No plan with fewer joints could reach: boards of 16 ft cover a run with one joint less than boards."""
    plan = planned([run(length=length, studs=tuple(range(1, 1000)))], price_list(*SIXTEEN, solver_seconds=Decimal(0)))
    assert len(plan.splices) == -(-(length - 192) // IN("765/4").inches)


def test_short_end_piece_moves_the_joint_back():
    """A joint moves back so that the last piece is not shorter than the firm's shortest."""
    plan = planned([run(length=200, studs=STUDS)], price_list(*SIXTEEN, joint_stagger=IN(0), shortest_piece=IN(60)))
    assert joints(plan) == [IN(136)]


def test_studs_beyond_the_run_are_not_used():
    """Only studs between the run's ends take a joint."""
    plan = planned([run(length=200, start=40, studs=(8, 120, 300))], price_list(*SIXTEEN))
    assert joints(plan) == [IN(120)]


def test_joints_are_in_wall_coordinates():
    """A run that starts away from the wall's end counts its pieces from its own start."""
    plan = planned([run(length=200, start=40, studs=(120,))], price_list(*SIXTEEN))
    assert plan.pieces[0].start == IN(40)
    assert lengths(plan)[0] == IN(80) + IN("3/8")


def layers(*positions: Position, length: int = 300, studs=STUDS):
    """Stacked runs on one wall."""
    return [
        run(number, length, layer=number, position=position, studs=studs)
        for number, position in enumerate(positions, 1)
    ]


def test_stacked_layers_are_staggered():
    """Joints of ceiling, wall and crown layers on one wall lie a stagger apart."""
    plan = planned(layers(Position.CEILING, Position.WALL, Position.CROWN), price_list(*SIXTEEN))
    at = sorted(splice.at for splice in plan.splices)
    assert len(at) >= 3
    assert all(later - earlier >= IN(24) for earlier, later in itertools.pairwise(at))


def test_floor_and_ceiling_do_not_stagger():
    """A base and a crown on one wall may have their joints one above the other."""
    plan = planned(layers(Position.CROWN, Position.BASE), price_list(*SIXTEEN))
    assert joints(plan, 1) == joints(plan, 2) == [IN(184)]


def test_other_walls_do_not_stagger():
    """Layers of different walls know nothing of each other."""
    plan = planned([run(1, 300, studs=STUDS), run(2, 300, wall="B", studs=STUDS)], price_list(*SIXTEEN))
    assert joints(plan, 1) == joints(plan, 2)


def test_stretches_of_one_layer_do_not_stagger():
    """Two stretches of one layer beside an opening are not stacked."""
    pair = [run(1, 200, studs=(100,)), run(2, 200, start=201, studs=(301,))]
    assert len(planned(pair, price_list(*SIXTEEN, joint_stagger=IN(100))).splices) == 2


def test_search_turns_back_from_a_dead_end():
    """The first layer gives up its longest first piece when only so the second finds a stud."""
    both = [
        run(1, 300, layer=1, position=Position.CEILING, studs=(150, 180)),
        run(2, 300, layer=2, position=Position.WALL, studs=(180,)),
    ]
    plan = planned(both, price_list(*SIXTEEN))
    assert (joints(plan, 1), joints(plan, 2)) == ([IN(150)], [IN(180)])


def test_fewest_joints_over_the_whole_stack():
    """A layer takes one joint more when the stack cannot be staggered otherwise."""
    both = [
        run(1, 300, layer=1, position=Position.CEILING, studs=(150,)),
        run(2, 300, layer=2, position=Position.WALL, studs=(100, 150, 200)),
    ]
    plan = planned(both, price_list(*SIXTEEN, joint_stagger=IN(48)))
    assert (joints(plan, 1), joints(plan, 2)) == ([IN(150)], [IN(100), IN(200)])


def test_stack_without_room_for_stagger_goes_on_glue_plates():
    """When two layers have but one stud between them, one of them takes a glue plate and says so."""
    both = [
        run(1, 300, layer=1, position=Position.CEILING, studs=(150,)),
        run(2, 300, layer=2, position=Position.WALL, studs=(150,)),
    ]
    found = Problems()
    plan = planned(both, price_list(*SIXTEEN), found)
    assert codes(found) == [Code.JOINT_ON_GLUE_PLATE]
    assert sorted(splice.on_glue_plate for splice in plan.splices) == [False, True]


def test_stack_that_cannot_be_staggered_is_refused():
    """No arrangement at all is a fault that names wall, layers and lengths."""
    found = refused(layers(Position.CEILING, Position.WALL, studs=()), price_list(*SIXTEEN, joint_stagger=IN(290)))
    assert codes(found) == [Code.PIECE_CANNOT_BE_CUT]
    (fault,) = found
    for words in ("Room 1, wall A", "layer 1 (ceiling)", "layer 2 (wall)"):
        assert words in fault.detail


def test_no_backing_takes_glue_plates_every_eight_inches():
    """A run without backing is joined at a multiple of 8" from its left end, with a note naming room, wall, layer."""
    found = Problems()
    plan = planned([run(length=300, start=3, layer=2)], price_list(*SIXTEEN), found)
    (splice,) = plan.splices
    assert splice.on_glue_plate
    assert splice.at == IN(3) + IN(184)
    assert codes(found) == [Code.JOINT_ON_GLUE_PLATE]
    (note,) = found
    assert note.severity is Severity.NOTE
    assert "Room 1, wall A: plain, layer 2 (ceiling)" in note.detail


def test_studs_out_of_reach_take_glue_plates():
    """Backing that leaves a piece longer than a board does not help."""
    plan = planned([run(length=500, studs=(30, 40))], price_list(*SIXTEEN))
    assert all(splice.on_glue_plate for splice in plan.splices)
    assert len(plan.splices) == 2


def test_no_plan_at_all_is_refused():
    """A shortest piece longer than any board leaves no plan: a fault that names run, wall and lengths."""
    found = refused([run(length=300, studs=STUDS)], price_list(*SIXTEEN, shortest_piece=IN(200)))
    (fault,) = found
    assert fault.code is Code.PIECE_CANNOT_BE_CUT
    for words in ("Room 1, wall A: plain, layer 1 (ceiling)", "25′", "16′"):
        assert words in fault.detail
    assert fault.pointer == "/rooms/0/walls/0"


def test_faults_are_collected_over_all_walls():
    """Every run without a plan is told, not only the first."""
    runs = [run(1, 300), run(2, 310, wall="B"), run(3, 100, wall="C"), run(4, 50, wall="D", of=profile("other"))]
    found = refused(runs, price_list(*SIXTEEN, shortest_piece=IN(200)))
    assert sorted(codes(found)) == [Code.PIECE_CANNOT_BE_CUT, Code.PIECE_CANNOT_BE_CUT, Code.STOCK_MISSING]


def test_corner_of_a_mitered_outside_end_is_the_walls():
    """Past an outside corner the run reaches farther by its setback; the corner itself stands before that."""
    assert corners(run(length=100, left=OUTSIDE, right=OUTSIDE, setbacks=(5, 5))) == (IN(5), IN(95))


def test_returned_end_stops_at_the_corner():
    """A returned end never stands beyond the corner."""
    assert corners(run(length=100, right=RETURN, setbacks=(0, 5))) == (IN(0), IN(100))


def test_faults_speak_the_firms_units():
    """A metric firm reads millimeters."""
    found = refused([run(length=300)], price_list(*SIXTEEN, shortest_piece=IN(200), units=Units.METRIC))
    assert "7620\N{NO-BREAK SPACE}mm" in next(iter(found)).detail


def test_wall_that_cannot_be_staggered_does_not_hang():
    """Three layers on a long wall, boards too short for the stagger: refused after a bounded search."""
    stack = layers(Position.CEILING, Position.WALL, Position.CROWN, length=560)
    found = refused(stack, price_list(*by_the_foot(8), joint_stagger=IN(48)))
    assert codes(found) == [Code.PIECE_CANNOT_BE_CUT]


def test_dense_positions_stay_quick():
    """Three layers with a position every inch and a stagger that hardly fits are arranged without endless search."""
    stack = layers(Position.CEILING, Position.WALL, Position.CROWN, length=560, studs=tuple(range(1, 560)))
    plan = planned(stack, price_list(*SIXTEEN, joint_stagger=IN(30), solver_seconds=Decimal(0)))
    assert len(plan.splices) >= 6
