"""The same filled sheet by real producers: two libraries and a spreadsheet program give byte-identical quotes."""

from __future__ import annotations

import io
import json
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

import openpyxl
import pytest
import xlsxwriter  # type: ignore[import-untyped] # the library ships no types

from schemas.quote import quote_document
from service.estimate.quote.model import Quote
from service.jobs.estimating import estimate_of, understood
from service.jobs.reading import Workbook, sheet_reading
from tests.pipeline.estimates import sample_price_list
from tests.sheets.base_sheet import TABS
from tests.sheets.office_program import converted
from tests.sheets.workbooks import saved

if TYPE_CHECKING:
    from pathlib import Path

NOW = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
FORMATS = {
    "date": "yyyy-mm-dd",
    "percent": "0%",
    "fraction": "# ?/?",
    "millimeters": '0.0" mm"',
    "text": "@",
    "": "General",
}
TYPED: dict[str, tuple[object, str]] = {
    "Job!B7": (date(2025, 4, 14), "date"), "Job!B9": (1994, ""), "Job!B12": (0.05, "percent"),
    "Walls!C2": (150.5, "fraction"), "Walls!C4": (3822.7, "millimeters"), "Walls!C3": ("10' 6\"", "text"),
    "Walls!E2": (90, ""), "Walls!E3": (90.0, ""), "Trim!I2": (2, ""), "Extras!C2": (1.5, ""), "Extras!E2": (35, ""),
    "Ceiling!E2": (4, ""),
}  # fmt: skip
"""Cells typed as numbers, a date and a share, as people do; all others are texts."""

ROWS: dict[str, list[list[tuple[object, str]]]] = {
    name: [
        [TYPED.get(f"{name}!{chr(64 + column)}{number}", (value, "")) for column, value in enumerate(row, 1)]
        for number, row in enumerate(rows, 1)
    ]
    for name, rows in TABS.items()
}


def by_openpyxl(*, with_formulas: bool = False) -> bytes:
    """The sheet by one library; with formulas, which it writes without results."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in ROWS.items():
        sheet = book.create_sheet(name)
        for number, row in enumerate(rows, 1):
            for column, (value, form) in enumerate(row, 1):
                cell = sheet.cell(number, column)
                cell.value = value
                cell.number_format = FORMATS[form]
    if with_formulas:
        book["Walls"]["C2"] = "=12*12+6.5"
        book["Walls"]["C6"] = '="9" & CHAR(39)'
        book["Job"]["B12"] = "=1/20"
    return saved(book)


def by_xlsxwriter(*, in_memory: bool = True, with_formulas: bool = False) -> bytes:
    """The sheet by the other library, with shared texts, or row by row with inline ones."""
    stream = io.BytesIO()
    book = xlsxwriter.Workbook(stream, {"in_memory": True, "constant_memory": not in_memory})
    formats = {name: book.add_format({"num_format": form}) for name, form in FORMATS.items()}
    for name, rows in ROWS.items():
        sheet = book.add_worksheet(name)
        for number, row in enumerate(rows):
            for column, (value, form) in enumerate(row):
                if isinstance(value, date):
                    sheet.write_datetime(number, column, value, formats[form])
                elif isinstance(value, str):
                    sheet.write_string(number, column, value, formats[form])
                elif value is not None:
                    sheet.write_number(number, column, value, formats[form])
    if with_formulas:
        book.get_worksheet_by_name("Walls").write_formula("C2", "=12*12+6.5")
        book.get_worksheet_by_name("Openings").write_formula("D2", "=38-38+1")
        book.get_worksheet_by_name("Walls").write_formula("C4", "=12*12+6.5", None, 150.5)
    book.close()
    return stream.getvalue()


def quote_bytes(data: bytes) -> bytes:
    """The whole quote as JSON, cells and warnings included, with a fixed id and moment."""
    made = estimate_of(
        understood(sheet_reading(Workbook(data))), sample_price_list(), "01900000-0000-7000-8000-000000000000", NOW
    )
    assert isinstance(made, Quote), [problem.line() for problem in made.problems]
    return json.dumps(quote_document(made, office=True), ensure_ascii=False).encode()


@pytest.fixture(scope="module")
def expected() -> bytes:
    """The quote of the sheet as the first library writes it."""
    return quote_bytes(by_openpyxl())


def test_the_sheet_is_typed_as_people_do(expected: bytes) -> None:
    """The sheet has cells of every kind, and its quote is a long document."""
    assert {type(value) for value, _ in TYPED.values()} == {date, int, float, str}
    assert len(expected) > 20_000


@pytest.mark.parametrize("in_memory", [True, False])
def test_two_libraries_give_one_quote(expected: bytes, *, in_memory: bool) -> None:
    """Shared texts, inline texts, another order of parts: byte for byte the same quote."""
    assert quote_bytes(by_xlsxwriter(in_memory=in_memory)) == expected


def test_a_spreadsheet_program_gives_the_same_quote(expected: bytes, tmp_path: Path) -> None:
    """Opened and saved by LibreOffice, both libraries' sheets, and one with formulas that it calculates, quote the same."""
    made = {"one": by_openpyxl(), "two": by_xlsxwriter(), "formulas": by_openpyxl(with_formulas=True)}
    files = [tmp_path / f"{name}.xlsx" for name in made]
    for file, data in zip(files, made.values(), strict=True):
        file.write_bytes(data)
    for name, file in converted(tmp_path, files, "xlsx").items():
        assert quote_bytes(file.read_bytes()) == expected, name


def test_formulas_that_no_program_calculated_are_refused() -> None:
    """The same sheet with formulas, straight from the library, is refused cell by cell, never read as blank or zero."""
    reading = sheet_reading(Workbook(by_openpyxl(with_formulas=True)))
    told = {(problem.code.value, str(problem.cell)) for problem in reading.problems}
    assert told == {("formula-without-value", cell) for cell in ("Walls!C2", "Walls!C6", "Job!B12")}


def test_a_result_of_nothing_that_a_library_makes_up_is_refused() -> None:
    """XlsxWriter stores 0 for a formula whose result it isn't told: that is no opening at the very end of a wall.

    Source: its manual on results of formulas, from memory; the workbook then asks for a full calculation on load (ECMA-376 Part 1, 18.2.2).
    """
    reading = sheet_reading(Workbook(by_xlsxwriter(with_formulas=True)))
    told = {(problem.code.value, str(problem.cell)) for problem in reading.problems}
    assert told == {("formula-without-value", "Walls!C2"), ("formula-without-value", "Openings!D2")}
