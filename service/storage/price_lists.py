"""Price lists and their versions; a version never changes."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import uuid6
from sqlalchemy import insert, select, update

from service.storage.tables import PRICE_LIST_VERSIONS, PRICE_LISTS

if TYPE_CHECKING:
    from datetime import datetime

    from sqlalchemy import Connection, Row, Select


@dataclass(frozen=True, slots=True)
class StoredPriceList:
    """One version: the price-list document as JSON text, and the workbook it came from, if any."""

    name: str
    version: int
    created_at: datetime
    text: str
    workbook: bytes | None

    @property
    def document(self) -> dict[str, Any]:
        """The price-list document, a fresh copy each time."""
        document: dict[str, Any] = json.loads(self.text)
        return document


@dataclass(frozen=True, slots=True)
class PriceListDraft:
    """A price list to keep: name, document, and the workbook it came from, if any."""

    name: str
    document: dict[str, Any]
    workbook: bytes | None


@dataclass(frozen=True, slots=True)
class VersionMark:
    """A version by name, number and time."""

    name: str
    version: int
    created_at: datetime


def price_list_kept(connection: Connection, firm_id: str, draft: PriceListDraft, now: datetime) -> StoredPriceList:
    """Keep a draft as the next version of a firm's price list; one equal to the last version makes none."""
    last = price_list_version(connection, firm_id, draft.name)
    if last is not None and last.document == draft.document and last.workbook == draft.workbook:
        return last
    list_id, version = _next_version(connection, firm_id, draft.name, now)
    row = {"price_list_id": list_id, "version": version, "workbook": draft.workbook, "created_at": now}
    document = json.dumps(draft.document, ensure_ascii=False)
    connection.execute(insert(PRICE_LIST_VERSIONS).values(**row, document=document))
    return StoredPriceList(draft.name, version, now, document, draft.workbook)


def price_list_version(
    connection: Connection, firm_id: str, name: str, version: int | None = None
) -> StoredPriceList | None:
    """A version of a firm's price list, the last one when no number is given; None when there is none."""
    wanted = PRICE_LISTS.c.last_version if version is None else version
    row = connection.execute(_versions(firm_id, name).where(PRICE_LIST_VERSIONS.c.version == wanted)).first()
    return _stored(row) if row else None


def price_list_marks(connection: Connection, firm_id: str) -> tuple[VersionMark, ...]:
    """Last version of each of a firm's price lists, by name."""
    versions, lists = PRICE_LIST_VERSIONS.c, PRICE_LISTS.c
    query = (
        select(lists.name, versions.version, versions.created_at)
        .join_from(PRICE_LISTS, PRICE_LIST_VERSIONS)
        .where(lists.firm_id == firm_id, versions.version == lists.last_version)
        .order_by(lists.name)
    )
    return tuple(VersionMark(*row) for row in connection.execute(query))


def version_marks(connection: Connection, firm_id: str, name: str) -> tuple[VersionMark, ...]:
    """Every version of one price list, newest first; empty when there is no such list."""
    versions, lists = PRICE_LIST_VERSIONS.c, PRICE_LISTS.c
    query = (
        select(lists.name, versions.version, versions.created_at)
        .join_from(PRICE_LISTS, PRICE_LIST_VERSIONS)
        .where(lists.firm_id == firm_id, lists.name == name)
        .order_by(versions.version.desc())
    )
    return tuple(VersionMark(*row) for row in connection.execute(query))


def _next_version(connection: Connection, firm_id: str, name: str, now: datetime) -> tuple[str, int]:
    mine = (PRICE_LISTS.c.firm_id == firm_id, PRICE_LISTS.c.name == name)
    raised = update(PRICE_LISTS).where(*mine).values(last_version=PRICE_LISTS.c.last_version + 1)
    row = connection.execute(raised.returning(PRICE_LISTS.c.id, PRICE_LISTS.c.last_version)).first()
    if row is not None:
        return row.id, row.last_version
    list_id = str(uuid6.uuid7())
    first = {"id": list_id, "firm_id": firm_id, "name": name, "created_at": now, "last_version": 1}
    connection.execute(insert(PRICE_LISTS).values(first))
    return list_id, 1


def _versions(firm_id: str, name: str) -> Select[Any]:
    versions, lists = PRICE_LIST_VERSIONS.c, PRICE_LISTS.c
    return (
        select(lists.name, versions.version, versions.created_at, versions.document, versions.workbook)
        .join_from(PRICE_LISTS, PRICE_LIST_VERSIONS)
        .where(lists.firm_id == firm_id, lists.name == name)
    )


def _stored(row: Row[Any]) -> StoredPriceList:
    return StoredPriceList(row.name, row.version, row.created_at, row.document, row.workbook)
