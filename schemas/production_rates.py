"""Rates compared with hours fed back, and the acceptance of proposed ones."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, cast

from marshmallow import Schema, ValidationError, fields

from schemas.actuals import Plain, task_key
from schemas.faults import missing, problems_of, refusal
from schemas.fields.answers import Gap, Texts
from schemas.fields.lists import each_read
from schemas.fields.words import StrictField, Text
from schemas.names import Names
from schemas.problem import said
from schemas.quote import PriceListRefSchema
from schemas.records import StrictSchema
from schemas.room_sheet import NAME
from service.estimate.calibration import Outcome
from service.problems import Code, Problems, pointer
from service.trade.tasks import TASKS

if TYPE_CHECKING:
    from service.problems import Problem


class IntervalSchema(Schema):
    """Rates between which the median of all such jobs lies."""

    low = Plain("Lower rate.")
    high = Plain("Upper rate.")
    coverage = Gap("Chance of that at least, whatever the distribution.")


class TaskRateSchema(Schema):
    """A task's rate beside what jobs took."""

    task = fields.String(required=True, metadata=said("Task key."))
    unit = fields.String(required=True, metadata=said("Unit it is counted in."))
    jobs = fields.Integer(required=True, metadata=said("Jobs with planned and actual hours of the task."))
    new_jobs = fields.Integer(required=True, metadata=said("Of these, fed back since the rate was last accepted."))
    quantity = Plain("Planned quantity of all these jobs.")
    planned_hours = Plain("Planned person-hours of all these jobs.", attribute="planned")
    actual_hours = Plain("Actual person-hours of all these jobs.", attribute="actual")
    current_rate = Plain(
        "Hours per unit on the price list; null where it has none.", allow_none=True, attribute="current"
    )
    median_rate = Plain(
        "Median of the jobs' hours per unit, conditions taken out.", allow_none=True, attribute="median"
    )
    spread_factor = Plain(
        "A job typically takes the median times or over this: exp of 1.4826 MAD.", allow_none=True, attribute="spread"
    )
    interval = fields.Nested(
        IntervalSchema, required=True, allow_none=True, metadata=said("Around the median; null below two jobs.")
    )
    weight = Gap("Weight of the new jobs against the current rate.")
    outcome = fields.Enum(Outcome, by_value=True, required=True, metadata=said("What follows for the rate."))
    proposed_rate = Plain("New rate; null where none is proposed.", allow_none=True, attribute="proposed")


class ProductionRatesSchema(Schema):
    """A price list's rates beside the hours fed back."""

    price_list = fields.Nested(PriceListRefSchema, required=True, metadata=said("The list whose rates are compared."))
    method = fields.String(required=True, metadata=said("How a rate is estimated, with the publications."))
    basis = Texts("Trade-book entries it rests on.")
    items = fields.List(fields.Nested(TaskRateSchema), required=True, metadata=said("Tasks, in the trade's order."))
    next = fields.String(required=True, allow_none=True, metadata=said("Always null: all tasks are on one page."))


class TaskKeys(StrictField[tuple[str | None, ...]]):
    """Published task keys, None in the place of one that was refused."""

    wanted = f"Give a list of tasks; tasks are {', '.join(TASKS)}."
    published: ClassVar[Mapping[str, object]] = {
        "type": "array", "minItems": 1, "maxItems": len(TASKS) * 2, "items": {"type": "string", "enum": list(TASKS)}
    }  # fmt: skip

    def _deserialize(self, value: object, attr: str | None, data: object, **kwargs: object) -> tuple[str | None, ...]:
        del attr, data, kwargs
        if isinstance(value, str) or not isinstance(value, Sequence):
            raise refusal(Code.DOCUMENT_UNREADABLE, "A list is needed here.", self.help, value)
        if not value:
            raise missing(self.help)
        if len(value) > len(TASKS) * 2:
            raise refusal(Code.NUMBER_OUT_OF_RANGE, f"There are {len(value)} tasks.", self.help)
        return each_read(value, task_key)


class RateAcceptanceSchema(StrictSchema):
    """Tasks whose proposed rates are accepted."""

    price_list = Text("Name of the price list whose rates change.", most=NAME, required=True)
    tasks = TaskKeys("Tasks whose proposed rate is accepted; each once.", required=True)


@dataclass(frozen=True, slots=True)
class Acceptance:
    """A request as far as it was understood: None in the place of what was refused."""

    price_list: str | None
    tasks: tuple[str | None, ...]


def acceptance_from(document: object) -> tuple[Acceptance, tuple[Problem, ...]]:
    """What a request says, as far as it can be understood, and every fault found in it.

    Args:
        document: the request as parsed JSON; any value is read without an exception.
    """
    problems = Problems()
    record = _loaded(document, problems)
    acceptance = Acceptance(record.get("price_list"), record.get("tasks", ()))
    for place in Names(acceptance.tasks).duplicates:
        problems.error(
            Code.ITEM_DUPLICATE, pointer("tasks", place), "The task stands in this list before.",
            help="Name each task once.", found=str(acceptance.tasks[place]),
        )  # fmt: skip
    return acceptance, tuple(problems)


def _loaded(document: object, problems: Problems) -> dict[str, Any]:
    if not isinstance(document, Mapping):
        problems.error(Code.DOCUMENT_UNREADABLE, "", "Rates are accepted by a JSON object.", help="Send an object.")
        return {}
    try:
        return cast("dict[str, Any]", RateAcceptanceSchema().load(document))
    except ValidationError as error:
        problems.extend(problems_of(error))
        return error.valid_data if isinstance(error.valid_data, dict) else {}


class RateChangeSchema(Schema):
    """A rate that was changed."""

    task = fields.String(required=True, metadata=said("Task key."))
    unit = fields.String(required=True, metadata=said("Unit it is counted in."))
    before = Plain("Hours per unit before.")
    after = Plain("Hours per unit now.")


class AcceptedRatesSchema(Schema):
    """The new version of a price list, and what is different in it."""

    price_list = fields.Nested(PriceListRefSchema, required=True, metadata=said("The new version."))
    created_at = fields.String(required=True, metadata={**said("When it was made, UTC."), "format": "date-time"})
    changes = fields.List(fields.Nested(RateChangeSchema), required=True, metadata=said("Rates that were changed."))


def production_rates_document(table: object) -> dict[str, Any]:
    """The comparison as the contract's JSON; `table` has the declared members as attributes."""
    return cast("dict[str, Any]", ProductionRatesSchema().dump(table))


def accepted_rates_document(accepted: object) -> dict[str, Any]:
    """The acceptance as the contract's JSON; `accepted` has the declared members as attributes."""
    return cast("dict[str, Any]", AcceptedRatesSchema().dump(accepted))
