"""How a template looks and guides: formats, dropdowns, prompts, frozen headings, printing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from openpyxl.packaging.custom import IntProperty
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.header_footer import HeaderFooterItem, _HeaderFooterPart
from openpyxl.worksheet.properties import PageSetupProperties

from service.sheets.layout import LISTS_TAB, VERSION, VERSION_PROPERTY, Column, Kind, Tab
from service.units import Units

if TYPE_CHECKING:
    from openpyxl.workbook.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

LAST_INPUT_ROW = 1000
_LONGEST_PROMPT = 255
_LONGEST_TITLE = 32
_RULE = Side(style="thin", color="FF9AA5B1")
_HEADING_FONT = Font(name="Calibri", size=11, bold=True, color="FF1F2933")
_HEADING_FILL = PatternFill("solid", fgColor="FFE4E7EB")
_REQUIRED_FILL = PatternFill("solid", fgColor="FFCBD2D9")
_EXAMPLE_FONT = Font(name="Calibri", size=11, italic=True, color="FF616E7C")
_TEXT, _DATE, _GENERAL = "@", "yyyy-mm-dd", "General"


class Choices:
    """Lists for the dropdowns, each once, a column each on the hidden tab."""

    def __init__(self) -> None:
        self.lists: list[tuple[str, ...]] = []

    def source(self, words: tuple[str, ...]) -> str:
        """Range of a list; no leading `=`: one spreadsheet program makes an error of it."""
        if words not in self.lists:
            self.lists.append(words)
        letter = get_column_letter(self.lists.index(words) + 1)
        return f"{LISTS_TAB}!${letter}$1:${letter}${len(words)}"


def hidden_lists(sheet: Worksheet, choices: Choices) -> None:
    """Write the dropdowns' lists and hide the tab."""
    for number, words in enumerate(choices.lists, start=1):
        for row, word in enumerate(words, start=1):
            sheet.cell(row, number, word)
    sheet.sheet_state = "hidden"


def add_version(book: Workbook) -> None:
    """Workbook property that tells the layout version."""
    properties = book.custom_doc_props  # type: ignore[attr-defined] # the stubs are older than the attribute
    properties.append(IntProperty(name=VERSION_PROPERTY, value=VERSION))


def style_table(sheet: Worksheet, tab: Tab, units: Units, choices: Choices, *, example_rows: int) -> None:
    """Headings in row 1, everything else below."""
    for number, column in enumerate(tab.columns, start=1):
        letter = get_column_letter(number)
        _style_heading(sheet, f"{letter}1", required=column.required)
        sheet.column_dimensions[letter].width = max(column.width, len(column.heading) + 4)
        sheet.column_dimensions[letter].number_format = _format(column.kind)
        for row in range(2, sheet.max_row + 1):
            _style_cell(sheet, f"{letter}{row}", column.kind)
            if row < 2 + example_rows:
                sheet[f"{letter}{row}"].font = _EXAMPLE_FONT
        _guide(sheet, column, f"{letter}2:{letter}{LAST_INPUT_ROW}", units, choices)
    sheet.freeze_panes = "B2"
    _print_setup(sheet, landscape=True)


def style_items(sheet: Worksheet, tab: Tab, units: Units, choices: Choices) -> None:
    """Items in column A, values in column B, each with its own guide."""
    for address in ("A1", "B1"):
        _style_heading(sheet, address, required=False)
    for row, column in enumerate(tab.columns, start=2):
        _style_heading(sheet, f"A{row}", required=column.required)
        _style_cell(sheet, f"B{row}", column.kind)
        _guide(sheet, column, f"B{row}", units, choices)
    sheet.column_dimensions["A"].width, sheet.column_dimensions["B"].width = 28, 48
    sheet.freeze_panes = "B2"
    _print_setup(sheet, landscape=False)


def _style_heading(sheet: Worksheet, address: str, *, required: bool) -> None:
    cell = sheet[address]
    cell.font = _HEADING_FONT
    cell.fill = _REQUIRED_FILL if required else _HEADING_FILL
    cell.border = Border(bottom=_RULE)
    cell.alignment = Alignment(wrap_text=True, vertical="center")


def _style_cell(sheet: Worksheet, address: str, kind: Kind) -> None:
    cell = sheet[address]
    cell.number_format = _format(kind)
    cell.alignment = Alignment(horizontal="left", vertical="top", wrap_text=kind is Kind.PROSE)


def _format(kind: Kind) -> str:
    """Text for all that a spreadsheet program would turn into something else: 1/2 into a date, A;C into nothing."""
    if kind is Kind.DATE:
        return _DATE
    return _GENERAL if kind in {Kind.NUMBER, Kind.ANGLE, Kind.MONEY, Kind.SHARE, Kind.YES_NO} else _TEXT


def _guide(sheet: Worksheet, column: Column, area: str, units: Units, choices: Choices) -> None:
    """Dropdown with its alert where a column has choices, a prompt where there is something to say."""
    prompt = prompt_text(column, units)
    guide = DataValidation(allow_blank=True, showInputMessage=bool(prompt), prompt=prompt or None)
    if prompt:
        guide.promptTitle = column.heading[:_LONGEST_TITLE]
    if column.choices:
        guide.type = "list"
        guide.formula1 = choices.source(column.choices)
        guide.showErrorMessage = True
        guide.errorTitle = column.heading[:_LONGEST_TITLE]
        guide.error = "Choose one of: " + ", ".join(column.choices)[:180] + "."
    if prompt or column.choices:
        guide.add(area)
        sheet.add_data_validation(guide)


def prompt_text(column: Column, units: Units) -> str:
    """What a column asks for, its unit named."""
    return " ".join(part for part in (column.prompt, _unit_words(column.kind, units)) if part)[:_LONGEST_PROMPT]


def _unit_words(kind: Kind, units: Units) -> str:
    if not kind.is_length:
        return ""
    if units is Units.METRIC:
        return "Millimeters, such as 3810; 3.81 m, 381 cm and 12' 6\" are read too."
    return "Feet and inches, such as 12' 6 1/2\"; a bare number is inches; 3810 mm is read too."


def _print_setup(sheet: Worksheet, *, landscape: bool) -> None:
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.print_title_rows = "1:1"
    sheet.HeaderFooter.oddFooter = HeaderFooterItem(left=_HeaderFooterPart("&A"), right=_HeaderFooterPart("&P / &N"))
