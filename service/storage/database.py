"""The database: one SQLite file in write-ahead mode; a writer takes its lock before it reads."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from alembic import command
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, create_engine, event, text
from sqlalchemy.exc import SQLAlchemyError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

__all__ = ["Connection", "Database", "migrations"]

_MIGRATIONS = "service.storage:migrations"
_PRAGMAS = (
    "PRAGMA journal_mode=WAL",
    "PRAGMA synchronous=NORMAL",
    "PRAGMA busy_timeout=5000",
    "PRAGMA foreign_keys=ON",
)


class Database:
    """Connections to one database file."""

    def __init__(self, path: Path) -> None:
        """Prepare connections to the file at `path`; nothing is opened or created yet."""
        self.path = path
        self._writer = _engine(path)
        self._reader = self._writer.execution_options(begin="BEGIN")

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """One consistent view of the data."""
        with self._reader.begin() as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """One transaction that holds the write lock from its start; committed unless an error leaves it."""
        with self._writer.begin() as connection:
            yield connection

    def migrate(self, revision: str = "head") -> None:
        """Bring the tables to a revision, upward, in one transaction that other starters wait for."""
        with self.writing() as connection:
            command.upgrade(migrations(connection), revision)

    def is_current(self) -> bool:
        """True when the file can be read and its tables are those of this program."""
        head = ScriptDirectory.from_config(migrations(None)).get_current_head()
        try:
            with self.reading() as connection:
                connection.execute(text("SELECT count(*) FROM firms"))
                return MigrationContext.configure(connection).get_current_revision() == head
        except SQLAlchemyError:
            return False

    def close(self) -> None:
        """Close every pooled connection."""
        self._writer.dispose()


def migrations(connection: Connection | None) -> Config:
    """Alembic's settings, with the connection that its scripts run on."""
    config = Config()
    config.set_main_option("script_location", _MIGRATIONS)
    config.attributes["connection"] = connection
    return config


def _engine(path: Path) -> Engine:
    engine = create_engine(f"sqlite:///{path}", execution_options={"begin": "BEGIN IMMEDIATE"})
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: Any, _record: object) -> None:  # noqa: ANN401 - the driver's connection has no type here
    connection.isolation_level = None
    cursor = connection.cursor()
    for pragma in _PRAGMAS:
        cursor.execute(pragma)
    cursor.close()


def _begin(connection: Connection) -> None:
    connection.exec_driver_sql(connection.get_execution_options()["begin"])
