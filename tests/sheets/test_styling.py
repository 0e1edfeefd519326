"""How the blank workbooks look and print."""

from __future__ import annotations

import io
from textwrap import wrap

import openpyxl
import pytest
from openpyxl.utils import get_column_letter

from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.template import room_sheet_template
from service.units import Units
from tests.sheets.plain_xml import NS, sheet_parts


def test_sheets_are_ready_to_print(blank):
    """By plain XML: headings frozen, one page wide, tables across the page, tab and page named in the footer."""
    layout, data = blank
    for tab in layout.tabs:
        sheet = sheet_parts(data)[tab.name]
        setup = sheet.find("m:pageSetup", NS).attrib
        pane = sheet.find("m:sheetViews/m:sheetView/m:pane", NS).attrib
        assert setup["orientation"] == ("portrait" if tab.is_items else "landscape")
        assert (setup["fitToWidth"], setup["fitToHeight"]) == ("1", "0")
        assert sheet.find("m:sheetPr/m:pageSetUpPr", NS).get("fitToPage") == "1"
        assert (pane["state"], pane["topLeftCell"]) == ("frozen", "B2")
        assert sheet.findtext("m:headerFooter/m:oddFooter", "", NS) == "&L&A&C&F&R&P / &N"


def test_headings_repeat_on_every_page(template):
    """The heading row is repeated where a tab takes several pages."""
    layout, book = template
    assert {book[tab.name].print_title_rows for tab in layout.tabs} == {"$1:$1"}


@pytest.mark.parametrize(("units", "paper"), [(Units.IMPERIAL, "1"), (Units.METRIC, "9")])
def test_paper_goes_with_the_units(units, paper):
    """An imperial sheet prints on Letter, a metric one on A4. Source: ECMA-376 Part 1, 18.3.1.63, paperSize 1 and 9."""
    sheets = sheet_parts(room_sheet_template(units))
    assert {sheets[tab.name].find("m:pageSetup", NS).get("paperSize") for tab in ROOM_SHEET.tabs} == {paper}


def test_headings_and_examples_fit_their_columns(template):
    """A heading takes two lines at most, no word of it is cut; what the example shows fits on one line."""
    layout, book = template
    for tab in layout.tabs:
        if tab.is_items:
            continue
        sheet = book[tab.name]
        assert sheet.row_dimensions[1].height >= 30
        for number, column in enumerate(tab.columns, start=1):
            width = int(sheet.column_dimensions[get_column_letter(number)].width)
            lines = wrap(sheet.cell(1, number).value, width - 1, break_long_words=False)
            assert len(lines) <= 2, (tab.name, column.heading)
            assert max(map(len, lines)) < width, (tab.name, column.heading)
            shown = [row.get(column.heading, "") for units in Units for row in tab.example_rows(units)]
            assert max(map(len, shown), default=0) < width, (tab.name, column.heading)


def luminance(color):
    """Relative luminance of an ARGB color. Source: Web Content Accessibility Guidelines 2.1, definitions."""
    parts = [int(color[n : n + 2], 16) / 255 for n in (2, 4, 6)]
    linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_colors_can_be_read_in_gray():
    """Headings and example rows differ from their ground by 4.5:1 or more in lightness (WCAG 2.1, 1.4.3)."""
    sheet = openpyxl.load_workbook(io.BytesIO(room_sheet_template(Units.IMPERIAL)))["Rooms"]
    for cell in (sheet["A1"], sheet["K1"], sheet["A2"]):
        ground = luminance(cell.fill.fgColor.rgb) if cell.fill.fill_type else 1.0
        assert (ground + 0.05) / (luminance(cell.font.color.rgb) + 0.05) >= 4.5, cell.coordinate


def test_lengths_stored_as_text_carry_no_warning_mark(blank):
    """By plain XML: every tab to be filled asks that numbers stored as text be not marked, where the schema wants it.

    Source: ECMA-376 Part 1, 18.3.1.99: ignoredErrors stands behind headerFooter.
    """
    layout, data = blank
    for tab in layout.tabs:
        order = [child.tag.rpartition("}")[2] for child in sheet_parts(data)[tab.name]]
        assert order[order.index("headerFooter") + 1] == "ignoredErrors"
