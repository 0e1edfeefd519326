"""Repeated requests: an `Idempotency-Key` remembered with the quote it made."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from sqlalchemy import delete, insert, select

from service.storage.tables import REPEATS

if TYPE_CHECKING:
    from datetime import datetime

    from sqlalchemy import Connection

KEPT_FOR = timedelta(hours=24)


@dataclass(frozen=True, slots=True)
class Repeat:
    """A request that must not act twice: who sent it, its name, and a fingerprint of what it asked."""

    key_prefix: str
    repeat_key: str
    fingerprint: str


@dataclass(frozen=True, slots=True)
class Remembered:
    """What an earlier request of the same name asked and made."""

    fingerprint: str
    quote_id: str


def remembered(connection: Connection, repeat: Repeat, now: datetime) -> Remembered | None:
    """The earlier request of the same name in the last 24 hours, or None."""
    mine = (REPEATS.c.key_prefix == repeat.key_prefix, REPEATS.c.repeat_key == repeat.repeat_key)
    query = select(REPEATS.c.fingerprint, REPEATS.c.quote_id).where(*mine, REPEATS.c.created_at > now - KEPT_FOR)
    row = connection.execute(query).first()
    return Remembered(row.fingerprint, row.quote_id) if row else None


def repeat_kept(connection: Connection, repeat: Repeat, quote_id: str, now: datetime) -> None:
    """Remember what a request made, and forget those older than 24 hours."""
    connection.execute(delete(REPEATS).where(REPEATS.c.created_at <= now - KEPT_FOR))
    row = {"repeat_key": repeat.repeat_key, "fingerprint": repeat.fingerprint, "quote_id": quote_id, "created_at": now}
    connection.execute(insert(REPEATS).values(key_prefix=repeat.key_prefix, **row))
