"""A refused sheet back with its faults marked, or its faults as a table: API and page."""

from __future__ import annotations

import base64
import csv
import html
import io
import json
import re

import openpyxl
import pytest

from service.jobs.marked import FAULT_COLUMNS
from service.web.marked_answers import MOST_CARRIED
from tests.web.office import XLSX, as_part, changed, count_of, key_page, sample_document, sheet

CHECKS = "/v1/sheet-checks"
MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"


def marked_copy(estimator, data: bytes) -> bytes:
    """The marked copy that a check answers with."""
    response = estimator.post(CHECKS, data, Accept=XLSX)
    assert (response.status_code, response.mimetype) == (200, XLSX), response.get_data(as_text=True)
    return response.get_data()


def told(estimator, data: bytes):
    """Problems of a check as JSON, refused or not."""
    return estimator.post(CHECKS, data).json["problems"]


def test_a_faulty_sheet_comes_back_marked(estimator, office):
    """Asked for as a workbook, a sheet with faults is 200 with every fault on the last tab; nothing is stored."""
    copy = marked_copy(estimator, sheet("broken.xlsx"))
    problems = told(estimator, sheet("broken.xlsx"))
    last = openpyxl.load_workbook(io.BytesIO(copy)).worksheets[-1]
    assert last.title == "Faults found"
    codes = [cell.value for cell in last["F"] if cell.value]
    assert codes == ["Code", *(problem["code"] for problem in problems)]
    assert count_of(office.desk, "quotes") == 0


def test_a_sound_sheet_comes_back_as_well(estimator):
    """Asked for as a workbook, a sound sheet is 200, and its copy makes the very quote that the sheet makes."""
    copy = marked_copy(estimator, sheet("rectangle.xlsx"))
    made, again = (estimator.post("/v1/quotes", data).json for data in (sheet("rectangle.xlsx"), copy))
    assert made["totals"] == again["totals"]
    assert made["warnings"] == again["warnings"]


def test_the_copy_has_the_same_faults(estimator):
    """The copy sent again is refused for the same faults, to the last word; and its copy is the copy."""
    copy = marked_copy(estimator, sheet("broken.xlsx"))
    assert told(estimator, copy) == told(estimator, sheet("broken.xlsx"))
    assert marked_copy(estimator, copy) == copy


def test_a_fault_of_the_price_list_is_said_on_the_tab(estimator):
    """A price list that isn't there is a fault that the tab names, though its cells are in no workbook of the user's."""
    response = estimator.post(f"{CHECKS}?price_list=winter", sheet("rectangle.xlsx"), Accept=XLSX)
    last = openpyxl.load_workbook(io.BytesIO(response.get_data())).worksheets[-1]
    assert "price-list-unknown" in {cell.value for cell in last["F"]}


@pytest.mark.parametrize(
    ("data", "status"), [(b"", 422), (b"\xd0\xcf\x11\xe0" + bytes(600), 415), (b"%PDF-1.7 ", 415), (b"PK\x03\x04", 422)]
)
@pytest.mark.parametrize("accepted", [XLSX, "text/csv"])
def test_a_file_that_cannot_be_opened_is_a_problem_as_before(estimator, data, status, accepted):
    """Whatever is accepted, a file that is no sound workbook is answered as a problem document."""
    response = estimator.post(CHECKS, data, Accept=accepted)
    assert (response.status_code, response.mimetype) == (status, "application/problem+json")
    assert response.json["problems"]


@pytest.mark.parametrize(
    ("accepted", "answered"),
    [
        ("", "application/json"),
        ("*/*", "application/json"),
        (f"{XLSX}, application/json;q=0.5", XLSX),
        (f"{XLSX};q=0.4, application/json;q=0.5", "application/json"),
        ("text/csv, application/json;q=0.9", "text/csv"),
        (f"text/csv;q=0.1, {XLSX};q=0", "text/csv"),
    ],
)
def test_the_form_is_the_one_liked_best(estimator, accepted, answered):
    """The form of a check follows the quality values of `Accept` (RFC 9110, 12.5.1)."""
    response = estimator.post(CHECKS, sheet("bay.xlsx"), **({"Accept": accepted} if accepted else {}))
    assert (response.status_code, response.mimetype) == (200, answered)


def rows_of(response) -> list[dict[str, str]]:
    """Rows of a table of faults."""
    text = response.get_data(as_text=True)
    assert text.startswith(MARK)
    assert "\n" not in text.replace("\r\n", "")
    return list(csv.DictReader(io.StringIO(text.removeprefix(MARK), newline="")))


def test_faults_as_a_table(estimator):
    """As CSV every fault is one row with the JSON's words, in the same order, 200, with a heading row."""
    response = estimator.post(CHECKS, sheet("broken.xlsx"), Accept="text/csv")
    assert (response.status_code, response.mimetype) == (200, "text/csv")
    rows, problems = rows_of(response), told(estimator, sheet("broken.xlsx"))
    assert [(row["code"], row["severity"], row["detail"]) for row in rows] == [
        (problem["code"], problem["severity"], problem["detail"]) for problem in problems
    ]
    assert [(row["sheet"], row["cell"]) for row in rows] == [
        (problem["cell"]["sheet"], problem["cell"]["address"]) if problem["cell"] else ("", "") for problem in problems
    ]


def test_a_sheet_without_faults_is_the_heading_alone(estimator):
    """A sheet that nothing is to be said about is a table of one line, ended by CR LF (RFC 4180, 2)."""
    data = changed("rectangle.xlsx", {"Trim!C2": "Plain crown"})
    assert told(estimator, data) == []
    text = estimator.post(CHECKS, data, Accept="text/csv").get_data(as_text=True)
    assert text == MARK + ",".join(FAULT_COLUMNS) + "\r\n"


def test_no_cell_of_the_table_is_a_formula(estimator):
    """A value that a spreadsheet program would run as a formula starts with an apostrophe."""
    data = changed("rectangle.xlsx", {"Walls!D2": "@SUM(1)", "Walls!C3": "-5'", "Rooms!H2": "+1"})
    rows = rows_of(estimator.post(CHECKS, data, Accept="text/csv"))
    found = {row["found"] for row in rows}
    assert {"'@SUM(1)", "'-5'", "'+1"} <= found
    assert not any(value.startswith(("=", "+", "-", "@")) for row in rows for value in row.values())


def test_a_document_is_answered_as_a_table_too(estimator):
    """A JSON document's faults as CSV have pointers and no cells."""
    document = sample_document()
    document["rooms"][0]["walls"][0]["length"] = "twelve"
    response = estimator.post(CHECKS, json.dumps(document).encode(), Accept="text/csv", Content_Type="application/json")
    (row,) = [row for row in rows_of(response) if row["severity"] == "error"]
    assert (row["pointer"], row["cell"], row["found"]) == ("/rooms/0/walls/0/length", "", "twelve")


def fields_of(page: str) -> dict[str, str]:
    """Hidden fields of the form that gets the sheet back marked."""
    form = page.split('class="marker"')[1].partition("</form>")[0]
    return {
        name: html.unescape(value) for name, value in re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', form)
    }


def send_form(client, fields: dict[str, str], **headers: str):
    """Send the form as a browser does."""
    named = {key.replace("_", "-"): value for key, value in headers.items()}
    return client.post("/marked-sheet", data=fields, headers=named, content_type="multipart/form-data")


def refused_page(client, data: bytes, name: str = "house on the hill.xlsx") -> str:
    """The page that answers a refused sheet."""
    response = client.post("/", **as_part(data, name))
    assert response.status_code == 422
    return response.get_data(as_text=True)


def test_the_page_of_faults_gives_the_sheet_back_marked(client, estimator, office):
    """One press of the button, no script and nothing stored: the copy comes under the sheet's own name."""
    page = refused_page(client, sheet("broken.xlsx"))
    assert "Get your sheet back with the faults marked" in page
    response = send_form(client, fields_of(page))
    assert (response.status_code, response.mimetype) == (200, XLSX)
    assert 'filename="house on the hill marked.xlsx"' in response.headers["Content-Disposition"]
    assert response.headers["Content-Disposition"].startswith("attachment")
    assert response.get_data() == marked_copy(estimator, sheet("broken.xlsx"))
    assert count_of(office.desk, "quotes") == 0


def test_the_page_keeps_its_rules(client):
    """The form goes to the page itself, under the page's own content policy, and a form of another site is 403."""
    response = client.post("/", **as_part(sheet("broken.xlsx")))
    assert "form-action 'self'" in response.headers["Content-Security-Policy"]
    assert response.headers["Cache-Control"] == "no-store"
    fields = fields_of(response.get_data(as_text=True))
    assert send_form(client, fields, Sec_Fetch_Site="cross-site").status_code == 403
    assert send_form(client, fields, Origin="https://evil.example").status_code == 403


def test_a_stranger_gets_no_copy(office):
    """Where the page asks for a key, the form leads to it."""
    client = office.app(key_page()).test_client()
    carried = base64.b64encode(sheet("broken.xlsx")).decode()
    response = send_form(client, {"sheet": carried, "name": "x.xlsx"})
    assert (response.status_code, response.headers["Location"]) == (303, "/sign-in")


def test_a_large_sheet_is_chosen_again(client):
    """A sheet too large for a page is not carried in it: a second button of the form gets it back marked."""
    padded = with_part(sheet("broken.xlsx"), MOST_CARRIED)
    page = refused_page(client, padded)
    assert 'class="marker"' not in page
    assert 'formaction="/marked-sheet"' in page
    response = client.post("/marked-sheet", **as_part(padded, "large.xlsx"))
    assert (response.status_code, response.mimetype) == (200, XLSX)


def with_part(data: bytes, size: int) -> bytes:
    """A workbook with a picture's worth of bytes more in it, which don't shrink."""
    import random  # noqa: PLC0415 - only here
    import zipfile  # noqa: PLC0415 - only here

    stream = io.BytesIO(data)
    with zipfile.ZipFile(stream, "a", zipfile.ZIP_STORED) as archive:
        archive.writestr("xl/media/image1.png", random.Random(6).randbytes(size))  # noqa: S311 - no secret
    return stream.getvalue()


def test_a_file_that_cannot_be_opened_is_not_offered_back(client):
    """A photograph has no cells to be marked: the page offers nothing, and the form's answer is the page of faults."""
    data = b"\xff\xd8\xff\xe0" + bytes(500)
    page = client.post("/", **as_part(data)).get_data(as_text=True)
    assert "faults marked" not in page
    response = send_form(client, {"sheet": base64.b64encode(data).decode(), "name": "a.xlsx"})
    assert (response.status_code, response.mimetype) == (415, "text/html")


@pytest.mark.parametrize(
    ("fields", "words"),
    [({}, "No sheet was chosen"), ({"sheet": "***"}, "cannot be read"), ({"other": "1"}, "cannot be read")],
)
def test_a_form_that_is_not_the_pages_is_told(client, fields, words):
    """An empty form, one with broken text or with a field that isn't the page's is 422 and stores nothing."""
    response = send_form(client, fields, Accept="text/html")
    assert response.status_code == 422
    assert words in response.get_data(as_text=True)


def test_hostile_file_names_stay_text(client):
    """Markup in a file's name stays text in the form, and the download's name has none of it."""
    page = refused_page(client, sheet("broken.xlsx"), "<script>alert(1)</script>.xlsx")
    assert "<script" not in page
    response = send_form(client, fields_of(page))
    assert "<" not in response.headers["Content-Disposition"]


def test_the_description_names_the_three_forms(client):
    """The description of the check lists JSON, CSV and the workbook."""
    answer = client.get("/openapi.json").json["paths"]["/v1/sheet-checks"]["post"]["responses"]["200"]
    assert set(answer["content"]) == {"application/json", "text/csv", XLSX}
