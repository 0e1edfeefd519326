"""Whatever is sent as a document gives problems, never an exception."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from schemas.job import sound_rooms, survey_from
from schemas.price_list import price_list_from
from schemas.problem import problem_body
from tests.schemas.examples import imperial, metric, prices

scalars = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=12), st.sampled_from([1, -1]).map(lambda sign: sign * 10**5000),
    st.sampled_from(["all", "A", "Dining", "12' 6\"", "1e999", "NaN", "yes", "\ud800", "\x00", "-0", "½", "100%", "%", "°"]),
    st.binary(max_size=3), st.decimals(), st.dates(),
)  # fmt: skip
anything = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=8,
)


def places(document: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Path of every member and item of a document."""
    keys = document.keys() if isinstance(document, dict) else range(len(document)) if isinstance(document, list) else ()
    return [found for key in keys for found in ((*path, key), *places(document[key], (*path, key)))]


def replaced(document: Any, path: tuple[Any, ...], value: object) -> Any:
    """The document with one value changed."""
    place = document
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return document


def check(document: object) -> None:
    """Both readers answer with a record or with errors, and the answer can be sent."""
    for found, problems in (survey_from(document), price_list_from(document, name="s", version=1)):
        assert (found is None) == any(problem.is_error for problem in problems)
        json.dumps(problem_body(problems, type="about:blank", title="x", status=422)).encode("utf-8")
        assert all(len(problem.found) <= 80 for problem in problems)
    sound_rooms(document)


@given(anything)
def test_any_value_is_read_without_an_exception(document: object) -> None:
    """JSON or not, whatever its shape."""
    check(document)


@settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.data())
def test_a_good_document_with_one_value_spoiled(data: st.DataObject) -> None:
    """Any value in any place of a full document."""
    document = data.draw(st.sampled_from([imperial, metric, prices]))()
    path = data.draw(st.sampled_from(places(document)))
    check(replaced(document, path, data.draw(anything)))


@pytest.mark.parametrize("depth", [100, 5000])
def test_deep_nesting_is_no_danger(depth: int) -> None:
    """Nesting that would overflow a recursive reader is one fault at its member."""
    deep: Any = "x"
    for _ in range(depth):
        deep = {"rooms": [deep]} if depth % 2 else [deep]
    check(deep)
    for member in ("layout", "job", "rooms", "trim", "other"):
        document = imperial()
        document[member] = deep
        check(document)


def test_many_faults_stay_fast_and_small() -> None:
    """A document of nothing but faults answers with 200 rows and the count."""
    document = imperial()
    document["trim"] = [{"room": "nowhere", "walls": "?", "assembly": "x", "colour": "red"} for _ in range(2000)]
    _, problems = survey_from(document)
    body = problem_body(problems, type="about:blank", title="x", status=422)
    assert len(body["problems"]) == 200
    assert body["problem_count"] == len(problems) == 4000


def test_trim_on_more_walls_than_any_house_has_is_refused() -> None:
    """Rows that together dress tens of thousands of walls are one fault, found without walking them all."""
    walls = [{"name": f"W{n}", "length": "1'", "corner": "inside"} for n in range(200)]
    document = imperial()
    document["rooms"] = [{"name": f"R{n}", "ceiling_height": "8'", "walls": walls} for n in range(10)]
    document["trim"] = [{"room": "all", "walls": "all", "assembly": f"X{n}"} for n in range(50)]
    document["extras"] = []
    _, problems = survey_from(document)
    assert [(problem.code, problem.pointer) for problem in problems] == [("number-out-of-range", "/trim")]
