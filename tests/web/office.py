"""An invented office for the tests of jobs, API and pages: data folder, keys, clock, sheets."""

from __future__ import annotations

import io
import shutil
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from openpyxl import load_workbook

from service.jobs.desk import Desk, Refused, fresh_id
from service.jobs.firms import firm_founded, key_made
from service.jobs.reading import Workbook
from service.storage.firms import StoredFirm, firm_added
from service.storage.folder import opened
from service.storage.keys import Role
from service.storage.price_lists import PriceListDraft, price_list_kept, price_list_version
from service.web.flask_app import web_app
from service.web.wiring import WebSettings

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from flask import Flask
    from flask.testing import FlaskClient

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
OPEN_PAGE = WebSettings(page_is_open=True, trusted_hosts=("localhost", "127.0.0.1"), build="test")


class Clock:
    """A clock that stands still until it is set."""

    def __init__(self) -> None:
        """Start at the tests' moment."""
        self.now = NOW

    def __call__(self) -> datetime:
        """The moment it shows."""
        return self.now


@dataclass(frozen=True)
class Office:
    """A desk with two firms: the sample's, and a rival with the same price list."""

    desk: Desk
    clock: Clock
    firm: StoredFirm
    rival: StoredFirm
    keys: Mapping[str, str]

    def app(self, settings: WebSettings = OPEN_PAGE) -> Flask:
        """The web side over this desk."""
        return web_app(self.desk, settings)


@dataclass(frozen=True)
class Caller:
    """One key at work on the API."""

    client: FlaskClient
    token: str

    def get(self, path: str, **headers: str) -> Any:
        """GET with the key."""
        return self.client.get(path, headers=self._headers(headers))

    def post(self, path: str, data: bytes = b"", **headers: str) -> Any:
        """POST a raw body with the key, as a workbook unless a header says otherwise."""
        return self.client.post(path, data=data, headers=self._headers({"Content_Type": XLSX} | headers))

    def put(self, path: str, data: bytes, **headers: str) -> Any:
        """PUT a raw body with the key."""
        return self.client.put(path, data=data, headers=self._headers({"Content_Type": XLSX} | headers))

    def quoted(self, sample: str = "rectangle.xlsx") -> Any:
        """The quote of a sample sheet, as JSON."""
        response = self.post("/v1/quotes", sheet(sample))
        assert response.status_code == 201, response.get_data(as_text=True)
        return response.json

    def _headers(self, headers: Mapping[str, str]) -> dict[str, str]:
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        return {"Authorization": f"Bearer {self.token}"} | named


@dataclass(frozen=True)
class Founded:
    """A data folder at rest, to be copied, and who is in it."""

    folder: Path
    firm: StoredFirm
    rival: StoredFirm
    keys: Mapping[str, str]


def founded_in(folder: Path) -> Founded:
    """Found the office: the sample's firm, a rival with the same price list, and a key for each role."""
    with _desk_in(folder, lambda: NOW) as desk:
        firm = firm_founded(desk, Workbook(sheet("price_list.xlsx")))
        assert not isinstance(firm, Refused)
        rival = StoredFirm(fresh_id(), "Rival Trim (invented)")
        with desk.database.writing() as connection:
            firm_added(connection, rival, NOW + timedelta(hours=1))
            standard = price_list_version(connection, firm.id, "standard")
            assert standard is not None
            price_list_kept(connection, rival.id, PriceListDraft("standard", standard.document, None), NOW)
        keys = {role.value: key_made(desk, firm.id, role) for role in Role}
        return Founded(folder, firm, rival, keys | {"rival": key_made(desk, rival.id, Role.OFFICE)})


@contextmanager
def office_in(folder: Path, founded: Founded) -> Iterator[Office]:
    """An office at work over a copy of a founded folder."""
    shutil.copytree(founded.folder, folder)
    clock = Clock()
    with _desk_in(folder, clock) as desk:
        yield Office(desk, clock, founded.firm, founded.rival, founded.keys)


@contextmanager
def _desk_in(folder: Path, now: Callable[[], datetime]) -> Iterator[Desk]:
    data = opened(folder)
    try:
        yield Desk(data.database, data.pepper, now, fresh_id)
    finally:
        data.close()


def sheet(name: str) -> bytes:
    """Bytes of a sample workbook."""
    return (SAMPLES / name).read_bytes()


def as_part(data: bytes, name: str = "rooms.xlsx") -> dict[str, Any]:
    """Body and content type of a form with one part named `file` (RFC 7578), without a temporary file."""
    head = f'--edge\r\nContent-Disposition: form-data; name="file"; filename="{name}"\r\n\r\n'
    return {"data": head.encode() + data + b"\r\n--edge--\r\n", "content_type": "multipart/form-data; boundary=edge"}


def changed(name: str, cells: Mapping[str, str | None]) -> bytes:
    """A sample workbook with some cells changed, given as `Walls!C2`."""
    book = load_workbook(SAMPLES / name)
    for place, value in cells.items():
        tab, address = place.split("!")
        book[tab][address] = value
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def count_of(desk: Desk, table: str) -> int:
    """Rows of a table."""
    with desk.database.reading() as connection:
        return int(connection.exec_driver_sql(f"SELECT count(*) FROM {table}").scalar_one())  # noqa: S608 - our own names


def key_page(build: WebSettings = OPEN_PAGE) -> WebSettings:
    """Settings of a service that is reached from outside: the page asks for a key."""
    return replace(build, page_is_open=False)


def sample_document() -> dict[str, Any]:
    """A one-room job document of our own invention: 12 by 14 ft, a three-piece crown all around."""
    walls = [
        {"name": name, "length": length, "corner": "inside", "studs": {"first": "16"}}
        for name, length in (("A", "12'"), ("B", "14'"), ("C", "12'"), ("D", "14'"))
    ]
    room = {
        "name": "Parlor",
        "ceiling_height": "8'",
        "joists": {"parallel_to": "B", "first": "16"},
        "walls": walls,
    }
    job = {
        "job_name": "Invented parlor",
        "customer": "Ada Example",
        "site_address": "1 Nowhere Lane",
        "measured_on": "2026-11-20",
        "units": "imperial",
        "year_built": 1999,
    }
    trim = [{"room": "Parlor", "walls": "all", "assembly": "Three-piece crown"}]
    return {"layout": 1, "job": job, "rooms": [room], "trim": trim}
