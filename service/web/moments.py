"""Moments as text."""

from __future__ import annotations

from datetime import UTC
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime


def moment_text(moment: datetime) -> str:
    """RFC 3339 in UTC with milliseconds: `2026-11-25T07:30:00.000Z`."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
