"""What parallel neighbors free, against pieces laid out as plain quadrilaterals and against the saw's own settings."""

from __future__ import annotations

import math
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.estimate.cuts.kerf import kerf_between
from service.estimate.cuts.nesting import is_one_cut, nested_between
from service.estimate.takeoff.model import Edge, End, Joint
from service.units import Length
from tests.cuts.examples import IN, SQUARE, piece
from tests.pipeline.estimates import sample_quote

WIDTH, KERF = 5.5, IN("1/8")
ANGLES = st.sampled_from([0.0, 22.5, 30.0, 45.0])
EDGES = st.sampled_from([Edge.WALL, Edge.ROOM])


@st.composite
def boards(draw):
    """Pieces of a board 5 1/2" wide with miters at either end, long points on either edge."""
    found = []
    for number in range(draw(st.integers(2, 5))):
        ends = [(draw(ANGLES), draw(EDGES)) for _ in range(2)]
        left, right = (end(*one) for one in ends)
        setbacks = tuple(Length.measured(WIDTH * math.tan(math.radians(angle))).inches for angle, _ in ends)
        found.append(piece(f"1-{number:02d}", draw(st.integers(14, 60)), left, right, setbacks))
    return found


def end(angle, edge):
    """A miter with its long point on an edge."""
    return End(Joint.MITER, miter_deg=angle, bevel_deg=0.0, long_edge=edge) if angle else SQUARE


def corners(one):
    """Where the four corners lie, long points at 0 and at the piece's length: at the wall edge, at the room edge."""
    long = float(one.long_point)
    left, right = float(one.left_setback), float(one.right_setback)
    at_wall = (
        (0 if one.left.long_edge is not Edge.ROOM else left),
        long - (right if one.right.long_edge is Edge.ROOM else 0),
    )
    at_room = (
        (left if one.left.long_edge is not Edge.ROOM else 0),
        long - (0 if one.right.long_edge is Edge.ROOM else right),
    )
    return at_wall, at_room


def laid_out(pieces):
    """How much of a board the pieces take when each is slid up to the one before it as far as the blade allows. [in]"""
    start, reach = 0.0, [-math.inf, -math.inf]
    taken = 0.0
    for place, one in enumerate(pieces):
        if place:
            cut = float(kerf_between(pieces[place - 1 : place + 1], KERF))
            start = max(edge + cut - left for edge, (left, _) in zip(reach, corners(one), strict=True))
        reach = [start + right for _, right in corners(one)]
        taken = max(taken, start + float(one.long_point))
    return taken


@given(boards())
def test_nesting_is_what_the_board_saves(pieces):
    """Long points and cuts less what is nested are never less than pieces laid out take, and just that at one angle."""
    told = float(sum((one.long_point for one in pieces), start=IN(0)) + kerf_between(pieces, KERF))
    told -= float(nested_between(pieces))
    assert laid_out(pieces) <= told + 1e-9
    if len({one.miter_deg for each in pieces for one in (each.left, each.right)} - {0.0}) <= 1:
        assert laid_out(pieces) == pytest.approx(told, abs=1e-9)


@pytest.mark.parametrize("name", ["l_shaped", "rectangle"])
def test_one_cut_is_one_setting_of_the_saw(name):
    """Two ends are one cut just where fence edge, swing, tilt and angles agree and the pieces lie on both sides."""
    pieces, shared = sample_quote(name).pieces, 0
    for one, two in product(pieces, repeat=2):
        if one.profile != two.profile or not (one.right.hand and two.left.hand):
            continue
        assert is_one_cut(one.right, two.left) == (_set(one.right) == _set(two.left) and _sides(one, two))
        shared += is_one_cut(one.right, two.left)
    assert shared or name == "rectangle"


def _set(one):
    return one.miter_deg or 0.0, one.bevel_deg or 0.0, one.hand.swing, one.hand.tilt, one.hand.fence_edge


def _sides(one, two):
    return one.right.hand.keep is two.left.hand.keep.opposite
