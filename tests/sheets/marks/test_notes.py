"""Notes of the check beside the user's own, and their boxes."""

from __future__ import annotations

import io
import re

import openpyxl
import pytest

from service.problems import Cell, Code, Problem, Severity
from service.sheets.marks import marked
from service.sheets.marks.note_text import height_of
from service.sheets.marks.own import NOTE_END, NOTE_START
from tests.sheets.marks.examples import (
    KIND,
    MAIN,
    WALLS,
    as_read,
    book,
    faults,
    links,
    packed,
    parts,
    sheet_xml,
    tabs_with,
)

OWN_NOTE = (
    '<comment ref="C2" authorId="0"><text><r><rPr><b/><sz val="9"/></rPr><t xml:space="preserve">Ask </t></r>'
    "<r><t>Tamsin&#10;on Monday</t></r></text></comment>"
)
PLAIN_NOTE = '<comment ref="D5" authorId="0"><text><t>plain</t></text></comment>'
ELSEWHERE = '<comment ref="A1" authorId="0"><text><t>heading</t></text></comment>'
TALK = '<comment ref="C2" authorId="1"><text><t>[Threaded comment] Is this right?</t></text></comment>'
BOX = (
    "<a:shape id='_x0000_s2050' type='#_x0000_t202' style='visibility:hidden'><b:ClientData ObjectType='Note'>"
    "<b:Anchor>3, 10, 0, 2, 4, 20, 1, 9</b:Anchor><b:Row>1</b:Row><b:Column>2</b:Column></b:ClientData><br></a:shape>"
)
DRAWING = (
    '<xml xmlns:a="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" '
    'xmlns:b="urn:schemas-microsoft-com:office:excel"><a:shapetype id="_x0000_t202" o:spt="202"/>'
    f"{BOX}</xml>"
)


def noted_book(*notes: str, drawing: str = DRAWING) -> bytes:
    """The small room sheet whose walls carry notes of the user's, in a drawing with a prefix of its own."""
    walls = sheet_xml(WALLS, after='<legacyDrawing r:id="rId2"/>')
    authors = "<authors><author>Ann</author><author>tc={AAAA}</author></authors>"
    listed = f'<comments xmlns="{MAIN}">{authors}<commentList>{"".join(notes)}</commentList></comments>'
    data = book(
        tabs_with(walls),
        more={
            "xl/worksheets/_rels/sheet3.xml.rels": links(
                ("comments", "../comments1.xml"), ("vmlDrawing", "../d/v.vml")
            ),
            "xl/comments1.xml": listed,
            "xl/d/v.vml": drawing,
        },
    )
    content = parts(data)
    told = (
        '<Default Extension="vml" ContentType="application/vnd.openxmlformats-officedocument.vmlDrawing"/>'
        f'<Override PartName="/xl/comments1.xml" ContentType="{KIND}.comments+xml"/></Types>'
    )
    content["[Content_Types].xml"] = content["[Content_Types].xml"].replace(b"</Types>", told.encode())
    return packed(content)


def notes_of(data: bytes, tab: str = "Walls") -> dict[str, str]:
    """Text of each note in a tab, as a plain reader sees it."""
    sheet = openpyxl.load_workbook(io.BytesIO(data))[tab]
    return {cell.coordinate: cell.comment.text for row in sheet.iter_rows() for cell in row if cell.comment}


def test_a_note_says_what_was_found_and_what_to_do():
    """Each faulty cell has a note with the severity, what was found and the help, between our two lines."""
    data = book(tabs_with(sheet_xml(WALLS)))
    found = [problem for problem in faults(data) if problem.cell and problem.cell.sheet == "Walls"]
    notes = notes_of(marked(data, faults(data)))
    assert len(found) >= 3
    for problem in found:
        text = notes[problem.cell.address]
        assert text.startswith(NOTE_START)
        assert text.endswith(NOTE_END)
        for words in (problem.detail, problem.help, problem.found):
            assert words in text


def test_the_users_words_stay():
    """Ours is appended to a note of the user's, whose runs stay as they were written; other notes aren't touched."""
    data = noted_book(OWN_NOTE, PLAIN_NOTE, ELSEWHERE)
    copy = marked(data, faults(data))
    part = parts(copy)["xl/comments1.xml"].decode()
    assert (
        '<r><rPr><b/><sz val="9"/></rPr><t xml:space="preserve">Ask </t></r><r><t>Tamsin&#10;on Monday</t></r>' in part
    )
    assert ELSEWHERE in part
    notes = notes_of(copy)
    assert notes["C2"].startswith("Ask Tamsin\non Monday\n\n" + NOTE_START)
    assert notes["D5"].startswith("plain\n\n" + NOTE_START)
    assert notes["A1"] == "heading"
    assert marked(copy, faults(copy)) == copy


def test_a_mended_cell_keeps_the_users_note():
    """When nothing is wrong any more, the user's note is alone again, and a note that was ours is gone with its box."""
    data = noted_book(OWN_NOTE, PLAIN_NOTE)
    clean = marked(marked(data, faults(data)), ())
    assert notes_of(clean) == {"C2": "Ask Tamsin\non Monday", "D5": "plain"}
    assert b"conditionalFormatting" not in parts(clean)["xl/worksheets/sheet3.xml"]
    cells = re.findall(rb"Row>(\d+)<.*?Column>(\d+)<", parts(clean)["xl/d/v.vml"])
    assert cells == [(b"1", b"2"), (b"4", b"3")]


def test_words_after_ours_stay():
    """What somebody types below our lines of a note is kept by the next marking."""
    data = noted_book(OWN_NOTE)
    once = marked(data, faults(data))
    content = parts(once)
    below = content["xl/comments1.xml"].replace(NOTE_END.encode(), f"{NOTE_END}\nDone, says Ann".encode(), 1)
    again = packed(content | {"xl/comments1.xml": below})
    assert notes_of(marked(again, ()))["C2"] == "Ask Tamsin\non Monday\nDone, says Ann"


def test_a_conversation_is_left_alone():
    """A cell with a threaded comment gets its color and no note; the tab says so."""
    data = noted_book(TALK)
    copy = marked(data, faults(data))
    assert TALK in parts(copy)["xl/comments1.xml"].decode()
    told = [str(cell.value) for cell in openpyxl.load_workbook(io.BytesIO(copy))["Faults found"]["A"]]
    assert "The cell Walls!C2 holds a conversation, so no note was added there." in told
    assert b'sqref="C2"' in parts(copy)["xl/worksheets/sheet3.xml"]


def test_the_users_box_grows_and_new_boxes_are_their_own():
    """The box of a note that was appended to reaches farther; new boxes declare their namespaces and have new numbers."""
    data = noted_book(OWN_NOTE)
    drawing = parts(marked(data, faults(data)))["xl/d/v.vml"].decode()
    first = re.search(r"<b:Anchor>([^<]*)</b:Anchor><b:Row>1</b:Row><b:Column>2<", drawing)[1]
    corners = [int(number) for number in first.split(",")]
    assert corners[:4] == [3, 10, 0, 2]
    assert corners[4:6] > [4, 20]
    assert corners[6:8] > [1, 9]
    assert "<br>" in drawing
    fresh = re.findall(r"<v:shape ([^>]*)>", drawing)
    assert len(fresh) == 2
    assert all("xmlns:v=" in tag and "xmlns:x=" in tag for tag in fresh)
    numbers = re.findall(r"_x0000_s(\d+)", drawing)
    assert len(numbers) == len(set(numbers)) == 3


def test_a_drawing_that_is_none_costs_only_the_notes():
    """Where the drawing behind the notes can't be added to, colors and list are whole and the tab says so."""
    data = noted_book(OWN_NOTE, drawing="<nothing")
    copy = marked(data, faults(data))
    assert parts(copy)["xl/comments1.xml"] == parts(data)["xl/comments1.xml"]
    told = [str(cell.value) for cell in openpyxl.load_workbook(io.BytesIO(copy))["Faults found"]["A"]]
    assert any(line.startswith("No notes could be put into the tab Walls") for line in told)
    assert as_read(copy) == as_read(data)


@pytest.mark.parametrize(
    "found", ["<b>&amp;</b>", "=HYPERLINK(1)", "_x000D_", NOTE_END, "a\x01b\ud800", "line\nline", "x" * 9_000, '"']
)
def test_hostile_text_stays_text(found):
    """Markup, formulas, escapes, our own end line and control characters in a value are shown as text, or left out."""
    data = book(tabs_with(sheet_xml(WALLS)))
    fault = Problem(Code.VALUE_NOT_IN_LIST, Severity.ERROR, "/x", f"Not {found}.", "Type.", found, Cell("Walls", "D3"))
    copy = marked(data, (fault,))
    opened = openpyxl.load_workbook(io.BytesIO(copy))
    text = opened["Walls"]["D3"].comment.text
    assert text.count(NOTE_END) == 1
    row = next(row for row in opened["Faults found"].iter_rows() if row[0].value == "error")
    assert row[2].data_type == "s"
    legal = re.sub("[\x01\ud800]", "", found)
    assert row[2].value.replace("_x005F_", "_")[:999] == legal[:999]
    assert marked(copy, (fault,)) == copy


@pytest.mark.parametrize(("text", "lines"), [("one", 1), ("one\ntwo", 2), ("w" * 49 + " " + "w" * 49, 2), ("", 1)])
def test_a_box_is_as_high_as_its_lines(text, lines):
    """The height is that of the lines the text breaks into, counted by hand, plus a margin."""
    assert height_of(text) == height_of("one") + 15 * (lines - 1)


def test_libreoffice_shows_notes_closed_and_whole(converted):
    """LibreOffice reads each note's text and none of them stands open on the sheet."""
    data = noted_book(OWN_NOTE, PLAIN_NOTE)
    text = converted(marked(data, faults(data)), "fods").decode()
    tags = re.findall(r"<office:annotation [^>]*>", text)
    assert len(tags) >= 3
    assert not any('office:display="true"' in tag for tag in tags)
    assert text.count("Sheet check") >= 3
