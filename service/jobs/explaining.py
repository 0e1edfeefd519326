"""Why a line costs what it costs, as kept with the quote; nothing is worked out anew."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from schemas.explain import story_document
from service.storage.ledgers import has_ledger, ledger_of_quote

if TYPE_CHECKING:
    from service.jobs.desk import Desk
    from service.storage.quotes import StoredQuote


def line_explained(desk: Desk, stored: StoredQuote, line: int) -> dict[str, Any] | None:
    """The story of one line of a stored quote; None when it has no such line, or none was kept with it."""
    ledger = quote_ledger(desk, stored)
    return story_document(stored.document, ledger, line) if ledger else None


def quote_ledger(desk: Desk, stored: StoredQuote) -> dict[str, Any] | None:
    """Every step behind every line of a stored quote; None when none were kept with it."""
    with desk.database.reading() as connection:
        return ledger_of_quote(connection, stored.card.id)


def has_stories(desk: Desk, stored: StoredQuote) -> bool:
    """True when the quote was stored with the steps behind its lines."""
    with desk.database.reading() as connection:
        return has_ledger(connection, stored.card.id)
