"""A workbook as plain cells: guarded, then opened once for its values; the guard has seen the formulas."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import openpyxl
from openpyxl.utils import get_column_letter

from service.problems import Cell, Code, Problem, Severity
from service.sheets.guard import Inspection, inspected
from service.sheets.layout import VERSION_PROPERTY
from service.sheets.wording import folded

if TYPE_CHECKING:
    from openpyxl.cell.cell import Cell as BookCell
    from openpyxl.cell.cell import MergedCell
    from openpyxl.workbook.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet


@dataclass(frozen=True, slots=True)
class Found:
    """What one stored cell holds.

    `value` is what the spreadsheet program shows: text, number, truth value or date; None is blank.
    """

    row: int
    column: int
    address: str
    value: object
    number_format: str = "General"
    is_uncalculated: bool = False
    is_error: bool = False

    @property
    def is_blank(self) -> bool:
        """True for a cell without text or value; a formula that was never calculated is not blank."""
        return not self.is_uncalculated and (
            self.value is None or (isinstance(self.value, str) and not folded(self.value))
        )


@dataclass(frozen=True, slots=True)
class Area:
    """A merged range, as the program writes it, and its corners."""

    text: str
    top: int
    left: int
    bottom: int
    right: int

    def covers(self, row: int, column: int) -> bool:
        """True for a cell inside."""
        return self.top <= row <= self.bottom and self.left <= column <= self.right


@dataclass(frozen=True, slots=True)
class Sheet:
    """One tab: stored cells by row and column, merged ranges, hidden rows and columns."""

    name: str
    rows: dict[int, dict[int, Found]]
    merges: tuple[Area, ...] = ()
    hidden_rows: frozenset[int] = frozenset()
    is_hidden: bool = False

    def cell(self, row: int, column: int) -> Cell:
        """Place of a cell."""
        return Cell(self.name, f"{get_column_letter(column)}{row}")


@dataclass(frozen=True, slots=True)
class Opened:
    """A workbook's tabs, its layout version as found (None: no such property), and what was wrong."""

    sheets: tuple[Sheet, ...] = ()
    version: str | None = None
    problems: tuple[Problem, ...] = field(default=())


def opened(data: bytes) -> Opened:
    """Workbook as plain cells, or the problems that keep it shut. Never raises."""
    try:
        inspection = inspected(data)
        return Opened(problems=inspection.problems) if inspection.problems else _read(data, inspection)
    except Exception as fault:  # noqa: BLE001 - the library raises some ten kinds; a file is no reason to fall over
        return Opened(problems=(_unreadable(fault),))


def _read(data: bytes, inspection: Inspection) -> Opened:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        book = openpyxl.load_workbook(io.BytesIO(data), data_only=True, keep_links=False)
    if len(book.worksheets) != inspection.tab_count:
        raise ValueError("a tab was dropped")
    sheets = tuple(_sheet(sheet, inspection.uncalculated.get(sheet.title, frozenset())) for sheet in book.worksheets)
    return Opened(sheets, _version(book))


def _sheet(sheet: Worksheet, uncalculated: frozenset[str]) -> Sheet:
    rows: dict[int, dict[int, Found]] = {}
    stored = sheet._cells  # noqa: SLF001 - the public ways to iterate make a cell for every gap, up to 17 thousand million
    for (row, column), cell in sorted(stored.items()):
        found = _found(row, column, cell, uncalculated)
        if not found.is_blank:
            rows.setdefault(row, {})[column] = found
    return Sheet(sheet.title, rows, _merges(sheet), _hidden_rows(sheet), sheet.sheet_state != "visible")


def _found(row: int, column: int, cell: BookCell | MergedCell, uncalculated: frozenset[str]) -> Found:
    address = f"{get_column_letter(column)}{row}"
    return Found(
        row, column, address, cell.value, cell.number_format or "General",
        is_uncalculated=address in uncalculated, is_error=cell.data_type == "e",
    )  # fmt: skip


def _merges(sheet: Worksheet) -> tuple[Area, ...]:
    ranges = sorted(sheet.merged_cells.ranges, key=lambda area: (area.min_row, area.min_col))
    return tuple(Area(area.coord, area.min_row, area.min_col, area.max_row, area.max_col) for area in ranges)


def _hidden_rows(sheet: Worksheet) -> frozenset[int]:
    return frozenset(number for number, row in sheet.row_dimensions.items() if row.hidden)


def _version(book: Workbook) -> str | None:
    wanted = folded(VERSION_PROPERTY)
    properties = book.custom_doc_props.props  # type: ignore[attr-defined] # the stubs are older than the attribute
    found = (str(item.value) for item in properties if folded(str(item.name)) == wanted)
    return next(found, None)


def _unreadable(fault: Exception) -> Problem:
    return Problem(
        Code.SHEET_UNREADABLE, Severity.ERROR, "",
        "The workbook could not be opened; part of it is damaged or written in a way that is not understood.",
        "Open it in your spreadsheet program, save it as Excel Workbook (.xlsx), and upload that file.",
        type(fault).__name__,
    )  # fmt: skip
