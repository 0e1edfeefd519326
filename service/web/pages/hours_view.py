"""What the pages of hours and rates show, and what the form of hours means."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from service.estimate.calibration import Outcome
from service.estimate.labor.words import WORDS
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from decimal import Decimal

    from service.estimate.calibration import Interval, TaskHours
    from service.jobs.actuals import QuoteActuals
    from service.jobs.production_rates import RateTable
    from service.problems import Problem

STANDING = {
    Outcome.TOO_FEW_JOBS: "too few jobs yet",
    Outcome.UNCHANGED: "stays as it is",
    Outcome.NO_RATE: "no rate on the list",
}
_OF_TASK = re.compile(r"/tasks/(\d+)(?:/|$)")


@dataclass(frozen=True, slots=True)
class HoursRow:
    """A row of the form: task in words, the plan, what stands in the fields, what is wrong with it."""

    task: str
    words: str
    planned: Decimal | None
    hours: str
    note: str
    problems: tuple[Problem, ...]

    @property
    def has_error(self) -> bool:
        """True when the hours were refused."""
        return any(problem.is_error for problem in self.problems)


def hours_document(form: Mapping[str, str]) -> dict[str, Any]:
    """The request that the filled form stands for; a task whose hours are blank was not worked on."""
    tasks = [
        {"task": task, "hours": form[f"hours-{task}"].strip(), "note": form.get(f"note-{task}", "")}
        for task in _filled(form)
    ]
    return {"tasks": tasks, "finished_on": form.get("finished_on", "")}


def _filled(form: Mapping[str, str]) -> list[str]:
    return [task for task in TASKS if form.get(f"hours-{task}", "").strip()]


def hours_view(
    shown: QuoteActuals, problems: Sequence[Problem], form: Mapping[str, str] | None
) -> dict[str, Any]:  # fmt: skip
    """Words and figures of the page of hours: as kept, or as they were typed when they were refused.

    Args:
        shown: the hours as they are kept.
        problems: of the typed ones.
        form: what was typed, None when nothing was refused.
    """
    order = _filled(form) if form is not None else [row.task for row in shown.tasks if row.actual is not None]
    told = problems if form is not None else shown.problems
    by_task = {row.task: row for row in shown.tasks}
    rows = [_row(task, by_task.get(task), form, _problems_of(task, order, told)) for task in TASKS]
    return {
        "shown": shown,
        "planned_rows": [row for row in rows if row.planned is not None],
        "other_rows": [row for row in rows if row.planned is None],
        "has_others": any(row.hours for row in rows if row.planned is None),
        "faults": [row for row in rows if row.has_error],
        "general": [problem for problem in problems if problem.is_error and not _OF_TASK.match(problem.pointer)],
        "finished_on": _finished_on(shown, form),
    }


def _finished_on(shown: QuoteActuals, form: Mapping[str, str] | None) -> str:
    if form is not None:
        return form.get("finished_on", "")
    return shown.finished_on.isoformat() if shown.finished_on else ""


def _row(
    task: str, kept: TaskHours | None, form: Mapping[str, str] | None, problems: tuple[Problem, ...]
) -> HoursRow:  # fmt: skip
    actual = format(kept.actual, "f") if kept and kept.actual is not None else ""
    return HoursRow(
        task=task,
        words=WORDS[task],
        planned=kept.planned if kept else None,
        hours=actual if form is None else form.get(f"hours-{task}", ""),
        note=(kept.note if kept else "") if form is None else form.get(f"note-{task}", ""),
        problems=problems,
    )


def _problems_of(task: str, order: Sequence[str], problems: Sequence[Problem]) -> tuple[Problem, ...]:
    """Problems whose pointer names the place where this task stands in the request."""
    places = {number for number, named in enumerate(order) if named == task}
    found = ((problem, _OF_TASK.match(problem.pointer)) for problem in problems)
    return tuple(problem for problem, match in found if match and int(match[1]) in places)


def rates_view(table: RateTable) -> dict[str, Any]:
    """Words and figures of the page of rates: tasks with hours, and the names of those without."""
    return {
        "table": table,
        "rows": [row for row in table.items if row.jobs],
        "without": [WORDS[row.task] for row in table.items if not row.jobs],
        "words": WORDS,
        "standing": STANDING,
        "interval_text": interval_text,
        "has_proposals": any(row.proposed is not None for row in table.items),
    }


def interval_text(interval: Interval | None) -> str:
    """`0.24 to 0.31, 94% sure`; nothing without an interval."""
    if interval is None:
        return ""
    return f"{interval.low:f} to {interval.high:f}, {float(interval.coverage):.0%} sure"
