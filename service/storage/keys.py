"""Keys of programs and people: shown once, kept as a digest, compared in constant time.

A token reads `tq_{prefix}_{secret}`. The secret has 256 random bits, so a fast keyed digest
(HMAC-SHA-256 with the folder's pepper) guards it as well as a slow one would.
"""

from __future__ import annotations

import hmac
import re
import secrets
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Any

from sqlalchemy import insert, select, update

from service.storage.tables import KEYS

if TYPE_CHECKING:
    from datetime import datetime

    from sqlalchemy import Connection, Select

_TOKEN = re.compile(r"tq_([0-9a-f]{12})_([0-9A-Za-z_-]{43})")


class Role(StrEnum):
    """What a key may do: everything; read and quote; read documents."""

    OFFICE = "office"
    INTEGRATION = "integration"
    FIELD = "field"


@dataclass(frozen=True, slots=True)
class Key:
    """Who asks: key prefix, firm and role."""

    prefix: str
    firm_id: str
    role: Role


def key_created(connection: Connection, firm_id: str, role: Role, pepper: bytes, now: datetime) -> str:
    """Token of a new key; only its digest is kept, so this is the one time it can be read."""
    prefix, secret = secrets.token_hex(6), secrets.token_urlsafe(32)
    digest = _digest(pepper, prefix, secret)
    row = {"prefix": prefix, "firm_id": firm_id, "role": role.value, "digest": digest, "created_at": now}
    connection.execute(insert(KEYS).values(row))
    return f"tq_{prefix}_{secret}"


def key_of_token(connection: Connection, token: str, pepper: bytes) -> Key | None:
    """The live key that a token opens; None when it is malformed, unknown, wrong or revoked."""
    match = _TOKEN.fullmatch(token)
    if not match:
        return None
    prefix, secret = match.groups()
    row = connection.execute(_live(prefix)).first()
    expected = row.digest if row else ""
    if not hmac.compare_digest(expected, _digest(pepper, prefix, secret)) or row is None:
        return None
    return Key(prefix, row.firm_id, Role(row.role))


def live_key(connection: Connection, prefix: str) -> Key | None:
    """The live key with a prefix, for a cookie that was given for it; None when it is unknown or revoked."""
    row = connection.execute(_live(prefix)).first()
    return Key(prefix, row.firm_id, Role(row.role)) if row else None


def key_revoked(connection: Connection, prefix: str, now: datetime) -> None:
    """End a key; it never opens anything again."""
    connection.execute(update(KEYS).where(KEYS.c.prefix == prefix, KEYS.c.revoked_at.is_(None)).values(revoked_at=now))


def _live(prefix: str) -> Select[Any]:
    return select(KEYS.c.firm_id, KEYS.c.role, KEYS.c.digest).where(
        KEYS.c.prefix == prefix, KEYS.c.revoked_at.is_(None)
    )


def _digest(pepper: bytes, prefix: str, secret: str) -> str:
    return hmac.digest(pepper, f"{prefix}.{secret}".encode(), "sha256").hex()
