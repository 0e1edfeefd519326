from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
import structlog

from tests.web.office import Caller, Founded, Office, founded_in, office_in

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@pytest.fixture(scope="session", autouse=True)
def quiet() -> None:
    """Keep the request log out of the test report."""
    structlog.configure(wrapper_class=structlog.make_filtering_bound_logger("critical"))


@pytest.fixture(scope="session")
def founded(tmp_path_factory: pytest.TempPathFactory) -> Founded:
    """A founded data folder, made once and copied for each test."""
    return founded_in(tmp_path_factory.mktemp("founded") / "data")


@pytest.fixture
def office(tmp_path: Path, founded: Founded) -> Iterator[Office]:
    """An office of the test's own."""
    with office_in(tmp_path / "data", founded) as made:
        yield made


@pytest.fixture
def client(office: Office):
    """The web side of the office, with the page open."""
    return office.app().test_client()


@pytest.fixture
def estimator(office: Office, client) -> Caller:
    """The office's key at work."""
    return Caller(client, office.keys["office"])


@pytest.fixture
def integrator(office: Office, client) -> Caller:
    """The integration's key at work."""
    return Caller(client, office.keys["integration"])


@pytest.fixture
def field_lead(office: Office, client) -> Caller:
    """The field lead's key at work."""
    return Caller(client, office.keys["field"])


@pytest.fixture
def rival(office: Office, client) -> Caller:
    """Another firm's office key at work."""
    return Caller(client, office.keys["rival"])
