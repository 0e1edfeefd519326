"""The ledger of a quote as JSON, and the story of one line."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from marshmallow import Schema, fields

from schemas.explain_words import plain, worded, worked
from schemas.fields.answers import answering
from schemas.problem import said
from service.estimate.figures import MONEY, Rule
from service.estimate.quote.ledger import behind

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.estimate.quote.ledger import Ledger, Step


class StepSchema(Schema):
    """One step of a line's story: a value, and how it follows from earlier steps."""

    step = fields.Integer(required=True, metadata=said("Number; operands have smaller ones."))
    what = fields.String(required=True, metadata=said("What it is."))
    value = fields.String(required=True, metadata=said("Value in its unit, up to 15 figures; lengths in inches."))
    unit = fields.String(required=True, metadata=said("Unit, or the currency of an amount."))
    rule = fields.Enum(Rule, by_value=True, required=True, metadata=said("How it follows from the steps in `of`."))
    of = fields.List(fields.Integer(), required=True, metadata=said("Steps it was made of, in order."))
    text = fields.String(required=True, metadata=said("The value for people."))
    says = fields.String(required=True, metadata=said("How it was worked out, in words and numbers."))
    source = fields.String(
        metadata=said("Of a given figure: `sheet:` cell or member, `trade:` entry, `list:` place of the price list, "
                      "`geometry:` constant, `plan:` what the cutting plan chose."),
    )  # fmt: skip
    multiple = fields.String(metadata=said("Of a rounded figure: what it is a multiple of."))
    at_in = fields.List(fields.String(), metadata=said("Of a count: where the counted things stand, in inches."))
    parts = fields.List(fields.String(), metadata=said("Of a total: the values of all lines, in order."))
    place = fields.Integer(metadata=said("Of a part by largest remainder: which of those values is its own, from 0."))


class LineStepsSchema(Schema):
    """Which steps a line's quantity and amount are."""

    line = fields.Integer(required=True, metadata=said("Number of the line."))
    quantity = fields.Integer(required=True, metadata=said("Step of its quantity."))
    amount = fields.Integer(required=True, metadata=said("Step of its amount."))


class LedgerSchema(Schema):
    """Every step behind every line, once."""

    steps = fields.List(fields.Nested(StepSchema), required=True, metadata=said("Operands before results."))
    lines = fields.List(fields.Nested(LineStepsSchema), required=True, metadata=said("Lines and options."))
    total = fields.Integer(required=True, allow_none=True, metadata=said("Step of the total."))


class StorySchema(Schema):
    """How one line's quantity and amount were worked out."""

    line = fields.Integer(required=True, metadata=said("Number of the line."))
    code = fields.String(required=True, metadata=said("Its code."))
    description = fields.String(required=True, metadata=said("What it is."))
    quantity = fields.Integer(required=True, metadata=said("Step of its quantity."))
    amount = fields.Integer(required=True, metadata=said("Step of its amount."))
    steps = fields.List(fields.Nested(StepSchema), required=True, metadata=said("All steps behind both, in order."))


def ledger_document(ledger: Ledger) -> dict[str, Any]:
    """The ledger as JSON values, worded in the quote's units and currency; written by hand, for there are thousands."""
    by_number = {step.number: step for step in ledger.steps}
    return {
        "steps": [_step(step, [by_number[number] for number in step.of]) for step in ledger.steps],
        "lines": [{"line": row.line, "quantity": row.quantity, "amount": row.amount} for row in ledger.lines],
        "total": ledger.total,
    }


def _step(step: Step, operands: list[Step]) -> dict[str, Any]:
    units, currency = answering().units, answering().currency
    document: dict[str, Any] = {
        "step": step.number,
        "what": step.what,
        "value": plain(step.value),
        "unit": currency if step.unit == MONEY else step.unit,
        "rule": step.rule.value,
        "of": list(step.of),
        "text": worded(step.value, step.unit, units, currency),
        "says": worked(step, operands, units, currency),
    }
    return document | _details(step)


def _details(step: Step) -> dict[str, Any]:
    """Members that only some rules have."""
    match step.rule:
        case Rule.GIVEN:
            return {"source": step.source}
        case Rule.COUNT:
            return {"at_in": [plain(place.inches) for place in step.places]}
        case Rule.ROUNDED | Rule.ROUNDED_UP:
            return {"multiple": plain(step.multiple)} if step.multiple else {}
        case Rule.TOTAL:
            return {"parts": [plain(value) for value in step.parts]}
        case Rule.PART:
            return {"place": step.place}
        case _:
            return {}


def story_document(quote: Mapping[str, Any], ledger: Mapping[str, Any], line: int) -> dict[str, Any] | None:
    """The story of one line of a stored quote; None when there is no such line.

    Args:
        quote: its JSON document; `ledger` as `ledger_document` made it.
        line: number of a line or an option.
    """
    found = next((row for row in ledger["lines"] if row["line"] == line), None)
    own = next((row for row in (*quote["lines"], *quote["options"]) if row["number"] == line), None)
    if found is None or own is None:
        return None
    steps = {step["step"]: step for step in ledger["steps"]}
    wanted = behind({number: tuple(step["of"]) for number, step in steps.items()}, (found["quantity"], found["amount"]))
    return {
        "line": line,
        "code": own["code"],
        "description": own["description"],
        "quantity": found["quantity"],
        "amount": found["amount"],
        "steps": [steps[number] for number in wanted],
    }
