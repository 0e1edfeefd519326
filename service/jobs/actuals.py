"""Hours that a job took: fed back for a quote, kept by version, shown beside what the stored quote planned.

A task that the quote has no hours for is a warning, not a fault: work comes up on site that no sheet foresaw, and an
office that may not book it would book it on another task, whose rate it would spoil.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from schemas.actuals import actuals_from
from schemas.fields.answers import timestamp_text
from service.estimate.calibration import (
    BookingRules,
    CalibrationRules,
    PlannedTask,
    beside,
    by_task,
    is_slip,
    is_unlike_plan,
    most_hours,
)
from service.estimate.quote.model import Status
from service.jobs.desk import Refused
from service.jobs.statuses import Changed, WrongStatus
from service.problems import Code, Problems, pointer
from service.storage.actuals import actuals_kept, actuals_of
from service.storage.quotes import quote_of
from service.trade.book import shipped_book

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from datetime import date, datetime

    from schemas.actuals import PostedActuals
    from service.estimate.calibration import BookedTask, TaskHours
    from service.jobs.desk import Desk
    from service.jobs.reading import Document
    from service.problems import Problem
    from service.storage.actuals import StoredActuals
    from service.storage.quotes import StoredQuote

_WITHOUT_WORK = {Status.DECLINED, Status.WITHDRAWN}


@dataclass(frozen=True, slots=True)
class QuoteActuals:
    """A quote's hours, planned beside actual. `version` 0: none were posted yet."""

    quote: str
    number: str
    version: int
    finished_on: date | None
    posted_at: str | None
    tasks: tuple[TaskHours, ...]
    problems: tuple[Problem, ...] = ()

    @property
    def planned(self) -> Decimal:
        """Planned person-hours in all. [h]"""
        return sum((task.planned for task in self.tasks if task.planned), Decimal(0))

    @property
    def actual(self) -> Decimal:
        """Person-hours posted in all. [h]"""
        return sum((task.actual for task in self.tasks if task.actual), Decimal(0))


def actuals_shown(desk: Desk, firm_id: str, quote_id: str) -> QuoteActuals | None:
    """A quote's newest hours; None when the firm has no such quote."""
    with desk.database.reading() as connection:
        quote = quote_of(connection, firm_id, quote_id)
        return _shown(quote, actuals_of(connection, quote_id)) if quote else None


def actuals_posted(
    desk: Desk, firm_id: str, quote_id: str, source: Document, is_seen: Callable[[QuoteActuals], bool]
) -> QuoteActuals | Refused | WrongStatus | Changed | None:
    """Keep the hours of a job in the place of those posted before; or every fault, and nothing kept.

    Args:
        desk: data and clock.
        firm_id: whose quote.
        quote_id: which quote.
        source: the request.
        is_seen: whether the caller knows the hours as they are kept now.

    Returns:
        The hours kept; `Changed` when the caller's view is old, `WrongStatus` for a quote that no work follows from,
        None when the firm has no such quote.
    """
    with desk.database.writing() as connection:
        quote = quote_of(connection, firm_id, quote_id)
        if quote is None:
            return None
        if not is_seen(_shown(quote, actuals_of(connection, quote_id))):
            return Changed()
        if Status(quote.card.status) in _WITHOUT_WORK:
            return WrongStatus(f"The quote is {quote.card.status}: no work follows from it that hours could be for.")
        posted, found = actuals_from(source.value)
        problems = Problems(found)
        _check(posted, quote, desk.now(), problems)
        if problems.has_errors:
            return Refused(tuple(problems))
        planned = planned_of(quote.document["labor"])
        kept = actuals_kept(connection, quote_id, planned, posted.booked, posted.finished_on, desk.now())
        return _shown(quote, kept)


def planned_of(labor: Iterable[Mapping[str, Any]]) -> dict[str, PlannedTask]:
    """What a stored quote planned, by task, from the labor rows of its document."""
    return by_task(
        PlannedTask(
            task=row["task"],
            unit=row["unit"],
            quantity=Decimal(str(row["quantity"])),
            hours=Decimal(str(row["hours"])),
            rate=Decimal(str(row["rate"])),
        )
        for row in labor
    )


def _shown(quote: StoredQuote, stored: StoredActuals | None) -> QuoteActuals:
    planned = planned_of(quote.document["labor"])
    booked = stored.tasks if stored else ()
    problems = Problems()
    _compare(enumerate(booked), planned, problems)
    return QuoteActuals(
        quote=quote.card.id,
        number=str(quote.card.number),
        version=stored.version if stored else 0,
        finished_on=stored.finished_on if stored else None,
        posted_at=timestamp_text(stored.created_at) if stored else None,
        tasks=beside(planned, booked, CalibrationRules.of(shipped_book()).figures),
        problems=tuple(problems),
    )


def _check(posted: PostedActuals, quote: StoredQuote, now: datetime, problems: Problems) -> None:
    """Every fault that only the quote and the calendar show."""
    understood = ((place, task) for place, task in enumerate(posted.tasks) if task is not None)
    _compare(understood, planned_of(quote.document["labor"]), problems)
    first, last = _measured_on(quote), now.astimezone(_zone(quote)).date()
    finished = posted.finished_on or last
    if not first <= finished <= last:
        problems.error(
            Code.DATE_OUT_OF_RANGE, "/finished_on", "The job cannot have been finished on that day.",
            help=f"Type a day from {first.isoformat()}, when the rooms were measured, to today, {last.isoformat()}.",
            found=finished.isoformat(),
        )  # fmt: skip
        finished = last
    _check_days(posted, (finished - first).days + 1, problems)


def _check_days(posted: PostedActuals, days: int, problems: Problems) -> None:
    rules = BookingRules.of(shipped_book())
    hours, most = sum((task.hours for task in posted.booked), Decimal(0)), most_hours(days, rules)
    if hours > most:
        problems.error(
            Code.HOURS_NOT_POSSIBLE, "/tasks", f"All tasks together are more than {most} h, the most for {days} days.",
            help=f"{rules.most_people} people of {rules.most_day_hours} h a day are the most there can be; "
            "look whether minutes were typed as hours.", found=f"{hours} h",
        )  # fmt: skip


def _compare(
    booked: Iterable[tuple[int, BookedTask]], planned: Mapping[str, PlannedTask], problems: Problems
) -> None:  # fmt: skip
    rules = BookingRules.of(shipped_book())
    for position, task in booked:
        plan = planned.get(task.task)
        if plan is None or not plan.hours:
            _tell_unplanned(task, pointer("tasks", position, "task"), problems)
        else:
            _compare_hours(task, plan, pointer("tasks", position, "hours"), rules, problems)


def _tell_unplanned(task: BookedTask, place: str, problems: Problems) -> None:
    problems.warning(
        Code.TASK_NOT_PLANNED, place, "The quote has no hours for this task; they are kept, but say nothing of its rate.",
        help="Leave it when the work came up on site; else book the hours on the task that they belong to.",
        found=task.task,
    )  # fmt: skip


def _compare_hours(
    task: BookedTask, plan: PlannedTask, place: str, rules: BookingRules, problems: Problems
) -> None:  # fmt: skip
    told = f"{plan.hours} h were planned for it."
    if is_slip(plan.hours, task.hours, rules):
        problems.error(
            Code.HOURS_NOT_POSSIBLE, place, told, help="Type hours, not minutes, with a decimal point.",
            found=f"{task.hours} h",
        )  # fmt: skip
    elif is_unlike_plan(plan.hours, task.hours, rules):
        problems.warning(
            Code.HOURS_UNLIKE_PLAN, place, told, help="Look again; leave it, with a note why, when it is so.",
            found=f"{task.hours} h",
        )  # fmt: skip


def _measured_on(quote: StoredQuote) -> date:
    """The earliest day that work can have begun: when the rooms were measured, else when the quote was made."""
    text = quote.document["job"]["measured_on"]
    made = quote.card.created_at.astimezone(_zone(quote)).date()
    return min(made, type(made).fromisoformat(text)) if text else made


def _zone(quote: StoredQuote) -> ZoneInfo:
    return ZoneInfo(quote.document["firm"]["time_zone"])
