"""The labor plan of a quote: the work by day, and what dries between. It holds no money."""

from __future__ import annotations

from decimal import Decimal

from marshmallow import fields

from schemas.fields.answers import Several
from schemas.problem import RecordSchema, said
from service.estimate.labor import model


class HoursText(fields.Field[Decimal]):
    """Hours as a decimal string, exact."""

    def __init__(self, says: str) -> None:
        """Describe the hours."""
        schema = {"description": says, "type": "string", "pattern": r"^\d+(\.\d+)?$", "examples": ["6.50"]}
        super().__init__(required=True, metadata=schema)

    def _serialize(self, value: Decimal | None, attr: str | None, obj: object, **kwargs: object) -> str | None:
        del attr, obj, kwargs
        return None if value is None else f"{value:f}"

    def _deserialize(self, value: str, attr: str | None, data: object, **kwargs: object) -> Decimal:
        del attr, data, kwargs
        return Decimal(value)


class DayTaskSchema(RecordSchema):
    """Person-hours of one task in one room on one day."""

    record = model.DayTask
    task = fields.String(required=True, metadata=said("Task key."))
    room = fields.String(attribute="room_name", required=True, metadata=said("Room."))
    room_number = fields.Integer(attribute="room", required=True, metadata=said("Number of the room."))
    description = fields.String(required=True, metadata=said("What it is."))
    hours = HoursText("Person-hours.")
    coat = fields.Integer(required=True, allow_none=True, metadata=said("Which coat, null where there is one alone."))


class LaborDaySchema(RecordSchema):
    """One day of work."""

    record = model.LaborDay
    number = fields.Integer(required=True, metadata=said("Number of the working day, from 1."))
    elapsed_day = fields.Integer(
        required=True, metadata=said("Day since the work began, from 1, days off counted too.")
    )
    visit = fields.Integer(required=True, metadata=said("Visit, from 1; a day without work ends one."))
    tasks = Several(DayTaskSchema, "What is done, in order.")


class WaitSchema(RecordSchema):
    """Something that dries or cures before work in a room goes on."""

    record = model.Wait
    room = fields.String(attribute="room_name", required=True, metadata=said("Room."))
    room_number = fields.Integer(attribute="room", required=True, metadata=said("Number of the room."))
    what = fields.String(required=True, metadata=said("What dries: adhesive, filler, caulk, primer, paint or stain."))
    hours = HoursText("How long it takes.")
    from_day = fields.Integer(required=True, metadata=said("Elapsed day on which it begins."))
    until_day = fields.Integer(required=True, metadata=said("Elapsed day on which it has passed."))
    text = fields.String(required=True, metadata=said("In words."))
    basis = fields.String(required=True, metadata=said("Trade-book entry."))


class LaborPlanSchema(RecordSchema):
    """The work by day."""

    record = model.LaborPlan
    working_days = fields.Integer(required=True, metadata=said("Days with work."))
    elapsed_days = fields.Integer(
        required=True, metadata=said("Days from the first to the last, days off counted too.")
    )
    visits = fields.Integer(required=True, metadata=said("Visits; the crew leaves the job over a day without work."))
    days = Several(LaborDaySchema, "Days; none where the job is longer than the trade book plans by day.")
    waits = Several(WaitSchema, "What dries or cures, in the order in which it begins.")
