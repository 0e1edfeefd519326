"""Quotes: checked, made, found and listed."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from schemas.quote import quote_document
from service.jobs.desk import Refused
from service.jobs.estimating import estimate_of, named_list, understood
from service.jobs.price_lists import price_list_for
from service.jobs.reading import joined, sheet_reading
from service.storage.firms import next_number
from service.storage.ledgers import ledger_kept
from service.storage.quotes import Origin, QuoteCard, StoredQuote, quote_kept, quote_of, quotes_before, workbook_of
from service.storage.repeats import Remembered, Repeat, remembered, repeat_kept

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from service.estimate.quote.model import Quote
    from service.jobs.desk import Desk
    from service.jobs.estimating import Understood
    from service.jobs.reading import Source
    from service.problems import Problem
    from service.storage.database import Connection


@dataclass(frozen=True, slots=True)
class Summary:
    """A sheet in figures: rooms, walls, feet along the walls by assembly; what else was understood, counted by kind."""

    rooms: int
    walls: int
    feet: Mapping[str, Decimal]
    openings: Mapping[str, int]
    ceiling: Mapping[str, int]
    extras: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Checked:
    """A sheet that would become a quote: what is worth saying, and its figures."""

    remarks: tuple[Problem, ...]
    summary: Summary


@dataclass(frozen=True, slots=True)
class RepeatDiffers:
    """The same `Idempotency-Key` came before with another request."""


def sheet_checked(desk: Desk, firm_id: str, source: Source, wanted_list: str | None = None) -> Checked | Refused:
    """What making a quote of a sheet would find, by the same steps; nothing is stored."""
    estimate = _estimate(desk, firm_id, understood(sheet_reading(source)), wanted_list)
    return estimate if isinstance(estimate, Refused) else Checked(estimate.warnings, summary_of(estimate))


def quote_made(
    desk: Desk, firm_id: str, source: Source, wanted_list: str | None = None, repeat: Repeat | None = None
) -> StoredQuote | Refused | RepeatDiffers:
    """A quote made of a sheet and stored with the firm's next number; or every fault, and nothing stored.

    A repeat of an earlier request answers with the quote that one made.
    """
    earlier = _earlier(desk, firm_id, repeat)
    if earlier is not None:
        return earlier
    job = understood(sheet_reading(source))
    estimate = _estimate(desk, firm_id, job, wanted_list)
    if isinstance(estimate, Refused):
        return estimate
    with desk.database.writing() as connection:
        earlier = _replayed(connection, firm_id, repeat, desk.now())
        return earlier or _stored(connection, firm_id, estimate, _origin(job), repeat)


def quote_found(desk: Desk, firm_id: str, quote_id: str) -> StoredQuote | None:
    """A firm's quote by id; None when there is none or it is another firm's."""
    with desk.database.reading() as connection:
        return quote_of(connection, firm_id, quote_id)


def quote_workbook(desk: Desk, firm_id: str, quote_id: str) -> bytes | None:
    """The room sheet a quote was made of, byte for byte; None when it came as JSON."""
    with desk.database.reading() as connection:
        return workbook_of(connection, firm_id, quote_id)


def quotes_listed(desk: Desk, firm_id: str, before: str | None, limit: int) -> tuple[tuple[QuoteCard, ...], str | None]:
    """One page of a firm's quotes, newest first, and where the next page starts (None: this is the last)."""
    with desk.database.reading() as connection:
        cards = quotes_before(connection, firm_id, before, limit + 1)
    page = cards[:limit]
    return page, page[-1].id if len(cards) > limit else None


def summary_of(quote: Quote) -> Summary:
    """Rooms, walls, and feet of wall that each assembly goes along (its first layer's runs), to 0.01 ft."""
    feet: dict[str, Decimal] = {}
    for room in quote.rooms:
        first = {run.assembly: min(r.layer for r in room.runs if r.assembly == run.assembly) for run in room.runs}
        for run in room.runs:
            if run.layer == first[run.assembly]:
                feet[run.assembly] = feet.get(run.assembly, Decimal(0)) + run.length.decimal() / 12
    return Summary(
        len(quote.rooms),
        sum(len(room.walls) for room in quote.rooms),
        {name: value.quantize(Decimal("0.01")) for name, value in feet.items()},
        Counter(opening.kind.value for room in quote.rooms for opening in room.openings),
        Counter(feature.feature.value for room in quote.rooms for feature in room.features),
        Counter(line.kind.value for line in (*quote.lines, *quote.options) if line.code == "extra"),
    )


def _estimate(desk: Desk, firm_id: str, job: Understood, wanted_list: str | None) -> Quote | Refused:
    price_list = price_list_for(desk, firm_id, wanted_list, named_list(job))
    if isinstance(price_list, Refused):
        return Refused(joined(job.reading, job.problems, price_list.problems))
    return estimate_of(job, price_list, desk.new_id(), desk.now())


def _earlier(desk: Desk, firm_id: str, repeat: Repeat | None) -> StoredQuote | RepeatDiffers | None:
    if repeat is None:
        return None
    with desk.database.reading() as connection:
        return _replayed(connection, firm_id, repeat, desk.now())


def _replayed(
    connection: Connection, firm_id: str, repeat: Repeat | None, now: datetime
) -> StoredQuote | RepeatDiffers | None:
    found: Remembered | None = remembered(connection, repeat, now) if repeat else None
    if found is None or repeat is None:
        return None
    return quote_of(connection, firm_id, found.quote_id) if found.fingerprint == repeat.fingerprint else RepeatDiffers()


def _stored(
    connection: Connection, firm_id: str, estimate: Quote, origin: Origin, repeat: Repeat | None
) -> StoredQuote:
    number = next_number(connection, firm_id)
    quote = replace(estimate, number=str(number))
    card, document = _card(quote, number), quote_document(quote, office=True)
    ledger = document.pop("explain")
    quote_kept(connection, firm_id, card, document, origin)
    ledger_kept(connection, quote.id, ledger)
    if repeat is not None:
        repeat_kept(connection, repeat, quote.id, quote.created_at)
    return StoredQuote(card, document, has_workbook=origin.workbook is not None)


def _origin(job: Understood) -> Origin:
    document: dict[str, Any] = job.reading.document  # type: ignore[assignment] # the schema has accepted it
    return Origin(document, job.reading.workbook)


def _card(quote: Quote, number: int) -> QuoteCard:
    return QuoteCard(
        id=quote.id,
        number=number,
        revision=quote.revision,
        status=quote.status.value,
        version=1,
        created_at=quote.created_at,
        valid_until=quote.valid_until,
        currency=quote.currency,
        total_cents=int(quote.totals.total.scaleb(2)),
        job_name=quote.job.job_name,
        customer=quote.job.customer,
    )
