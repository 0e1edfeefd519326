"""The data folder: database, pepper, and the firm that a new one holds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.storage.database import Database
from service.storage.pepper import pepper_in

if TYPE_CHECKING:
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class DataFolder:
    """An open data folder: its database, migrated, and its pepper."""

    database: Database
    pepper: bytes

    def close(self) -> None:
        """Close the database's connections."""
        self.database.close()


def opened(folder: Path) -> DataFolder:
    """Data folder at a path, created when it is not there, its tables brought up to date.

    Raises:
        OSError: when it cannot be created or written.
        PepperFault: when its pepper is damaged.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    pepper = pepper_in(folder)
    database = Database(folder / "trim_quote.sqlite3")
    database.migrate()
    return DataFolder(database, pepper)
