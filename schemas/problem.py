"""Problems as JSON: one row a fault, and the body of RFC 9457 that carries them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar, cast

from marshmallow import EXCLUDE, Schema, fields, post_load

from service.problems import Cell, Code, Problem, Severity

if TYPE_CHECKING:
    from collections.abc import Iterable

MOST_TOLD = 200
MEDIA_TYPE = "application/problem+json"


class RecordSchema(Schema):
    """Answers are made of records and read back to them by one declaration; derived members are skipped on reading."""

    record: ClassVar[type]

    class Meta:
        """Texts for people are written, never read."""

        unknown = EXCLUDE

    @post_load
    def as_record(self, data: dict[str, Any], **_: object) -> object:
        """The record of the members read."""
        return self.record(**data)


def said(text: str) -> dict[str, str]:
    """Metadata that describes a member in the published contract."""
    return {"description": text}


class CellSchema(RecordSchema):
    """A place in a workbook."""

    record = Cell
    sheet = fields.String(required=True, metadata=said("Tab name."))
    address = fields.String(required=True, metadata=said("Address such as C5."))


class ProblemRowSchema(RecordSchema):
    """One fault."""

    record = Problem
    code = fields.Enum(Code, by_value=True, required=True, metadata=said("Stable name, explained at /problems/{code}."))
    severity = fields.Enum(
        Severity,
        by_value=True,
        required=True,
        metadata=said("An error refuses the sheet, the others travel with the quote."),
    )
    pointer = fields.String(required=True, metadata=said("JSON Pointer (RFC 6901) into the job document."))
    cell = fields.Nested(
        CellSchema, allow_none=True, metadata=said("Where it stands in the workbook, if there is one.")
    )
    found = fields.String(metadata=said("What stood there."))
    detail = fields.String(required=True, metadata=said("What is wrong."))
    help = fields.String(metadata=said("What to type or do instead."))


class ProblemBodySchema(Schema):
    """A refusal (RFC 9457); `problems` and `problem_count` are there when a sheet or document was read."""

    type = fields.String(required=True, metadata=said("Address of the page that explains this kind of refusal."))
    title = fields.String(required=True, metadata=said("The kind of refusal, in words."))
    status = fields.Integer(required=True, metadata=said("HTTP status."))
    detail = fields.String(metadata=said("What happened this time."))
    instance = fields.String(metadata=said("The request it is about."))
    problems = fields.List(fields.Nested(ProblemRowSchema), metadata=said(f"The faults, {MOST_TOLD} at most."))
    problem_count = fields.Integer(metadata=said("How many there are in all."))


_ROWS = ProblemRowSchema(many=True)


def problem_rows(problems: Iterable[Problem]) -> list[dict[str, Any]]:
    """Rows `{code, severity, pointer, cell, found, detail, help}` in the order given."""
    return cast("list[dict[str, Any]]", _ROWS.dump(list(problems)))


def problem_body(
    problems: Iterable[Problem],
    *,
    type: str,  # noqa: A002 - RFC 9457's member
    title: str,
    status: int,
    detail: str = "",
    instance: str = "",
) -> dict[str, Any]:
    """Body of a refusal: the members of RFC 9457, at most 200 problem rows, and the count of all.

    Past 200 the errors come first, so that no error is dropped for a note.
    """
    every = list(problems)
    if len(every) > MOST_TOLD:
        every.sort(key=lambda problem: list(Severity).index(problem.severity))
    body: dict[str, Any] = {"type": type, "title": title, "status": status}
    body |= {key: text for key, text in (("detail", detail), ("instance", instance)) if text}
    return body | {"problems": problem_rows(every[:MOST_TOLD]), "problem_count": len(every)}
