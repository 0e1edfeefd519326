"""Whether hours fed back find the rates that jobs were made with. Figures, never a verdict.

    .run/venv/bin/python deploy/benchmarks/calibration.py     (after deploy/start.py has made .run/venv)

Every job is made up here: planted rates, a price list that is a quarter too low, right, or a fifth too high, hours that
scatter about the plan as a lognormal does (the planted rate is its median), and gross outliers: hours of another task,
or with a lost decimal point. Told are, by number of jobs, how often the planted rate lies in the stated interval and
within the stated spread of the proposal, and how far the plain mean, the median and the proposal are from it on
average. Seeds are fixed: every run is the same.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from random import Random
from statistics import fmean
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from service.estimate.calibration import CalibrationRules, Comparison, Observation, PlannedTask, compared
from service.trade.book import shipped_book
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from service.trade.tasks import Task

JOBS = (3, 5, 8, 12, 20, 30)
TRIALS = 1_000
SCATTER = 0.30
OUTLIER_FACTORS = (5.0, 8.0, 0.15)


@dataclass(frozen=True, slots=True)
class Planted:
    """A task, the rate its jobs are made with, and the rate on the price list. [h a unit]"""

    task: Task
    rate: float
    current: Decimal


PLANTED = (
    Planted(TASKS["cut-cope"], 0.240, Decimal("0.180")),
    Planted(TASKS["hang-crown"], 0.055, Decimal("0.055")),
    Planted(TASKS["fill"], 0.005, Decimal("0.006")),
)


@dataclass(frozen=True, slots=True)
class Trial:
    """One set of jobs: what was planted and compared, and the plain mean of their hours per unit."""

    planted: Planted
    comparison: Comparison
    plain_mean: float

    @property
    def proposal(self) -> float:
        """The proposed rate; the current one where it stays."""
        return float(self.comparison.proposed or self.planted.current)

    @property
    def is_in_interval(self) -> bool:
        """Whether the planted rate lies in the stated interval."""
        interval = self.comparison.interval
        return interval is not None and float(interval.low) <= self.planted.rate <= float(interval.high)

    @property
    def is_within_spread(self) -> bool:
        """Whether the planted rate lies between the proposal over and times the stated spread."""
        spread = float(self.comparison.spread or 1)
        return self.proposal / spread <= self.planted.rate <= self.proposal * spread

    def error_of(self, rate: float) -> float:
        """How far a rate is from the planted one, as a share of it."""
        return abs(rate - self.planted.rate) / self.planted.rate


@dataclass(frozen=True, slots=True)
class Tally:
    """Many trials of one number of jobs: shares of trials, and mean errors as a share of the planted rate."""

    jobs: int
    stated: float
    in_interval: float
    in_spread: float
    mean_error: float
    median_error: float
    proposed_error: float


def main() -> None:
    """Print the three tables."""
    pairs = ", ".join(f"{each.task.key} {each.rate} for {each.current}" for each in PLANTED)
    print(f"Planted for listed hours per unit: {pairs}; {TRIALS} trials a row, scatter {SCATTER:.0%}")
    for share in (0.0, 0.1, 0.2):
        print(f"\n{share:.0%} of the jobs are gross outliers (times {', '.join(map(str, OUTLIER_FACTORS))})")
        print("jobs | interval: stated  holds | within spread | error: plain mean  median  proposal")
        for jobs in JOBS:
            show(tally(jobs, share))


def show(row: Tally) -> None:
    """Print one row."""
    print(
        f"{row.jobs:4} | {row.stated:16.1%} {row.in_interval:6.1%} | {row.in_spread:13.1%} | "
        f"{row.mean_error:17.1%} {row.median_error:7.1%} {row.proposed_error:9.1%}"
    )


def tally(jobs: int, outliers: float, trials: int = TRIALS) -> Tally:
    """Many trials of one number of jobs, from a seed that the number and the share of outliers give."""
    dice = Random(f"{jobs} {outliers}")  # noqa: S311 - a simulation
    rules = CalibrationRules.of(shipped_book())
    done = [trial(PLANTED[number % len(PLANTED)], jobs, outliers, dice, rules) for number in range(trials)]
    return Tally(
        jobs=jobs,
        stated=float(done[0].comparison.interval.coverage) if done[0].comparison.interval else 0.0,
        in_interval=fmean(each.is_in_interval for each in done),
        in_spread=fmean(each.is_within_spread for each in done),
        mean_error=fmean(each.error_of(each.plain_mean) for each in done),
        median_error=fmean(each.error_of(float(each.comparison.median or 0)) for each in done),
        proposed_error=fmean(each.error_of(each.proposal) for each in done),
    )


def trial(planted: Planted, jobs: int, outliers: float, dice: Random, rules: CalibrationRules) -> Trial:
    """What the program and a plain mean make of the same jobs."""
    made = [simulated(planted, outliers, dice) for _ in range(jobs)]
    mean = fmean(float(each.hours_per_unit) for each in made)
    return Trial(planted, compared(planted.task, made, planted.current, rules), mean)


def simulated(planted: Planted, outliers: float, dice: Random) -> Observation:
    """One job, planned with 2 to 20 hours and a factor for conditions; hours are booked to 0.01."""
    factor = dice.choice((1.0, 1.1, 1.25))
    quantity = round(dice.uniform(2, 20) / float(planted.current))
    wild = dice.choice(OUTLIER_FACTORS) if dice.random() < outliers else 1.0
    took = quantity * factor * planted.rate * dice.lognormvariate(0.0, SCATTER) * wild
    hours = Decimal(str(round(quantity * factor * float(planted.current), 2)))
    plan = PlannedTask(planted.task.key, planted.task.unit, Decimal(quantity), hours, planted.current)
    return Observation(plan, Decimal(str(round(took, 2))))


if __name__ == "__main__":
    main()
