"""What is measured of one cutting job, what many jobs come to, and whether that reaches the goal set for it."""

from __future__ import annotations

import statistics
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    Figure = Callable[[Sequence["Trial"]], float]


@dataclass(frozen=True, slots=True)
class Trial:
    """One job, planned.

    Attributes:
        size: its pieces, or its runs.
        seconds: processor time of the plan.
        cost, bound: of the plan, and below which no plan lies. [cents]
        parts, proven: profiles or instances, and how many are proven least.
        rule_cost, rule_seconds: of the same by first fit decreasing, or by the trade's way. [cents, s]
        cut_cost: joints by the trade's way, boards by the engine; 0 where there are no joints. [cents]
        wrong: contradictions with a known optimum.
    """

    size: int
    seconds: float
    cost: int
    bound: int
    parts: int
    proven: int
    rule_cost: int
    rule_seconds: float
    cut_cost: int = 0
    wrong: int = 0

    @property
    def gap(self) -> float:
        """Share of the bound by which the plan may be too dear."""
        return (self.cost - self.bound) / self.bound if self.bound else 0.0


@dataclass(frozen=True, slots=True)
class Goal:
    """One figure over the trials of a row and what it must be: `limit` at most, or at least where `is_floor`."""

    name: str
    figure: Figure
    limit: float
    shown: str
    is_floor: bool = False

    def is_met(self, value: float) -> bool:
        """Whether a figure reaches the goal."""
        return value >= self.limit if self.is_floor else value <= self.limit

    def line(self, trials: Sequence[Trial]) -> str:
        """Goal, figure, verdict."""
        value = self.figure(trials)
        sign, verdict = "≥" if self.is_floor else "≤", "met" if self.is_met(value) else "NOT MET"
        reach = f"{sign} {self.shown.format(self.limit)}"
        return f"  {self.name:<42}{reach:>12}{self.shown.format(value):>14}   {verdict}"


def share_proven(trials: Sequence[Trial]) -> float:
    """Share of all profiles that are proven least."""
    return sum(trial.proven for trial in trials) / sum(trial.parts for trial in trials)


def share_proven_in(seconds: float) -> Figure:
    """Share of the jobs that are proven least within so many seconds."""
    return lambda trials: statistics.fmean(t.proven == t.parts and t.seconds <= seconds for t in trials)


def contradictions(trials: Sequence[Trial]) -> float:
    """Plans or bounds on the wrong side of a known optimum."""
    return sum(trial.wrong for trial in trials)


def median_seconds(trials: Sequence[Trial]) -> float:
    """Median time of a job. [s]"""
    return statistics.median(trial.seconds for trial in trials)


def late_seconds(trials: Sequence[Trial]) -> float:
    """Time that 95 jobs of 100 stay within, the trials taken for the whole. [s]"""
    return quantile([trial.seconds for trial in trials], 0.95)


def mean_gap(trials: Sequence[Trial]) -> float:
    """Mean of the gaps."""
    return statistics.fmean(trial.gap for trial in trials)


def saved_on_rule(trials: Sequence[Trial]) -> float:
    """Mean share that a plan costs less than by the rule."""
    return statistics.fmean(savings(trials, "rule_cost"))


def saved_on_cut(trials: Sequence[Trial]) -> float:
    """Mean share that a plan costs less than joints by the trade's way with the best boards for them."""
    return statistics.fmean(savings(trials, "cut_cost"))


def savings(trials: Sequence[Trial], name: str) -> list[float]:
    """Share of another way's cost that each plan saves."""
    return [1 - trial.cost / getattr(trial, name) for trial in trials if getattr(trial, name)]


def quantile(values: Sequence[float], share: float) -> float:
    """Value below which a share of the values lies, straight between neighbors."""
    ordered = sorted(values)
    place = share * (len(ordered) - 1)
    low = int(place)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (place - low) * (ordered[high] - ordered[low])
