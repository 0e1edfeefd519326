"""Saw settings against printed tables and against solid geometry."""

from __future__ import annotations

import math

import pytest

from service.estimate.takeoff.hand import EDGES_OF, flat_hand, nested_hand
from service.estimate.takeoff.model import Edge, Hand, Side
from service.estimate.takeoff.saw import Lay, off_square, settings, sprung_bevel_deg, sprung_miter_deg


@pytest.mark.parametrize(
    ("spring", "corner", "miter", "bevel", "within"),
    [
        # Compound saw instruction manuals, crown table (seen): 52/38 crown printed 31.62 / 33.85, 45/45 crown 35.3 / 30.
        (38.0, 90.0, 31.62, 33.85, 0.02),
        (45.0, 90.0, 35.3, 30.0, 0.05),
        # Saw manual, sloped-box chart (seen): four sides 26° from horizontal, printed 42 / 18 (whole degrees).
        (64.0, 90.0, 42.0, 18.0, 0.5),
    ],
)
def test_flat_settings_of_sprung_molding_agree_with_printed_tables(spring, corner, miter, bevel, within):
    """Miter and bevel agree with saw manuals at their printed precision."""
    assert sprung_miter_deg(spring, corner) == pytest.approx(miter, abs=within)
    assert sprung_bevel_deg(spring, corner) == pytest.approx(bevel, abs=within)


@pytest.mark.parametrize("corner", [30.0, 60.0, 90.0, 120.0, 135.0, 170.0])
def test_limits_of_the_spring_angle_are_the_flat_boards(corner):
    """At s 90 a sprung molding is a ceiling board (plain miter), at s 0 a wall board (plain bevel). (Geometry.)"""
    assert sprung_miter_deg(90.0, corner) == pytest.approx(90 - corner / 2)
    assert sprung_bevel_deg(90.0, corner) == pytest.approx(0, abs=1e-9)
    assert sprung_miter_deg(0.0, corner) == pytest.approx(0, abs=1e-9)
    assert sprung_bevel_deg(0.0, corner) == pytest.approx(90 - corner / 2)


@pytest.mark.parametrize("spring", [20.0, 30.0, 38.0, 45.0, 52.0, 60.0])
@pytest.mark.parametrize("corner", [30.0, 67.5, 90.0, 112.5, 135.0, 170.0])
def test_the_blade_plane_put_back_in_the_room_is_vertical_and_halves_the_corner(spring, corner):
    """The normal of the cut, turned with the molding into place, is level and stands at half the corner.

    Geometry: on the table x runs along the piece, y across it (away from the fence), z up. A blade swung by
    the miter M and tilted by the bevel B has the normal (cos M cos B, −sin M cos B, sin B) up to its sign.
    Laying the back on a plane s off vertical sends the table's y to (0, sin s, −cos s) (into the room and
    down) and its z to (0, cos s, sin s).
    """
    miter, bevel, nested = settings(Lay.SPRUNG, corner, spring)
    m, b, s = (math.radians(angle) for angle in (miter, bevel, spring))
    on_table = (math.cos(m) * math.cos(b), -math.sin(m) * math.cos(b), -math.sin(b))
    along = on_table[0]
    into_room = on_table[1] * math.sin(s) + on_table[2] * math.cos(s)
    up = -on_table[1] * math.cos(s) + on_table[2] * math.sin(s)
    assert up == pytest.approx(0, abs=3e-4)
    assert math.degrees(math.atan2(abs(into_room), along)) == pytest.approx(90 - corner / 2, abs=0.02)
    assert nested == pytest.approx(90 - corner / 2, abs=0.005)


LEFT, RIGHT = Side


@pytest.mark.parametrize(
    ("end", "long_edge", "at_fence", "swung", "kept"),
    [
        # Compound saw instruction manuals, crown table for molding lying flat, blade tilted left (from memory):
        # left side inside: top against fence, miter right, save left end; right side inside: bottom, left, save left;
        # left side outside: bottom, left, save right end; right side outside: top, right, save right.
        (RIGHT, Edge.BOTTOM, Edge.TOP, RIGHT, LEFT),
        (LEFT, Edge.BOTTOM, Edge.BOTTOM, LEFT, LEFT),
        (RIGHT, Edge.TOP, Edge.BOTTOM, LEFT, RIGHT),
        (LEFT, Edge.TOP, Edge.TOP, RIGHT, RIGHT),
    ],
    ids=["inside, left side", "inside, right side", "outside, left side", "outside, right side"],
)
def test_crown_lying_flat_is_held_as_the_printed_table_says(end, long_edge, at_fence, swung, kept):
    """The piece left of a corner has its right end there; an inside corner's long point is on the bottom edge."""
    hand = flat_hand(EDGES_OF[Lay.SPRUNG], end, long_edge, 31.62, 33.86)
    assert hand == Hand(swung, LEFT, at_fence, Edge.FACE, kept)


@pytest.mark.parametrize(
    ("end", "long_edge", "swung", "kept"),
    [
        # Compound saw instruction manuals, crown between fence and table, upside down (from memory):
        # inside, left side: miter right, save right; right side: left, save left;
        # outside, left side: miter left, save right; right side: right, save left.
        (RIGHT, Edge.BOTTOM, RIGHT, RIGHT),
        (LEFT, Edge.BOTTOM, LEFT, LEFT),
        (RIGHT, Edge.TOP, LEFT, RIGHT),
        (LEFT, Edge.TOP, RIGHT, LEFT),
    ],
)
def test_nested_crown_is_held_as_the_printed_table_says(end, long_edge, swung, kept):
    """Ceiling edge on the table, wall edge up against the fence: the table swings and the piece is kept as printed."""
    hand = nested_hand(Lay.SPRUNG, end, long_edge, 45.0)
    assert hand == Hand(swung, None, Edge.BOTTOM, Edge.BOTTOM, kept)


def test_an_end_butted_off_square_is_a_miter_that_leans_as_much():
    """Against a wall at 80° the cut leans 10°: plain on a board, compound on a sprung molding lying flat. (Geometry.)"""
    assert off_square(Lay.CEILING, 80.0) == (10.0, 0.0, None)
    assert off_square(Lay.WALL, 280.0) == (0.0, 10.0, 10.0)
    assert off_square(Lay.SPRUNG, 100.0, 38.0) == settings(Lay.SPRUNG, 160.0, 38.0)


def test_boards_take_a_plain_miter_or_a_plain_bevel():
    """A ceiling board swings, a wall board tilts (or stands on edge and swings), by 90 − c/2 each. (Geometry.)"""
    assert settings(Lay.CEILING, 135.0) == (22.5, 0.0, None)
    assert settings(Lay.WALL, 135.0) == (0.0, 22.5, 22.5)
