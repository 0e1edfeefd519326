from __future__ import annotations

import io
import json
from collections import Counter
from datetime import UTC, datetime

import pytest
from openpyxl import load_workbook

from service.jobs.desk import Refused
from service.jobs.estimating import estimate_of, understood, valid_until
from service.jobs.files import quote_files
from service.jobs.price_lists import CheckedList, list_name, price_list_of
from service.jobs.quotes import summary_of
from service.jobs.reading import Document, Reading, Workbook, joined, sheet_reading
from service.problems import Cell, Code, Problem, Severity
from tests.web.office import changed, sample_document, sheet

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def checked() -> CheckedList:
    """The sample price list, read once."""
    made = price_list_of(Workbook(sheet("price_list.xlsx")), "standard")
    assert isinstance(made, CheckedList)
    return made


def faults_of(data: bytes, checked: CheckedList) -> list[tuple[str, str]]:
    """Cell and code of every error of a refused sheet."""
    made = estimate_of(understood(sheet_reading(Workbook(data))), checked.price_list, "id", NOW)
    assert isinstance(made, Refused)
    return [(str(problem.cell), problem.code.value) for problem in made.problems if problem.is_error]


def test_an_unknown_assembly_is_told_beside_a_bad_length(checked: CheckedList) -> None:
    """A fault of reading in Walls doesn't hide that Trim names an assembly the price list lacks."""
    faults = faults_of(changed("rectangle.xlsx", {"Walls!C3": "twelve", "Trim!C3": "Crown of thorns"}), checked)
    assert faults == [("Walls!C3", "length-not-understood"), ("Trim!C3", "assembly-unknown")]


def test_an_unknown_casing_is_told_even_in_a_faulty_room(checked: CheckedList) -> None:
    """An opening's casing that the price list lacks is told beside a bad length of the same room."""
    document = sample_document()
    document["rooms"][0]["walls"][0]["length"] = "twelve"
    opening = {
        "wall": "B",
        "kind": "door",
        "from_left": "24",
        "width": "32",
        "height": "80",
        "casing": "Casing of glass",
    }
    document["rooms"][0]["openings"] = [opening]
    made = estimate_of(understood(sheet_reading(Document(document))), checked.price_list, "id", NOW)
    assert isinstance(made, Refused)
    told = {(problem.pointer, problem.code) for problem in made.problems if problem.is_error}
    assert ("/rooms/0/openings/0/casing", Code.ASSEMBLY_UNKNOWN) in told
    assert ("/rooms/0/walls/0/length", Code.LENGTH_NOT_UNDERSTOOD) in told


def test_a_sound_room_is_measured_beside_a_faulty_one(checked: CheckedList) -> None:
    """With one room unreadable, another that does not close is still told, at its own place."""
    document = sample_document()
    other = json.loads(json.dumps(document["rooms"][0])) | {"name": "Den"}
    document["rooms"][0]["walls"][0]["length"] = "twelve"
    other["walls"][2]["length"] = "9'"
    document["rooms"].append(other)
    document["trim"] = [{"room": "all", "walls": "all", "assembly": "Three-piece crown"}]
    made = estimate_of(understood(sheet_reading(Document(document))), checked.price_list, "id", NOW)
    assert isinstance(made, Refused)
    errors = {(problem.pointer, problem.code) for problem in made.problems if problem.is_error}
    assert errors == {
        ("/rooms/0/walls/0/length", Code.LENGTH_NOT_UNDERSTOOD),
        ("/rooms/1/walls", Code.ROOM_DOES_NOT_CLOSE),
    }


def test_a_room_whose_walls_were_not_read_is_not_measured(checked: CheckedList) -> None:
    """A Walls row that names no room makes no second fault of the room it is missing from."""
    faults = faults_of(changed("rectangle.xlsx", {"Walls!A5": "Elsewhere"}), checked)
    assert faults == [("Walls!A5", "room-unknown")]


def test_a_fault_of_the_job_tab_hides_nothing(checked: CheckedList) -> None:
    """Job without a customer and a room that does not close are told together."""
    faults = dict(faults_of(changed("rectangle.xlsx", {"Job!B3": None, "Walls!C2": "3'"}), checked))
    assert faults["Job!B3"] == "value-missing"
    assert "room-does-not-close" in faults.values()


def test_nothing_is_told_twice(checked: CheckedList) -> None:
    """The broken sample names no place twice with the same code and finding."""
    made = estimate_of(understood(sheet_reading(Workbook(sheet("broken.xlsx")))), checked.price_list, "id", NOW)
    assert isinstance(made, Refused)
    told = [(problem.cell, problem.code, problem.found) for problem in made.problems]
    assert len(told) == len(set(told))


def test_what_the_reader_reported_is_not_told_again() -> None:
    """A schema fault at or below a pointer that the reader has reported is dropped; a neighbour's stays."""
    reported = Problem(Code.LENGTH_IS_DATE, Severity.ERROR, "/rooms/0/ceiling_height", "x", cell=Cell("Rooms", "B2"))
    reading = Reading({}, {"/rooms/0": Cell("Rooms", "A2")}, (reported,))
    echo = Problem(Code.VALUE_MISSING, Severity.ERROR, "/rooms/0/ceiling_height", "x")
    below = Problem(Code.VALUE_MISSING, Severity.ERROR, "/rooms/0/ceiling_height/in", "x")
    other = Problem(Code.VALUE_MISSING, Severity.ERROR, "/rooms/0/ceiling_height_too", "x")
    assert joined(reading, [echo, below, other]) == (other.at(Cell("Rooms", "A2")), reported)


def test_a_fault_of_the_price_list_is_in_no_cell_of_the_room_sheet() -> None:
    """A problem that points into another document keeps no cell."""
    reading = Reading({}, {"": Cell("Job", "A1"), "/job/units": Cell("Job", "B8")})
    strange = Problem(Code.TRADE_VALUE_OUT_OF_RANGE, Severity.WARNING, "/trade/0", "x")
    mine = Problem(Code.VALUE_MISSING, Severity.WARNING, "/job/units", "x")
    assert [problem.cell for problem in joined(reading, [strange, mine])] == [None, Cell("Job", "B8")]


def test_problems_follow_the_workbook(checked: CheckedList) -> None:
    """Errors come first, then warnings, then notes, each in the order of tabs, rows and columns."""
    made = estimate_of(understood(sheet_reading(Workbook(sheet("broken.xlsx")))), checked.price_list, "id", NOW)
    assert isinstance(made, Refused)
    weights = [list(Severity).index(problem.severity) for problem in made.problems]
    tabs = list(dict.fromkeys(p.cell.sheet for p in made.problems if p.is_error and p.cell))
    assert weights == sorted(weights)
    assert tabs == [tab for tab in ("Job", "Rooms", "Walls", "Openings", "Trim", "Ceiling", "Extras") if tab in tabs]


@pytest.mark.parametrize(
    ("moment", "days", "last_day"),
    [
        (datetime(2026, 11, 25, 5, 59, tzinfo=UTC), 30, "2026-12-24"),  # 23:59 the day before in Chicago, UTC-6
        (datetime(2026, 11, 25, 6, 0, tzinfo=UTC), 30, "2026-12-25"),
        (datetime(2026, 11, 25, 6, 0, tzinfo=UTC), 7, "2026-12-02"),
    ],
)
def test_the_last_day_counts_from_the_firms_own_date(checked: CheckedList, moment, days, last_day) -> None:
    """`valid_until` is so many days after the date where the firm is."""
    document = sample_document()
    document["job"]["valid_for_days"] = days
    survey = understood(sheet_reading(Document(document))).survey
    assert survey is not None
    assert checked.price_list.settings.time_zone == "America/Chicago"
    assert valid_until(survey, checked.price_list, moment).isoformat() == last_day


def test_the_firms_days_hold_where_the_sheet_has_none(checked: CheckedList) -> None:
    """Without days on the sheet, the price list's count."""
    survey = understood(sheet_reading(Document(sample_document()))).survey
    assert survey is not None
    days = (valid_until(survey, checked.price_list, NOW) - NOW.date()).days
    assert days == checked.price_list.settings.valid_for_days


def test_feet_by_assembly_are_those_of_its_first_layer(checked: CheckedList) -> None:
    """A 12 by 14 ft room with one assembly on every wall: its first layer's long points add up to the feet told."""
    quote = estimate_of(understood(sheet_reading(Document(sample_document()))), checked.price_list, "id", NOW)
    assert not isinstance(quote, Refused)
    summary = summary_of(quote)
    first = [run for run in quote.rooms[0].runs if run.layer == 1]
    assert len(first) == 4
    assert float(summary.feet["Three-piece crown"]) == pytest.approx(sum(float(r.length.feet) for r in first), abs=0.01)


def test_the_summary_counts_what_was_understood(checked: CheckedList) -> None:
    """Openings, ceiling features and extras are counted by kind, as they stand in the sheet's own tabs."""
    data = sheet("ten_rooms.xlsx")
    quote = estimate_of(understood(sheet_reading(Workbook(data))), checked.price_list, "id", NOW)
    assert not isinstance(quote, Refused)
    summary = summary_of(quote)
    book = load_workbook(io.BytesIO(data))
    wanted = {tab: Counter(row[place] for row in book[tab].iter_rows(2, values_only=True) if row[place])
              for tab, place in (("Openings", 2), ("Ceiling", 1), ("Extras", 5))}  # fmt: skip
    assert summary.openings == wanted["Openings"]
    assert summary.ceiling == wanted["Ceiling"]
    assert summary.extras == wanted["Extras"]
    assert summary.walls == len([row for row in book["Walls"].iter_rows(2, values_only=True) if row[0]])
    assert sum(summary.openings.values()) > 20


@pytest.mark.parametrize(("text", "name"), [("Standard", "standard"), ("  Winter \u00a0 2027 ", "winter-2027")])
def test_a_lists_name_forgives_case_and_spaces(text: str, name: str) -> None:
    """A price list's name on a sheet is found whatever its case and spacing."""
    assert list_name(text) == name


def test_files_are_a_draft_without_a_number() -> None:
    """What the command line writes: office JSON with number null, and two PDFs."""
    files = quote_files(
        Workbook(sheet("rectangle.xlsx")), Workbook(sheet("price_list.xlsx")), "spring prices", "an id", NOW
    )
    assert not isinstance(files, Refused)
    quote = json.loads(files["quote.json"])
    assert (quote["number"], quote["status"], quote["id"]) == (None, "draft", "an id")
    assert quote["price_list"]["name"] == "spring prices"
    assert "direct_cost" in quote["totals"]
    assert files["quote.pdf"].startswith(b"%PDF-")
    assert files["field-sheet.pdf"].startswith(b"%PDF-")


def test_a_faulty_price_list_is_told_before_the_sheet() -> None:
    """Files asked for with a room sheet as price list are refused with the list's faults."""
    made = quote_files(Workbook(sheet("rectangle.xlsx")), Workbook(sheet("rectangle.xlsx")), "standard", "id", NOW)
    assert isinstance(made, Refused)
    assert Code.TAB_MISSING in {problem.code for problem in made.problems}
