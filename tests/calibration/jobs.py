"""Invented jobs for the tests of calibration."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from service.estimate.calibration import CalibrationRules, Comparison, Observation, PlannedTask, compared
from service.trade.book import shipped_book
from service.trade.tasks import TASKS

TASK = TASKS["cut-cope"]
RULES = CalibrationRules.of(shipped_book())


def job(actual: str | float, planned: str = "10", rate: str = "0.2") -> Observation:
    """A job with so many hours planned at a rate, and the hours it took."""
    plan = PlannedTask(TASK.key, TASK.unit, Decimal(planned) / Decimal(rate), Decimal(planned), Decimal(rate))
    return Observation(plan, Decimal(str(actual)))


def comparison_of(*actual: str | float, current: str | None = "0.2", **rules: object) -> Comparison:
    """Jobs of ten planned hours each, priced and compared at 0.2 h."""
    rate = Decimal(current) if current is not None else None
    return compared(TASK, [job(hours) for hours in actual], rate, replace(RULES, **rules))
