"""Large sheets take turns; small ones never wait for them."""

from __future__ import annotations

import io
import zipfile

import pytest

from service.web.large_bodies import LARGE_FROM, PLACES, Turns
from tests.web.office import sheet

PLAIN = sheet("rectangle.xlsx")


def padded(data, size):
    """The workbook with a part of so many bytes that nobody reads."""
    stream = io.BytesIO(data)
    with zipfile.ZipFile(stream, "a", zipfile.ZIP_STORED) as archive:
        archive.writestr("xl/media/picture.png", bytes(size))
    return stream.getvalue()


@pytest.fixture
def turns(client):
    """The turns of the app under test, all places taken; given back at the end."""
    turns = client.application.extensions["large-bodies"]
    taken = [turns._places.acquire(blocking=False) for _ in range(PLACES)]
    assert all(taken)
    yield turns
    for _ in taken:
        turns._places.release()


@pytest.mark.usefixtures("turns")
def test_a_third_large_sheet_is_told_to_come_back(estimator):
    """With one large sheet worked on and one waiting, a third is 503 with `busy` and a time to come back at."""
    response = estimator.post("/v1/sheet-checks", padded(PLAIN, LARGE_FROM))
    assert (response.status_code, response.json["type"].rsplit("/", 1)[-1]) == (503, "busy")
    assert int(response.headers["Retry-After"]) > 0


@pytest.mark.usefixtures("turns")
def test_a_small_sheet_never_waits(estimator):
    """However many large sheets are there, a small one is answered."""
    assert estimator.post("/v1/sheet-checks", PLAIN).status_code == 200


def test_turns_are_given_back(estimator):
    """One large sheet after another is answered, refused ones too, and a large document."""
    for _ in range(PLACES + 1):
        assert estimator.post("/v1/sheet-checks", padded(PLAIN, LARGE_FROM)).status_code == 200
        assert estimator.post("/v1/sheet-checks", b"x" * (LARGE_FROM + 1)).status_code == 415
        document = b'{"a": "' + b"x" * LARGE_FROM + b'"}'
        assert estimator.post("/v1/sheet-checks", document, Content_Type="application/json").status_code == 422


def test_one_works_and_one_waits():
    """The second place is one to wait in: only the first has the turn."""
    turns = Turns()
    assert turns.taken()
    assert turns._turn.locked()
    assert turns._places.acquire(blocking=False)
    assert not turns.taken()
