"""The blank workbooks: what they guide to, and that the reader finds everything in them."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils import get_column_letter

from service.sheets.layout import LISTS_TAB, Kind
from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.reader import read_price_list, read_room_sheet
from service.sheets.tables import recognized
from service.sheets.template import filled_book, price_list_template, room_sheet_template
from service.units import Units
from tests.sheets.plain_xml import cell_formats, column_formats, names, part, sheet_parts, without
from tests.sheets.workbooks import saved

ROOT = Path(__file__).resolve().parents[2]
HEADINGS_2 = {
    "Job": "Job name *|Customer *|Customer email|Customer phone|Site address *|Measured by|Measured on *|Units *|Year built|Occupied|Price list|Valid for days|Discount|Notes",
    "Rooms": "Room *|Ceiling height *|Wall covering|Ceiling covering|Joists parallel to|First joist|Joist spacing|Ceiling shape|Ceiling finish|Access|Notes",
    "Walls": "Room *|Wall *|Length *|Corner *|Angle|First stud|Stud spacing|Studs at|Framing|Notes",
    "Openings": "Room *|Wall *|Opening *|From left *|Width *|Height *|Sill height|Casing|Style|Sides|Notes",
    "Trim": "Room *|Walls *|Assembly *|Inside joint|Ends|Height|Remove existing|Finish|Coats|Notes",
    "Ceiling": "Room *|Feature *|Item|Diameter|Weight|Hangs down|Remove existing|Box rated for fan|Nearest wall|Notes",
    "Extras": "Room|Description *|Quantity *|Unit *|Unit price *|Kind *|Notes",
}
HEADINGS_3 = {
    "Wages": "Role *|Wage *",
    "Payments": "When *|Share *",
    "Profiles": "Profile *|Description *|Shape *|Width *|Thickness *|Spring angle|Material|Finish|Girth|Weight per foot",
    "Stock": "Profile *|Length *|Price *|Per *|Available|Offcut",
    "Assemblies": "Assembly *|Layer *|Position *|Profile *|Inside joint|Outside joint|Adhesive|Beads|Bead diameter|Nail|Blocks|Block spacing|Caulk edges",
    "Supplies": "Code *|Description *|Kind *|Package size *|Package unit *|Price *|Length|Shank diameter|Volume|Coverage",
    "Labor": "Task *|Unit *|Hours per unit *|Role *|Crew",
    "Conditions": "Condition *|From|To|Applies to *|Factor *",
    "Notices": "Text *|Smallest type|Beside signature",
    "Trade": "Entry *|Value *|Source *",
}
FIRM_3 = (
    "Name *|Address|Phone|Email|License number|Currency *|Units *|Time zone *|Paper|Document word|Valid for days *|Burden share *|"
    "Overhead share *|Profit method *|Profit rate *|Contingency share *|Material tax rate *|Sales tax rate *|Sales tax on *|"
    "Minimum charge|Deposit cap|Crew size *|Productive hours a day *|Kerf *|End trim *|Shortest piece *|Shortest offcut to keep *|"
    "Joint stagger *|Scarf angle *|Inside joint *|Splice short runs|Solver seconds|Casing reveal *|Stool horn|Spare stock|"
    "Saw miter limit|Saw bevel limit|Shoe nails to|Default finish|Lead certificate"
)


def headings(sheet):
    """First row of a tab, or column A of a tab of items."""
    if sheet["A1"].value == "Item":
        return "|".join(sheet.cell(row, 1).value for row in range(2, sheet.max_row + 1))
    return "|".join(cell.value for cell in sheet[1])


def test_headings_are_the_published_words(template):
    """Headings are exactly the layout's words (layout version 1), required ones with a star."""
    layout, book = template
    wanted = HEADINGS_2 if layout is ROOM_SHEET else HEADINGS_3 | {"Firm": FIRM_3}
    assert {name: headings(book[name]) for name in book.sheetnames if name != LISTS_TAB} == wanted


def test_length_columns_hold_text(template):
    """Seen by a library, columns and item cells for lengths are formatted as Text, so that 1/2 stays 1/2."""
    layout, book = template
    for tab in layout.tabs:
        for number, column in enumerate(tab.columns, start=1):
            if column.kind.is_length:
                sheet = book[tab.name]
                place = sheet[f"B{number + 1}"] if tab.is_items else sheet.column_dimensions[get_column_letter(number)]
                assert place.number_format == "@", (tab.name, column.heading)


def test_length_columns_hold_text_in_every_row(blank):
    """By plain XML: a length column has the format Text for all its cells, stored or not yet there.

    Source: `@` is Text (ECMA-376 Part 1, 18.8.31).
    """
    layout, data = blank
    sheets = sheet_parts(data)
    for tab in layout.tabs:
        stored, columns = cell_formats(data, sheets[tab.name]), column_formats(data, sheets[tab.name])
        for number, column in enumerate(tab.columns, start=1):
            if column.kind.is_length and not tab.is_items:
                letter = get_column_letter(number)
                assert columns[number] == "@", (tab.name, column.heading)
                assert {stored[f"{letter}{row}"] for row in range(2, 32)} == {"@"}, (tab.name, column.heading)


def test_the_layout_version_is_told_twice(blank):
    """By plain XML: a property of the workbook tells the layout version, and a defined name tells it again."""
    _, data = blank
    (told,) = part(data, "docProps/custom.xml")
    assert (told.get("name"), [value.text for value in told]) == ("Layout version", ["1"])
    assert names(data)["Layout_version"] == "1"


def renamed(data, version):
    """The workbook with another version in its defined name."""
    book = openpyxl.load_workbook(io.BytesIO(data))
    book.defined_names["Layout_version"].attr_text = version
    return saved(book)


@pytest.mark.parametrize(
    ("version", "codes"), [("1", []), ("=1", []), ("2", ["layout-unknown"]), ("Rooms!$A$1", []), ("", [])]
)
def test_the_name_stands_in_for_a_lost_property(version, codes):
    """Without the property the name's number counts; a name that is no number is somebody's own, and version 1 holds."""
    data = without(renamed(room_sheet_template(Units.IMPERIAL), version), "docProps/custom.xml")
    with pytest.raises(KeyError):
        part(data, "docProps/custom.xml")
    assert [str(problem.code) for problem in read_room_sheet(data).problems] == codes


def test_the_property_beats_the_name():
    """Where both are there, the property tells the version."""
    assert read_room_sheet(renamed(room_sheet_template(Units.IMPERIAL), "2")).problems == ()


def test_an_untouched_template_reads_as_empty():
    """Example rows are skipped as they came: nothing is there but the units, and the reader finds no fault."""
    for units in Units:
        reading = read_room_sheet(room_sheet_template(units))
        assert reading.problems == ()
        assert reading.document == {"layout": 1, "job": {"units": str(units)}, "rooms": [], "trim": [], "extras": []}
    assert read_price_list(price_list_template()).problems == ()


def test_a_touched_example_row_is_read():
    """Once anything in an example row is typed over, it is a row like any other."""
    book = openpyxl.load_workbook(io.BytesIO(room_sheet_template(Units.IMPERIAL)))
    book["Rooms"]["A2"] = "Kitchen"
    reading = read_room_sheet(saved(book))
    assert [room["name"] for room in reading.document["rooms"]] == ["Kitchen"]


NUMBERS = {"Year built": 1962, "Discount": 0.02}


def test_numbers_shares_and_dates_are_cells_that_reckon():
    """A filled book holds numbers, shares and dates as such, lengths as text; the reader spells them as they were typed."""
    job = {"Year built": "1962", "Discount": "2%", "Measured on": "2025-04-14"}
    extra = {"Quantity": "1.5", "Unit price": "35.00", "Description": "Patch"}
    rows = {"Job": [job], "Extras": [extra], "Rooms": [{"Room": "7", "Ceiling height": "98"}]}
    data = filled_book(ROOM_SHEET, Units.IMPERIAL, rows)
    book = openpyxl.load_workbook(io.BytesIO(data))
    held = {book["Job"].cell(row, 1).value: book["Job"].cell(row, 2) for row in range(2, 16)}
    assert {name: held[name].value for name in NUMBERS} == NUMBERS
    assert held["Discount"].number_format == "0%"
    assert held["Measured on *"].value == datetime(2025, 4, 14)  # noqa: DTZ001 - a spreadsheet's dates have no zone
    assert (book["Extras"]["C2"].value, book["Extras"]["E2"].value) == (1.5, 35)
    assert book["Extras"]["E2"].number_format == "0.00"
    assert (book["Rooms"]["A2"].value, book["Rooms"]["B2"].value) == ("7", "98")
    document = read_room_sheet(data).document
    assert document["job"] == {"year_built": "1962", "discount": "2%", "measured_on": "2025-04-14"}
    assert document["extras"] == [{"description": "Patch", "quantity": "1.5", "unit_price": "35"}]


def example_value(column):
    """Something to type into a column."""
    if column.choices:
        return column.choices[-1]
    return {Kind.LENGTH: "12' 6 1/2\"", Kind.NUMBER: "3", Kind.DATE: "2025-01-02"}.get(
        column.kind, f"some {column.heading}"
    )


@pytest.mark.parametrize(("layout", "read"), [(ROOM_SHEET, read_room_sheet), (PRICE_LIST, read_price_list)])
def test_what_is_typed_under_a_heading_comes_back_under_its_member(layout, read):
    """Template, reader and members share one declaration: every column of every tab makes the round trip."""
    rows = {tab.name: [{column.heading: example_value(column) for column in tab.columns}] for tab in layout.tabs}
    reading = read(
        filled_book(layout, Units.IMPERIAL, rows | {"Rooms": [rows.get("Rooms", [{}])[0] | {"Room": "some Room"}]})
    )
    assert reading.problems == ()
    for tab in layout.tabs:
        place = reading.document["rooms"][0] if tab.within else reading.document
        row = place[tab.member] if tab.is_items else place[tab.member][0]
        for column in tab.columns:
            if tab.within and column.heading == "Room":
                continue
            value = row
            for name in column.path:
                value = value[name]
            typed = example_value(column)
            assert value == ([typed] if column.kind.is_list else typed), (tab.name, column.heading)


@pytest.mark.parametrize("layout", [ROOM_SHEET, PRICE_LIST], ids=lambda layout: layout.name)
def test_no_word_means_two_columns(layout):
    """Within a tab each heading and synonym leads to one column, each column to one member."""
    for tab in layout.tabs:
        words = [word for column in tab.columns for word in (column.heading, *column.synonyms)]
        assert len(words) == len(set(map(str.casefold, words))), tab.name
        assert len(recognized(tab.columns)) == len(words), tab.name
        assert len({column.path for column in tab.columns}) == len(tab.columns), tab.name


def digest_elsewhere(**environment):
    """Digest of all templates, made in another process."""
    code = (
        "import hashlib; from service.sheets.template import *; from service.units import Units; "
        "print(hashlib.sha256(room_sheet_template(Units.METRIC) + price_list_template()).hexdigest())"
    )
    return subprocess.run(  # noqa: S603 - our own interpreter and code
        [sys.executable, "-c", code], cwd=ROOT, env=os.environ | environment, capture_output=True, text=True, check=True
    ).stdout  # fmt: skip


def test_bytes_are_the_same_every_time():
    """Another process, hash seed, time zone and XML library make the same bytes."""
    first = digest_elsewhere(PYTHONHASHSEED="1", TZ="Asia/Tokyo", OPENPYXL_LXML="True")
    second = digest_elsewhere(PYTHONHASHSEED="2", TZ="America/Lima", OPENPYXL_LXML="False", OPENPYXL_DEFUSEDXML="False")
    assert len(first) == 65
    assert first == second
