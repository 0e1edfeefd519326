from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from alembic import command
from sqlalchemy import inspect
from sqlalchemy.exc import IntegrityError

from service.estimate.calibration import BookedTask, PlannedTask
from service.storage.accepted_rates import AcceptedRate, accepted_rates, accepted_rates_kept
from service.storage.actuals import actuals_kept, actuals_of, finished_jobs
from service.storage.database import Database, migrations
from service.storage.firms import StoredFirm, firm_added
from service.storage.folder import opened
from service.storage.price_lists import PriceListDraft, price_list_kept
from service.storage.quotes import Origin, QuoteCard, quote_kept

if TYPE_CHECKING:
    from pathlib import Path

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
FIRM = StoredFirm("00000000-0000-7000-8000-000000000001", "Invented Trim")
OTHER = StoredFirm("00000000-0000-7000-8000-000000000002", "Another Trim")
PLANNED = {"layout": PlannedTask("layout", "ft", Decimal("52.50"), Decimal("0.62"), Decimal("0.012"))}
ONE, TWO = (BookedTask("layout", Decimal("0.70"), "½ day"),), (BookedTask("layout", Decimal("0.7")),)


def card(number: int) -> QuoteCard:
    """A quote in a list."""
    return QuoteCard(str(number), number, 1, "draft", 1, NOW, date(2026, 12, 25), "USD", 100, "Parlor", "Ada Example")


@pytest.fixture
def data(tmp_path: Path):
    """An open data folder: two quotes of one firm, one of another."""
    folder = opened(tmp_path / "data")
    with folder.database.writing() as connection:
        for firm, numbers in ((FIRM, (1001, 1002)), (OTHER, (2001,))):
            firm_added(connection, firm, NOW)
            for number in numbers:
                quote_kept(connection, firm.id, card(number), {}, Origin({}, None))
    yield folder
    folder.close()


def test_hours_are_read_as_they_were_kept(data):
    """Tasks, exact hours, notes, plan, day and moment come back equal; a quote without hours has none."""
    with data.database.writing() as connection:
        kept = actuals_kept(connection, "1001", PLANNED, ONE, date(2026, 11, 24), NOW)
        assert actuals_of(connection, "1001") == kept
        assert (kept.version, kept.tasks, str(kept.tasks[0].hours)) == (1, ONE, "0.70")
        assert actuals_of(connection, "1002") is None


def test_versions_count_up_and_stay(data):
    """Other hours, or another day, make the next version, equal ones none; earlier versions stay readable."""
    with data.database.writing() as connection:
        postings = [(ONE, None), (ONE, None), (TWO, None), (TWO, date(2026, 11, 24))]
        versions = [actuals_kept(connection, "1001", PLANNED, tasks, day, NOW).version for tasks, day in postings]
        assert versions == [1, 1, 2, 3]
        assert actuals_of(connection, "1001", 1).tasks == ONE
        assert actuals_of(connection, "1001").finished_on == date(2026, 11, 24)
        assert actuals_of(connection, "1001", 4) is None


def test_finished_jobs_are_the_firms_newest_hours_with_their_plan(data):
    """Each quote with hours comes once, newest version, with what was planned; no other firm's comes."""
    with data.database.writing() as connection:
        for quote, tasks in (("1001", ONE), ("1001", TWO), ("2001", ONE)):
            actuals_kept(connection, quote, PLANNED, tasks, None, NOW)
        jobs = finished_jobs(connection, FIRM.id)
    assert [(job.quote_id, job.version, job.tasks, job.planned) for job in jobs] == [("1001", 2, TWO, PLANNED)]


def test_hours_of_no_quote_are_refused(data):
    """Hours belong to a quote that there is."""
    with pytest.raises(IntegrityError), data.database.writing() as connection:
        actuals_kept(connection, "9999", PLANNED, ONE, None, NOW)


def test_the_last_accepted_rate_of_each_task_is_known(data):
    """Of two acceptances of a task the later version's is told, with its moment; other lists and firms have none of it."""
    later = NOW + timedelta(days=1)
    with data.database.writing() as connection:
        lists = [
            price_list_kept(connection, FIRM.id, PriceListDraft("standard", {"n": number}, None), moment)
            for number, moment in enumerate((NOW, later))
        ]
        accepted_rates_kept(connection, FIRM.id, lists[0], {"layout": Decimal("0.0130"), "scarf": Decimal("0.3")})
        accepted_rates_kept(connection, FIRM.id, lists[1], {"layout": Decimal("0.014")})
        found = accepted_rates(connection, FIRM.id, "standard")
        assert accepted_rates(connection, FIRM.id, "winter") == accepted_rates(connection, OTHER.id, "standard") == {}
    assert found == {"layout": AcceptedRate(Decimal("0.014"), later), "scarf": AcceptedRate(Decimal("0.3"), NOW)}


def test_a_folder_of_the_first_tables_is_brought_up(tmp_path):
    """A database of revision 0001 gets the table of hours, keeps its firms, and can be taken back."""
    database = Database(tmp_path / "db.sqlite3")
    database.migrate("0001")
    with database.writing() as connection:
        firm_added(connection, FIRM, NOW)
        assert "actuals" not in inspect(connection).get_table_names()
    assert not database.is_current()
    database.migrate()
    with database.writing() as connection:
        assert "actuals" in inspect(connection).get_table_names()
        command.downgrade(migrations(connection), "0001")
        assert "actuals" not in inspect(connection).get_table_names()
        assert connection.exec_driver_sql("SELECT count(*) FROM firms").scalar_one() == 1
    database.close()
