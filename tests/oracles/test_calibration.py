"""Statistics of calibration against general libraries, tables and slow recomputation."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction
from itertools import product
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.estimate.calibration import chance_of, jobs_weight, narrowest_rank, proposed_rate, spread
from tests.calibration.jobs import RULES, comparison_of

HOURS = st.integers(1, 100_000).map(lambda hundredths: hundredths / 100)
SOME = st.lists(HOURS, min_size=1, max_size=31)


@given(SOME)
def test_median_and_spread_are_those_of_numpy(hours):
    """They are numpy's median of logs, and 1.4826 times its median distance from it, in double precision."""
    logs = np.log([value / 10 * 0.2 for value in hours])
    middle = np.median(logs)
    found = comparison_of(*hours)
    assert float(found.median) == pytest.approx(math.exp(middle), rel=6e-3)
    exact = [Decimal(str(value)).ln() for value in hours]
    expected = 1.4826 * np.median(np.abs(np.log(hours) - np.median(np.log(hours))))
    assert float(spread(exact, RULES.mad_scale)) == pytest.approx(expected, rel=1e-9, abs=1e-9)


def test_the_scale_is_that_of_a_normal_distribution():
    """1.4826 is one over the upper quartile of the standard normal distribution, to its printed figures."""
    assert 1 / NormalDist().inv_cdf(0.75) == pytest.approx(float(RULES.mad_scale), abs=5e-5)


@pytest.mark.parametrize(("jobs", "rank"), [(n, r) for n in (2, 3, 6, 9) for r in range(1, n // 2 + 1)])
def test_chance_by_counting_every_case(jobs, rank):
    """Each job lies below or above the median like a coin: of all 2ⁿ cases those count where it lies between the ranks."""
    cases = list(product((0, 1), repeat=jobs))
    holds = sum(rank <= sum(case) <= jobs - rank for case in cases)
    assert chance_of(jobs, rank) == Fraction(holds, len(cases))


@pytest.mark.parametrize(
    ("jobs", "rank", "percent"), [(6, 1, "96.9"), (10, 2, "97.9"), (20, 6, "95.9"), (30, 10, "95.7")]
)
def test_chance_as_tables_print_it(jobs, rank, percent):
    """Ranks and confidence of a median's interval as tables for the sign test print them (from memory)."""
    assert f"{float(chance_of(jobs, rank)):.1%}" == f"{percent}%"


@given(st.integers(2, 80), st.fractions("0.5", "0.99", max_denominator=200))
def test_no_higher_rank_reaches_the_coverage(jobs, coverage):
    """Trying rank after rank by the binomial sum, the chosen one is the last that reaches it, or 1 where none does."""
    reached = [rank for rank in range(1, jobs // 2 + 1) if chance_of(jobs, rank) >= coverage]
    assert narrowest_rank(jobs, coverage) == (max(reached) if reached else 1)


@pytest.mark.parametrize("jobs", [1, 3, 12])
def test_the_weight_is_a_posterior_mean(jobs):
    """With a normal prior of variance 1 and jobs of variance k, the posterior mean on a fine grid is weight × mean of the jobs."""
    k, mean = float(RULES.prior_jobs), 0.4
    grid = np.linspace(-8, 8, 20_001)
    density = np.exp(-(grid**2) / 2 - jobs * (mean - grid) ** 2 / (2 * k))
    expected = (grid * density).sum() / density.sum()
    assert float(jobs_weight(jobs, RULES.prior_jobs)) * mean == pytest.approx(expected, rel=1e-6)


@given(SOME, st.floats(0.01, 5).map(lambda rate: Decimal(str(round(rate, 4)))))
def test_the_proposal_in_floating_point(hours, current):
    """Current rate times e to the weight × median of log ratios, worked out in double precision, at three figures."""
    weight = jobs_weight(len(hours), RULES.prior_jobs)
    expected = float(current) * math.exp(float(weight) * np.median(np.log(np.array(hours) / float(current))))
    found = proposed_rate([Decimal(str(value)).ln() for value in hours], current, weight, RULES)
    assert float(found) == pytest.approx(expected, rel=5.1e-3)


@given(SOME)
def test_the_proposal_lies_between_rate_and_median(hours):
    """A proposal never passes the median of the jobs, and never leaves the current rate on the other side (but for rounding)."""
    found = comparison_of(*hours, least_jobs=1)
    low, high = sorted((float(found.median), 0.2))
    proposed = float(found.proposed if found.proposed is not None else found.current)
    assert low * 0.994 <= proposed <= high * 1.006


@given(SOME, st.randoms())
def test_the_order_of_jobs_does_not_count(hours, dice):
    """The same jobs in another order compare the same."""
    shuffled = list(hours)
    dice.shuffle(shuffled)
    assert comparison_of(*shuffled) == comparison_of(*hours)


@given(st.lists(HOURS, min_size=5, max_size=21), HOURS)
def test_a_minority_of_anything_stays_within_the_others(hours, wild):
    """However long fewer than half of the jobs took, the median stays between the shortest and longest of the rest."""
    few = (len(hours) - 1) // 2
    kept = hours[few:]
    found = comparison_of(*kept, *[wild * 10_000] * few)
    assert min(kept) * 0.02 * 0.994 <= float(found.median) <= max(kept) * 0.02 * 1.006
