"""Room geometry against published values."""

from __future__ import annotations

import itertools
import math

import pytest

from service.estimate.rooms.walk import compass_adjusted, needed_angle_sum, shoelace_area
from service.estimate.takeoff.seats import drop, projection
from service.firm import Position
from service.survey import CornerKind
from tests.invented import inches, l_shape, order, rectangle, run_of, runs_in, shape


@pytest.mark.parametrize(("corners", "total"), [(3, 180.0), (4, 360.0), (6, 720.0), (8, 1080.0)])
def test_interior_angles_add_up_as_euclid_has_it(corners, total):
    """Interior angles of an n-gon add up to (n − 2)·180 (Elements I.32 and its corollary; geometry)."""
    assert needed_angle_sum(corners, is_island=False) == total


def test_the_rectangle_of_the_design_gives_its_printed_lengths():
    """12' × 14' with a 4⅝" crown at 38°: projection 2.847", drop 3.645", top edges 601.22" together. (Geometry.)"""
    width = inches("4 5/8")
    assert float(projection(width, 38.0)) == pytest.approx(2.847, abs=5e-4)
    assert float(drop(width, 38.0)) == pytest.approx(3.645, abs=5e-4)
    runs = runs_in(rectangle(), order("crown alone mitered"))
    tops = [run.cut_short for run in runs if run.position is Position.CROWN]
    assert sum(float(top) for top in tops) == pytest.approx(624 - 8 * 2.847, abs=4 / 64)


def test_a_through_board_is_as_long_as_the_wall_and_a_butted_one_is_shorter_by_the_width():
    """5½" ceiling board at 90°: through piece L, butted piece L − 5.5 an end. (Geometry.)"""
    runs = runs_in(rectangle(), order("ceiling board"))
    lengths = {run.wall: float(run.cut_length) for run in runs}
    assert lengths == {"A": 144 - 11, "B": 168, "C": 144 - 5.5, "D": 168 - 5.5}
    assert run_of(runs, "B", Position.CEILING).cut_short == inches("14'")


def test_area_by_coordinates_of_the_unit_shapes():
    """Shoelace areas of a 3-4-5 triangle and of a regular octagon, 2(1 + √2)a² (geometry, any handbook)."""
    assert shoelace_area([(0, 0), (4, 0), (4, 3)]) == pytest.approx(6)
    octagon = [(math.cos(math.radians(45 * k)), math.sin(math.radians(45 * k))) for k in range(8)]
    side = math.dist(octagon[0], octagon[1])
    assert shoelace_area(octagon) == pytest.approx(2 * (1 + math.sqrt(2)) * side**2)


def test_the_compass_rule_moves_each_corner_in_proportion_to_the_distance_walked():
    """A 400 ft square that misses by 0.8 ft is moved by 0.2 ft a side (compass rule as surveying texts state it; from memory)."""
    walked = [(0.0, 0.0), (100.0, 0.0), (100.0, -100.0), (0.0, -100.0), (0.0, 0.8)]
    adjusted = compass_adjusted(walked, [100.0, 100.0, 100.0, 100.0])
    assert [y for _, y in adjusted] == pytest.approx([0.0, -0.2, -100.4, -100.6, 0.0])


def test_area_of_the_rectangle():
    """A 12' × 14' room has 168 sq ft."""
    assert shape(rectangle()).area_sqft == pytest.approx(168)


def test_a_traverse_is_balanced_and_its_area_found_by_double_meridian_distances():
    """Three courses N 300, E 400 and back 500, off by 0.12 in latitude and −0.24 in departure.

    Compass rule: the correction of a course is to the whole error as its length to the perimeter (1,200):
    latitudes −.03, −.04, −.05, departures +.06, +.08, +.10. Balanced: 300.09, −.04, −300.05 and .06, 399.84,
    −399.90. Double meridian distances .06, 399.96, 399.90 times latitudes: 18.0054 − 15.9984 − 119,989.995, half
    of which is the area, 59,993.994. (Rule: Bowditch, 1808; method of any surveying manual; both from memory, the
    figures worked by hand.)
    """
    walked = [(0.0, 0.0), (0.0, 300.12), (399.76, 300.12), (-0.24, 0.12)]
    balanced = compass_adjusted(walked, [300.0, 400.0, 500.0])
    steps = [(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in itertools.pairwise(balanced)]
    assert steps == [pytest.approx(step) for step in ((0.06, 300.09), (399.84, -0.04), (-399.90, -300.05))]
    assert shoelace_area(balanced[:-1]) == pytest.approx(59_993.994, abs=5e-4)


def joints_at(runs, kind: CornerKind) -> set[str]:
    """How runs end at corners of a kind."""
    return {str(end.joint) for run in runs for end in (run.left, run.right) if end.corner is kind}


def test_base_is_joined_as_the_manual_has_it():
    """Square-edge base is butted inside, molded base coped inside, both mitered outside (NAVEDTRA 14044 chapter 6, public domain).

    Of two pieces that meet in a coped corner one is square, and the other coped onto it.
    """
    flat, molded = (runs_in(l_shape(), order(name)) for name in ("base flat", "base"))
    assert joints_at(flat, CornerKind.INSIDE) == {"butt"}
    assert joints_at(molded, CornerKind.INSIDE) == {"cope", "square"}
    assert joints_at(flat, CornerKind.OUTSIDE) == joints_at(molded, CornerKind.OUTSIDE) == {"miter"}
