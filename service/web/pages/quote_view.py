"""What the quote's page shows, from the stored quote."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from flask import url_for

from service.documents.words import area_text
from service.jobs.documents import quote_record
from service.jobs.explaining import has_stories
from service.web.pages.cutting_words import cutting_words
from service.web.wiring import desk

if TYPE_CHECKING:
    from service.estimate.quote.model import Quote
    from service.storage.quotes import StoredQuote


def quote_view(stored: StoredQuote) -> dict[str, Any]:
    """Words and figures of the page of one quote."""
    quote = quote_record(stored)
    return {
        "quote": quote,
        "card": stored.card,
        "has_workbook": stored.has_workbook,
        "pieces": Counter(piece.room for piece in quote.pieces),
        "room_price": price_by_room(quote),
        "area_text": area_text,
        "cutting_words": cutting_words(quote),
        "has_stories": has_stories(desk(), stored),
        "has_cancellation_notice": has_cancellation_notice(quote),
        "file": lambda name: _address(stored, name),
    }


def has_cancellation_notice(quote: Quote) -> bool:
    """True when one of the firm's own notices speaks of canceling; what such a notice must say is the law's business."""
    return any("cancel" in notice.text.casefold() for notice in quote.firm.notices)


def price_by_room(quote: Quote) -> dict[str | None, Decimal]:
    """Customer's price by room, lines for the whole job under None; adds up to the price before tax."""
    prices: dict[str | None, Decimal] = {room.name: Decimal("0.00") for room in quote.rooms}
    for line in quote.lines:
        prices[line.room] = prices.get(line.room, Decimal("0.00")) + line.amount
    return prices


def _address(stored: StoredQuote, name: str) -> str:
    if name == "source.xlsx":
        return url_for("pages.source", quote_id=stored.card.id)
    return url_for("pages.quote_file", quote_id=stored.card.id, name=name)
