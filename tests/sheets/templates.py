"""The blank workbooks, for the tests that look at them."""

from __future__ import annotations

from openpyxl.utils import get_column_letter, range_boundaries

from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.template import price_list_template, room_sheet_template
from service.units import Units

TEMPLATES = {
    "imperial": (ROOM_SHEET, lambda: room_sheet_template(Units.IMPERIAL)),
    "metric": (ROOM_SHEET, lambda: room_sheet_template(Units.METRIC)),
    "price list": (PRICE_LIST, price_list_template),
}


def guided(sheet):
    """Validations by the cell they start at."""
    return {
        sheet.cell(*reversed(range_boundaries(str(guide.sqref))[:2])).coordinate: guide
        for guide in sheet.data_validations.dataValidation
    }


def first_cell(tab, number):
    """Cell where a column's guide starts."""
    return f"B{number + 1}" if tab.is_items else f"{get_column_letter(number)}2"
