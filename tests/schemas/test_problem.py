"""Problems as JSON: rows as the contract prints them, the body of RFC 9457, every code explained."""

from __future__ import annotations

import pytest

from schemas.codes import EXPLANATIONS
from schemas.problem import ProblemRowSchema, problem_body, problem_rows
from service.problems import Cell, Code, Problem, Severity
from service.units import LengthFault, Units, parsed_length

ERROR = Problem(
    Code.LENGTH_IS_DATE,
    Severity.ERROR,
    "/rooms/0/walls/1/length",
    "It is a date.",
    "Type 1/2.",
    "2 Jan",
    Cell("Walls", "C5"),
)
NOTE = Problem(Code.TAB_UNKNOWN, Severity.NOTE, "", "Not read.")


def test_a_row_has_the_contracts_members() -> None:
    """Code, severity, pointer, cell, found, detail, help; no cell is null."""
    assert problem_rows([ERROR, NOTE]) == [
        {"code": "length-is-date", "severity": "error", "pointer": "/rooms/0/walls/1/length",
         "cell": {"sheet": "Walls", "address": "C5"}, "found": "2 Jan", "detail": "It is a date.", "help": "Type 1/2."},
        {"code": "tab-unknown", "severity": "note", "pointer": "", "cell": None, "found": "", "detail": "Not read.", "help": ""},
    ]  # fmt: skip


def test_rows_read_back() -> None:
    """A stored warning becomes the same problem again."""
    assert tuple(ProblemRowSchema(many=True).load(problem_rows([ERROR, NOTE]))) == (ERROR, NOTE)


def test_the_body_is_rfc_9457() -> None:
    """The standard's members first, then the rows and their count; empty ones are left out."""
    body = problem_body(
        [ERROR], type="https://example.org/problems/x", title="Refused", status=422, instance="/v1/sheet-checks"
    )
    assert list(body) == ["type", "title", "status", "instance", "problems", "problem_count"]
    assert body["status"] == 422
    assert body["problem_count"] == 1


def test_no_error_is_dropped_for_a_note() -> None:
    """Past 200 rows the errors come first and the count tells of all."""
    notes = [Problem(Code.TAB_UNKNOWN, Severity.NOTE, f"/{n}", "Not read.") for n in range(250)]
    body = problem_body([*notes, ERROR], type="about:blank", title="x", status=422)
    assert len(body["problems"]) == 200
    assert body["problems"][0]["code"] == "length-is-date"
    assert body["problem_count"] == 251


@pytest.mark.parametrize("code", list(Code))
def test_every_code_is_explained(code: Code) -> None:
    """A title, a meaning in sentences, a wrong and a right example that differ."""
    words = EXPLANATIONS[code]
    assert words.title
    assert not words.title.endswith(".")
    assert words.meaning.endswith(".")
    assert words.wrong
    assert words.right
    assert words.wrong != words.right


def test_no_explanation_is_left_without_its_code() -> None:
    """What is documented exists."""
    assert set(EXPLANATIONS) == set(Code)


def test_the_examples_of_lengths_are_true() -> None:
    """Each length called wrong is refused, each called right is read."""
    words = EXPLANATIONS[Code.LENGTH_NOT_UNDERSTOOD]
    for text in words.wrong.replace(" or ", ", ").split(", "):
        with pytest.raises(LengthFault):
            parsed_length(text, Units.IMPERIAL)
    for text in words.right.replace(" or ", ", ").split(", "):
        parsed_length(text, Units.IMPERIAL)
