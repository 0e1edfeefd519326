"""From a workbook or a JSON document to one job document, and back from its pointers to cells."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from service.problems import Severity, placed
from service.sheets.reader import read_price_list, read_room_sheet

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from service.problems import Cell, Problem
    from service.sheets.draft import SheetReading

_WEIGHT = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}


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
    """A document, the cells its members came from, and what the reader already found wrong.

    `explained`: pointers of members that are missing because of what it found.
    """

    document: object
    cells: Mapping[str, Cell] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    workbook: bytes | None = None
    explained: frozenset[str] = frozenset()

    @property
    def has_errors(self) -> bool:
        """True when the reader found a fault that refuses the workbook."""
        return any(problem.is_error for problem in self.problems)


def sheet_reading(source: Source) -> Reading:
    """Job document of a room sheet, or of JSON."""
    if isinstance(source, Document):
        return Reading(source.value)
    sheet = read_room_sheet(source.data)
    return _of_sheet(sheet, source)


def price_list_reading(source: Source) -> Reading:
    """Price-list document of a workbook, or of JSON."""
    if isinstance(source, Document):
        return Reading(source.value)
    sheet = read_price_list(source.data)
    return _of_sheet(sheet, source)


def _of_sheet(sheet: SheetReading, source: Workbook) -> Reading:
    return Reading(sheet.document, sheet.cells, sheet.problems, source.data, sheet.explained)


def joined(reading: Reading, *later: Iterable[Problem]) -> tuple[Problem, ...]:
    """All problems of a document: the reader's, then the later ones that don't echo them; placed, errors first.

    The reader omits a member that it reports, so a later fault at the same pointer or below is only an echo.
    """
    reported = reading.explained | {problem.pointer for problem in reading.problems if problem.is_error}
    fresh = [problem for problems in later for problem in problems if not _is_echo(problem.pointer, reported)]
    found = dict.fromkeys((*reading.problems, *(_placed(problem, reading.cells) for problem in fresh)))
    tabs = {sheet: place for place, sheet in enumerate(dict.fromkeys(cell.sheet for cell in reading.cells.values()))}
    return tuple(sorted(found, key=lambda problem: _reading_order(problem, tabs)))


def _placed(problem: Problem, cells: Mapping[str, Cell]) -> Problem:
    """The problem in its cell; one that lies in another document (a price list's `/trade/0`) has none here."""
    member = "/".join(problem.pointer.split("/")[:2])
    if member and not any(place == member or place.startswith(member + "/") for place in cells):
        return problem
    return next(iter(placed([problem], cells)))


def _is_echo(place: str, reported: frozenset[str]) -> bool:
    parts = place.split("/")
    return any("/".join(parts[:count]) in reported for count in range(2, len(parts) + 1))


def _reading_order(problem: Problem, tabs: Mapping[str, int]) -> tuple[int, int, int, int, str]:
    """Errors first; then tab by tab, row by row, as an estimator walks through the workbook."""
    if problem.cell is None:
        return _WEIGHT[problem.severity], -1, 0, 0, ""
    letters = problem.cell.address.rstrip("0123456789")
    row = problem.cell.address[len(letters) :]
    tab = tabs.get(problem.cell.sheet, len(tabs))
    return _WEIGHT[problem.severity], tab, int(row or 0), len(letters), letters
