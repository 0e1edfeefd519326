"""A dry run is the real run: a check of a sheet says what making a quote of it would say, to the last word."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from tests.sheets.base_sheet import base
from tests.sheets.variants_faulty import FAULTY
from tests.sheets.variants_harmless import HARMLESS
from tests.web.office import SAMPLES, Caller, Founded, Office, changed, count_of, office_in, sample_document

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator


def _sample(name: str) -> Callable[[], bytes]:
    return (SAMPLES / name).read_bytes


def _variant(change: Callable[[bytes], bytes]) -> Callable[[], bytes]:
    return lambda: change(base())


SHEETS: dict[str, Callable[[], bytes]] = {
    **{path.name: _sample(path.name) for path in sorted(SAMPLES.glob("*.xlsx"))},
    **{variant.name: _variant(variant.change) for variant in HARMLESS if variant.remarks},
    "the base sheet": base,
    "empty": bytes,
    "a photograph": lambda: b"\xff\xd8\xff\xe0" + bytes(400),
    "cut off": lambda: base()[:4000],
    "text": lambda: b"Room,Wall\nHall,A\n",
    "an unknown price list": lambda: changed("rectangle.xlsx", {"Job!B10": "of last year"}),
}
"""Sound and unreadable sheets, and the harmless variants about which the reader has something to say."""


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory, founded: Founded) -> Iterator[Office]:
    """One office for all sheets: a check leaves nothing behind, and a quote only itself."""
    with office_in(tmp_path_factory.mktemp("dry") / "data", founded) as made:
        yield made


@pytest.fixture(scope="module")
def caller(desk: Office) -> Caller:
    """The office's key at work."""
    return Caller(desk.app().test_client(), desk.keys["office"])


def both(caller: Caller, data: bytes, **headers: str) -> tuple[Any, Any]:
    """The answers of the check and of the quote."""
    return caller.post("/v1/sheet-checks", data, **headers), caller.post("/v1/quotes", data, **headers)


def said(answer: Any) -> tuple[int, list[dict[str, Any]]]:
    """Status, and every problem that an answer carries; those of a quote are its warnings."""
    body = answer.json
    problems = body.get("problems", body.get("warnings"))
    return answer.status_code, problems


@pytest.mark.parametrize("name", SHEETS)
def test_a_check_says_what_the_quote_would_say(desk: Office, caller: Caller, name: str) -> None:
    """Both refuse a sheet with the same problems, or neither does and both carry the same warnings; a check stores nothing."""
    before, data = count_of(desk.desk, "quotes"), SHEETS[name]()
    dry = caller.post("/v1/sheet-checks", data)
    assert count_of(desk.desk, "quotes") == before
    real = caller.post("/v1/quotes", data)
    assert (dry.status_code, real.status_code) in {(200, 201), (422, 422), (413, 413), (415, 415)}
    assert said(dry)[1] == said(real)[1]
    assert count_of(desk.desk, "quotes") == before + (real.status_code == 201)


@pytest.mark.parametrize("variant", FAULTY, ids=lambda variant: variant.name)
def test_a_fault_is_the_same_in_both(caller: Caller, variant: Any) -> None:
    """Every faulty variant is refused by both with one and the same answer, trace aside."""
    dry, real = both(caller, variant.change(base()))
    assert (dry.status_code, real.status_code) == (422, 422)
    assert said(dry) == said(real)
    assert dry.json["problem_count"] == real.json["problem_count"]
    assert [problem["code"] for problem in dry.json["problems"] if problem["severity"] == "error"] == [variant.code]


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("job", None), ("job", {}), ("rooms", []), ("trim", [{"room": "Attic", "walls": "all", "assembly": "x"}]), ("extra", 1),
        ("extras", [{"description": "x", "quantity": "1", "unit": "each", "unit_price": 35.5, "kind": "labor"}]),
    ],
)  # fmt: skip
def test_a_document_is_checked_as_it_is_quoted(caller: Caller, place: str, value: object) -> None:
    """The same holds for a JSON document: the same pointers, codes and words in both answers."""
    document = sample_document() | {place: value}
    dry, real = both(caller, json.dumps(document).encode(), Content_Type="application/json")
    assert (dry.status_code, real.status_code) == (422, 422)
    assert said(dry) == said(real)
    assert all(problem["pointer"] for problem in dry.json["problems"])
