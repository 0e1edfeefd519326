"""Hours fed back for quotes: each posting is a version that stays, the newest one counts."""

from __future__ import annotations

import json
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from sqlalchemy import func, insert, select

from service.estimate.calibration import BookedTask, PlannedTask
from service.storage.tables import ACTUALS, QUOTES

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date, datetime

    from sqlalchemy import Connection, Row


@dataclass(frozen=True, slots=True)
class StoredActuals:
    """One version of a quote's hours.

    Attributes:
        quote_id, version: which quote, and how many postings it is.
        finished_on: last day on site.
        tasks: what was booked.
        planned: what the quote planned, by task; kept beside the hours so that rates are compared without reading whole
            quotes. A quote's content never changes, so neither does this.
        created_at: when it was posted.
    """

    quote_id: str
    version: int
    finished_on: date | None
    tasks: tuple[BookedTask, ...]
    planned: Mapping[str, PlannedTask]
    created_at: datetime


_COLUMNS = tuple(ACTUALS.c[name] for name in StoredActuals.__dataclass_fields__)


def actuals_kept(
    connection: Connection,
    quote_id: str,
    planned: Mapping[str, PlannedTask],
    tasks: tuple[BookedTask, ...],
    finished_on: date | None,
    now: datetime,
) -> StoredActuals:
    """Keep hours as the next version of a quote's; hours equal to the last version make none."""
    last = actuals_of(connection, quote_id)
    if last is not None and (last.tasks, last.finished_on) == (tasks, finished_on):
        return last
    kept = StoredActuals(quote_id, last.version + 1 if last else 1, finished_on, tasks, planned, now)
    row = {name: getattr(kept, name) for name in StoredActuals.__dataclass_fields__}
    written = {"tasks": _tasks_text(tasks), "planned": _planned_text(planned)}
    connection.execute(insert(ACTUALS).values(**row | written))
    return kept


def actuals_of(connection: Connection, quote_id: str, version: int | None = None) -> StoredActuals | None:
    """A version of a quote's hours, the newest one when no number is given; None when there is none."""
    query = select(*_COLUMNS).where(ACTUALS.c.quote_id == quote_id).order_by(ACTUALS.c.version.desc()).limit(1)
    row = connection.execute(query if version is None else query.where(ACTUALS.c.version == version)).first()
    return _read(row) if row else None


def finished_jobs(connection: Connection, firm_id: str) -> tuple[StoredActuals, ...]:
    """The newest hours of every quote of a firm that has any, oldest quote first."""
    versions = ACTUALS.alias()
    newest = select(func.max(versions.c.version)).where(versions.c.quote_id == QUOTES.c.id).scalar_subquery()
    query = (
        select(*_COLUMNS)
        .join_from(ACTUALS, QUOTES)
        .where(QUOTES.c.firm_id == firm_id, ACTUALS.c.version == newest)
        .order_by(QUOTES.c.id)
    )
    return tuple(_read(row) for row in connection.execute(query))


def _tasks_text(tasks: tuple[BookedTask, ...]) -> str:
    rows = [[item.task, str(item.hours), item.note] for item in tasks]
    return json.dumps(rows, ensure_ascii=False)


def _planned_text(planned: Mapping[str, PlannedTask]) -> str:
    rows = [[item.task, item.unit, str(item.quantity), str(item.hours), str(item.rate)] for item in planned.values()]
    return json.dumps(rows, ensure_ascii=False)


def _read(row: Row[Any]) -> StoredActuals:
    tasks = tuple(BookedTask(task, Decimal(hours), note) for task, hours, note in json.loads(row.tasks))
    planned = {
        task: PlannedTask(task, unit, Decimal(quantity), Decimal(hours), Decimal(rate))
        for task, unit, quantity, hours, rate in json.loads(row.planned)
    }
    return StoredActuals(row.quote_id, row.version, row.finished_on, tasks, planned, row.created_at)
