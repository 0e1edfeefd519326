"""Run lengths and joist crossings, recomputed with a general geometry library (shapely) and plain vectors."""

from __future__ import annotations

import math

import pytest
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon

from service.estimate.takeoff.framing import joist_lines
from service.firm import Position
from tests.invented import ROOMS, inches, joists, l_shape, order, rectangle, run_of, runs_in, shape

FAR = 10_000.0


def _offset_line(item, place: int, offset: float) -> LineString:
    """The wall's line moved into the room (to the right of the walk), as long as you like."""
    (x0, y0), (x1, y1) = item.points[place], item.points[place + 1]
    length = math.dist((x0, y0), (x1, y1))
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    line = LineString([(x0 - FAR * ux, y0 - FAR * uy), (x1 + FAR * ux, y1 + FAR * uy)])
    return translate(line, offset * uy, -offset * ux)


def _corner(item, place: int, own: float, other: float) -> float:
    """Where the offset lines of a wall and the next one meet, measured along the wall from its left end."""
    count = len(item.room.walls)
    point = _offset_line(item, place, own).intersection(_offset_line(item, (place + 1) % count, other))
    return _along(item, place, point)


def _left_corner(item, place: int, own: float, other: float) -> float:
    count = len(item.room.walls)
    point = _offset_line(item, (place - 1) % count, other).intersection(_offset_line(item, place, own))
    return _along(item, place, point)


def _along(item, place: int, point) -> float:
    (x0, y0), (x1, y1) = item.points[place], item.points[place + 1]
    length = math.dist((x0, y0), (x1, y1))
    return ((point.x - x0) * (x1 - x0) + (point.y - y0) * (y1 - y0)) / length


@pytest.mark.parametrize("name", ROOMS)
@pytest.mark.parametrize("assembly", ["built-up mitered", "crown alone mitered", "base cap shoe"])
def test_mitered_runs_are_as_long_as_intersected_offset_lines_say(name, assembly):
    """Each run's length is the span between the outermost intersections of its edges' lines with the neighbors'."""
    item = ROOMS[name]()
    plan = shape(item)
    for run in runs_in(item, order(assembly)):
        place = [w.name for w in item.walls].index(run.wall)
        edges = [float(run.near), float(run.far)]
        left = min(_left_corner(plan, place, edge, edge) for edge in edges)
        right = max(_corner(plan, place, edge, edge) for edge in edges)
        assert float(run.length) == pytest.approx(right - left, abs=1 / 100)


def test_neighbors_with_boards_of_different_thickness_meet_where_their_lines_cross():
    """A crown on a ¾" board meeting one on a ½" board: each edge meets the same edge of the other."""
    item = rectangle()
    plan = shape(item)
    runs = runs_in(item, order("built-up mitered", ("A", "C")), order("built-up thin", ("B", "D")))
    crown_a, crown_b = (run_of(runs, name, Position.CROWN) for name in "AB")
    assert (crown_a.near, crown_b.near) == (inches("3/4"), inches("1/2"))
    for run, place, other in ((crown_a, 0, crown_b), (crown_b, 1, crown_a)):
        pairs = [(float(run.near), float(other.near)), (float(run.far), float(other.far))]
        right = max(_corner(plan, place, own, theirs) for own, theirs in pairs)
        left = min(_left_corner(plan, place, own, theirs) for own, theirs in pairs)
        assert float(run.length) == pytest.approx(right - left, abs=1 / 100)
    assert float(crown_a.length) == 144 - 2 * 0.5
    assert float(crown_b.length) == 168 - 2 * 0.75


@pytest.mark.parametrize(
    ("parallel", "first", "spacing"),
    [("A", "8", "16"), ("B", "11 1/2", "16"), ("E", "3", "24"), ("D", "15 1/4", "19 13/64")],
)
def test_joists_under_ceiling_runs_are_where_intersections_say(parallel, first, spacing):
    """Backed positions of crossing runs are shapely's intersections of joist lines with the run's center line."""
    item = l_shape(joists=joists(parallel, first, spacing))
    plan = shape(item)
    base = [w.name for w in item.walls].index(parallel)
    crossing = [run for run in runs_in(item, order("ceiling board")) if run.backing.at]
    assert crossing
    for run in crossing:
        place = [w.name for w in item.walls].index(run.wall)
        center = _offset_line(plan, place, float(run.near + run.far) / 2)
        found = []
        for k in range(-40, 60):
            joist = _offset_line(plan, base, float(inches(first)) + k * float(inches(spacing)))
            along = _along(plan, place, joist.intersection(center))
            if float(run.cut_start) - 1e-6 <= along <= float(run.cut_start + run.cut_length) + 1e-6:
                found.append(along)
        assert [float(x) for x in run.backing.at] == pytest.approx(sorted(found), abs=1 / 64)


def test_joists_drawn_are_clipped_to_the_room():
    """Joist lines drawn over an L cover what shapely cuts out of it, no more and no less."""
    plan = shape(l_shape(joists=joists("A", "8")))
    outline = Polygon(plan.points)
    drawn = sum(math.dist(one, other) for one, other in joist_lines(plan))
    cut = sum(outline.intersection(LineString([(-FAR, -8 - 16 * k), (FAR, -8 - 16 * k)])).length for k in range(40))
    assert drawn == pytest.approx(cut, rel=1e-6)
