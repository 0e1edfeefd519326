"""What guides the person who types: dropdowns, alerts and prompts of the blank workbooks."""

from __future__ import annotations

import io

import openpyxl
from openpyxl.utils import range_boundaries

from service.sheets.layout import LISTS_TAB
from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.sheet_pass import MOST_CELLS
from service.sheets.template import price_list_template, room_sheet_template
from service.units import Units
from tests.sheets.plain_xml import guides, sheet_parts, states
from tests.sheets.templates import first_cell, guided


def test_dropdowns_offer_every_choice_and_refuse_others(template):
    """A column with choices has a dropdown that stops anything else; its list on the hidden tab is those choices."""
    layout, book = template
    seen = 0
    for tab in layout.tabs:
        for number, column in enumerate(tab.columns, start=1):
            if column.choices and not column.listed_in:
                guide = guided(book[tab.name])[first_cell(tab, number)]
                name, _, area = guide.formula1.partition("!")
                assert (guide.type, guide.showErrorMessage, guide.errorStyle) == ("list", True, "stop")
                assert tuple(row[0].value for row in book[name][area.replace("$", "")]) == column.choices
                seen += 1
    assert seen > 15
    assert book[LISTS_TAB].sheet_state == "hidden"


def test_every_column_is_guided_with_its_alert_on(blank):
    """By plain XML: each column and item has a prompt; every alert is on; no list's source starts with `=`."""
    layout, data = blank
    sheets = sheet_parts(data)
    for tab in layout.tabs:
        found = guides(sheets[tab.name])
        wanted = {first_cell(tab, number) for number in range(1, len(tab.columns) + 1)}
        assert wanted <= {area.partition(":")[0] for guide in found for area in guide["areas"]}, tab.name
        for guide in found:
            assert (guide["showInputMessage"], guide["showErrorMessage"]) == ("1", "1"), guide
            assert guide["prompt"], guide
            assert guide["promptTitle"], guide
            assert (guide.get("type") == "list") == bool(guide["source"]), guide
            assert not guide["source"].startswith("="), guide


def test_the_lists_stand_on_a_hidden_tab(blank):
    """By plain XML: the tab with the lists is hidden, all others are seen."""
    layout, data = blank
    assert states(data) == {tab.name: "visible" for tab in layout.tabs} | {LISTS_TAB: "hidden"}


FED = {
    "room sheet": {
        ("Walls", "Room"): "Rooms_listed", ("Openings", "Room"): "Rooms_listed", ("Ceiling", "Room"): "Rooms_listed",
        ("Extras", "Room"): "Rooms_listed", ("Trim", "Room"): "Rooms_or_all_listed",
    },
    "price list": {
        ("Stock", "Profile"): "Profiles_listed", ("Assemblies", "Profile"): "Profiles_listed",
        ("Assemblies", "Nail"): "Supplies_listed", ("Labor", "Role"): "Wages_listed",
    },
}  # fmt: skip


def test_dropdowns_offer_what_other_tabs_list(template):
    """Rooms, profiles, supplies and roles come by a defined name from their tab; others are warned of, not stopped.

    Not stopped, because a room may be added to its tab after the walls were typed.
    """
    layout, book = template
    found = {}
    for tab in layout.tabs:
        for number, column in enumerate(tab.columns, start=1):
            guide = guided(book[tab.name])[first_cell(tab, number)]
            if guide.errorStyle == "warning":
                assert guide.type == "list"
                assert guide.showErrorMessage
                found[tab.name, column.heading] = guide.formula1
    walls = found.pop(("Openings", "Wall"), None)
    assert found == FED[layout.name]
    assert set(found.values()) <= set(book.defined_names)
    assert (walls is not None) == (layout is ROOM_SHEET)


def test_an_openings_wall_is_offered_from_its_rooms_walls():
    """The dropdown of Openings looks the room of its own row up among the walls, within the 255 characters allowed."""
    book = openpyxl.load_workbook(io.BytesIO(room_sheet_template(Units.IMPERIAL)))
    guide = guided(book["Openings"])["B2"]
    assert "MATCH($A2,Walls!$A$2:$A$5001,0)" in guide.formula1
    assert len(guide.formula1) <= 255


def test_trim_may_be_ordered_for_all_rooms():
    """The list behind Trim's rooms starts with `all`; below it stand formulas for what the Rooms tab lists."""
    book = openpyxl.load_workbook(io.BytesIO(room_sheet_template(Units.IMPERIAL)))
    (column,) = [cells for cells in book[LISTS_TAB].iter_cols() if cells[0].value == "all"]
    assert column[1].value == '=IF(Rooms!$A2="","",Rooms!$A2)'
    assert len([cell for cell in column if cell.value]) == 301


def test_assemblies_are_offered_where_a_price_list_is_named():
    """A room sheet for a price list names it and offers its assemblies for trim and casing; else they are typed."""
    offered = ("Three-piece crown", "Casing")
    book = openpyxl.load_workbook(io.BytesIO(room_sheet_template(Units.IMPERIAL, "spring", offered)))
    plain = openpyxl.load_workbook(io.BytesIO(room_sheet_template(Units.IMPERIAL)))
    assert [
        book["Job"].cell(row, 2).value for row in range(2, 16) if book["Job"].cell(row, 1).value == "Price list"
    ] == ["spring"]
    for tab, cell in (("Trim", "C2"), ("Openings", "H2")):
        name, _, area = guided(book[tab])[cell].formula1.partition("!")
        assert tuple(row[0].value for row in book[name][area.replace("$", "")]) == offered
        assert guided(plain[tab])[cell].type is None


def test_prompts_name_the_unit():
    """Every length's prompt says what a bare number is, by the sheet's units; a price list asks for the unit."""
    templates = (
        (ROOM_SHEET, room_sheet_template(Units.IMPERIAL), "bare numbers are inches"),
        (ROOM_SHEET, room_sheet_template(Units.METRIC), "Bare numbers are millimeters"),
        (PRICE_LIST, price_list_template(), "Write the unit"),
    )
    for layout, data, words in templates:
        book = openpyxl.load_workbook(io.BytesIO(data))
        for tab in layout.tabs:
            for number, column in enumerate(tab.columns, start=1):
                if column.kind.is_length:
                    assert words in guided(book[tab.name])[first_cell(tab, number)].prompt, column.heading


def test_prompts_are_whole_sentences(template):
    """No prompt, title or alert is cut short or longer than a spreadsheet program takes (255, 32 and 225 characters)."""
    _, book = template
    found = [guide for sheet in book for guide in sheet.data_validations.dataValidation]
    assert len(found) > 70
    assert [guide.prompt for guide in found if len(guide.prompt) > 255 or guide.prompt[-1] not in ".…"] == []
    assert [guide.error for guide in found if guide.error and (len(guide.error) > 225 or guide.error[-1] != ".")] == []
    assert [guide.promptTitle for guide in found if len(guide.promptTitle) > 32] == []


def test_guided_rows_leave_room_in_every_program(blank):
    """One program writes a cell for each guided one; all of them together are less than half of what is read."""
    _, data = blank
    cells = 0
    for sheet in sheet_parts(data).values():
        for area in (area for guide in guides(sheet) for area in guide["areas"]):
            left, top, right, bottom = range_boundaries(area)
            cells += (right - left + 1) * (bottom - top + 1)
    assert 1_000 < cells < MOST_CELLS / 2
