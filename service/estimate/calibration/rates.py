"""A task's rate beside what jobs took: robust center and spread, the pull of the current rate, the proposal."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from enum import StrEnum
from fractions import Fraction
from math import comb
from statistics import median
from typing import TYPE_CHECKING

from service.estimate.calibration.rules import to_figures

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.calibration.booked import Observation
    from service.estimate.calibration.rules import CalibrationRules
    from service.trade.tasks import Task


class Outcome(StrEnum):
    """What the jobs say about a rate."""

    PROPOSED = "proposed"
    UNCHANGED = "unchanged"
    TOO_FEW_JOBS = "too-few-jobs"
    NO_RATE = "no-rate"


@dataclass(frozen=True, slots=True)
class Interval:
    """Hours per unit between which the median of all such jobs lies, with this chance at least."""

    low: Decimal
    high: Decimal
    coverage: Fraction


@dataclass(frozen=True, slots=True)
class Comparison:
    """A task's rate beside what jobs took.

    Attributes:
        task, unit: key, and what it is counted in.
        jobs: how many observations; `new_jobs` those that the current rate was not accepted knowing.
        quantity: of all of them, in the task's unit.
        planned, actual: person-hours of all of them. [h]
        current: the firm's rate now, None without one. [h a unit]
        median: of the jobs' hours per unit. [h a unit]
        spread: a job typically takes the median times or over this. [factor]
        interval: around the median; None for fewer than two jobs.
        weight: of the new jobs against the current rate. [share]
        outcome: what follows; `proposed` the new rate where one does. [h a unit]
    """

    task: str
    unit: str
    jobs: int
    new_jobs: int
    quantity: Decimal
    planned: Decimal
    actual: Decimal
    current: Decimal | None
    median: Decimal | None
    spread: Decimal | None
    interval: Interval | None
    weight: Fraction
    outcome: Outcome
    proposed: Decimal | None


def compared(
    task: Task, observations: Sequence[Observation], current: Decimal | None, rules: CalibrationRules
) -> Comparison:  # fmt: skip
    """A task's rate beside the jobs that were fed back.

    Args:
        task: of the trade.
        observations: one a job, planned and actual hours above zero.
        current: the firm's rate now, None without one. [h a unit]
        rules: of the trade book.
    """
    taken = [item.hours_per_unit for item in observations]
    logs = [hours.ln() for hours in taken]
    fresh = [log for log, item in zip(logs, observations, strict=True) if not item.is_in_rate]
    weight = jobs_weight(len(fresh), rules.prior_jobs + len(taken) - len(fresh))
    proposed = proposed_rate(fresh, current, weight, rules) if current and fresh else current
    outcome = _outcome(len(taken), current, proposed, rules)
    return Comparison(
        task=task.key,
        unit=task.unit,
        jobs=len(taken),
        new_jobs=len(fresh),
        quantity=sum((item.planned.quantity for item in observations), Decimal(0)),
        planned=sum((item.planned.hours for item in observations), Decimal(0)),
        actual=sum((item.actual for item in observations), Decimal(0)),
        current=current,
        median=to_figures(median(logs).exp(), rules.figures) if taken else None,
        spread=to_figures(spread(logs, rules.mad_scale).exp(), rules.figures) if taken else None,
        interval=median_interval(taken, rules) if len(taken) > 1 else None,
        weight=weight,
        outcome=outcome,
        proposed=proposed if outcome is Outcome.PROPOSED else None,
    )


def _outcome(jobs: int, current: Decimal | None, proposed: Decimal | None, rules: CalibrationRules) -> Outcome:
    if not current:
        return Outcome.NO_RATE
    if jobs < rules.least_jobs:
        return Outcome.TOO_FEW_JOBS
    return Outcome.UNCHANGED if proposed == current else Outcome.PROPOSED


def spread(logs: Sequence[Decimal], mad_scale: Decimal) -> Decimal:
    """Standard deviation of log hours as the median distance from their median tells it: 1.4826 × MAD.

    A gross outlier moves neither the median nor this, as long as fewer than half of the jobs are such.

    Source: F. R. Hampel, The influence curve and its role in robust estimation, J. Am. Statist. Assoc. 69 (1974),
    383-393; P. J. Huber, Robust Statistics (1981), section 5.1; both from memory. Trade book `calibration.mad-scale`.

    Args:
        logs: natural logarithms, one a job. [log h]
        mad_scale: 1 / the normal distribution's upper quartile. [factor]

    Returns:
        [log h]
    """
    center = median(logs)
    return mad_scale * median(abs(log - center) for log in logs)


def jobs_weight(jobs: int, prior_jobs: Decimal) -> Fraction:
    """Weight of the jobs against the firm's own rate: n / (n + k).

    The rate stands for k jobs seen before; what the few jobs of a first season say is drawn toward it, and its pull
    fades as jobs come in. A rate that was accepted knowing m jobs stands for k + m, so that jobs accepted in two parts
    lead where all at once do, and accepting again without new jobs leads nowhere.

    Source: normal mean with a normal prior, A. Gelman and others, Bayesian Data Analysis, section 2.5; the pull itself:
    B. Efron and C. Morris, Stein's estimation rule and its competitors, J. Am. Statist. Assoc. 68 (1973), 117-130;
    both from memory. Trade book `calibration.prior-jobs`.

    Args:
        jobs: how many new ones. [jobs]
        prior_jobs: k, and the jobs that are in the rate. [jobs]

    Returns:
        0 without jobs, toward 1 with many. [share]
    """
    return Fraction(jobs) / (jobs + Fraction(prior_jobs)) if jobs else Fraction(0)


def proposed_rate(logs: Sequence[Decimal], current: Decimal, weight: Fraction, rules: CalibrationRules) -> Decimal:
    """Current rate × exp(weight × median of ln(hours per unit / current rate)), rounded.

    Source: as `jobs_weight`. Trade book `calibration.rate-figures`.

    Args:
        logs: natural logarithms of hours per unit, one a job. [log h]
        current: the firm's rate, above zero. [h a unit]
        weight: of the jobs. [share]
        rules: for the rounding.

    Returns:
        [h a unit]
    """
    share = Decimal(weight.numerator) / weight.denominator
    return to_figures(current * (share * (median(logs) - current.ln())).exp(), rules.figures)


def median_interval(taken: Sequence[Decimal], rules: CalibrationRules) -> Interval:
    """Two jobs' hours per unit between which the median of all such jobs lies, whatever their distribution.

    The narrowest pair, as many from below as from above, that holds it with the wanted chance; the lowest and the
    highest job where they are too few for that, with the chance that they have. Ends are rounded outward.

    Source: W. R. Thompson, On confidence ranges for the median, Annals of Mathematical Statistics 7 (1936), 122-128;
    from memory. Trade book `calibration.coverage`, `calibration.rate-figures`.

    Args:
        taken: hours per unit, one a job, two at least. [h a unit]
        rules: wanted coverage and rounding.
    """
    ordered = sorted(taken)
    rank = narrowest_rank(len(ordered), rules.coverage)
    low, high = ordered[rank - 1], ordered[-rank]
    return Interval(
        to_figures(low, rules.figures, ROUND_FLOOR),
        to_figures(high, rules.figures, ROUND_CEILING),
        chance_of(len(ordered), rank),
    )


def narrowest_rank(jobs: int, coverage: Fraction) -> int:
    """The highest rank whose chance reaches a coverage; 1 where none does.

    Source: as `chance_of`, its sum carried on from rank to rank.

    Args:
        jobs: how many, two at least. [jobs]
        coverage: wanted, above zero. [share]
    """
    most = (1 - coverage) * 2 ** (jobs - 1)
    rank, term, below = 1, jobs, 1 + jobs
    while below <= most:
        rank += 1
        term = term * (jobs + 1 - rank) // rank
        below += term
    return rank


def chance_of(jobs: int, rank: int) -> Fraction:
    """Chance that the median lies between the rank-th lowest and the rank-th highest of so many jobs.

    It lies below the rank-th lowest when fewer than `rank` jobs lie below the median, each of them with chance ½.

    Source: as `median_interval`; the binomial distribution.

    Returns:
        1 − 2 · Σ C(n, i) / 2ⁿ for i below the rank; less than 0 past the middle. [share]
    """
    return 1 - 2 * Fraction(sum(comb(jobs, below) for below in range(rank)), 2**jobs)
