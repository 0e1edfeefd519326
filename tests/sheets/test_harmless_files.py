"""Workbooks that are written unusually and soundly are read like any other; what they bring along is told, not followed."""

from __future__ import annotations

import zipfile

import pytest

from service.problems import Severity
from service.sheets.guard import inspected
from service.sheets.reader import read_room_sheet
from tests.sheets.attacks import Raw, link, raw_zip, with_extra
from tests.sheets.unusual_files import PLAIN, in_utf_16, parts_of, streamed, with_prefix, with_zip64_end
from tests.sheets.workbooks import MAIN, RELS, by_hand, parts_by_hand, room_book, saved, sheet_xml, zipped


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(zipped(parts_of(PLAIN), zipfile.ZIP_STORED), id="stored"),
        pytest.param(zipped([*parts_of(PLAIN), ("customXml/", b""), ("xl/media/a.png", b"\x89PNG")]), id="folders and strangers"),
        pytest.param(zipped([*parts_of(PLAIN), ("xl/drawings/n.vml", b"<xml><br></xml>")]), id="drawing that is no XML"),
        pytest.param(zipped(list(reversed(parts_of(PLAIN)))), id="parts in another order"),
        pytest.param(raw_zip([Raw(n.encode(), c) for n, c in parts_of(PLAIN)], comment=b"made by hand"), id="comment"),
        pytest.param(streamed(PLAIN), id="streamed"),
        pytest.param(with_zip64_end(zipped(parts_of(PLAIN))), id="Zip64"),
        pytest.param(in_utf_16(PLAIN), id="UTF-16"),
        pytest.param(with_prefix(PLAIN), id="prefixes"),
    ],
)  # fmt: skip
def test_the_same_sheet_is_read(data):
    """However the archive and its XML are written, the document is that of the plain workbook, without a fault."""
    assert read_room_sheet(data).problems == ()
    assert read_room_sheet(data).document == read_room_sheet(PLAIN).document


def test_utf_16_is_really_there():
    """The sheets of the UTF-16 workbook begin with a byte-order mark; else the test before shows nothing."""
    starts = {content[:2] for name, content in parts_of(in_utf_16(PLAIN)) if "worksheets/sheet" in name}
    assert starts == {b"\xff\xfe"}


def remarks(data):
    """Code, severity and found text of what is told of a workbook that may be read."""
    inspection = inspected(data)
    assert inspection.problems == ()
    return [(str(remark.code), remark.severity, remark.found) for remark in inspection.remarks]


def formulas(*texts):
    """A least workbook of formulas with a value."""
    cells = "".join(f'<c r="A{n}"><f>{text}</f><v>1</v></c>' for n, text in enumerate(texts, 1))
    rows = cells.replace('<c r="A', '</row><row><c r="A').removeprefix("</row>") + "</row>"
    return by_hand(sheet_xml(rows))


@pytest.mark.parametrize(
    ("text", "reach"),
    [
        ("[1]Site!$B$3", "another workbook"),
        ("SUM('[2]My site'!A1:A9)", "another workbook"),
        ("[Site.xlsx]Walls!B3", "another workbook"),
        ("cmd|' /C calc'!A0", "DDE"),
        ("_xlfn.WEBSERVICE(&quot;http://nowhere.invalid&quot;)", "the function WEBSERVICE"),
        ("RTD(&quot;a&quot;,,&quot;b&quot;)", "the function RTD"),
    ],
)
def test_a_formula_that_reaches_outside_is_a_warning(text, reach):
    """Its value counts as last saved, and the cell is named, because the value may be out of date."""
    assert remarks(formulas(text)) == [("sheet-links-outside", Severity.WARNING, reach)]
    (remark,) = inspected(formulas(text)).remarks
    assert str(remark.cell) == "Walls!A1"


@pytest.mark.parametrize(
    "text", ["Walls[Length]", "Table1[1]", "Table1[[#All],[1]]", "Other!A1", "&quot;[1]a!b|c!d&quot;", "SUM(A1,[1])"]
)
def test_a_formula_that_stays_inside_is_none(text):
    """Columns of tables, other tabs and quoted texts are no links."""
    assert remarks(formulas(text)) == []


def test_many_outside_formulas_are_one_warning():
    """Of 50 cells the first are named and all are counted."""
    (remark,) = inspected(formulas(*["[1]Site!A1"] * 50)).remarks
    assert "50 cells" in remark.detail
    assert "Walls!A20 …" in remark.detail


def with_link(kind, target="http://nowhere.invalid/x", name="xl/worksheets/_rels/sheet1.xml.rels"):
    """A least workbook with a relationship that leads outside."""
    links = f'<Relationships xmlns="{RELS}">{link(kind, target, TargetMode="External")}</Relationships>'
    return with_extra((name, links))


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (with_extra(("xl/externalLinks/externalLink1.xml", f'<externalLink xmlns="{MAIN}"><externalBook/></externalLink>')), "a link to another workbook"),
        (with_extra(("xl/externalLinks/externalLink1.xml", f'<externalLink xmlns="{MAIN}"><ddeLink ddeService="cmd" ddeTopic="x"/></externalLink>')), "a DDE link, a link to another workbook"),
        (with_extra(("xl/connections.xml", f'<connections xmlns="{MAIN}"/>')), "a data connection"),
        (with_link("image"), "an outside link (image)"),
        (with_link("oleObject"), "an outside link (oleObject)"),
        (with_link("attachedTemplate", name="xl/_rels/other.xml.rels"), "an outside link (attachedTemplate)"),
    ],
)  # fmt: skip
def test_outside_parts_that_no_cell_needs_are_a_note(data, words):
    """Links to workbooks, DDE, connections and pictures elsewhere are told once, and left alone."""
    assert remarks(data) == [("sheet-links-outside", Severity.NOTE, words)]


def test_a_hyperlink_is_only_text():
    """An address to click on is no link that anything would follow."""
    assert remarks(with_link("hyperlink")) == []


def test_macros_are_a_note():
    """A workbook with macros is read; the note says that they weren't run. The part alone or the type alone tells it."""
    kind = "application/vnd.ms-excel.sheet.macroEnabled.main+xml"
    parts = parts_by_hand(sheet_xml())
    typed = zipped(
        [(parts[0][0], parts[0][1].replace(parts[0][1].split('ContentType="')[2].split('"')[0], kind)), *parts[1:]]
    )
    for data in (with_extra(("xl/vbaProject.bin", b"\xd0\xcf")), typed):
        assert [(code, severity) for code, severity, _ in remarks(data)] == [("sheet-has-macros", Severity.NOTE)]


def test_remarks_travel_with_the_reading():
    """What the guard remarks stands among the reader's problems, and refuses nothing."""
    reading = read_room_sheet(zipped([*parts_of(PLAIN), ("xl/vbaProject.bin", b"\xd0\xcf")]))
    assert [str(problem.code) for problem in reading.problems] == ["sheet-has-macros"]
    assert reading.document == read_room_sheet(PLAIN).document


def test_a_hidden_value_under_a_merge_is_not_read():
    """Of merged cells only the first has a value, as spreadsheet programs show it, whatever is stored in the others."""
    walls = room_book()
    data = saved(walls)
    sheet = next(name for name, content in parts_of(data) if b">Corner<" in content and "sheet" in name)
    spoiled = [
        (name, content.replace(b"</sheetData>", b"</sheetData><mergeCells count='1'><mergeCell ref='C2:C3'/></mergeCells>"))
        if name == sheet else (name, content) for name, content in parts_of(data)
    ]  # fmt: skip
    reading = read_room_sheet(zipped(spoiled))
    assert ("merged-cells", "C2") in {(str(problem.code), problem.cell.address) for problem in reading.problems}
    assert "length" not in reading.document["rooms"][0]["walls"][1]
