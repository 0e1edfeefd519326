"""Where blocks stand behind a crown."""

from __future__ import annotations

from itertools import pairwise

from service.estimate.cuts.model import Splice
from service.estimate.materials.blocks import block_legs, block_positions, thinned
from service.units import ZERO
from tests.materials.examples import BOARD, IN, RULES, centers, crown, only, piece, plan


def places(item, *splices, pieces=None):
    """Where blocks of a crown stand. [in]"""
    chosen = pieces if pieces is not None else [piece(item)]
    return [float(place) for place in block_positions(item, chosen, splices, RULES.blocks)]


def test_one_at_each_stud():
    """Without a spacing a block stands at each stud, the end studs included."""
    assert places(crown()) == [0.75, *range(16, 160, 16), 159.25]


def test_spacing_thins_them_out():
    """At 32 in every second stud keeps its block, and both ends theirs.

    From 3/4: 32 is within 32 in of it, 48 is not, so 32 stays; then 64, 96, 128; last 159 1/4.
    """
    assert places(crown(spacing=IN(32))) == [0.75, 32, 64, 96, 128, 159.25]


def test_spacing_wider_than_the_studs_leaves_neighbors_within_it():
    """With 24 in asked and studs every 16 in, a block at each: skipping one would leave 32 in."""
    assert places(crown(spacing=IN(24)))[1:-1] == list(range(16, 160, 16))


def test_splice_keeps_its_block():
    """A splice on the stud at 80 keeps the block that a spacing of 32 in would have dropped."""
    item = crown(spacing=IN(32))
    pieces = [piece(item, ZERO, IN(80)), piece(item, IN(80), IN(80))]
    assert 80 in places(item, Splice(1, IN(80)), pieces=pieces)
    assert 80 not in places(item)


def test_piece_end_keeps_a_stud_within_reach():
    """A piece that ends at 85 in has a block within 6 in of it, on the stud at 80."""
    item = crown(spacing=IN(64))
    assert 80 in places(item, pieces=[piece(item, ZERO, IN(85))])


def test_piece_end_out_of_reach_has_none():
    """A piece that ends at 88 in, 8 in from either stud, gets no block in the air."""
    item = crown(spacing=IN(64))
    assert places(item, pieces=[piece(item, ZERO, IN(88))]) == places(item)


def test_no_studs_no_blocks():
    """Where no stud is known nothing stands."""
    assert thinned([], set(), IN(32)) == ()
    assert places(crown(wall_studs=())) == []


def test_every_gap_is_within_the_spacing():
    """Thinned blocks stand no farther apart than asked, as far as studs allow."""
    kept = thinned(centers(8, 392), set(), IN(48))
    gaps = [later - earlier for earlier, later in pairwise(kept)]
    assert max(gaps) == IN(48)


def test_legs_are_told_with_the_fastening():
    """The field lead reads the block's legs after clearance: 2.50 × 1.93 in, from 2.63 × 2.05 less an eighth."""
    wall, ceiling = only(crown()).block_legs
    assert (round(float(wall), 2), round(float(ceiling), 2)) == (2.50, 1.93)


def test_blocks_of_another_run_do_not_count():
    """Splices and pieces of other runs leave this run's blocks alone."""
    item, other = crown(spacing=IN(32)), crown(number=2, spacing=IN(32))
    cuts = plan(item, other, splices=(Splice(2, IN(80)),))
    assert only(item, cuts=cuts).blocks == 6


def test_profile_without_a_spring_angle_has_no_triangle():
    """A flat profile leaves nothing to fill behind it."""
    assert block_legs(BOARD, IN("0.125")) == (ZERO, ZERO)
