"""Blank workbooks to fill: `room_sheet_template` and `price_list_template`; and filled ones for samples.

Each table shows one example row, in grey italics. Rule: the reader skips a row as long as it is exactly the
template's example; once anything in it is typed over, it is a row like any other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from openpyxl.workbook import Workbook

from service.sheets.layout import LISTS_TAB
from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.packing import packed
from service.sheets.styling import Choices, add_version, hidden_lists, style_items, style_table
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from openpyxl.worksheet.worksheet import Worksheet

    from service.sheets.layout import Layout, Tab


def room_sheet_template(units: Units) -> bytes:
    """Blank room sheet whose bare numbers are inches (imperial) or millimeters (metric)."""
    return filled_book(ROOM_SHEET, units, _examples(ROOM_SHEET, units) | {"Job": [{"Units": str(units)}]}, example=True)


def price_list_template() -> bytes:
    """Blank price list; lengths are written with their units, so it serves both systems."""
    return filled_book(PRICE_LIST, Units.IMPERIAL, _examples(PRICE_LIST, Units.IMPERIAL), example=True)


def _examples(layout: Layout, units: Units) -> dict[str, list[dict[str, object]]]:
    return {tab.name: [dict(tab.example_row(units))] for tab in layout.tabs if tab.example_row(units)}


def filled_book(
    layout: Layout, units: Units, rows: Mapping[str, Sequence[Mapping[str, object]]], *, example: bool = False
) -> bytes:
    """Workbook of a layout with rows filled in.

    Args:
        layout: room sheet or price list.
        units: what a bare number means, for the prompts.
        rows: by tab name, one mapping of heading to value a row; of a tab of items, one mapping in all.
        example: whether the rows are examples, to be typed over.
    """
    book = Workbook()
    book.remove(book.worksheets[0])
    choices = Choices()
    for tab in layout.tabs:
        sheet = book.create_sheet(tab.name)
        filled = rows.get(tab.name, ())
        if tab.is_items:
            _fill_items(sheet, tab, filled[0] if filled else {})
            style_items(sheet, tab, units, choices)
        else:
            _fill_table(sheet, tab, filled)
            style_table(sheet, tab, units, choices, example_rows=len(filled) if example else 0)
    hidden_lists(book.create_sheet(LISTS_TAB), choices)
    add_version(book)
    return packed(book, layout.name.capitalize())


def _fill_items(sheet: Worksheet, tab: Tab, values: Mapping[str, object]) -> None:
    sheet.append(["Item", "Value"])
    for column in tab.columns:
        sheet.append([_heading(column.heading, column.required), values.get(column.heading)])


def _fill_table(sheet: Worksheet, tab: Tab, rows: Sequence[Mapping[str, object]]) -> None:
    sheet.append([_heading(column.heading, column.required) for column in tab.columns])
    for row in rows:
        sheet.append([row.get(column.heading) for column in tab.columns])


def _heading(heading: str, required: bool) -> str:
    return f"{heading} *" if required else heading
