"""What the guard refuses before the workbook library sees it, and how it says so."""

from __future__ import annotations

import io
import re
import time
import zipfile
from datetime import date
from random import Random

import pytest

from service.problems import Code
from service.sheets.guard import MOST_UPLOAD_BYTES, inspected
from service.sheets.reader import read_room_sheet
from tests.sheets.attacks import JPEG, OLE2
from tests.sheets.workbooks import by_hand, found, room_book, saved, sheet_xml, zipped

SECONDS = 30.0
"""Far above what any refusal takes, far below what these files cost the library: tells a stop from a hang."""


def refusal(data):
    """The one problem with which an upload is refused, within the time allowed."""
    start = time.process_time()
    reading = read_room_sheet(data)
    assert time.process_time() - start < SECONDS
    assert reading.document is None
    (problem,) = reading.problems
    assert problem.is_error
    assert problem.detail
    assert problem.help
    return problem


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"", "empty"),
        (JPEG, "photograph"),
        (b"%PDF-1.7\n...", "PDF"),
        (b"<!DOCTYPE html><html><table>", "HTML"),
        (b"Room,Wall,Length\nKitchen,A,12\n", "CSV"),
        (OLE2 + bytes(600), ".xls"),
        (OLE2 + bytes(600) + "EncryptedPackage".encode("utf-16-le"), "password"),
        (b"PK\x05\x06" + bytes(18), "empty archive"),
        (zipped([("sheet.xlsx", b"PK")]), "workbook in it"),
        (zipped([("mimetype", "application/vnd.oasis.opendocument.spreadsheet")]), ".ods"),
        (by_hand(sheet_xml(), book_namespace="http://purl.oclc.org/ooxml/spreadsheetml/main"), "Strict"),
        (bytes(20 * 1024 * 1024), "10 MiB"),
    ],
    ids=lambda value: value if isinstance(value, str) else None,
)  # fmt: skip
def test_other_files_are_named(data, word):
    """A file that is no readable workbook is refused by what it is, in words, whatever its name says."""
    assert word in refusal(data).detail


def test_the_size_limit_is_exact():
    """One byte over the limit is too large; at the limit the content decides."""
    assert refusal(bytes(MOST_UPLOAD_BYTES + 1)).code is Code.SHEET_TOO_LARGE
    assert refusal(bytes(MOST_UPLOAD_BYTES)).code is Code.SHEET_WRONG_TYPE


def test_every_truncation_is_refused():
    """A sound workbook cut off anywhere is refused with a clear code and never raises."""
    data = saved(room_book())
    for length in range(0, len(data) - 1, 97):
        reading = read_room_sheet(data[:length])
        assert reading.document is None
        codes = {Code.SHEET_UNREADABLE, Code.SHEET_WRONG_TYPE, Code.SHEET_CUT_OFF, Code.SHEET_IS_CSV}
        assert {problem.code for problem in reading.problems} <= codes


def test_flipped_bytes_never_raise():
    """A sound workbook with damaged bytes is either refused or read; nothing escapes."""
    data, chance, refused = saved(room_book()), Random(7), 0  # noqa: S311 - dice for a test
    for _ in range(60):
        spoiled = bytearray(data)
        for _ in range(3):
            spoiled[chance.randrange(len(spoiled))] ^= 1 << chance.randrange(8)
        reading = read_room_sheet(bytes(spoiled))
        assert reading.document is not None or any(problem.is_error for problem in reading.problems)
        refused += reading.document is None
    assert refused > 10


def test_cells_are_counted_over_all_tabs():
    """More than 200,000 stored cells, spread over tabs, are too many."""
    rows = "".join(f'<row r="{r}">' + "<c/>" * 100 + "</row>" for r in range(1, 802))
    chance = Random(1)  # noqa: S311 - dice for a test
    padding = "".join(f"<x y='{chance.random()}'/>" for _ in range(9000))
    data = by_hand(sheet_xml(rows, padding), names=("a", "b", "c"))
    problem = refusal(data)
    assert problem.code is Code.SHEET_TOO_LARGE
    assert "cells" in problem.detail


def spoiled(**cells):
    """A sound room sheet with the XML of some cells of the Walls tab replaced, given by their addresses."""
    with zipfile.ZipFile(io.BytesIO(saved(room_book()))) as archive:
        parts = [(name, archive.read(name).decode()) for name in archive.namelist() if not name.endswith("/")]
    for address, xml in cells.items():
        parts = [
            (name, re.sub(rf'<c r="{address}".*?</c>', lambda _, xml=xml: xml, text) if name == "xl/worksheets/sheet3.xml" else text)
            for name, text in parts
        ]  # fmt: skip
    return zipped(parts)


@pytest.mark.parametrize(
    ("cell", "code", "shown"),
    [
        ('<c r="C2"><v>abc</v></c>', "number-not-understood", "abc"),
        ('<c r="C2"><v>12,5</v></c>', "number-not-understood", "12,5"),
        ('<c r="C2" t="n"><v>NaN</v></c>', "number-not-understood", "NaN"),
        ('<c r="C2"><v>1e999</v></c>', "number-not-understood", "1e999"),
        ('<c r="C2"><v>\u0663</v></c>', "number-not-understood", "\u0663"),
        ('<c r="C2"><v>' + "9" * 5000 + "</v></c>", "number-not-understood", "9" * 40),
        ('<c r="C2" t="b"><v>true</v></c>', "number-not-understood", "true"),
        ('<c r="C2" t="d"><v>31.12.2024</v></c>', "date-not-understood", "31.12.2024"),
    ],
)
def test_cells_that_would_lose_the_workbook_are_named(cell, code, shown):
    """A number cell without a number, on which a workbook library gives the whole workbook up, is one fault at its address."""
    reading = read_room_sheet(spoiled(C2=cell))
    assert found(reading) == {(code, "error", "Walls!C2")}
    assert [problem.found for problem in reading.problems] == [shown]
    assert "length" not in reading.document["rooms"][0]["walls"][0]


def test_such_cells_are_told_with_all_other_faults():
    """Two such cells and a date where a length belongs are told in one answer, the sound cells read."""
    data = spoiled(C2="<c r='C2'><v>x</v></c>", E3="<c r='E3'><v>y</v></c>", C4="<c r='C4' t='b'><v>1</v></c>")
    reading = read_room_sheet(data)
    assert found(reading) == {
        ("number-not-understood", "error", "Walls!C2"),
        ("number-not-understood", "error", "Walls!E3"),
        ("length-is-boolean", "error", "Walls!C4"),
    }
    assert len(reading.document["rooms"][0]["walls"]) == 4


def test_a_workbook_of_the_library_passes():
    """What a general workbook library writes passes, its tabs counted."""
    book = room_book()
    book["Walls"]["H1"] = date(2024, 1, 2)
    assert inspected(saved(book)).problems == ()
    assert inspected(saved(book)).tab_count == len(book.worksheets)


def test_only_calculated_formulas_count_as_calculated():
    """The guard lists formulas without a value; one calculated to an empty text is calculated."""
    cells = (
        '<c r="A1"><f>1+1</f></c><c r="B1"><f>1+1</f><v>2</v></c><c r="C1"><f>1+1</f><v></v></c>'
        '<c r="D1" t="str"><f>""</f><v></v></c><c r="E1" t="str"><f>""</f></c>'
    )
    assert inspected(by_hand(sheet_xml(f'<row r="1">{cells}</row>'))).uncalculated == {"Walls": {"A1", "C1", "E1"}}


def test_the_largest_allowed_sheet_is_decided_in_time():
    """A tab of 5,000 filled rows is read; one row more and the tab is too large, told at its headings."""
    rows = [["Room", "Wall", "Length", "Corner"], *(["Kitchen", f"W{n}", "10'", "inside"] for n in range(5001))]
    reading = read_room_sheet(saved(room_book(Walls=rows)))
    assert ("sheet-too-large", "error", "Walls!A1") in found(reading)
    assert len(reading.document["rooms"][0]["walls"]) == 5000
