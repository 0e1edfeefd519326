"""Hand-worked examples of rates compared with hours. All jobs are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from service.estimate.calibration import (
    BookedTask,
    BookingRules,
    CalibrationRules,
    Outcome,
    PlannedTask,
    beside,
    by_task,
    compared,
    is_slip,
    is_unlike_plan,
    most_hours,
    observed,
    to_figures,
)
from service.trade.book import overridden, shipped_book
from tests.calibration.jobs import RULES, TASK, comparison_of, job

D = Decimal
BOOKING = BookingRules.of(shipped_book())


def test_three_jobs_by_hand():
    """Planned 10 h at 0.2 h a unit; took 8, 16 and 20 h.

    Hours per unit 0.16, 0.32, 0.40; median 0.32. Logs from the median: ln 0.5 = -0.693147, 0, ln 1.25 = 0.223144; median
    distance 0.223144, times 1.4826 = 0.330833, exp 1.3921. Weight 3/(3 + 3) = 1/2; 0.2 × (0.32/0.2)^½ = 0.2 × 1.264911.
    """
    found = comparison_of(8, 16, 20)
    assert (found.jobs, found.quantity, found.planned, found.actual) == (3, 150, 30, 44)
    assert (found.median, found.spread, found.weight) == (D("0.320"), D("1.39"), Fraction(1, 2))
    assert (found.outcome, found.proposed) == (Outcome.PROPOSED, D("0.253"))


def test_conditions_and_quantity_cancel():
    """A job planned with a factor and one without say the same rate when both took the same part more than planned."""
    plain, slowed = job(12, planned="10"), job(24, planned="20")
    assert plain.hours_per_unit == slowed.hours_per_unit == D("0.24")


def test_a_job_priced_with_another_rate_counts_by_its_own():
    """10 h planned at 0.1 h and 20 h taken is 0.2 h a unit, whatever the rate is now: the list's 0.2 stays."""
    found = compared(TASK, [job(20, rate="0.1")] * 4, D("0.2"), RULES)
    assert (found.median, found.outcome, found.proposed) == (D("0.200"), Outcome.UNCHANGED, None)


def test_few_jobs_propose_nothing():
    """Two jobs, one below the least, tell median and interval and propose no rate; with a third one is proposed."""
    two, three = comparison_of(20, 20), comparison_of(20, 20, 20)
    assert (two.outcome, two.proposed, two.median) == (Outcome.TOO_FEW_JOBS, None, D("0.400"))
    assert two.interval is not None
    assert three.outcome is Outcome.PROPOSED


@pytest.mark.parametrize("current", [None, "0"])
def test_a_task_without_a_rate_has_figures_alone(current):
    """Where the list has no rate, or 0, there is nothing to draw toward: figures are told, no rate is proposed."""
    found = comparison_of(20, 20, 20, current=current)
    assert (found.outcome, found.proposed, found.median) == (Outcome.NO_RATE, None, D("0.400"))


def test_a_task_that_no_job_had_has_no_figures():
    """Without jobs the sums are 0 and median, spread and interval are missing."""
    found = comparison_of()
    assert (found.jobs, found.planned, found.actual, found.weight) == (0, 0, 0, 0)
    assert (found.median, found.spread, found.interval, found.outcome) == (None, None, None, Outcome.TOO_FEW_JOBS)


def test_the_interval_is_made_of_jobs():
    """Of ten jobs the second lowest and second highest are the ends, with the chance 1 - 22/1024 of ten coins."""
    found = comparison_of(*range(11, 21))
    assert found.interval is not None
    assert (found.interval.low, found.interval.high) == (D("0.240"), D("0.380"))
    assert found.interval.coverage == 1 - Fraction(22, 1024)


def test_too_few_jobs_for_the_coverage_have_the_widest_interval():
    """Three jobs cannot reach nine tenths: lowest and highest are the ends, and 3/4 is what they are told to hold."""
    found = comparison_of(8, 16, 20)
    assert found.interval is not None
    assert (found.interval.low, found.interval.high) == (D("0.160"), D("0.400"))
    assert found.interval.coverage == Fraction(3, 4)


def test_ends_of_the_interval_are_rounded_outward():
    """A third and two thirds of an hour are 0.333 and 0.667 at three figures, down below and up above."""
    found = compared(TASK, [job(1, "3", "1"), job(2, "3", "1")], D(1), RULES)
    assert found.interval is not None
    assert (found.interval.low, found.interval.high) == (D("0.333"), D("0.667"))


@pytest.mark.parametrize(
    ("value", "rounded"),
    [("0.0040449", "0.00404"), ("0.18049", "0.180"), ("0.1805", "0.181"), ("12.345", "12.3"), ("1234", "1230")],
)
def test_a_rate_has_three_figures(value, rounded):
    """Hours of a nail and of a fan alike keep three figures, half up; a step of 0.001 h would be a quarter of a nail."""
    assert to_figures(D(value), 3) == D(rounded)


def test_rows_of_several_rooms_are_one_observation():
    """Two rooms' rows of a task add up: 3 h and 5 h planned and 12 h taken is one job at 1.5 times its rate."""
    rows = [PlannedTask("layout", "ft", D(q), D(h), D("0.05")) for q, h in ((60, 3), (100, 5))]
    seen = observed(by_task(rows), [BookedTask("layout", D(12))])
    assert list(seen) == ["layout"]
    assert (seen["layout"].planned.quantity, seen["layout"].hours_per_unit) == (160, D("0.075"))


def test_a_task_without_planned_hours_is_no_observation():
    """Hours of a task that was not planned, or planned with nothing, or priced at 0, say nothing of a rate."""
    plans = by_task(
        [PlannedTask("scarf", "joint", D(1), D(0), D(0)), PlannedTask("fill", "hole", D(1), D(0), D("0.1"))]
    )
    assert observed(plans, [BookedTask(task, D(1)) for task in ("scarf", "fill", "layout")]) == {}


def test_planned_and_booked_tasks_stand_in_the_trades_order():
    """A task that was only planned, one that was only booked and one that was both, each once, with what is known of it."""
    plans = by_task([PlannedTask(task, "ft", D(100), D(4), D("0.04")) for task in ("caulk", "layout")])
    rows = beside(plans, [BookedTask("scarf", D(1), "came up"), BookedTask("layout", D(5))], 3)
    assert [(row.task, row.unit, row.planned, row.actual, row.hours_per_unit, row.note) for row in rows] == [
        ("layout", "ft", 4, 5, D("0.0500"), ""),
        ("scarf", "joint", None, 1, None, "came up"),
        ("caulk", "ft", 4, None, None, ""),
    ]


@pytest.mark.parametrize(
    ("planned", "actual", "slip", "unlike"),
    [
        ("0.62", "45", True, True),  # minutes
        ("3", "30", False, True),  # ten times, not more
        ("3", "30.1", True, True),
        ("0.05", "1", False, False),  # a small task, booked in quarters of an hour
        ("0.05", "8", False, True),  # a working day at most
        ("10", "31", False, True),
        ("10", "30", False, False),
        ("10", "3.3", False, True),
        ("10", "3.4", False, False),
        ("1", "0.25", False, False),  # no more than an hour off
    ],
)
def test_hours_far_from_the_plan(planned, actual, slip, unlike):
    """A slip is more than ten times the plan and a working day above it; worth a look is three times, and an hour off."""
    assert is_slip(D(planned), D(actual), BOOKING) is slip
    assert is_unlike_plan(D(planned), D(actual), BOOKING) is unlike


def test_most_hours_of_a_job():
    """Twelve people of sixteen hours in five days are 960 h."""
    assert most_hours(5, BOOKING) == 960


def test_accepting_in_two_parts_leads_where_all_at_once_does():
    """Six jobs of twice the plan: at once 0.2 × 2^(6/9); after three 0.2 × 2^½, and three more add 3/9 of the way left.

    In logarithms of 2: ½ + (1 - ½) · 3/9 = 6/9. Rounding to six figures twice may differ in the last.
    """
    fine = replace(RULES, figures=6)
    old, new = [job(20)] * 3, [job(20)] * 3
    first = compared(TASK, old, D("0.2"), fine).proposed
    again = compared(TASK, [replace(each, is_in_rate=True) for each in old], first, fine)
    second = compared(TASK, [*(replace(each, is_in_rate=True) for each in old), *new], first, fine)
    assert (again.outcome, again.proposed, again.new_jobs) == (Outcome.UNCHANGED, None, 0)
    assert (second.weight, second.jobs, second.new_jobs) == (Fraction(1, 3), 6, 3)
    assert float(second.proposed) == pytest.approx(float(compared(TASK, old + new, D("0.2"), fine).proposed), rel=1e-5)


def test_a_firms_own_weight_counts():
    """A firm that trusts its rate as nine jobs sees three weigh a quarter: 0.2 × 2^¼ = 0.238."""
    book, told = overridden(shipped_book(), {"calibration.prior-jobs": (D(9), "our seasons")})
    found = compared(TASK, [job(20)] * 3, D("0.2"), CalibrationRules.of(book))
    assert (told, found.weight, found.proposed) == ((), Fraction(1, 4), D("0.238"))


def test_a_firms_value_beyond_the_range_counts_as_its_end():
    """A weight of -3 jobs would divide by zero and a coverage of -1 has no interval: they count as 0 and one half."""
    values = {"calibration.prior-jobs": (D(-3), "x"), "calibration.coverage": (D(-1), "x")}
    book, told = overridden(shipped_book(), values)
    rules = CalibrationRules.of(book)
    assert len(told) == 2
    assert (rules.prior_jobs, rules.coverage) == (0, Fraction(1, 2))
    assert compared(TASK, [job(20)] * 3, D("0.2"), rules).proposed == D("0.400")
