"""Firms: who owns what is stored."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sqlalchemy import insert, select, update

from service.storage.tables import FIRMS

if TYPE_CHECKING:
    from datetime import datetime

    from sqlalchemy import Connection

FIRST_NUMBER = 1001


@dataclass(frozen=True, slots=True)
class StoredFirm:
    """A firm by id and name."""

    id: str
    name: str


def firm_added(connection: Connection, firm: StoredFirm, now: datetime) -> None:
    """Keep a new firm; its first quote will have number 1001."""
    connection.execute(
        insert(FIRMS).values(id=firm.id, name=firm.name, created_at=now, last_number=FIRST_NUMBER - 1),
    )


def first_firm(connection: Connection) -> StoredFirm | None:
    """The oldest firm, or None in an empty folder."""
    row = connection.execute(select(FIRMS.c.id, FIRMS.c.name).order_by(FIRMS.c.created_at, FIRMS.c.id).limit(1)).first()
    return StoredFirm(row.id, row.name) if row else None


def next_number(connection: Connection, firm_id: str) -> int:
    """The firm's next quote number, allotted for good within the caller's writing transaction."""
    allotted = update(FIRMS).where(FIRMS.c.id == firm_id).values(last_number=FIRMS.c.last_number + 1)
    return int(connection.execute(allotted.returning(FIRMS.c.last_number)).scalar_one())
