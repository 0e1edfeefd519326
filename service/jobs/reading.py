"""From a workbook or a JSON document to one job document, and back from its pointers to cells."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from service.problems import Code, Severity, placed
from service.sheets.reader import read_price_list, read_room_sheet

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from service.problems import Cell, Problem

_WEIGHT = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}
_MISSING = {Code.VALUE_MISSING, Code.ROOM_WITHOUT_WALLS}


@dataclass(frozen=True, slots=True)
class Workbook:
    """Bytes that should be an .xlsx workbook."""

    data: bytes


@dataclass(frozen=True, slots=True)
class Document:
    """A JSON value that should be a document of the contract."""

    value: object


Source = Workbook | Document


@dataclass(frozen=True, slots=True)
class Reading:
    """A document, the cells its members came from, and what the reader already found wrong."""

    document: object
    cells: Mapping[str, Cell] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    workbook: bytes | None = None

    @property
    def has_errors(self) -> bool:
        """True when the reader found a fault that refuses the workbook."""
        return any(problem.is_error for problem in self.problems)


def sheet_reading(source: Source) -> Reading:
    """Job document of a room sheet, or of JSON."""
    if isinstance(source, Document):
        return Reading(source.value)
    sheet = read_room_sheet(source.data)
    return Reading(sheet.document, sheet.cells, sheet.problems, source.data)


def price_list_reading(source: Source) -> Reading:
    """Price-list document of a workbook, or of JSON."""
    if isinstance(source, Document):
        return Reading(source.value)
    sheet = read_price_list(source.data)
    return Reading(sheet.document, sheet.cells, sheet.problems, source.data)


def joined(reading: Reading, *later: Iterable[Problem]) -> tuple[Problem, ...]:
    """All problems of a document: the reader's, then the later ones that don't echo them; placed, errors first.

    The reader omits a member that it reports, so a later fault at the same pointer, or a missing value
    below it, is only the echo of the first.
    """
    reported = {problem.pointer for problem in reading.problems if problem.is_error}
    fresh = [problem for problems in later for problem in problems if not _is_echo(problem, reported)]
    found = dict.fromkeys(placed((*reading.problems, *fresh), reading.cells))
    return tuple(sorted(found, key=_reading_order))


def _is_echo(problem: Problem, reported: set[str]) -> bool:
    if problem.pointer in reported:
        return True
    return problem.code in _MISSING and any(place in reported for place in _ancestors(problem.pointer))


def _ancestors(pointer: str) -> list[str]:
    parts = pointer.split("/")
    return ["/".join(parts[:count]) for count in range(2, len(parts))]


def _reading_order(problem: Problem) -> tuple[int, str, int, int, str]:
    """Errors first; then tab by tab, row by row, as an estimator walks through the workbook."""
    if problem.cell is None:
        return _WEIGHT[problem.severity], "", 0, 0, ""
    letters = problem.cell.address.rstrip("0123456789")
    row = problem.cell.address[len(letters) :]
    return _WEIGHT[problem.severity], problem.cell.sheet, int(row or 0), len(letters), letters
