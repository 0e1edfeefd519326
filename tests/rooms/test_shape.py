"""Rooms in plan: closure, suspects, angles, crossings, openings and studs."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.problems import Code, Problems, Severity
from service.survey import CeilingShape, Studs
from service.units import Length, Units
from tests.invented import ROOM_RULES, bay, inches, l_shape, opening, rectangle, room, shape, wall


def codes(item):
    """Code, severity and pointer of every problem of a room."""
    problems = Problems()
    shape(item, problems)
    return [(problem.code, problem.severity, problem.pointer) for problem in problems]


def test_sound_rooms_have_no_problem():
    """A rectangle, an L and a bay close without a word."""
    assert [codes(item) for item in (rectangle(), l_shape(), bay())] == [[], [], []]


def test_a_small_gap_is_taken_and_spread():
    """A gap within ½" + 1/16" a wall is accepted and the drawing closes."""
    item = shape(room(wall("A", "12' 1/2\""), wall("B", "14'"), wall("C", "12'"), wall("D", "14'")))
    assert item.closure.is_closed
    assert item.closure.gap == inches("1/2")
    assert item.points[0] == item.points[-1]


def test_a_larger_gap_warns():
    """Two inches missing along x: a warning, and the room does not count as closed."""
    problems = Problems()
    item = shape(room(wall("A", "12'"), wall("B", "14'"), wall("C", "12' 2\""), wall("D", "14'")), problems)
    assert [(p.code, p.severity, p.pointer) for p in problems] == [
        (Code.ROOM_DOES_NOT_CLOSE, Severity.WARNING, "/rooms/0/walls")
    ]
    assert not item.closure.is_closed


def test_a_gap_above_three_inches_and_one_percent_is_refused():
    """A foot missing in a 52 ft perimeter refuses the sheet, pointing at the room's walls."""
    found = codes(room(wall("A", "11'"), wall("B", "14'"), wall("C", "12'"), wall("D", "14'")))
    assert found == [(Code.ROOM_DOES_NOT_CLOSE, Severity.ERROR, "/rooms/0/walls")]


def test_angles_that_do_not_add_up_are_refused():
    """An outside corner read as inside makes 4 inside angles of an L add up wrongly."""
    found = codes(room(wall("A", "10'"), wall("B", "10'", angle=60.0), wall("C", "10'"), wall("D", "10'")))
    assert (Code.CORNER_ANGLES_DO_NOT_ADD_UP, Severity.ERROR, "/rooms/0/walls") in found


def test_an_open_room_need_not_close_and_its_area_is_closed_by_a_straight_line():
    """Three walls open at the end: no closure asked, area of the closed figure."""
    item = shape(room(wall("A", "10'"), wall("B", "8'"), wall("C", "10'", "open")))
    assert item.is_open
    assert item.area_sqft == pytest.approx(80)


def test_a_single_open_wall_has_no_area():
    """One wall, open at both ends, is a room without area."""
    item = shape(room(wall("A", "10'", "open")))
    assert item.area_sqft is None


def test_open_within_is_refused():
    """`open` on any wall but the last is a fault at that wall's corner."""
    found = codes(room(wall("A", "10'"), wall("B", "8'", "open"), wall("C", "10'", "open")))
    assert (Code.CORNER_OPEN_WITHIN, Severity.ERROR, "/walls/B/corner") in found


def test_an_island_turns_the_other_way_and_has_no_area():
    """A wrapped column: outside corners add up to (n + 2)·180, no room area."""
    item = shape(room(*(wall(name, "16", "outside") for name in "ABCD")))
    assert item.is_island
    assert item.area_sqft is None
    assert sum(item.interior_deg) == 1080


def test_a_room_that_crosses_itself_is_refused():
    """Six walls whose legs cross in plan are refused, naming both walls."""
    crossing = room(
        wall("A", "10'"), wall("B", "10'"), wall("C", "20'", "outside"), wall("D", "5'", "outside"),
        wall("E", "10'", "outside"), wall("F", "15'", "open"),
    )  # fmt: skip
    assert (Code.ROOM_CROSSES_ITSELF, Severity.ERROR, "/rooms/0/walls") in codes(crossing)


def test_a_ceiling_that_is_not_flat_is_refused():
    """A sloped ceiling is refused at its cell, not priced as flat."""
    found = codes(replace(rectangle(), ceiling_shape=CeilingShape.SLOPED))
    assert found == [(Code.CEILING_NOT_FLAT, Severity.ERROR, "/rooms/0/ceiling_shape")]


@pytest.mark.parametrize(
    ("kind", "from_left", "width", "height", "member"),
    [("door", "10'", "32", "80", "from_left"), ("door", "1'", "32", "9'", "height")],
)
def test_an_opening_outside_its_wall_is_refused(kind, from_left, width, height, member):
    """An opening past the wall's end or above the ceiling is a fault at its own cell."""
    found = codes(rectangle(openings=(opening("A", kind, from_left, width, height),)))
    assert found == [(Code.OPENING_OUTSIDE_WALL, Severity.ERROR, f"/rooms/0/openings/0/{member}")]


def test_overlapping_openings_are_refused_unless_one_is_above_the_other():
    """Two doors sharing a stretch overlap; a window above a cabinet does not."""
    door, other = opening("A", "door", "12", "32", "80"), opening("A", "door", "40", "32", "80")
    assert (Code.OPENINGS_OVERLAP, Severity.ERROR, "/rooms/0/openings/0/from_left") in codes(
        rectangle(openings=(door, other))
    )
    cabinet = opening("A", "cabinet", "12", "48", "36")
    window = opening("A", "window", "20", "30", "80", sill_height=inches("42"))
    assert codes(rectangle(openings=(cabinet, window))) == []


def test_studs_beyond_the_wall_are_refused():
    """A listed stud past the wall's end is a fault at its place in the list."""
    item = rectangle()
    walls = (replace(item.walls[0], studs=Studs(None, Length.of(16), (inches("16"), inches("150")))), *item.walls[1:])
    assert codes(replace(item, walls=walls)) == [(Code.STUD_OUTSIDE_WALL, Severity.ERROR, "/walls/A/studs/at/1")]


def test_thresholds_follow_the_trade_book():
    """½" + 1/16" a wall is accepted; above the larger of 3" and 1% of the perimeter is refused."""
    assert ROOM_RULES.accepted_gap(4) == inches("3/4")
    assert ROOM_RULES.refused_gap(inches("52'")) == Length.of("6.24")
    assert ROOM_RULES.refused_gap(inches("10'")) == inches("3")
    assert shape(rectangle()).closure.gap.text(Units.IMPERIAL) == "0″"
