"""The order of least cost between neighbors, against every order there is."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise, permutations

from hypothesis import given
from hypothesis import strategies as st

from service.estimate.cuts.sequence import MOST_STATES, MOST_THINGS, least_sequence

COSTS = st.integers(-8, 8).map(Fraction)


def tables(kinds):
    """Costs between kinds and of the last."""
    row = st.lists(COSTS, min_size=kinds, max_size=kinds)
    counts = st.lists(st.integers(1, 3), min_size=kinds, max_size=kinds).filter(lambda some: sum(some) <= 6)
    return st.tuples(counts.map(tuple), st.lists(row, min_size=kinds, max_size=kinds), row)


def cost(order, between, last):
    """What an order costs."""
    return sum((between[one][two] for one, two in pairwise(order)), start=last[order[-1]])


@given(st.integers(1, 3).flatmap(tables))
def test_no_order_costs_less(case):
    """The order found uses every thing once and costs as little as the cheapest of all permutations."""
    counts, between, last = case
    things = [kind for kind, count in enumerate(counts) for _ in range(count)]
    found = least_sequence(counts, between, last)
    assert found is not None
    assert sorted(found) == things
    assert cost(found, between, last) == min(cost(order, between, last) for order in permutations(things))


def test_equal_costs_keep_the_given_order():
    """Where no order is better, lower kinds come first."""
    flat = [[Fraction(1)] * 3] * 3
    assert least_sequence((1, 2, 1), flat, [Fraction(0)] * 3) == (0, 1, 1, 2)


def test_too_many_to_look_at_are_left_alone():
    """Past the limits of states and of things nothing is answered; nothing at all has an order."""
    zero = [Fraction(0)] * 5
    assert least_sequence((9,) * 5, [zero] * 5, zero) is None
    assert MOST_STATES < 10**5
    assert least_sequence((MOST_THINGS + 1,), [zero], zero) is None
    assert least_sequence((), [], []) == ()
