"""The steps behind every line of a quote, compressed beside it: few ask for them, and they outweigh the rest."""

from __future__ import annotations

import json
import zlib
from typing import TYPE_CHECKING, Any, cast

from sqlalchemy import insert, select

from service.storage.tables import LEDGERS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sqlalchemy import Connection


def ledger_kept(connection: Connection, quote_id: str, ledger: Mapping[str, Any]) -> None:
    """Keep the ledger of a new quote."""
    packed = zlib.compress(json.dumps(ledger, ensure_ascii=False, separators=(",", ":")).encode())
    connection.execute(insert(LEDGERS).values(quote_id=quote_id, packed=packed))


def ledger_of_quote(connection: Connection, quote_id: str) -> dict[str, Any] | None:
    """The ledger of a quote; None for one that was stored without."""
    packed = connection.execute(select(LEDGERS.c.packed).where(LEDGERS.c.quote_id == quote_id)).scalar_one_or_none()
    return None if packed is None else cast("dict[str, Any]", json.loads(zlib.decompress(packed)))


def has_ledger(connection: Connection, quote_id: str) -> bool:
    """True for a quote that was stored with its ledger."""
    return connection.execute(select(LEDGERS.c.quote_id).where(LEDGERS.c.quote_id == quote_id)).first() is not None
