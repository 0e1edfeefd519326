"""The JSON door: pointers for every fault, no float where exactness counts, and fast answers to hostile documents."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from schemas.fields.lengths import LengthField, LengthList
from schemas.fields.numbers import Money
from schemas.records import One, Rows
from schemas.room_sheet import DiscountField, JobDocumentSchema
from service.web.faults import RequestCode
from tests.web.office import Caller, count_of, sample_document

if TYPE_CHECKING:
    from collections.abc import Iterator

    from marshmallow import Schema

    from tests.web.office import Office

JSON = "application/json"
Path = tuple[str | int, ...]


def fields_of(schema: Schema, path: Path = ()) -> Iterator[tuple[Path, object]]:
    """Every member of a declared document with its path; lists by their first row."""
    for name, field in schema.load_fields.items():
        place = (*path, field.data_key or name)
        if isinstance(field, One):
            yield place, field
            yield from fields_of(field.schema, place)
        elif isinstance(field, Rows):
            yield (*place, 0), field
            yield from fields_of(field.schema, (*place, 0))
        else:
            yield place, field


MEMBERS = list(fields_of(JobDocumentSchema()))
EXACT = [path for path, field in MEMBERS if isinstance(field, (LengthField, LengthList, Money, DiscountField))]
OBJECTS: list[Path] = [(), *(path for path, field in MEMBERS if isinstance(field, (One, Rows)))]


def with_value(path: Path, value: object) -> dict[str, Any]:
    """The sample document with one value put in, and the objects and rows on the way to it where there are none."""
    document = sample_document()
    place: Any = document
    for key, following in zip(path, (*path[1:], None), strict=True):
        if following is None:
            place[key] = value
        elif isinstance(place, dict):
            place = place.setdefault(key, [] if isinstance(following, int) else {})
        elif key < len(place):
            place = place[key]
        else:
            place.append({})
            place = place[key]
    return document


def pointer(path: Path) -> str:
    """RFC 6901."""
    return "".join(f"/{key}" for key in path)


def faults(caller: Caller, document: object) -> list[tuple[str, str]]:
    """Code and pointer of each error that a check answers with, which has pointers and no cells."""
    answer = caller.post("/v1/sheet-checks", json.dumps(document).encode(), Content_Type=JSON)
    assert answer.status_code == 422, answer.get_data(as_text=True)
    assert all(problem.get("cell") is None for problem in answer.json["problems"])
    return [
        (problem["code"], problem["pointer"]) for problem in answer.json["problems"] if problem["severity"] == "error"
    ]


def test_the_walk_finds_what_must_be_exact() -> None:
    """Lengths and money of the room sheet (its columns counted by hand): seventeen lengths, a price and a discount."""
    assert len(EXACT) == 17 + 2
    assert ("rooms", 0, "walls", 0, "length") in EXACT
    assert ("extras", 0, "unit_price") in EXACT
    assert len(OBJECTS) >= 10


@pytest.mark.parametrize("path", EXACT, ids=pointer)
def test_a_float_is_refused_where_a_length_or_money_stands(estimator: Caller, path: Path) -> None:
    """A JSON fraction in any length or amount is a fault at its pointer; the exact text is what the contract takes."""
    wanted = {"not-understood"}
    told = {place: code for code, place in faults(estimator, with_value(path, 97.5))}
    assert {told[pointer(path)].split("-", 1)[1]} == wanted


@pytest.mark.parametrize("path", EXACT, ids=pointer)
def test_a_float_in_a_list_or_object_is_refused_too(estimator: Caller, path: Path) -> None:
    """`{"in": 97.5}`, `{"amount": 97.5}` and `[97.5]` are no way around it."""
    for value in ({"in": 97.5}, {"mm": 97.5}, {"amount": 97.5, "currency": "USD"}, [97.5]):
        told = [place for _, place in faults(estimator, with_value(path, value))]
        assert any(place == pointer(path) or place.startswith(pointer(path) + "/") for place in told)


@pytest.mark.parametrize("path", OBJECTS, ids=pointer)
def test_an_unknown_member_is_a_fault_in_every_object(estimator: Caller, path: Path) -> None:
    """Nothing on a job is silently ignored: a member that no object has is told at its pointer."""
    told = faults(estimator, with_value((*path, "colour"), "oak"))
    assert ("member-unknown", pointer((*path, "colour"))) in told


DEEP = {
    "lists": "[" * 10_000 + "]" * 10_000,
    "objects": '{"a":' * 10_000 + "1" + "}" * 10_000,
    "both": '{"rooms":[' * 10_000 + "1" + "]}" * 10_000,
    "unclosed": '{"a":[' * 10_000,
    "in a room": '{"rooms": ' + "[" * 10_000 + "]" * 10_000 + "}",
    "a thousand": "[" * 1_000 + "]" * 1_000,
}
NO_NUMBERS = [
    "1e400",
    "-1e400",
    "NaN",
    "Infinity",
    "-Infinity",
    "1" * 5000,
    "-" + "9" * 100_000,
    "1" + "0" * 4400 + ".5",
]


@pytest.mark.parametrize("door", ["/v1/sheet-checks", "/v1/quotes"])
@pytest.mark.parametrize("body", DEEP.values(), ids=DEEP)
def test_deep_nesting_is_answered(estimator: Caller, office: Office, door: str, body: str) -> None:
    """Ten thousand levels are one refusal of the body, with or without a key for repeats, and nothing is stored."""
    for headers in ({}, {"Idempotency_Key": "0123456789abcdef"}):
        answer = estimator.post(door, body.encode(), Content_Type=JSON, **headers)
        assert answer.status_code == 422
        assert answer.json["type"].endswith(RequestCode.BODY_NOT_UNDERSTOOD.value)
    assert count_of(office.desk, "quotes") == 0


@pytest.mark.parametrize("depth", [10, 100, 400, 700, 800, 900, 930, 950, 960, 970, 980, 990])
def test_any_depth_is_answered(estimator: Caller, depth: int) -> None:
    """Just below what the parser takes, a deep value is a fault of the document and never an accident."""
    for opening, closing in (("[", "]"), ('{"a":', "}")):
        value = opening * depth + "1" + closing * depth
        for member in ("job", "rooms", "extras", "other"):
            body = f'{{"layout": 1, "{member}": {value}}}'.encode()
            answer = estimator.post("/v1/quotes", body, Content_Type=JSON, Idempotency_Key="0123456789abcdef")
            assert answer.status_code == 422, (depth, member, answer.get_data(as_text=True))


@pytest.mark.parametrize("number", NO_NUMBERS, ids=lambda number: number[:12])
def test_numbers_that_json_does_not_have_or_no_job_needs(estimator: Caller, number: str) -> None:
    """Infinite, undefined and endless numbers are refused, as a body or at their member, and never calculated with."""
    body = json.dumps(with_value(("rooms", 0, "walls", 0, "length"), "@")).replace('"@"', number)
    answer = estimator.post("/v1/sheet-checks", body.encode(), Content_Type=JSON)
    assert answer.status_code == 422
    if not answer.json["type"].endswith(RequestCode.BODY_NOT_UNDERSTOOD.value):
        assert [problem["pointer"] for problem in answer.json["problems"]] == ["/rooms/0/walls/0/length"]
    assert len(answer.data) < 5_000
