"""Scarf joints."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from service.estimate.cuts.scarf import left_scarf, right_scarf, scarf_overlap
from service.estimate.takeoff.model import Edge, Joint
from service.firm import Position, Shape
from tests.cuts.examples import IN, by_the_foot, joints, lengths, planned, price_list, profile, run

STUDS = tuple(range(8, 240, 16))


def test_overlap_at_45_degrees_is_the_thickness():
    """A 45° cut through 3/4" runs 3/4" along the board, exactly (plane geometry)."""
    assert scarf_overlap(IN("3/4"), 45.0) == IN("3/4")


def test_square_splice_has_no_overlap():
    """At 0° the two pieces butt."""
    assert scarf_overlap(IN("3/4"), 0.0) == IN(0)


@pytest.mark.parametrize("angle", [22.5, 30.0, 60.0])
def test_overlap_is_thickness_times_tangent(angle):
    """Overlap over thickness is the tangent of the saw setting (plane geometry)."""
    assert float(scarf_overlap(IN(1), angle)) == pytest.approx(math.tan(math.radians(angle)), abs=1e-12)


def test_thirty_degrees_by_the_half_equilateral_triangle():
    """At 30° three overlaps squared are the thickness squared (half an equilateral triangle)."""
    assert float(scarf_overlap(IN(1), 30.0)) ** 2 * 3 == pytest.approx(1)


def test_the_two_pieces_lap():
    """Where two pieces meet, one carries its long point on the back and the other on the face."""
    assert right_scarf(45.0).long_edge is Edge.BACK
    assert left_scarf(45.0).long_edge is Edge.FACE


@pytest.mark.parametrize("position", [Position.CEILING, Position.WALL, Position.CROWN, Position.BASE])
def test_scarf_is_cut_lying_flat(position):
    """Whatever the layer, a scarf is cut flat on the table: miter 0, bevel the firm's angle."""
    shape = Shape.SPRUNG if position is Position.CROWN else Shape.FLAT
    one = run(length=200, of=profile(shape=shape, spring=38.0), position=position, studs=STUDS)
    first, second = planned([one], price_list(*by_the_foot(16))).pieces
    for end in (first.right, second.left):
        assert (end.joint, end.miter_deg, end.bevel_deg, end.nested_miter_deg) == (Joint.SCARF, 0.0, 45.0, None)
    assert first.right.long_edge is not second.left.long_edge


def test_half_an_overlap_on_each_side_of_the_joint():
    """Both pieces reach half the overlap past the center of the backing."""
    plan = planned([run(length=200, studs=(104,))], price_list(*by_the_foot(16)))
    assert joints(plan) == [IN(104)]
    assert lengths(plan) == [IN(104) + IN("3/8"), IN(96) + IN("3/8")]
    assert plan.pieces[1].start == IN(104) - IN("3/8")


def test_short_point_is_less_by_what_each_end_takes_off():
    """Scarf and corner set back the short point by their own amounts, each at its end."""
    one = run(length=200, studs=(104,), setbacks=(5, 2))
    first, second = planned([one], price_list(*by_the_foot(16))).pieces
    assert first.long_point - first.short_point == IN(5) + IN("3/4")
    assert second.long_point - second.short_point == IN(2) + IN("3/4")


def test_uneven_angles_snap_once():
    """At 30° each piece is the nearest 1/64" to its exact length."""
    plan = planned([run(length=200, studs=(104,))], price_list(*by_the_foot(16), scarf_angle_deg=30.0))
    half = 0.75 * math.tan(math.radians(30)) / 2
    assert [float(piece) for piece in lengths(plan)] == [
        round((104 + half) * 64) / 64,
        round((96 + half) * 64) / 64,
    ]


def test_thickness_is_the_profiles_own():
    """A thinner profile overlaps less."""
    one = run(length=200, studs=(104,), of=replace(profile(), thickness=IN("1/2")))
    assert lengths(planned([one], price_list(*by_the_foot(16)))) == [IN(104) + IN("1/4"), IN(96) + IN("1/4")]
