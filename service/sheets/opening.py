"""A workbook as plain cells. The guard reads the parts; no other library sees an upload."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from service.problems import Cell, Code, Problem, Severity
from service.sheets.addresses import letters_of
from service.sheets.guard import Inspection, RawBook, inspected
from service.sheets.layout import VERSION_PROPERTY
from service.sheets.sheet_pass import Broken
from service.sheets.stored_values import Values
from service.sheets.wording import folded

if TYPE_CHECKING:
    from service.sheets.sheet_pass import SheetFacts

_LETTER = re.compile(r"\w")


class Found(NamedTuple):
    """What one stored cell holds. A tuple, because a sheet may have 200,000 of them.

    `value` is what the spreadsheet program shows: text, number, truth value or date; None is blank.
    """

    row: int
    column: int
    address: str
    value: object
    number_format: str = "General"
    is_uncalculated: bool = False
    is_error: bool = False
    broken: Broken | None = None

    @property
    def is_blank(self) -> bool:
        """True for a cell without text or value; a formula that was never calculated is not blank."""
        return not self.is_uncalculated and _is_blank(self.value)


def _is_blank(value: object) -> bool:
    """True for nothing, and for text of which nothing is seen."""
    if not isinstance(value, str):
        return value is None
    has_letter = "_x" not in value and _LETTER.search(value) is not None
    return not has_letter and not folded(value)


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


@dataclass(frozen=True)
class Sheet:
    """One tab: stored cells by row and column, merged ranges, hidden rows and columns."""

    name: str
    rows: dict[int, dict[int, Found]]
    merges: tuple[Area, ...] = ()
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: tuple[tuple[int, int], ...] = ()
    is_hidden: bool = False

    def cell(self, row: int, column: int) -> Cell:
        """Place of a cell."""
        return Cell(self.name, f"{letters_of(column)}{row}")

    def merge_at(self, row: int, column: int) -> Area | None:
        """The merged range that covers a cell, if one does."""
        return self._covered.get((row, column))

    @cached_property
    def _covered(self) -> dict[tuple[int, int], Area]:
        return covered(self.merges)


def covered(merges: tuple[Area, ...]) -> dict[tuple[int, int], Area]:
    """The merged range of each cell that one covers; the first of two that overlap. The guard limits how many."""
    found: dict[tuple[int, int], Area] = {}
    for area in merges:
        for row in range(area.top, area.bottom + 1):
            for column in range(area.left, area.right + 1):
                found.setdefault((row, column), area)
    return found


@dataclass(frozen=True, slots=True)
class Opened:
    """A workbook's tabs, its layout version as found (None: no such property), what was wrong, what is worth a remark."""

    sheets: tuple[Sheet, ...] = ()
    version: str | None = None
    problems: tuple[Problem, ...] = field(default=())
    remarks: tuple[Problem, ...] = field(default=())


def opened(data: bytes) -> Opened:
    """Workbook as plain cells, or the problems that keep it shut. Never raises."""
    try:
        inspection = inspected(data)
        return Opened(problems=inspection.problems) if inspection.problems else _read(inspection)
    except Exception as fault:  # noqa: BLE001 - a file is no reason to fall over, whatever we didn't think of
        return Opened(problems=(_unreadable(fault),))


def _read(inspection: Inspection) -> Opened:
    book = inspection.book
    values = Values(book)
    sheets = tuple(_sheet(name, facts, values, is_hidden=name in book.hidden) for name, facts in book.tabs.items())
    return Opened(sheets, _version(book), remarks=inspection.remarks)


def _sheet(name: str, facts: SheetFacts, values: Values, *, is_hidden: bool) -> Sheet:
    """Cells in order; those that a merged range hides are left out, as spreadsheet programs show them."""
    merges = _merges(facts)
    hidden = {place for place, area in covered(merges).items() if place != (area.top, area.left)}
    rows: dict[int, dict[int, Found]] = {}
    letters: dict[int, str] = {}
    for cell in facts.cells if facts.is_in_order else sorted(facts.cells):
        if (cell.row, cell.column) in hidden:
            continue
        column = letters.get(cell.column) or letters.setdefault(cell.column, letters_of(cell.column))
        value, is_error = values.value_of(cell)
        if cell.text is None or not _is_blank(value):
            rows.setdefault(cell.row, {})[cell.column] = Found(
                cell.row, cell.column, f"{column}{cell.row}", value, values.number_format(cell.style),
                is_uncalculated=cell.text is None, is_error=is_error,
                broken=cell.type if isinstance(cell.type, Broken) else None,
            )  # fmt: skip
    return Sheet(name, rows, merges, frozenset(facts.hidden_rows), tuple(facts.hidden_columns), is_hidden)


def _merges(facts: SheetFacts) -> tuple[Area, ...]:
    return tuple(
        Area(f"{letters_of(left)}{top}:{letters_of(right)}{bottom}", top, left, bottom, right)
        for top, left, bottom, right in sorted(facts.merges)
    )


def _version(book: RawBook) -> str | None:
    """Layout version by the workbook's property; some programs drop that, and then the defined name tells it."""
    wanted = folded(VERSION_PROPERTY)
    return next((value for name, value in book.properties.items() if folded(name) == wanted), book.named_version)


def _unreadable(fault: Exception) -> Problem:
    return Problem(
        Code.SHEET_UNREADABLE, Severity.ERROR, "",
        "The workbook could not be opened; part of it is damaged or written in a way that is not understood.",
        "Open it in your spreadsheet program, save it as Excel Workbook (.xlsx), and upload that file.",
        type(fault).__name__,
    )  # fmt: skip
