"""What a quote planned for a task beside the hours that it took, and hours that cannot be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.calibration.rules import to_figures
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from decimal import Decimal

    from service.estimate.calibration.rules import BookingRules
    from service.trade.tasks import Task


@dataclass(frozen=True, slots=True)
class PlannedTask:
    """What a quote planned for a task: quantity in its unit, person-hours, and the rate it was priced with."""

    task: str
    unit: str
    quantity: Decimal
    hours: Decimal
    rate: Decimal


@dataclass(frozen=True, slots=True)
class BookedTask:
    """Person-hours that a task really took on a job, and a note."""

    task: str
    hours: Decimal
    note: str = ""


@dataclass(frozen=True, slots=True)
class Observation:
    """One job's planned task beside the person-hours it took.

    `is_in_rate`: the current rate was accepted knowing this job, so it pulls no second time.
    """

    planned: PlannedTask
    actual: Decimal
    is_in_rate: bool = False

    @property
    def hours_per_unit(self) -> Decimal:
        """Actual over planned hours, times the rate of the plan: factors of conditions cancel. [h a unit]"""
        return self.actual / self.planned.hours * self.planned.rate


@dataclass(frozen=True, slots=True)
class TaskHours:
    """A task of one job, planned beside actual; None where it was not planned or no hours were booked.

    `hours_per_unit`: what a unit took under plain conditions. [h a unit]
    """

    task: str
    unit: str
    quantity: Decimal | None
    rate: Decimal | None
    planned: Decimal | None
    actual: Decimal | None
    hours_per_unit: Decimal | None
    note: str


def by_task(rows: Iterable[PlannedTask]) -> dict[str, PlannedTask]:
    """Rows of one quote added up by task; a quote prices a task with one rate."""
    tasks: dict[str, PlannedTask] = {}
    for row in rows:
        first = tasks.get(row.task)
        tasks[row.task] = row if first is None else _added(first, row)
    return tasks


def _added(first: PlannedTask, row: PlannedTask) -> PlannedTask:
    return PlannedTask(row.task, row.unit, first.quantity + row.quantity, first.hours + row.hours, first.rate)


def observed(planned: Mapping[str, PlannedTask], booked: Iterable[BookedTask]) -> dict[str, Observation]:
    """What one job says about each task that was planned with hours and a rate; other tasks say nothing of a rate."""
    plans = ((planned.get(item.task), item.hours) for item in booked)
    return {plan.task: Observation(plan, hours) for plan, hours in plans if plan and plan.hours and plan.rate}


def beside(
    planned: Mapping[str, PlannedTask], booked: Iterable[BookedTask], figures: int
) -> tuple[TaskHours, ...]:  # fmt: skip
    """Every task that was planned or booked, in the trade's order.

    Args:
        planned: of the quote, by task.
        booked: what was fed back.
        figures: that hours per unit are rounded to.
    """
    taken = {item.task: item for item in booked}
    seen = observed(planned, taken.values())
    return tuple(
        _task_hours(task, planned.get(task.key), taken.get(task.key), seen.get(task.key), figures)
        for task in TASKS.values()
        if task.key in planned or task.key in taken
    )


def _task_hours(
    task: Task, plan: PlannedTask | None, booked: BookedTask | None, seen: Observation | None, figures: int
) -> TaskHours:
    return TaskHours(
        task=task.key,
        unit=task.unit,
        quantity=plan.quantity if plan else None,
        rate=plan.rate if plan else None,
        planned=plan.hours if plan else None,
        actual=booked.hours if booked else None,
        hours_per_unit=to_figures(seen.hours_per_unit, figures) if seen else None,
        note=booked.note if booked else "",
    )


def is_slip(planned: Decimal, actual: Decimal, rules: BookingRules) -> bool:
    """True when hours are so far above the plan that minutes or a lost decimal point are likelier than the work.

    Source: trade book `calibration.most-times-plan`, `calibration.working-day`: a small task is booked in quarters of
    an hour, so that many times the plan is a slip only from a working day above it.

    Args:
        planned, actual: person-hours of a task that was planned. [h]
        rules: of the trade book.
    """
    return actual > rules.most_times_plan * planned and actual - planned > rules.working_day


def is_unlike_plan(planned: Decimal, actual: Decimal, rules: BookingRules) -> bool:
    """True when hours are several times the plan, or a small part of it, and not just by how jobs are booked.

    Source: trade book `calibration.unlike-plan`, `calibration.unlike-plan-hours`.

    Args:
        planned, actual: person-hours of a task that was planned. [h]
        rules: of the trade book.
    """
    apart = actual > rules.unlike_plan * planned or actual * rules.unlike_plan < planned
    return apart and abs(actual - planned) > rules.unlike_plan_hours


def most_hours(days: int, rules: BookingRules) -> Decimal:
    """Person-hours that a job can take in so many days, first and last counted: days × people × hours of a day.

    Source: trade book `calibration.most-day-hours`, `calibration.most-people`.

    Args:
        days: from the quote to the end of the job. [days]
        rules: of the trade book.

    Returns:
        [h]
    """
    return days * rules.most_people * rules.most_day_hours
