"""Quotes of the sample sheets with the steps behind their lines, as the office is answered."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import cache
from typing import Any

from schemas.quote import quote_document
from service.estimate.quote.model import Quote
from service.jobs.estimating import estimate_of, understood
from service.jobs.reading import Workbook, sheet_reading
from tests.explain.sources import SAMPLES
from tests.pipeline.estimates import sample_price_list

GOOD = sorted(path.stem for path in SAMPLES.glob("*.xlsx") if path.stem not in {"price_list", "broken"})


@cache
def answered(name: str) -> dict[str, Any]:
    """The JSON of a sample sheet's quote."""
    job = understood(sheet_reading(Workbook((SAMPLES / f"{name}.xlsx").read_bytes())))
    quote = estimate_of(
        job, sample_price_list(), "01900000-0000-7000-8000-000000000000", datetime(2026, 3, 2, tzinfo=UTC)
    )
    assert isinstance(quote, Quote), quote
    return quote_document(quote, office=True)


def steps_of(name: str) -> dict[int, dict[str, Any]]:
    """Every step of a sample's quote, by number."""
    return {step["step"]: step for step in answered(name)["explain"]["steps"]}


def line_coded(name: str, code: str) -> int:
    """Number of the first line of this code."""
    return next(int(line["number"]) for line in answered(name)["lines"] if line["code"] == code)
