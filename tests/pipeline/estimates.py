"""Estimates of the invented sample sheets and of invented rooms, by the sample price list."""

from __future__ import annotations

from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from schemas.job import survey_from
from schemas.price_list import price_list_from
from service.estimate.pipeline import estimated
from service.estimate.quote.model import Heading, Quote, Status
from service.sheets.reader import read_price_list, read_room_sheet
from service.survey import Job, Room, Survey, TrimOrder
from service.trade.book import shipped_book
from service.units import Units

if TYPE_CHECKING:
    from service.firm import PriceList

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
HEADING = Heading(
    "01900000-0000-7000-8000-000000000000", None, 1, Status.DRAFT,
    datetime(2026, 3, 2, 15, 30, tzinfo=UTC), date(2026, 4, 1),
)  # fmt: skip


@cache
def sample_price_list() -> PriceList:
    """The sample price list as the service reads it."""
    reading = read_price_list((SAMPLES / "price_list.xlsx").read_bytes())
    price_list, problems = price_list_from(reading.document, name="standard", version=1)
    assert price_list is not None, [problem.line() for problem in problems]
    return price_list


@cache
def sample_survey(name: str) -> Survey:
    """A sample sheet as the service reads it."""
    reading = read_room_sheet((SAMPLES / f"{name}.xlsx").read_bytes())
    survey, problems = survey_from(reading.document)
    assert survey is not None, [problem.line() for problem in problems]
    return survey


@cache
def sample_quote(name: str) -> Quote:
    """A sample sheet's quote."""
    return quote_of(sample_survey(name))


def quote_of(survey: Survey, price_list: PriceList | None = None) -> Quote:
    """A quote; any error fails the test."""
    quote, problems = estimated(survey, price_list or sample_price_list(), shipped_book(), HEADING)
    assert quote is not None, [problem.line() for problem in problems]
    return quote


def survey_of(*rooms: Room, trim: tuple[TrimOrder, ...]) -> Survey:
    """A survey of invented rooms."""
    job = Job("/job", "Test job", "Invented Customer", "1 Nowhere Lane", Units.IMPERIAL, year_built=2005)
    return Survey(job, rooms, trim)
