"""A person who filled the sheet with thirty faults mends it from the marked copy alone."""

from __future__ import annotations

import io
import re

import openpyxl
import pytest

from service.problems import Severity
from service.sheets.marks import marked
from tests.sheets.marks.bad_sheet import MISTAKES, bad_sheet, right_sheet
from tests.sheets.marks.examples import faults
from tests.sheets.workbooks import saved

MOST_ROUNDS = 2
SUGGESTED = (
    re.compile(r"Did you mean “([^”]+)”\?"),
    re.compile(r"Did you mean (?!“)(?:the tab )?(.+?)\?"),
    re.compile(r"type (\S+) again\."),
)
CHOICES = re.compile(r"Type one of: (.+)\.")


@pytest.fixture(scope="module")
def copy() -> bytes:
    """The marked copy of the badly filled sheet."""
    data = bad_sheet()
    return marked(data, faults(data))


def rows_of(data: bytes) -> list[dict[str, str]]:
    """Errors on the tab of faults, by its headings; `target` is where the link in the row leads."""
    sheet = openpyxl.load_workbook(io.BytesIO(data))["Faults found"]
    lines = list(sheet.iter_rows())
    top = next(place for place, line in enumerate(lines) if line[0].value == "Severity")
    headings = [str(cell.value) for cell in lines[top]]
    found = []
    for line in lines[top + 1 :]:
        row = {heading: str(cell.value or "") for heading, cell in zip(headings, line, strict=True)}
        row["target"] = str(line[1].hyperlink.location) if line[1].hyperlink else ""
        found.append(row)
    return [row for row in found if row["Severity"] == "error"]


def suggestion(help_text: str) -> str | None:
    """What the text says to type, when it says one thing."""
    return next((match[1] for pattern in SUGGESTED if (match := pattern.search(help_text))), None)


def mended(data: bytes) -> tuple[bytes, int]:
    """The workbook after a person has gone through the tab of faults, and how often the text itself said what to type.

    Where only the person knows the value (a measurement, a name, a date), it is what they had measured: the value of the
    sheet as it should have been filled. Where the text lists the choices, it must be among them.
    """
    book, right = (openpyxl.load_workbook(io.BytesIO(content)) for content in (data, right_sheet()))
    told = 0
    for row in rows_of(data):
        tab, address = re.fullmatch(r"'(.+)'!([A-Z]+[0-9]+)", row["target"]).groups()
        known = right[tab][address].value
        choices = CHOICES.search(row["What to type"])
        if choices:
            assert known in choices[1].split(", "), row
        typed = suggestion(row["What to type"])
        told += typed is not None
        cell = book[tab][address]
        cell.number_format = "@"
        cell.value = typed or known
    return saved(book), told


def test_every_mistake_is_marked(copy):
    """Each of the thirty-one mistakes is one error on the tab, its cell colored and noted, all with something to type."""
    rows = rows_of(copy)
    assert len(rows) == len(MISTAKES) == 31
    assert len({(row["Code"], row["Found"]) for row in rows}) >= 30
    assert all(row["What to type"] and row["What is wrong"] and row["target"] for row in rows)
    book = openpyxl.load_workbook(io.BytesIO(copy))
    for row in rows:
        tab, address = row["target"].replace("'", "").split("!")
        assert book[tab][address].comment is not None
        assert address in {str(area.sqref) for area in book[tab].conditional_formatting}


def test_the_sheet_is_mended_from_the_copy_alone(copy):
    """Going through the tab twice at most, each time on a copy marked anew, leads to a sheet that can be quoted."""
    data, told = copy, 0
    for _ in range(MOST_ROUNDS):
        data, said = mended(data)
        told += said
        found = faults(data)
        if not any(problem.is_error for problem in found):
            break
        data = marked(data, found)
    assert [problem for problem in faults(data) if problem.severity is Severity.ERROR] == []
    assert told >= 4


def test_the_mended_sheet_is_the_right_one(copy):
    """What the mended sheet is read to is the document of the sheet as it should have been filled."""
    data = copy
    for _ in range(MOST_ROUNDS):
        data = mended(data)[0]
        data = marked(data, faults(data))
    wrong = {problem.code for problem in faults(right_sheet())}
    assert {problem.code for problem in faults(data)} == wrong


def test_libreoffice_prints_the_tab_whole(copy, converted):
    """Every fault's text stands whole in the pages that LibreOffice prints of the tab."""
    text = " ".join(printed(converted(copy, "pdf")).split())
    for row in rows_of(copy):
        assert row["Where"].split(" ")[0] in text
        assert " ".join(row["What is wrong"].split()[:3]) in text


def printed(pdf: bytes) -> str:
    """Text of a PDF."""
    from pypdf import PdfReader  # noqa: PLC0415 - slow to load, used once

    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
