"""Documents of a stored quote: made from what is stored, never from a new estimate."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from schemas.quote import quote_document, quote_from
from service.documents import cut_list_csv, field_sheet_pdf, lines_csv, order_list_csv, plan_svg, quote_pdf

if TYPE_CHECKING:
    from service.estimate.quote.model import Quote
    from service.storage.quotes import StoredQuote


def quote_json(stored: StoredQuote, *, office: bool) -> dict[str, Any]:
    """The quote as JSON; the office gets it as stored, others without cost, wages and margin."""
    return stored.document if office else quote_document(quote_from(stored.document), office=False)


def quote_record(stored: StoredQuote) -> Quote:
    """The stored quote as records."""
    return quote_from(stored.document)


def quote_as_pdf(stored: StoredQuote) -> bytes:
    """The customer's document."""
    return quote_pdf(quote_from(stored.document))


def field_sheet(stored: StoredQuote) -> bytes:
    """The field lead's document, without prices."""
    return field_sheet_pdf(quote_from(stored.document))


def lines(stored: StoredQuote, *, office: bool) -> str:
    """Price lines as CSV; the office's have their cost beside them."""
    return lines_csv(quote_from(stored.document), office)


def cut_list(stored: StoredQuote) -> str:
    """Every piece as CSV."""
    return cut_list_csv(quote_from(stored.document))


def order_list(stored: StoredQuote) -> str:
    """What to buy, as CSV."""
    return order_list_csv(quote_from(stored.document))


def plan(stored: StoredQuote, room_number: int) -> str | None:
    """Plan of one room as SVG; None when the quote has no such room."""
    quote = quote_from(stored.document)
    return plan_svg(quote, room_number) if any(room.number == room_number for room in quote.rooms) else None
