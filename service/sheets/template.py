"""Blank workbooks to fill: `room_sheet_template` and `price_list_template`; and filled ones for samples.

The room sheet shows one example room, in gray italics. Rule: the reader skips a row as long as it is exactly one of
the template's example rows; once anything in it is typed over, it is a row like any other. The example orders
assemblies that no price list has, so that a row half typed over is refused, not priced.
"""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import TYPE_CHECKING

from openpyxl.packaging.custom import IntProperty
from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName

from service.sheets.guiding import Choices, add_guides, add_lists
from service.sheets.layout import VERSION, VERSION_NAME, VERSION_PROPERTY, Column, Kind
from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.packing import packed
from service.sheets.styling import RULED_ROWS, style_items, style_table

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from openpyxl.worksheet.worksheet import Worksheet

    from service.sheets.layout import Layout, Tab
    from service.units import Units

_NUMBER = re.compile(r"-?\d{1,9}(\.\d{1,6})?")
_PERCENT = re.compile(r"(-?\d{1,3}(?:\.\d{1,4})?)%")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_NONE_GIVEN: Mapping[str, Sequence[str]] = MappingProxyType({})


def room_sheet_template(units: Units, price_list: str = "", assemblies: Sequence[str] = ()) -> bytes:
    """Blank room sheet whose bare numbers are inches (imperial) or millimeters (metric).

    Args:
        units: what the sheet is measured in.
        price_list: name of the price list it will be priced with, written on the sheet; blank leaves that open.
        assemblies: names of that list's assemblies, for the dropdowns; without any, names are typed.
    """
    job = {"Units": str(units), "Price list": price_list or None}
    rows = {tab.name: tab.example_rows(units) for tab in ROOM_SHEET.tabs} | {"Job": (job,)}
    given = {"Assemblies": assemblies} if assemblies else _NONE_GIVEN
    return _book(ROOM_SHEET, units, rows, given, is_template=True)


def price_list_template() -> bytes:
    """Blank price list; lengths are to be written with their units, so it serves both systems."""
    return _book(PRICE_LIST, None, {}, _NONE_GIVEN, is_template=True)


def filled_book(layout: Layout, units: Units, rows: Mapping[str, Sequence[Mapping[str, object]]]) -> bytes:
    """Workbook of a layout with rows filled in.

    Args:
        layout: room sheet or price list.
        units: what a bare number means, for the prompts.
        rows: by tab name, one mapping of heading to value a row; of a tab of items, one mapping in all.
    """
    return _book(layout, units, rows, _NONE_GIVEN, is_template=False)


def _book(
    layout: Layout,
    units: Units | None,
    rows: Mapping[str, Sequence[Mapping[str, object]]],
    given: Mapping[str, Sequence[str]],
    *,
    is_template: bool,
) -> bytes:
    book = Workbook()
    book.remove(book.worksheets[0])
    choices = Choices(layout, given)
    for tab in layout.tabs:
        sheet = book.create_sheet(tab.name)
        filled = rows.get(tab.name, ())
        examples = len(filled) if is_template and not tab.is_items else 0
        if tab.is_items:
            _fill_items(sheet, tab, filled[0] if filled else {})
            style_items(sheet, tab, units)
        else:
            _fill_table(sheet, tab, filled)
            style_table(sheet, tab, units, example_rows=examples, ruled_rows=RULED_ROWS if is_template else 0)
        add_guides(sheet, tab, units, choices, example_rows=examples)
    add_lists(book, choices)
    _add_version(book)
    return packed(book, layout.name.capitalize())


def _add_version(book: Workbook) -> None:
    """Workbook property that tells the layout version, and a name that says it again for programs that drop the first."""
    properties = book.custom_doc_props  # type: ignore[attr-defined] # the stubs are older than the attribute
    properties.append(IntProperty(name=VERSION_PROPERTY, value=VERSION))
    book.defined_names[VERSION_NAME] = DefinedName(VERSION_NAME, attr_text=str(VERSION))


def _fill_items(sheet: Worksheet, tab: Tab, values: Mapping[str, object]) -> None:
    sheet.append(["Item", "Value"])
    for column in tab.columns:
        sheet.append([_heading(column), cell_value(values.get(column.heading), column.kind)])


def _fill_table(sheet: Worksheet, tab: Tab, rows: Sequence[Mapping[str, object]]) -> None:
    sheet.append([_heading(column) for column in tab.columns])
    for row in rows:
        sheet.append([cell_value(row.get(column.heading), column.kind) for column in tab.columns])


def _heading(column: Column) -> str:
    return f"{column.heading} *" if column.required else column.heading


def cell_value(value: object, kind: Kind) -> object:
    """What a cell holds for a text: a number, share or date where it is one, so that sheets can reckon with it."""
    if not isinstance(value, str):
        return value
    if kind in {Kind.NUMBER, Kind.ANGLE, Kind.MONEY} and _NUMBER.fullmatch(value):
        return float(value) if "." in value else int(value)
    if kind is Kind.SHARE and (share := _PERCENT.fullmatch(value)):
        return float(Decimal(share[1]) / 100)
    return date.fromisoformat(value) if kind is Kind.DATE and _DAY.fullmatch(value) else value
