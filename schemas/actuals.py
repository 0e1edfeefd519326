"""Hours fed back for a quote: the request, read strictly, and the answer."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any, ClassVar, cast

from marshmallow import Schema, ValidationError, fields

from schemas.faults import not_in_list, problems_of, refusal
from schemas.fields.answers import Several
from schemas.fields.numbers import Limits, number_within
from schemas.fields.words import DateField, StrictField, Text
from schemas.names import Names, tell_duplicates
from schemas.problem import ProblemRowSchema, said
from schemas.records import Row, Rows, StrictSchema, rows
from schemas.room_sheet import NOTES
from schemas.text import folded
from service.estimate.calibration import BookedTask
from service.problems import Code, Problems
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from datetime import date

    from service.problems import Problem

MOST_HOURS = Limits.of("0", "10000", above=True)

_HOURS = re.compile(r"-?\d{1,12}(?:\.\d{1,4})?", re.ASCII)


class TaskKey(StrictField[str]):
    """A published task key, in any case."""

    wanted = f"Type one of: {', '.join(TASKS)}."
    published: ClassVar[Mapping[str, object]] = {"type": "string", "enum": list(TASKS)}

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> str:
        del attr, data, kwargs
        return task_key(value)


def task_key(value: object) -> str:
    """Published key that a value names; anything else is refused."""
    task = TASKS.get(folded(value)) if isinstance(value, str) else None
    if task is None:
        raise not_in_list(value, tuple(TASKS), "There is no such task.")
    return task.key


class Hours(StrictField[Decimal]):
    """Person-hours as a decimal text; a JSON fraction is a float and refused, and so is anything but plain digits."""

    wanted = 'Type the hours as a decimal text above 0, such as "6.5"; leave out a task that nobody worked on.'
    published: ClassVar[Mapping[str, object]] = {
        "oneOf": [{"type": "string", "pattern": r"^\d{1,5}(\.\d{1,4})?$"}, {"type": "integer", "minimum": 1}]
    }

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        text = str(value) if isinstance(value, int) and not isinstance(value, bool) else value
        if not isinstance(text, str) or not _HOURS.fullmatch(text):
            raise refusal(Code.NUMBER_NOT_UNDERSTOOD, "It is not a number of hours.", self.help, value)
        return number_within(Decimal(text), MOST_HOURS, self.help, value)


class ActualTaskSchema(StrictSchema):
    """Hours of one task."""

    task = TaskKey("Task key of the trade; each once.", required=True)
    hours = Hours("Person-hours that it took, of everybody together.", required=True)
    note = Text("Why it took so long or so short.", most=NOTES, lines=True)


class ActualsRequestSchema(StrictSchema):
    """Hours that a job took, by task. They take the place of hours posted for the quote before."""

    tasks = Rows(ActualTaskSchema, "Tasks that were worked on.", most=len(TASKS) * 2, required=True)
    finished_on = DateField("Last day on site.")


@dataclass(frozen=True, slots=True)
class PostedActuals:
    """A request as far as it was understood: None in the place of a task that was refused."""

    tasks: tuple[BookedTask | None, ...]
    finished_on: date | None

    @property
    def booked(self) -> tuple[BookedTask, ...]:
        """The tasks that were understood."""
        return tuple(task for task in self.tasks if task is not None)


def actuals_from(document: object) -> tuple[PostedActuals, tuple[Problem, ...]]:
    """What a request says, as far as it can be understood, and every fault found in it.

    Args:
        document: the request as parsed JSON; any value is read without an exception.
    """
    problems = Problems()
    record = _loaded(document, problems)
    tell_duplicates(Names.of(rows(record, "tasks"), "task"), Code.ITEM_DUPLICATE, "/tasks", "task", problems)
    tasks = tuple(_booked(row) for row in rows(record, "tasks"))
    return PostedActuals(tasks, record.get("finished_on")), tuple(problems)


def _loaded(document: object, problems: Problems) -> Row:
    if not isinstance(document, Mapping):
        problems.error(Code.DOCUMENT_UNREADABLE, "", "Hours are sent as one JSON object.", help="Send an object.")
        return {}
    try:
        return cast("Row", ActualsRequestSchema().load(document))
    except ValidationError as error:
        problems.extend(problems_of(error))
        return error.valid_data if isinstance(error.valid_data, dict) else {}


def _booked(row: Row) -> BookedTask | None:
    return BookedTask(**row) if {"task", "hours"} <= row.keys() else None


class Plain(fields.Field[Decimal]):
    """A figure as an exact decimal text."""

    def __init__(self, says: str, *, allow_none: bool = False, attribute: str | None = None) -> None:
        """Describe the figure; null where there may be none."""
        metadata = {**said(says), "type": "string"}
        super().__init__(required=True, allow_none=allow_none, attribute=attribute, metadata=metadata)

    def _serialize(self, value: Decimal | None, attr: str | None, obj: object, **kwargs: object) -> str | None:
        del attr, obj, kwargs
        return None if value is None else format(value, "f")


class TaskHoursSchema(Schema):
    """A task's hours, planned beside actual."""

    task = fields.String(required=True, metadata=said("Task key."))
    unit = fields.String(required=True, metadata=said("Unit it is counted in."))
    quantity = Plain("Planned quantity; null where the quote has none of it.", allow_none=True)
    rate = Plain("Hours per unit that the quote was priced with.", allow_none=True)
    planned_hours = Plain("Planned person-hours, conditions included.", allow_none=True, attribute="planned")
    actual_hours = Plain("Person-hours it took; null where none were posted.", allow_none=True, attribute="actual")
    hours_per_unit = Plain(
        "Actual over planned hours times the rate: what a unit took under plain conditions.", allow_none=True
    )
    note = fields.String(required=True, metadata=said("Note."))


class ActualsSchema(Schema):
    """Hours of a quote's job."""

    quote = fields.String(required=True, metadata=said("Id of the quote."))
    number = fields.String(required=True, metadata=said("Number of the quote."))
    version = fields.Integer(required=True, metadata=said("Counts the postings; 0: no hours were posted yet."))
    finished_on = fields.Date(required=True, allow_none=True, metadata=said("Last day on site."))
    posted_at = fields.String(
        required=True,
        allow_none=True,
        metadata={**said("When they were posted, UTC; null before that."), "format": "date-time"},
    )
    planned_hours = Plain("Planned person-hours in all.", attribute="planned")
    actual_hours = Plain("Person-hours posted in all.", attribute="actual")
    tasks = fields.List(fields.Nested(TaskHoursSchema), required=True, metadata=said("Tasks, in the trade's order."))
    problems = Several(ProblemRowSchema, "What is worth a second look.")


def actuals_document(actuals: object) -> dict[str, Any]:
    """The answer as the contract's JSON; `actuals` has the declared members as attributes."""
    return cast("dict[str, Any]", ActualsSchema().dump(actuals))
