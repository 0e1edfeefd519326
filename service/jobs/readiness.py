"""Whether the service can do its work now."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from service.jobs.desk import Desk


def is_ready(desk: Desk) -> bool:
    """True when the database can be read and its tables are those of this program."""
    return desk.database.is_current()
