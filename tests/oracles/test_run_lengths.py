"""Run lengths and joist crossings, recomputed with a general geometry library (shapely) and plain vectors."""

from __future__ import annotations

import math

import pytest
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon

from service.estimate.takeoff.framing import joist_lines
from service.firm import Position
from tests.invented import bay, inches, joists, l_shape, order, rectangle, room, run_of, runs_in, shape, wall

FAR = 10_000.0


def _octagon():
    return room(*(wall(name, "5'", angle=135.0) for name in "ABCDEFGH"))


def _cut_corner():
    slant = f"{math.hypot(30, 30):.6f}"
    return room(
        wall("A", "90", angle=135.0), wall("B", slant, angle=135.0), wall("C", "90"), wall("D", "120"), wall("E", "120")
    )


def _column():
    return room(*(wall(name, "16", "outside") for name in "ABCD"))


ROOMS = {
    "rectangle": rectangle,
    "L": l_shape,
    "bay": bay,
    "octagon": _octagon,
    "cut corner": _cut_corner,
    "column": _column,
}


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


@pytest.mark.parametrize("offset", [0.5, 2.847, 5.5, 8.0])
@pytest.mark.parametrize("name", ["rectangle", "L", "octagon", "cut corner"])
def test_area_inside_an_offset_agrees_with_a_mitered_buffer(name, offset):
    """The polygon of intersected offset lines has the area of shapely's inward buffer with mitered joins."""
    plan = shape(ROOMS[name]())
    outline = Polygon(plan.points)
    count = len(plan.room.walls)
    corners = [
        _offset_line(plan, k, offset).intersection(_offset_line(plan, (k + 1) % count, offset)) for k in range(count)
    ]
    inside = Polygon([(point.x, point.y) for point in corners])
    assert inside.area == pytest.approx(outline.buffer(-offset, join_style="mitre", mitre_limit=50).area, rel=1e-6)


@pytest.mark.parametrize("name", ROOMS)
def test_a_ring_of_runs_is_shorter_than_its_walls_by_the_corners(name):
    """Σ(L − edge at offset o) = 2·o·Σcot(θ/2): the sum over walls of what the far edge loses. (Geometry.)"""
    item = ROOMS[name]()
    plan = shape(item)
    runs = runs_in(item, order("crown alone mitered"))
    offset = float(runs[0].far)
    lost = 0.0
    for place, measured in enumerate(item.walls):
        lost += float(measured.length) - (
            _corner(plan, place, offset, offset) - _left_corner(plan, place, offset, offset)
        )
    expected = 2 * offset * sum(1 / math.tan(math.radians(angle / 2)) for angle in plan.interior_deg)
    assert lost == pytest.approx(expected, abs=0.05)
    for run, measured in zip(runs, item.walls, strict=True):
        near_is_wall = run.near.inches == 0
        assert near_is_wall
        assert run.wall == measured.name


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
