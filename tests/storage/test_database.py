from __future__ import annotations

import os
import sqlite3
import stat
import threading
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import pytest
from alembic import command
from sqlalchemy import inspect, text
from sqlalchemy.exc import IntegrityError, StatementError

from service.storage.database import Database, migrations
from service.storage.firms import FIRST_NUMBER, StoredFirm, firm_added, first_firm, next_number
from service.storage.folder import DataFolder, opened
from service.storage.keys import Role, key_created, key_of_token, key_revoked, live_key
from service.storage.pepper import PepperFault, pepper_in
from service.storage.price_lists import (
    PriceListDraft,
    price_list_kept,
    price_list_marks,
    price_list_version,
    version_marks,
)
from service.storage.repeats import KEPT_FOR, Repeat, remembered, repeat_kept

if TYPE_CHECKING:
    from pathlib import Path

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
FIRM = StoredFirm("00000000-0000-7000-8000-000000000001", "Invented Trim")
OTHER = StoredFirm("00000000-0000-7000-8000-000000000002", "Another Trim")


@pytest.fixture
def data(tmp_path: Path):
    """An open data folder with two firms."""
    folder = opened(tmp_path / "data")
    with folder.database.writing() as connection:
        firm_added(connection, FIRM, NOW)
        firm_added(connection, OTHER, NOW + timedelta(seconds=1))
    yield folder
    folder.close()


def test_connections_use_the_write_ahead_log_and_enforce_foreign_keys(data: DataFolder) -> None:
    """A connection runs in WAL mode with foreign keys on, normal sync and a busy timeout (SQLite pragma manual)."""
    with data.database.reading() as connection:
        pragmas = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("journal_mode", "foreign_keys", "synchronous", "busy_timeout")
        }
    assert pragmas == {"journal_mode": "wal", "foreign_keys": 1, "synchronous": 1, "busy_timeout": 5000}


def test_a_writer_takes_the_lock_before_it_reads(data: DataFolder) -> None:
    """While one writer is open, another connection's BEGIN IMMEDIATE is refused and its plain reading is not."""
    with data.database.writing():
        rival = sqlite3.connect(data.database.path, timeout=0)
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            rival.execute("BEGIN IMMEDIATE")
        assert rival.execute("SELECT count(*) FROM firms").fetchone() == (2,)
        rival.close()


def test_an_error_leaves_nothing_behind(data: DataFolder) -> None:
    """What was written before an error in a transaction is taken back, an allotted number included."""

    def fail() -> None:
        with data.database.writing() as connection:
            assert next_number(connection, FIRM.id) == FIRST_NUMBER
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    with data.database.writing() as connection:
        assert next_number(connection, FIRM.id) == FIRST_NUMBER


def test_a_foreign_key_to_nothing_is_refused(data: DataFolder) -> None:
    """A key of a firm that doesn't exist cannot be stored."""
    with pytest.raises(IntegrityError), data.database.writing() as connection:
        key_created(connection, "nobody", Role.OFFICE, data.pepper, NOW)


def test_a_moment_without_a_zone_is_refused(data: DataFolder) -> None:
    """Storing a naive datetime fails instead of being taken for UTC."""
    with pytest.raises(StatementError, match="time zone"), data.database.writing() as connection:
        firm_added(connection, StoredFirm("x", "X"), datetime(2026, 1, 1))  # noqa: DTZ001 - naive on purpose


def test_migrations_go_down_and_up_again_and_match_the_tables(tmp_path: Path) -> None:
    """Upgrade, check against the declared tables, downgrade to nothing, upgrade again."""
    database = Database(tmp_path / "db.sqlite3")
    database.migrate()
    with database.writing() as connection:
        command.check(migrations(connection))
        command.downgrade(migrations(connection), "base")
    with database.reading() as connection:
        assert inspect(connection).get_table_names() == ["alembic_version"]
    assert not database.is_current()
    database.migrate()
    assert database.is_current()
    database.close()


def test_a_damaged_database_is_not_ready(tmp_path: Path) -> None:
    """A file that is no database is told apart instead of raising."""
    path = tmp_path / "db.sqlite3"
    path.write_bytes(b"not a database" * 100)
    database = Database(path)
    assert not database.is_current()
    database.close()


def test_many_starters_at_once_migrate_once(tmp_path: Path) -> None:
    """Six threads open one new folder; all succeed with the same pepper."""
    peppers: list[bytes] = []

    def start() -> None:
        folder = opened(tmp_path / "data")
        peppers.append(folder.pepper)
        folder.close()

    threads = [threading.Thread(target=start) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(peppers) == 6
    assert len(set(peppers)) == 1


@pytest.mark.skipif(os.name == "nt", reason="Windows has no permission bits")
def test_the_pepper_is_readable_by_its_owner_alone(tmp_path: Path) -> None:
    """The pepper file has mode 0600 and its folder 0700."""
    opened(tmp_path / "data").close()
    assert stat.S_IMODE((tmp_path / "data" / "pepper").stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "data").stat().st_mode) == 0o700


def test_a_cut_pepper_is_refused(tmp_path: Path) -> None:
    """A pepper of the wrong length stops the start, for every key would silently fail with it."""
    pepper_in(tmp_path)
    (tmp_path / "pepper").write_bytes(b"short")
    with pytest.raises(PepperFault):
        pepper_in(tmp_path)


def test_numbers_are_allotted_one_by_one_across_threads(data: DataFolder) -> None:
    """Eight threads with ten transactions each get eighty different consecutive numbers."""
    numbers: list[int] = []

    def take() -> None:
        for _ in range(10):
            with data.database.writing() as connection:
                numbers.append(next_number(connection, FIRM.id))

    threads = [threading.Thread(target=take) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(numbers) == list(range(FIRST_NUMBER, FIRST_NUMBER + 80))


def test_each_firm_has_its_own_numbers(data: DataFolder) -> None:
    """The other firm's first number is not moved by this firm's."""
    with data.database.writing() as connection:
        next_number(connection, FIRM.id)
        assert next_number(connection, OTHER.id) == FIRST_NUMBER


def test_the_oldest_firm_is_the_folders_own(data: DataFolder) -> None:
    """The first firm by creation is the one that pages and the command line work for."""
    with data.database.reading() as connection:
        assert first_firm(connection) == FIRM


def test_a_token_opens_its_key_and_is_not_stored(data: DataFolder) -> None:
    """A new token opens its key; neither it nor its secret part stands anywhere in the database file."""
    with data.database.writing() as connection:
        token = key_created(connection, FIRM.id, Role.FIELD, data.pepper, NOW)
    with data.database.reading() as connection:
        key = key_of_token(connection, token, data.pepper)
        dump = "\n".join(str(row) for row in connection.execute(text("SELECT * FROM keys")))
    assert key is not None
    assert (key.firm_id, key.role) == (FIRM.id, Role.FIELD)
    assert token.split("_", 2)[2] not in dump


def test_a_wrong_token_opens_nothing(data: DataFolder) -> None:
    """A changed letter, another pepper, a malformed or an unknown token all open nothing."""
    with data.database.writing() as connection:
        token = key_created(connection, FIRM.id, Role.OFFICE, data.pepper, NOW)
        changed = token[:-1] + ("A" if token[-1] != "A" else "B")
        unknown = "tq_" + "0" * 12 + "_" + "a" * 43
        for wrong in (changed, unknown, token + "\n", token[3:], "", "tq_", token.upper()):
            assert key_of_token(connection, wrong, data.pepper) is None
        assert key_of_token(connection, token, b"\0" * 32) is None


def test_a_revoked_key_opens_nothing(data: DataFolder) -> None:
    """After it is revoked neither the token nor a cookie given for it opens the key."""
    with data.database.writing() as connection:
        token = key_created(connection, FIRM.id, Role.OFFICE, data.pepper, NOW)
        prefix = token.split("_")[1]
        assert live_key(connection, prefix) is not None
        key_revoked(connection, prefix, NOW)
        assert key_of_token(connection, token, data.pepper) is None
        assert live_key(connection, prefix) is None


def test_price_list_versions_count_up_and_stay(data: DataFolder) -> None:
    """Each change makes the next version, an equal document none, and old versions stay readable."""
    with data.database.writing() as connection:
        for number in (1, 1, 2):
            price_list_kept(connection, FIRM.id, PriceListDraft("standard", {"n": number}, None), NOW)
        assert [mark.version for mark in version_marks(connection, FIRM.id, "standard")] == [2, 1]
        first = price_list_version(connection, FIRM.id, "standard", 1)
        last = price_list_version(connection, FIRM.id, "standard")
    assert first is not None
    assert last is not None
    assert (first.document, last.document, last.version) == ({"n": 1}, {"n": 2}, 2)


def test_price_lists_belong_to_their_firm(data: DataFolder) -> None:
    """Another firm sees none of a firm's price lists, and may use the same name."""
    with data.database.writing() as connection:
        price_list_kept(connection, FIRM.id, PriceListDraft("standard", {"n": 1}, b"x"), NOW)
        assert price_list_version(connection, OTHER.id, "standard") is None
        assert price_list_marks(connection, OTHER.id) == ()
        kept = price_list_kept(connection, OTHER.id, PriceListDraft("standard", {"n": 2}, None), NOW)
    assert kept.version == 1


def test_an_unknown_version_is_none(data: DataFolder) -> None:
    """A version that was never kept is None, as is a list of no versions."""
    with data.database.writing() as connection:
        price_list_kept(connection, FIRM.id, PriceListDraft("standard", {"n": 1}, None), NOW)
        assert price_list_version(connection, FIRM.id, "standard", 2) is None
        assert version_marks(connection, FIRM.id, "winter") == ()


def test_repeats_are_forgotten_after_a_day(data: DataFolder) -> None:
    """A repeat key is remembered within 24 hours and not at the 24th."""
    repeat = Repeat("0" * 12, "a" * 16, "f" * 64)
    with data.database.writing() as connection:
        connection.exec_driver_sql("PRAGMA defer_foreign_keys=ON")  # the quote itself does not matter here
        repeat_kept(connection, repeat, "q", NOW)
        before, at = NOW + KEPT_FOR - timedelta(seconds=1), NOW + KEPT_FOR
        assert remembered(connection, repeat, before) is not None
        assert remembered(connection, repeat, at) is None
        connection.exec_driver_sql("DELETE FROM repeats")
