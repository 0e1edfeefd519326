"""The example room of a blank room sheet: what it shows, and that nobody is charged for it."""

from __future__ import annotations

import io

import openpyxl
import pytest

from schemas.job import survey_from
from schemas.quote import quote_document
from service.jobs.estimating import understood
from service.jobs.reading import Workbook, joined, sheet_reading
from service.sheets.example_room import NAME
from service.sheets.guiding import EXAMPLE_PROMPT
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.reader import read_room_sheet
from service.sheets.template import room_sheet_template
from service.units import Units
from tests.pipeline.estimates import quote_of, sample_price_list
from tests.sheets.workbooks import saved

TABS = ("Rooms", "Walls", "Openings", "Trim", "Ceiling", "Extras")
JOB = {"Job name": "Test", "Customer": "Nobody", "Site address": "Nowhere 1", "Measured on": "2025-04-14"}
STUDY = {
    "Rooms": [("Study", "8'")],
    "Walls": [("Study", "A", "12'", "inside"), ("Study", "B", "10'", "inside"),
              ("Study", "C", "12'", "inside"), ("Study", "D", "10'", "inside")],
    "Trim": [("Study", "all", "Base and shoe")],
}  # fmt: skip


def blank(units=Units.IMPERIAL):
    """The template as a workbook, its Job filled in."""
    book = openpyxl.load_workbook(io.BytesIO(room_sheet_template(units)))
    for row in range(2, 16):
        item = book["Job"].cell(row, 1).value.removesuffix(" *")
        if item in JOB:
            book["Job"].cell(row, 2, JOB[item])
    return book


def with_study(book, *, below=True):
    """A study typed below the example rows, or in their place."""
    for tab, rows in STUDY.items():
        sheet = book[tab]
        first = 2 + (examples(tab) if below else 0)
        for number, row in enumerate(rows):
            for column, text in enumerate(row, start=1):
                sheet.cell(first + number, column, text)
    return book


def examples(tab):
    """How many example rows a tab has."""
    return len(ROOM_SHEET.tab(tab).example_rows(Units.IMPERIAL))


def without_examples(book):
    """The workbook with its example rows deleted, as a person deletes them."""
    for tab in TABS:
        book[tab].delete_rows(2, examples(tab))
    return book


def quoted(book):
    """Quote JSON of a filled workbook."""
    reading = read_room_sheet(saved(book))
    assert reading.problems == ()
    survey, problems = survey_from(reading.document)
    assert survey is not None, [problem.line() for problem in problems]
    return quote_document(quote_of(survey), office=True)


@pytest.mark.parametrize("units", list(Units))
def test_it_shows_one_whole_room(units):
    """One room in gray italics, in every tab; it closes, and holds a door, a window, trim, a feature and an extra."""
    book = openpyxl.load_workbook(io.BytesIO(room_sheet_template(units)))
    for tab in TABS:
        rows = [row for row in book[tab].iter_rows(min_row=2) if row[0].value]
        assert {row[0].value for row in rows} == {NAME}
        assert all(cell.font.italic for row in rows for cell in row if cell.value is not None)
    for tab in TABS:
        for row in range(2, 2 + examples(tab)):
            book[tab].cell(row, 1, "Den")
    document = read_room_sheet(saved(book)).document
    document["job"] |= {"job_name": "x", "customer": "x", "site_address": "x", "measured_on": "2025-01-02"}
    survey, problems = survey_from(document)
    assert survey is not None, [problem.line() for problem in problems]
    (room,) = survey.rooms
    lengths = [wall.length.inches for wall in room.walls]
    assert (lengths[0], lengths[1]) == (lengths[2], lengths[3])
    assert {str(opening.kind) for opening in room.openings} == {"door", "window"}
    assert (len(survey.trim), len(room.ceiling), len(survey.extras)) == (2, 1, 1)


@pytest.mark.parametrize("tab", TABS)
def test_the_prompt_tells_how_to_be_rid_of_it(tab):
    """Beside the example rows, and only there, the prompt says to type over or delete them; so does the page's head."""
    sheet = openpyxl.load_workbook(io.BytesIO(room_sheet_template(Units.IMPERIAL)))[tab]
    told = [str(guide.sqref) for guide in sheet.data_validations.dataValidation if EXAMPLE_PROMPT in guide.prompt]
    last = 1 + examples(tab)
    assert told == ["A2" if last == 2 else f"A2:A{last}"]
    assert "not priced" in sheet.oddHeader.center.text


def test_a_forgotten_example_is_not_priced():
    """A sheet filled below the example rows gives the quote that it gives without them."""
    forgotten = quoted(with_study(blank()))
    assert forgotten == quoted(with_study(without_examples(blank()), below=False))
    assert [room["name"] for room in forgotten["rooms"]] == ["Study"]


@pytest.mark.parametrize(
    ("cell", "text", "fault"),
    [
        ("Walls!C3", "9'", ("room-unknown", "Walls!A3")),
        ("Openings!E2", '36"', ("room-unknown", "Openings!A2")),
        ("Ceiling!D2", '30"', ("room-unknown", "Ceiling!A2")),
        ("Rooms!B2", "9'", ("room-without-walls", "Rooms!A2")),
        ("Trim!B2", "A", ("room-unknown", "Trim!A2")),
        ("Extras!C2", 2, ("room-unknown", "Extras!A2")),
    ],
)
def test_an_example_half_typed_over_is_refused(cell, text, fault):
    """A changed example row is no example any more; without the rest of its room it is a fault at its cell, no price."""
    book = with_study(blank())
    tab, _, address = cell.partition("!")
    book[tab][address] = text
    job = understood(sheet_reading(Workbook(saved(book))))
    told = joined(job.reading, job.problems)
    assert any(problem.is_error for problem in told)
    assert fault in {(str(problem.code), str(problem.cell)) for problem in told}


def test_its_assemblies_are_on_no_price_list():
    """Trim and casing left as in the example, but for the room, order what nobody sells."""
    rows = [row for tab in ("Trim", "Openings") for units in Units for row in ROOM_SHEET.tab(tab).example_rows(units)]
    used = {row.get("Assembly", row.get("Casing")) for row in rows}
    assert used == {"Example crown", "Example base", "Example casing"}
    assert not used & set(sample_price_list().assemblies)
