"""What the jobs work with, handed in by whoever wires the service together."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

import uuid6

if TYPE_CHECKING:
    from collections.abc import Callable

    from service.problems import Problem
    from service.storage.database import Database


@dataclass(frozen=True, slots=True)
class Desk:
    """Database, key pepper, clock and fresh ids. The clock answers in UTC."""

    database: Database
    pepper: bytes
    now: Callable[[], datetime]
    new_id: Callable[[], str]


@dataclass(frozen=True, slots=True)
class Refused:
    """A job that was not done: every fault found, placed, errors first. Nothing was stored."""

    problems: tuple[Problem, ...]


def utc_now() -> datetime:
    """The present moment in UTC, to the millisecond, as answers print it."""
    now = datetime.now(UTC)
    return now.replace(microsecond=now.microsecond // 1000 * 1000)


def fresh_id() -> str:
    """A new UUIDv7 (RFC 9562): ids sort by creation."""
    return str(uuid6.uuid7())
