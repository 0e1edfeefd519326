"""What the guard refuses before the workbook library sees it, and how it says so."""

from __future__ import annotations

import struct
import time
import zipfile
from datetime import date
from random import Random

import openpyxl
import pytest

from service.problems import Code
from service.sheets.guard import MOST_UPLOAD_BYTES, inspected
from service.sheets.reader import read_price_list, read_room_sheet
from tests.sheets.workbooks import MAIN, by_hand, found, parts_by_hand, room_book, saved, sheet_xml, zipped

SECONDS = 30.0
"""Far above what any refusal takes, far below what these files cost the library: tells a stop from a hang."""

JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00" + bytes(range(256)) * 400
OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


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
    ("data", "code", "word"),
    [
        (b"", Code.SHEET_UNREADABLE, "empty"),
        (JPEG, Code.SHEET_WRONG_TYPE, "photograph"),
        (b"\x89PNG\r\n\x1a\n" + bytes(100), Code.SHEET_WRONG_TYPE, "picture"),
        (b"\x00\x00\x00\x18ftypheic" + bytes(100), Code.SHEET_WRONG_TYPE, "photograph"),
        (b"%PDF-1.7\n...", Code.SHEET_WRONG_TYPE, "PDF"),
        (b"<!DOCTYPE html><html><table>", Code.SHEET_WRONG_TYPE, "HTML"),
        (b"\xef\xbb\xbf<html>", Code.SHEET_WRONG_TYPE, "HTML"),
        (b"<?xml version='1.0'?><Workbook/>", Code.SHEET_WRONG_TYPE, "XML"),
        (b"Room,Wall,Length\nKitchen,A,12\n", Code.SHEET_WRONG_TYPE, "CSV"),
        ("Room,Wall\n".encode("utf-16"), Code.SHEET_WRONG_TYPE, "CSV"),
        (OLE2 + bytes(600), Code.SHEET_WRONG_TYPE, ".xls"),
        (OLE2 + bytes(600) + "EncryptedPackage".encode("utf-16-le"), Code.SHEET_ENCRYPTED, "password"),
        (b"\x1f\x8b\x08" + bytes(50), Code.SHEET_WRONG_TYPE, "gzip"),
        (Random(4).randbytes(2000), Code.SHEET_WRONG_TYPE, "another kind"),  # noqa: S311 - dice for a test
        (b"PK\x05\x06" + bytes(18), Code.SHEET_WRONG_TYPE, "empty archive"),
        (zipped([("photo.jpg", JPEG)]), Code.SHEET_WRONG_TYPE, "zip archive"),
        (zipped([("sheet.xlsx", b"PK")]), Code.SHEET_WRONG_TYPE, "workbook in it"),
        (zipped([("mimetype", "application/vnd.oasis.opendocument.spreadsheet")]), Code.SHEET_WRONG_TYPE, ".ods"),
        (zipped([("[Content_Types].xml", "<Types/>"), ("word/document.xml", "<w/>")]), Code.SHEET_WRONG_TYPE, "Office"),
        (by_hand(sheet_xml(), book_namespace="http://purl.oclc.org/ooxml/spreadsheetml/main"), Code.SHEET_WRONG_TYPE, "Strict"),
        (bytes(20 * 1024 * 1024), Code.SHEET_TOO_LARGE, "10 MiB"),
    ],
    ids=lambda value: value if isinstance(value, str) else None,
)  # fmt: skip
def test_other_files_are_named(data, code, word):
    """A file that is no readable workbook is refused by what it is, whatever its name says."""
    problem = refusal(data)
    assert problem.code is code
    assert word in problem.detail


def test_a_price_list_upload_meets_the_same_guard():
    """A photograph sent as a price list is refused as one."""
    assert [problem.code for problem in read_price_list(JPEG).problems] == [Code.SHEET_WRONG_TYPE]


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
        assert {problem.code for problem in reading.problems} <= {Code.SHEET_UNREADABLE, Code.SHEET_WRONG_TYPE}


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


SHEET = sheet_xml('<row r="1"><c r="A1" t="inlineStr"><is><t>Room</t></is></c></row>')


def attack(**changes):
    """A least workbook whose sheet is replaced."""
    return by_hand(changes.get("sheet", SHEET))


def deep(depth):
    """A worksheet nested so deep."""
    return sheet_xml("", "<extLst>" + "<x>" * depth + "</x>" * depth + "</extLst>")


@pytest.mark.parametrize(
    ("data", "code"),
    [
        pytest.param(by_hand(sheet_xml("", '<mergeCells><mergeCell ref="A200:XFD1048576"/></mergeCells>')), Code.SHEET_TOO_LARGE, id="huge merge"),
        pytest.param(by_hand(sheet_xml("", '<hyperlinks><hyperlink ref="A200:XFD1048576"/></hyperlinks>')), Code.SHEET_TOO_LARGE, id="huge link"),
        pytest.param(by_hand(sheet_xml("", "<mergeCells>" + "".join(f'<mergeCell ref="A{n}:B{n}"/>' for n in range(1, 6000)) + "</mergeCells>")), Code.SHEET_TOO_LARGE, id="many merges"),
        pytest.param(by_hand(f'<worksheet xmlns="{MAIN}" x="' + "a" * (30 << 20) + '"/>'), Code.SHEET_TOO_LARGE, id="30 MiB attribute"),
        pytest.param(by_hand(f'<worksheet xmlns="{MAIN}" x="{"a" * 90_000}"/>'), Code.SHEET_TOO_LARGE, id="90 kB attribute"),
        pytest.param(by_hand(f"<worksheet xmlns='{MAIN}'><!--{'a' * 900_000}--></worksheet>"), Code.SHEET_TOO_LARGE, id="long remark"),
        pytest.param(by_hand("<!DOCTYPE worksheet><worksheet/>"), Code.SHEET_UNREADABLE, id="doctype"),
        pytest.param(by_hand('<!DOCTYPE w [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><w>&b;</w>'), Code.SHEET_UNREADABLE, id="entities"),
        pytest.param(by_hand('<!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/hostname">]><w>&x;</w>'), Code.SHEET_UNREADABLE, id="outside entity"),
        pytest.param(by_hand('<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE w><w/>'.encode("utf-16")), Code.SHEET_UNREADABLE, id="doctype in UTF-16"),
        pytest.param(by_hand(deep(70)), Code.SHEET_UNREADABLE, id="deep"),
        pytest.param(by_hand("<worksheet " + " ".join(f'a{n}="1"' for n in range(80)) + "/>"), Code.SHEET_UNREADABLE, id="many attributes"),
        pytest.param(by_hand(sheet_xml('<row r="1000000000000"/>')), Code.SHEET_UNREADABLE, id="row number"),
        pytest.param(by_hand(sheet_xml('<row r="1"><c r="XFE1"><v>1</v></c></row>')), Code.SHEET_UNREADABLE, id="column beyond the last"),
        pytest.param(by_hand(sheet_xml('<row r="1"><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>')), Code.SHEET_UNREADABLE, id="one address twice"),
        pytest.param(by_hand(sheet_xml('<row r="1"><c r="A1" t="s"><v>9</v></c></row>')), Code.SHEET_UNREADABLE, id="text that isn't there"),
        pytest.param(by_hand(sheet_xml('<row r="1"><c r="A1" t="s"><v>-1</v></c></row>')), Code.SHEET_UNREADABLE, id="negative text number"),
        pytest.param(by_hand(SHEET, names=("Walls", "walls")), Code.SHEET_UNREADABLE, id="two tabs of one name"),
        pytest.param(by_hand("<worksheet"), Code.SHEET_UNREADABLE, id="no XML"),
        pytest.param(by_hand(" " * (40 << 20)), Code.SHEET_TOO_LARGE, id="40 MiB of blanks"),
        pytest.param(by_hand("<w>" + " " * (2 << 20) + "</w>"), Code.SHEET_TOO_LARGE, id="ratio over 100"),
        pytest.param(by_hand(sheet_xml("".join(f'<row r="{n}"/>' for n in range(1, 200_100)))), Code.SHEET_TOO_LARGE, id="rows"),
        pytest.param(by_hand(sheet_xml("", '<conditionalFormatting sqref="' + "A1 B2 " * 11_000 + '"/>')), Code.SHEET_TOO_LARGE, id="ruled ranges"),
    ],
)  # fmt: skip
def test_bombs_are_refused_quickly(data, code):
    """A small file that would keep the library busy, or mislead it, is refused before it gets there."""
    assert refusal(data).code is code


def test_cells_are_counted_over_all_tabs():
    """More than 200,000 stored cells, spread over tabs, are too many."""
    rows = "".join(f'<row r="{r}">' + "<c/>" * 100 + "</row>" for r in range(1, 802))
    chance = Random(1)  # noqa: S311 - dice for a test
    padding = "".join(f"<x y='{chance.random()}'/>" for _ in range(9000))
    data = by_hand(sheet_xml(rows, padding), names=("a", "b", "c"))
    problem = refusal(data)
    assert problem.code is Code.SHEET_TOO_LARGE
    assert "cells" in problem.detail


def with_extra(*parts, method=zipfile.ZIP_DEFLATED):
    """A least workbook with more entries."""
    return zipped([*parts_by_hand(SHEET), *parts], method)


@pytest.mark.parametrize(
    ("data", "code"),
    [
        pytest.param(with_extra(*((f"x/{n}.bin", b"") for n in range(500))), Code.SHEET_TOO_LARGE, id="entries"),
        pytest.param(with_extra(("../evil.xml", "<x/>")), Code.SHEET_UNREADABLE, id="dots"),
        pytest.param(with_extra(("/abs.xml", "<x/>")), Code.SHEET_UNREADABLE, id="absolute"),
        pytest.param(with_extra(("C:evil.xml", "<x/>")), Code.SHEET_UNREADABLE, id="drive"),
        pytest.param(with_extra(("xl\\evil.xml", "<x/>")), Code.SHEET_UNREADABLE, id="backslash"),
        pytest.param(with_extra(("XL/WORKBOOK.XML", "<x/>")), Code.SHEET_UNREADABLE, id="case collision"),
        pytest.param(with_extra(("y" * 300, "<x/>")), Code.SHEET_UNREADABLE, id="long name"),
        pytest.param(with_extra(("x.bin", b"x" * 90), method=zipfile.ZIP_LZMA), Code.SHEET_UNREADABLE, id="lzma"),
        pytest.param(with_extra() + b"tail", Code.SHEET_UNREADABLE, id="something after the end"),
        pytest.param(zipped([p for p in parts_by_hand(SHEET) if "sheet1" not in p[0]]), Code.SHEET_UNREADABLE, id="tab's part missing"),
    ],
)  # fmt: skip
def test_strange_archives_are_refused(data, code):
    """An archive that no spreadsheet program writes is refused."""
    assert refusal(data).code is code


def test_duplicate_entries_are_refused():
    """Two entries of one name are refused: readers differ on which counts."""
    with pytest.warns(UserWarning, match="Duplicate name"):
        data = zipped([*parts_by_hand(SHEET), ("xl/workbook.xml", "<x/>")])
    assert refusal(data).code is Code.SHEET_UNREADABLE


def test_a_nul_in_a_name_is_refused():
    """A name with a NUL, which the zip library would cut short, is refused."""
    data = with_extra(("xl/evil0.xml", "<x/>")).replace(b"xl/evil0.xml", b"xl/evil\x00.xml")
    assert refusal(data).code is Code.SHEET_UNREADABLE


def test_an_encrypted_entry_is_refused():
    """An entry with the encryption flag set is called encrypted."""
    data = bytearray(with_extra())
    place = data.rfind(b"PK\x01\x02")
    struct.pack_into("<H", data, place + 8, 1)
    assert refusal(bytes(data)).code is Code.SHEET_ENCRYPTED


def test_a_lying_size_is_caught_while_inflating():
    """A part that inflates to more than its directory says never gets past the archive."""
    data = bytearray(with_extra(("big.bin", bytes(3 << 20))))
    for magic, offset in ((b"PK\x01\x02", 24), (b"PK\x03\x04", 22)):
        struct.pack_into("<I", data, data.rfind(magic) + offset, 100)
    assert refusal(bytes(data)).code is Code.SHEET_UNREADABLE


@pytest.mark.parametrize(
    ("cell", "code", "shown"),
    [
        ('<c r="B2"><v>abc</v></c>', Code.NUMBER_NOT_UNDERSTOOD, "abc"),
        ('<c r="B2"><v>12,5</v></c>', Code.NUMBER_NOT_UNDERSTOOD, "12,5"),
        ('<c r="B2" t="n"><v>NaN</v></c>', Code.NUMBER_NOT_UNDERSTOOD, "NaN"),
        ('<c r="B2"><v>1e999</v></c>', Code.NUMBER_NOT_UNDERSTOOD, "1e999"),
        ('<c r="B2"><v>' + "9" * 5000 + "</v></c>", Code.NUMBER_NOT_UNDERSTOOD, "9" * 40),
        ('<c r="B2" t="b"><v>true</v></c>', Code.NUMBER_NOT_UNDERSTOOD, "true"),
        ('<c r="B2" t="d"><v>31.12.2024</v></c>', Code.DATE_NOT_UNDERSTOOD, "31.12.2024"),
    ],
)
def test_cells_that_would_lose_the_workbook_are_named(cell, code, shown):
    """A number cell without a number, which the library answers with an exception, is a fault at its address."""
    (problem,) = inspected(by_hand(sheet_xml(f'<row r="2">{cell}</row>'))).problems
    assert (problem.code, str(problem.cell), problem.found) == (code, "Walls!B2", shown)


def test_several_bad_cells_are_all_told():
    """Every such cell is told, in each tab."""
    data = by_hand(sheet_xml('<row r="1"><c r="A1"><v>x</v></c><c r="C1"><v>y</v></c></row>'), names=("Walls", "Trim"))
    assert [str(problem.cell) for problem in inspected(data).problems] == ["Walls!A1", "Walls!C1", "Trim!A1", "Trim!C1"]


@pytest.mark.parametrize("method", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
def test_unusual_but_sound_archives_pass(method):
    """Stored entries, folders and strangers' parts are no reason to refuse."""
    data = with_extra(("customXml/", b""), ("media/picture.png", b"\x89PNG"), method=method)
    assert inspected(data).problems == ()


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


def test_openpyxl_is_the_version_the_limits_were_measured_with():
    """The limits rest on measurements with one version of the library; a new one asks for new ones."""
    assert openpyxl.__version__ == "3.1.5"
