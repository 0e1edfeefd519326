"""Quotes as stored: the office's JSON document beside the columns that lists and rules need."""

from __future__ import annotations

import json
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from sqlalchemy import insert, select, update

from service.storage.tables import QUOTES

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date, datetime

    from sqlalchemy import Connection, Row


@dataclass(frozen=True, slots=True)
class QuoteCard:
    """A quote in a list. `version` counts every change of the stored row; `total_cents` in the quote's currency."""

    id: str
    number: int
    revision: int
    status: str
    version: int
    created_at: datetime
    valid_until: date
    currency: str
    total_cents: int
    job_name: str
    customer: str

    @property
    def total(self) -> Decimal:
        """The total as money."""
        return Decimal(self.total_cents).scaleb(-2)


@dataclass(frozen=True, slots=True)
class StoredQuote:
    """A quote whole: its card and the office's document, schema 1."""

    card: QuoteCard
    document: dict[str, Any]
    has_workbook: bool


@dataclass(frozen=True, slots=True)
class Origin:
    """What a quote was made from: the job document, and the workbook's bytes when it came as one."""

    job_document: Mapping[str, Any]
    workbook: bytes | None


_CARD = tuple(QUOTES.c[name] for name in QuoteCard.__dataclass_fields__)


def quote_kept(
    connection: Connection, firm_id: str, card: QuoteCard, document: Mapping[str, Any], origin: Origin
) -> None:
    """Keep a new quote, whole."""
    columns = {name: getattr(card, name) for name in QuoteCard.__dataclass_fields__}
    stored = {"document": _json(document), "job_document": _json(origin.job_document), "workbook": origin.workbook}
    connection.execute(insert(QUOTES).values(firm_id=firm_id, **columns, **stored))


def quote_of(connection: Connection, firm_id: str, quote_id: str) -> StoredQuote | None:
    """A firm's quote by id; None when there is none or it is another firm's."""
    columns = (*_CARD, QUOTES.c.document, QUOTES.c.workbook.is_not(None).label("has_workbook"))
    row = connection.execute(select(*columns).where(QUOTES.c.firm_id == firm_id, QUOTES.c.id == quote_id)).first()
    return StoredQuote(_card(row), json.loads(row.document), bool(row.has_workbook)) if row else None


def workbook_of(connection: Connection, firm_id: str, quote_id: str) -> bytes | None:
    """The workbook a firm's quote was made from; None when it came as JSON or there is no such quote."""
    query = select(QUOTES.c.workbook).where(QUOTES.c.firm_id == firm_id, QUOTES.c.id == quote_id)
    return connection.execute(query).scalar_one_or_none()


def quotes_before(connection: Connection, firm_id: str, before: str | None, limit: int) -> tuple[QuoteCard, ...]:
    """A firm's quotes, newest first, those older than the quote `before`; ids sort by creation."""
    query = select(*_CARD).where(QUOTES.c.firm_id == firm_id).order_by(QUOTES.c.id.desc()).limit(limit)
    if before is not None:
        query = query.where(QUOTES.c.id < before)
    return tuple(_card(row) for row in connection.execute(query))


def status_kept(connection: Connection, firm_id: str, quote: StoredQuote, status: str) -> StoredQuote | None:
    """Change a quote's status; None, and nothing changed, when the row is no longer the version that was read."""
    document = {**quote.document, "status": status}
    unchanged = (QUOTES.c.firm_id == firm_id, QUOTES.c.id == quote.card.id, QUOTES.c.version == quote.card.version)
    change = update(QUOTES).where(*unchanged).values(
        status=status, version=QUOTES.c.version + 1, document=_json(document)
    )  # fmt: skip
    row = connection.execute(change.returning(*_CARD)).first()
    return StoredQuote(_card(row), document, quote.has_workbook) if row else None


def _card(row: Row[Any]) -> QuoteCard:
    return QuoteCard(*(getattr(row, name) for name in QuoteCard.__dataclass_fields__))


def _json(document: Mapping[str, Any]) -> str:
    return json.dumps(document, ensure_ascii=False, separators=(",", ":"))
