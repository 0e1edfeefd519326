"""From a reading and a price list to an estimate, with every fault of every stage on the way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from schemas.job import survey_from
from service.estimate.pipeline import estimated
from service.estimate.quote.model import Heading, Status
from service.jobs.bases import based_on_cells
from service.jobs.desk import Refused
from service.jobs.reading import joined
from service.jobs.second_look import second_look
from service.trade.book import shipped_book

if TYPE_CHECKING:
    from datetime import date, datetime

    from service.estimate.quote.model import Quote
    from service.firm import PriceList
    from service.jobs.reading import Reading
    from service.problems import Problem
    from service.survey import Survey


@dataclass(frozen=True, slots=True)
class Understood:
    """A document as a survey, or what kept it from becoming one. `survey` None: some problem is an error."""

    reading: Reading
    survey: Survey | None
    problems: tuple[Problem, ...]


def understood(reading: Reading) -> Understood:
    """The survey in a reading; None when the reader or the schema found an error."""
    if reading.document is None:
        return Understood(reading, None, ())
    survey, problems = survey_from(reading.document)
    return Understood(reading, None if reading.has_errors else survey, problems)


def estimate_of(job: Understood, price_list: PriceList, quote_id: str, now: datetime) -> Quote | Refused:
    """An estimate without number, dated now, its bases and warnings placed in cells; or every fault found."""
    if job.survey is None:
        return Refused(_all_faults(job, price_list, now))
    quote, problems = _estimated(job.survey, price_list, quote_id, now)
    found = joined(job.reading, job.problems, problems)
    if quote is None or any(problem.is_error for problem in found):
        return Refused(found)
    return replace(based_on_cells(quote, job.reading.cells), warnings=found)


def named_list(job: Understood) -> str | None:
    """The price list that a document names, also where the document as a whole was not understood."""
    if job.survey is not None:
        return job.survey.job.price_list
    document = job.reading.document
    items = document.get("job") if isinstance(document, Mapping) else None
    name = items.get("price_list") if isinstance(items, Mapping) else None
    return name if isinstance(name, str) else None


def _estimated(
    survey: Survey, price_list: PriceList, quote_id: str, now: datetime
) -> tuple[Quote | None, tuple[Problem, ...]]:
    heading = Heading(quote_id, None, 1, Status.DRAFT, now, valid_until(survey, price_list, now))
    return estimated(survey, price_list, shipped_book(), heading)


def _all_faults(job: Understood, price_list: PriceList, now: datetime) -> tuple[Problem, ...]:
    first = joined(job.reading, job.problems)
    more = second_look(
        job.reading.document, first, price_list, lambda survey: _estimated(survey, price_list, "", now)[1]
    )
    return joined(job.reading, job.problems, more)


def valid_until(survey: Survey, price_list: PriceList, now: datetime) -> date:
    """Last day of a quote made now, in the firm's time zone; the sheet's days beat the firm's."""
    days = survey.job.valid_for_days
    if days is None:
        days = price_list.settings.valid_for_days
    return now.astimezone(ZoneInfo(price_list.settings.time_zone)).date() + timedelta(days=days)
