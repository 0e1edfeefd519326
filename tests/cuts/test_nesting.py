"""Pieces of a board ordered so that parallel ends lie together."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.estimate.cuts.kerf import kerf_at, kerf_between
from service.estimate.cuts.nesting import is_one_cut, nested_between, rearranged
from service.estimate.cuts.scarf import left_scarf, right_scarf
from service.estimate.takeoff.model import Edge
from tests.cuts.examples import IN, INSIDE, OUTSIDE, SQUARE, piece

KERF = IN("1/8")
LONG = IN(10_000)
SHALLOW = replace(INSIDE, miter_deg=22.5, corner_deg=135.0)
SHALLOW_OUTSIDE = replace(OUTSIDE, miter_deg=22.5, corner_deg=135.0)
SETBACK = {id(SQUARE): 0, id(INSIDE): "11/2", id(OUTSIDE): "11/2", id(SHALLOW): "9/4", id(SHALLOW_OUTSIDE): "9/4"}
ENDS = st.sampled_from([SQUARE, INSIDE, OUTSIDE, SHALLOW, SHALLOW_OUTSIDE])


def made(number, length, left, right):
    """A piece with the setbacks that its ends have on a board 5 1/2" wide."""
    return piece(f"1-{number:02d}", length, left, right, (SETBACK[id(left)], SETBACK[id(right)]))


@st.composite
def cut_boards(draw):
    """Some pieces of one board."""
    count = draw(st.integers(1, 5))
    return [made(number, draw(st.integers(12, 60)), draw(ENDS), draw(ENDS)) for number in range(count)]


def lost(pieces):
    """Cuts and the one that frees the remainder, less what is nested. [in]"""
    return (kerf_between(pieces, KERF) + kerf_at(pieces[-1].right, KERF) - nested_between(pieces)).inches


def test_the_two_halves_of_a_scarf_are_one_cut():
    """A scarf's right end and its left end are made by one cut, in this order and at one angle only."""
    assert is_one_cut(right_scarf(45.0), left_scarf(45.0))
    assert not is_one_cut(right_scarf(45.0), right_scarf(45.0))
    assert not is_one_cut(right_scarf(45.0), left_scarf(30.0))


def test_an_inside_and_an_outside_end_of_one_reading_are_one_cut():
    """Inside then outside and outside then inside; two of one kind flare apart; other readings are other cuts."""
    assert is_one_cut(INSIDE, OUTSIDE)
    assert is_one_cut(OUTSIDE, INSIDE)
    assert not is_one_cut(INSIDE, INSIDE)
    assert not is_one_cut(INSIDE, SHALLOW_OUTSIDE)


def test_square_ends_and_ends_of_another_way_share_nothing():
    """A square end has no setback to share; a bevel through the thickness is no miter across the face."""
    assert not is_one_cut(SQUARE, SQUARE)
    assert not is_one_cut(replace(SQUARE, long_edge=Edge.BACK), replace(SQUARE, long_edge=Edge.FACE))
    assert not is_one_cut(INSIDE, replace(INSIDE, long_edge=Edge.FACE))


def test_parallel_neighbors_free_the_setback():
    """Two ends at 45° on a 5 1/2" board share 5 1/2" (plane geometry); the smaller setback where they differ."""
    pair = [made(1, 60, SQUARE, INSIDE), made(2, 40, OUTSIDE, SQUARE)]
    assert nested_between(pair) == IN("11/2")
    assert nested_between(list(reversed(pair))) == IN(0)
    assert nested_between([pair[0], replace(pair[1], left_setback=IN(2))]) == IN(2)


def test_pieces_are_brought_together():
    """The piece with the outside end goes behind the one with the inside end, though it is the longer one."""
    first, second, third = made(1, 60, OUTSIDE, SQUARE), made(2, 40, SQUARE, INSIDE), made(3, 30, SQUARE, SQUARE)
    found = [one.mark for one in rearranged((first, second, third), KERF, LONG)]
    assert found.index("1-01") == found.index("1-02") + 1


def test_square_pieces_stay_as_they_stand():
    """Where no order leaves more, nothing is moved."""
    pieces = tuple(made(number, length, SQUARE, SQUARE) for number, length in enumerate((20, 50, 30)))
    assert rearranged(pieces, KERF, LONG) == pieces
    insides = tuple(made(number, length, INSIDE, INSIDE) for number, length in enumerate((20, 50, 30)))
    assert rearranged(insides, KERF, LONG) == insides


def test_an_order_that_the_board_does_not_hold_is_not_taken():
    """Long points and cuts must fit as they stand: nesting is no room to put a piece in."""
    pieces = (made(1, 60, OUTSIDE, SQUARE), made(2, 40, SHALLOW, INSIDE))
    better = rearranged(pieces, KERF, LONG)
    need = IN(100) + kerf_between(better, KERF)
    assert better != pieces
    assert rearranged(pieces, KERF, need) == better
    assert rearranged(pieces, KERF, need - IN("1/1000")) == pieces


@pytest.mark.parametrize("count", [60, 400])
def test_a_board_of_many_small_pieces_is_answered(count):
    """Hundreds of blocks on one board neither fail nor lose a piece."""
    pieces = tuple(made(number, 1, SQUARE, INSIDE if number % 2 else OUTSIDE) for number in range(count))
    assert sorted(one.mark for one in rearranged(pieces, KERF, LONG)) == sorted(one.mark for one in pieces)


@settings(deadline=None)
@given(cut_boards())
def test_no_other_order_leaves_more(pieces):
    """All pieces are there, and of all their orders none loses less."""
    found = rearranged(pieces, KERF, LONG)
    assert sorted(one.mark for one in found) == sorted(one.mark for one in pieces)
    assert lost(found) == min(lost(order) for order in permutations(pieces))


@settings(deadline=None)
@given(cut_boards(), st.integers(0, 40))
def test_a_full_board_keeps_its_pieces(pieces, slack):
    """However little room there is, the order found fits it where the given one did, and loses no more."""
    usable = sum((one.long_point for one in pieces), start=IN(0)) + kerf_between(pieces, KERF)
    usable += IN(Fraction(slack, 256))
    found = rearranged(pieces, KERF, usable)
    assert sum((one.long_point for one in found), start=IN(0)) + kerf_between(found, KERF) <= usable
    assert lost(found) <= lost(pieces)
