"""The published JSON Schema describes what is really answered and accepted (checked by a general validator)."""

from __future__ import annotations

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator

from schemas.problem import problem_body
from schemas.published import PUBLISHED, published_schemas
from schemas.quote import quote_document
from service.problems import Code, Problem, Severity
from tests.schemas.examples import changed, imperial, metric, prices, quote


def validator(name: str) -> Draft202012Validator:
    """A validator of one published object."""
    root: dict[str, Any] = {"$ref": f"#/components/schemas/{name}", "components": {"schemas": published_schemas()}}
    Draft202012Validator.check_schema(root)
    return Draft202012Validator(root)


def test_it_is_valid_openapi() -> None:
    """The objects stand in an OpenAPI 3.1 description."""
    description: Any = {
        "openapi": "3.1.0",
        "info": {"title": "x", "version": "1"},
        "paths": {},
        "components": {"schemas": published_schemas()},
    }
    assert list(OpenAPIV31SpecValidator(description).iter_errors()) == []


@pytest.mark.parametrize(
    ("name", "document"),
    [("JobDocument", imperial()), ("JobDocument", metric()), ("PriceList", prices()),
     ("Quote", quote_document(quote(), office=True)),
     ("ProblemBody", problem_body([Problem(Code.TAB_UNKNOWN, Severity.NOTE, "", "x")], type="about:blank", title="x", status=422))],
    ids=["imperial", "metric", "prices", "quote", "problem"],
)  # fmt: skip
def test_what_is_answered_and_accepted_matches(name: str, document: dict[str, Any]) -> None:
    """Good documents are valid by the published schema."""
    if name == "PriceList":
        document = changed(document, "/firm/currency", "USD")  # the schema prints the canonical spelling alone
        document["assemblies"] = document["assemblies"][:1]
        document = changed(document, "/conditions/2/from", "over stairs")
    assert [error.message for error in validator(name).iter_errors(json.loads(json.dumps(document)))] == []


@pytest.mark.parametrize(
    ("pointer", "value"),
    [("/rooms/0/walls/0/length", 14.5), ("/extras/0/unit_price", 65.5), ("/rooms/0/walls/0/lenght", "1")],
)
def test_what_is_refused_does_not_match(pointer: str, value: object) -> None:
    """A float as a length or as money and an unknown member are invalid by the published schema too."""
    assert list(validator("JobDocument").iter_errors(changed(imperial(), pointer, value)))


def test_every_member_is_described() -> None:
    """Each member of each object says what it is."""
    for name, schema in published_schemas().items():
        for member, words in schema["properties"].items():
            assert words.get("description"), f"{name}.{member}"
    assert set(PUBLISHED) <= set(published_schemas())
