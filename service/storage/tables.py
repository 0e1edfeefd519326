"""Tables: firms, keys, price lists and their versions, quotes, repeats, hours fed back, rates accepted from them."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from sqlalchemy import (
    Column,
    Date,
    DateTime,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
)

if TYPE_CHECKING:
    from sqlalchemy import Dialect

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
METADATA = MetaData(naming_convention=NAMING)


class UtcTime(TypeDecorator[datetime]):
    """A moment in UTC; one without a time zone is refused on the way in."""

    impl = DateTime
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Moment as stored: UTC, without its zone."""
        del dialect
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a stored moment needs a time zone")
        return value.astimezone(UTC).replace(tzinfo=None)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Moment as read: UTC, with its zone."""
        del dialect
        return None if value is None else value.replace(tzinfo=UTC)


FIRMS = Table(
    "firms",
    METADATA,
    Column("id", String(36), primary_key=True),
    Column("name", String(200), nullable=False),
    Column("created_at", UtcTime, nullable=False),
    Column("last_number", Integer, nullable=False),
)

KEYS = Table(
    "keys",
    METADATA,
    Column("prefix", String(16), primary_key=True),
    Column("firm_id", ForeignKey("firms.id"), nullable=False),
    Column("role", String(16), nullable=False),
    Column("digest", String(64), nullable=False),
    Column("created_at", UtcTime, nullable=False),
    Column("revoked_at", UtcTime),
    Index(None, "firm_id"),
)

PRICE_LISTS = Table(
    "price_lists",
    METADATA,
    Column("id", String(36), primary_key=True),
    Column("firm_id", ForeignKey("firms.id"), nullable=False),
    Column("name", String(200), nullable=False),
    Column("created_at", UtcTime, nullable=False),
    Column("last_version", Integer, nullable=False),
    UniqueConstraint("firm_id", "name"),
)

PRICE_LIST_VERSIONS = Table(
    "price_list_versions",
    METADATA,
    Column("price_list_id", ForeignKey("price_lists.id"), primary_key=True),
    Column("version", Integer, primary_key=True),
    Column("document", Text, nullable=False),
    Column("workbook", LargeBinary),
    Column("created_at", UtcTime, nullable=False),
)

QUOTES = Table(
    "quotes",
    METADATA,
    Column("id", String(36), primary_key=True),
    Column("firm_id", ForeignKey("firms.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("revision", Integer, nullable=False),
    Column("status", String(16), nullable=False),
    Column("version", Integer, nullable=False),
    Column("created_at", UtcTime, nullable=False),
    Column("valid_until", Date, nullable=False),
    Column("currency", String(3), nullable=False),
    Column("total_cents", Integer, nullable=False),
    Column("job_name", Text, nullable=False),
    Column("customer", Text, nullable=False),
    Column("document", Text, nullable=False),
    Column("job_document", Text, nullable=False),
    Column("workbook", LargeBinary),
    UniqueConstraint("firm_id", "number", "revision"),
    Index(None, "firm_id", "id"),
)

LEDGERS = Table(
    "ledgers",
    METADATA,
    Column("quote_id", ForeignKey("quotes.id"), primary_key=True),
    Column("packed", LargeBinary, nullable=False),
)

REPEATS = Table(
    "repeats",
    METADATA,
    Column("key_prefix", ForeignKey("keys.prefix"), primary_key=True),
    Column("repeat_key", String(64), primary_key=True),
    Column("fingerprint", String(64), nullable=False),
    Column("quote_id", ForeignKey("quotes.id"), nullable=False),
    Column("created_at", UtcTime, nullable=False),
)

ACTUALS = Table(
    "actuals",
    METADATA,
    Column("quote_id", ForeignKey("quotes.id"), primary_key=True),
    Column("version", Integer, primary_key=True),
    Column("finished_on", Date),
    Column("tasks", Text, nullable=False),
    Column("planned", Text, nullable=False),
    Column("created_at", UtcTime, nullable=False),
)

ACCEPTED_RATES = Table(
    "accepted_rates",
    METADATA,
    Column("price_list_id", ForeignKey("price_lists.id"), primary_key=True),
    Column("version", Integer, primary_key=True),
    Column("task", String(40), primary_key=True),
    Column("rate", String(40), nullable=False),
    Column("created_at", UtcTime, nullable=False),
)
