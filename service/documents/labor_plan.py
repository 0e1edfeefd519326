"""The work by day: what is done where, with boxes to tick, and what has to dry between."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Spacer

from service.documents.boxes import tick_box
from service.documents.order import listed
from service.documents.styles import (
    FIELD_BODY,
    FIELD_NOTE,
    FIELD_SECTION,
    FIELD_TITLE,
    FIGURE,
    FIGURE_BOLD,
    heading,
    said,
)
from service.documents.words import count_text, plain
from service.estimate.labor.waits import ADHESIVE

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from reportlab.platypus import Flowable

    from service.estimate.labor import LaborPlan
    from service.estimate.labor.model import DayTask, LaborDay, Wait

TITLE = "Work by day"
NOTE = (
    "Hours are person-hours. Days count from the first day of work, nights between them; travel is not in them. What "
    "dries takes time and no hours of work: the times are the usual ones, the maker's label counts."
)


def work_by_day(plan: LaborPlan | None, width_pt: float) -> list[Flowable]:
    """Every day with its tasks in order, a box to tick for each, and what dries after them; nothing without work.

    Args:
        plan: of the quote; None in a quote stored before there was one.
        width_pt: of the text. [pt]
    """
    if plan is None or not plan.working_days:
        return []
    story: list[Flowable] = [said(TITLE, FIELD_TITLE), said(_extent(plan), FIELD_BODY), said(NOTE, FIELD_NOTE)]
    if not plan.days:
        return [*story, said("The job is too long to be planned day by day here.", FIELD_BODY)]
    last = 0
    for day in plan.days:
        story += _day(day, plan, last, width_pt)
        last = day.elapsed_day
    return story


def _extent(plan: LaborPlan) -> str:
    """`6 days of work on 8 days, 2 visits`."""
    days = f"{count_text(plan.working_days, 'day')} of work"
    over = f" within {count_text(plan.elapsed_days, 'day')}" if plan.elapsed_days > plan.working_days else ""
    return f"{days}{over}, {count_text(plan.visits, 'visit')}"


def _day(day: LaborDay, plan: LaborPlan, last: int, width_pt: float) -> Iterator[Flowable]:
    """One day; before it the days without work, after it what is left to dry."""
    if day.elapsed_day > last + 1:
        yield said(_without_work(last + 1, day.elapsed_day - 1), FIELD_BODY)
    visit = f" · visit {day.visit}" if plan.visits > 1 else ""
    yield from heading(f"Day {day.elapsed_day}{visit} · {plain(day.hours)} h", FIELD_SECTION)
    for wait in plan.waits:
        if wait.what == ADHESIVE and last < wait.until_day <= day.elapsed_day != wait.from_day:
            yield said(_props_down(wait), FIELD_BODY)
    rows = [_row(task, before) for task, before in zip(day.tasks, (None, *day.tasks), strict=False)]
    yield listed(("done", "room", "task", "hours"), rows, (0.3, 0.58, 0.12), width_pt)
    yield Spacer(1, 3)
    for wait in plan.waits:
        if wait.from_day == day.elapsed_day:
            yield said(f"\N{EN DASH} {wait.text}", FIELD_BODY)


def _without_work(first: int, last: int) -> str:
    days = f"Day {first}" if first == last else f"Days {first} to {last}"
    return f"{days}: no work on the job; what is wet or glued needs its time."


def _props_down(wait: Wait) -> str:
    """Where props may come down, on the day on which they may."""
    time = f"{plain(wait.hours)} h after the last board went up"
    return f"Props in {wait.room_name} may come down today, {time}, when the adhesive is hard."


def _row(task: DayTask, before: DayTask | None) -> Sequence[Flowable | str]:
    """The room stands out where it changes."""
    style = FIGURE if before and before.room == task.room else FIGURE_BOLD
    coat = f", coat {task.coat}" if task.coat else ""
    return (
        tick_box(),
        said(task.room_name, style),
        said(f"{task.description}{coat}", FIGURE),
        said(f"{task.hours:.2f}", FIGURE),
    )
