"""The proven lower bound and what is reported of it."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from service.estimate.cuts.bound import least_joints, least_need, lower_bound, spliced_wood, wood_bound
from service.estimate.cuts.cost import gap_of
from service.estimate.cuts.shelf import shelves_of
from service.estimate.cuts.spans import span_of
from service.problems import Problems
from tests.cuts.examples import (
    IN,
    JOINT_COST,
    RETURN,
    SETTINGS,
    by_the_foot,
    planned,
    price_list,
    profile,
    run,
    stock,
)


def shelf(*rows):
    """Shelf of the profile `board`."""
    return shelves_of([run()], price_list(*rows), Problems())["board"]


def bound(*lengths, rows, **more):
    """Lower bound for one run a length."""
    spans = [span_of(run(number, length, **more), SETTINGS) for number, length in enumerate(lengths, 1)]
    loose = [span for span in spans if span.length > shelf(*rows).longest_unlimited]
    whole = [span.length for span in spans if span not in loose]
    need = least_need(loose, whole, shelf(*rows), SETTINGS.kerf)
    return Decimal(lower_bound(need, shelf(*rows), SETTINGS.kerf, int(JOINT_COST * 100))) / 100


def test_wood_at_the_cheapest_inch():
    """144 in. of wood cannot cost less than at the better of two prices a foot."""
    rows = (stock(8, "8.00"), stock(16, "12.00"))
    assert wood_bound(IN(144), shelf(*rows).choices, IN(0)) == 144 * Fraction(1200, 192)


def test_last_piece_of_a_board_needs_no_kerf():
    """A board counts with its usable length and one kerf, so two halves less half a kerf cost one board."""
    pieces = (IN(96) - IN("1/16")) * 2 + IN("1/8") * 2
    assert wood_bound(pieces, shelf(stock(16, "16.00")).choices, IN("1/8")) == 1600


def test_limited_length_is_cheap_only_as_far_as_it_goes():
    """Of a cheap limited length only so much counts, the rest at the next price."""
    rows = (stock(8, "0.00", available=1, is_offcut=True), stock(8, "8.00"))
    assert wood_bound(IN(96 + 48), shelf(*rows).choices, IN(0)) == 400


def test_whole_boards_only():
    """Boards at $8.00 can cost $8, $16, $24 …: 1.1 boards of wood cost $16."""
    assert bound(40, 40, 26, rows=[stock(8, "8.00")]) == Decimal("16.00")


def test_pieces_that_share_no_board():
    """Three pieces of 60 in. need three boards of 96 in., though two would have wood enough."""
    assert bound(60, 60, 60, rows=[stock(8, "8.00")]) == Decimal("24.00")


def test_joints_that_no_plan_avoids():
    """A run longer than a board costs at least one joint."""
    assert bound(200, rows=[stock(16, "16.00")]) == Decimal("32.00") + JOINT_COST


@pytest.mark.parametrize(
    ("length", "joints"), [(192, 0), ("12289/64", 1), (383, 1), ("1533/4", 1), ("12265/32", 2), (573, 2), (575, 3)]
)
def test_least_joints(length, joints):
    """Two boards of 192 in. with a 3/4" overlap cover 383 1/4", three 574 1/2" (plane geometry)."""
    assert least_joints(IN(length), IN(192), IN("3/4")) == joints


def test_overlap_longer_than_a_board_bounds_nothing():
    """Where the overlap eats a whole board no number of joints is claimed."""
    assert least_joints(IN(500), IN(10), IN(11)) == 0


def test_joint_that_adds_nothing_is_counted_on_the_safe_side():
    """Without overlap and kerf every inch may hold a joint that loses half a sixty-fourth in snapping."""
    one = replace(span_of(run(length=200, studs=(60, 120)), SETTINGS), overlap=IN(0))
    assert spliced_wood(one, 1, IN(0)) == IN(200) - IN("1/128") * 202


def test_returns_are_wood_too():
    """A return piece counts with its own length."""
    plan = planned([run(length=100, right=RETURN)], price_list(*by_the_foot(16)))
    whole = [piece.long_point for piece in plan.pieces]
    need = least_need([], whole, shelf(*by_the_foot(16)), SETTINGS.kerf)
    assert need.wood == IN(100) + whole[1] + SETTINGS.kerf * 2
    assert whole[1] > IN(0)


def test_totals_are_sums_of_groups():
    """Cost and bound of the job are those of its profiles together; joints are priced."""
    other = profile("other")
    rows = (*by_the_foot(8, 16), *by_the_foot(8, 16, of="other"))
    plan = planned([run(1, 200, studs=(100,)), run(2, 90, of=other, wall="B")], price_list(*rows))
    cutting = plan.cutting
    assert cutting.joint_cost == JOINT_COST
    assert cutting.cost == cutting.boards_cost + JOINT_COST == sum(group.cost for group in cutting.groups)
    assert cutting.lower_bound == sum(group.lower_bound for group in cutting.groups)
    assert [group.profiles for group in cutting.groups] == [("board",), ("other",)]
    assert [boards.joints for boards in plan.boards] == [1, 0]


def test_proven_only_where_bound_and_cost_meet():
    """One stock length and full boards: cost and bound meet."""
    cutting = planned([run(1, 96), run(2, 96, wall="B")], price_list(stock(8, "8.00"))).cutting
    assert cutting.is_proven
    assert (cutting.gap, cutting.gap_amount, cutting.lower_bound) == (0, 0, Decimal("16.00"))


def test_gap_is_a_fraction_of_the_bound():
    """Cost 110 over a bound of 100 is a gap of one tenth; over a bound of nothing it is the whole cost."""
    assert gap_of(Decimal(110), Decimal(100)) == Fraction(1, 10)
    assert gap_of(Decimal(5), Decimal(0)) == 1
    assert gap_of(Decimal(0), Decimal(0)) == 0
