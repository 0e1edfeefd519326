"""One valid sheet and its variants: harmless ones give the identical quote, faulty ones the one fault at its cell."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from typing import TYPE_CHECKING, Any

import pytest

from schemas.quote import quote_document
from service.estimate.quote.model import Quote
from service.jobs.desk import Refused
from service.jobs.estimating import Understood, estimate_of, understood
from service.jobs.reading import Workbook, sheet_reading
from tests.pipeline.estimates import sample_price_list
from tests.sheets.base_sheet import base
from tests.sheets.variants_faulty import FAULTY, Faulty
from tests.sheets.variants_harmless import HARMLESS, Harmless

if TYPE_CHECKING:
    from service.survey import Survey

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)


def job_of(data: bytes) -> Understood:
    """The workbook read and understood."""
    return understood(sheet_reading(Workbook(data)))


def document_of(job: Understood) -> dict[str, Any]:
    """The quote as JSON, with pointers in place of cells, which move with the columns, and the reader's remarks aside."""
    placeless = replace(job, reading=replace(job.reading, cells={}, problems=()))
    quote = estimate_of(placeless, sample_price_list(), "01900000-0000-7000-8000-000000000000", NOW)
    assert isinstance(quote, Quote), [problem.line() for problem in quote.problems]
    return quote_document(quote, office=True)


@cache
def base_quote() -> tuple[Survey | None, dict[str, Any]]:
    """The base sheet's survey and quote."""
    job = job_of(base())
    return job.survey, document_of(job)


def test_the_base_sheet_is_sound() -> None:
    """Nothing is said about the base sheet by the reader, and its quote holds what it ordered."""
    job = job_of(base())
    assert job.reading.problems == ()
    document = base_quote()[1]
    assert {"Three-piece crown", "Base and shoe", "Plain crown"} <= {
        run["assembly"] for room in document["rooms"] for run in room["runs"]
    }
    assert document["lines"]


@pytest.mark.parametrize("variant", HARMLESS, ids=lambda variant: variant.name)
def test_a_harmless_variant_gives_the_identical_quote(variant: Harmless) -> None:
    """What only looks different is priced the same, and the reader says no more about it than the table tells.

    The estimate is a pure function of the survey, so an equal survey is not estimated a second time.
    """
    job = job_of(variant.change(base()))
    assert [problem.line() for problem in job.problems if problem.is_error] == []
    assert sorted({problem.code.value for problem in job.reading.problems}) == sorted(variant.remarks)
    survey, document = base_quote()
    assert job.survey == survey or document_of(job) == document


@pytest.mark.parametrize("variant", FAULTY, ids=lambda variant: variant.name)
def test_a_faulty_variant_gives_the_one_fault_at_its_cell(variant: Faulty) -> None:
    """One slip is one error, at the cell where it was made, with words that help, and it makes no other error."""
    made = estimate_of(job_of(variant.change(base())), sample_price_list(), "x", NOW)
    assert isinstance(made, Refused)
    errors = [problem for problem in made.problems if problem.is_error]
    told = [(problem.code.value, str(problem.cell) if problem.cell else "") for problem in errors]
    assert told == [(variant.code, variant.cell)], [problem.line() for problem in errors]
    assert variant.says in f"{errors[0].detail} {errors[0].help}"


def test_there_are_enough_variants() -> None:
    """At least 150 of each kind, no name twice, and every fault that a cell can have among the faulty ones."""
    assert len(HARMLESS) >= 150
    assert len(FAULTY) >= 150
    assert max(Counter([variant.name for variant in HARMLESS] + [variant.name for variant in FAULTY]).values()) == 1
    codes = {variant.code for variant in FAULTY}
    assert codes >= {
        "length-not-understood", "length-between-marks", "length-is-date", "length-is-boolean", "formula-without-value",
        "formula-error", "number-not-understood", "number-out-of-range", "value-missing", "value-not-in-list", "merged-cells",
        "date-not-understood", "share-not-understood", "text-too-long", "text-not-understood", "heading-missing",
        "heading-duplicate", "item-duplicate", "tab-missing", "tab-unknown", "layout-unknown", "room-unknown", "wall-unknown",
        "assembly-unknown", "room-duplicate", "wall-duplicate", "trim-duplicate", "room-without-walls", "room-does-not-close",
    }  # fmt: skip
