"""How a workbook to be filled looks: formats, widths, ruled rows, frozen headings, printing."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING

from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.header_footer import HeaderFooterItem, _HeaderFooterPart
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.properties import PageSetupProperties

from service.sheets.layout import Kind, Tab
from service.units import Units

if TYPE_CHECKING:
    from openpyxl.cell.cell import Cell
    from openpyxl.worksheet.worksheet import Worksheet

RULED_ROWS = 30
LINE_HEIGHT = 15
EXAMPLE_HEADER = "Gray rows in italics are an example; unchanged, they are not priced"
_RULE = Side(style="thin", color="FF9AA5B1")
_HAIR = Side(style="hair", color="FF9AA5B1")
_HEADING_FONT = Font(name="Calibri", size=11, bold=True, color="FF1F2933")
_HEADING_FILL = PatternFill("solid", fgColor="FFE4E7EB")
_REQUIRED_FILL = PatternFill("solid", fgColor="FFCBD2D9")
_EXAMPLE_FONT = Font(name="Calibri", size=11, italic=True, color="FF616E7C")
_TEXT, _DATE, _MONEY, _GENERAL = "@", "yyyy-mm-dd", "0.00", "General"
_NUMBERS = (Kind.NUMBER, Kind.ANGLE, Kind.MONEY)
_PAPER = {Units.IMPERIAL: 1, Units.METRIC: 9}


def style_table(sheet: Worksheet, tab: Tab, units: Units | None, *, example_rows: int, ruled_rows: int) -> None:
    """Headings in row 1, everything else below; formats and alignment hold for whole columns."""
    for number, column in enumerate(tab.columns, start=1):
        letter = get_column_letter(number)
        _style_heading(sheet[f"{letter}1"], required=column.required, kind=column.kind)
        whole = sheet.column_dimensions[letter]
        whole.width = column.width
        whole.number_format, whole.alignment = _format(column.kind), _alignment(column.kind)
        for row in range(2, max(sheet.max_row, 1 + ruled_rows) + 1):
            _style_value(sheet[f"{letter}{row}"], column.kind, is_example=row < 2 + example_rows)
    sheet.row_dimensions[1].height = 2 * LINE_HEIGHT + 2
    _give_room_to_prose(sheet, tab)
    sheet.freeze_panes = "B2"
    _print_setup(sheet, units, landscape=True, has_example=example_rows > 0)


def _give_room_to_prose(sheet: Worksheet, tab: Tab) -> None:
    """Rows as high as their longest text needs: one program doesn't fit them when it opens a file."""
    for row in range(2, sheet.max_row + 1):
        lines = [
            len(wrap(str(sheet.cell(row, number).value or ""), column.width - 3))
            for number, column in enumerate(tab.columns, start=1)
            if column.kind is Kind.PROSE
        ]
        if max(lines, default=0) > 1:
            sheet.row_dimensions[row].height = max(lines) * LINE_HEIGHT


def style_items(sheet: Worksheet, tab: Tab, units: Units | None) -> None:
    """Items in column A, values in column B."""
    for address in ("A1", "B1"):
        _style_heading(sheet[address], required=False, kind=Kind.TEXT)
    for row, column in enumerate(tab.columns, start=2):
        _style_heading(sheet[f"A{row}"], required=column.required, kind=Kind.TEXT)
        _style_value(sheet[f"B{row}"], column.kind, is_example=False)
        sheet[f"B{row}"].alignment = Alignment(horizontal="left", vertical="top", wrap_text=True)
    sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 28, 54
    sheet.freeze_panes = "B2"
    _print_setup(sheet, units, landscape=False, has_example=False)


def _style_heading(cell: Cell, *, required: bool, kind: Kind) -> None:
    cell.font = _HEADING_FONT
    cell.fill = _REQUIRED_FILL if required else _HEADING_FILL
    cell.border = Border(bottom=_RULE, right=_HAIR)
    cell.alignment = Alignment(horizontal=_side(kind), indent=_indent(kind), wrap_text=True, vertical="center")


def _style_value(cell: Cell, kind: Kind, *, is_example: bool) -> None:
    is_share = kind is Kind.SHARE and isinstance(cell.value, float)
    cell.number_format = _share_format(cell.value) if is_share else _format(kind)
    cell.alignment = _alignment(kind)
    cell.border = Border(bottom=_HAIR, right=_HAIR)
    if is_example:
        cell.font = _EXAMPLE_FONT


def _format(kind: Kind) -> str:
    """Text for all that a spreadsheet program would turn into something else: 1/2 into a date, A;C into nothing."""
    if kind is Kind.DATE:
        return _DATE
    if kind is Kind.MONEY:
        return _MONEY
    return _GENERAL if kind in {Kind.NUMBER, Kind.ANGLE, Kind.SHARE, Kind.YES_NO} else _TEXT


def _share_format(value: object) -> str:
    """As many decimals as the share needs; only for shares already there, for 150 typed into it would be 150%."""
    assert isinstance(value, float)  # noqa: S101 - asked for by the caller
    return "0%" if round(value * 100, 9).is_integer() else "0.0##%"


def _alignment(kind: Kind) -> Alignment:
    return Alignment(horizontal=_side(kind), indent=_indent(kind), vertical="top", wrap_text=kind is Kind.PROSE)


def _side(kind: Kind) -> str:
    return "right" if kind in _NUMBERS else "left"


def _indent(kind: Kind) -> int:
    return 1 if kind in _NUMBERS else 0


def _print_setup(sheet: Worksheet, units: Units | None, *, landscape: bool, has_example: bool) -> None:
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    if units is not None:
        sheet.page_setup.paperSize = _PAPER[units]
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_margins = PageMargins(left=0.5, right=0.5, top=0.75, bottom=0.75, header=0.4, footer=0.4)
    sheet.print_title_rows = "1:1"
    if has_example:
        sheet.HeaderFooter.oddHeader = HeaderFooterItem(center=_HeaderFooterPart(EXAMPLE_HEADER))
    sheet.HeaderFooter.oddFooter = HeaderFooterItem(
        left=_HeaderFooterPart("&A"), center=_HeaderFooterPart("&F"), right=_HeaderFooterPart("&P / &N")
    )
