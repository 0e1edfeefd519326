"""The document being read: members, their cells, faults, and what those faults explain."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from service.problems import Cell, Code, Problem, Problems, Severity, pointer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.sheets.fault import Fault

MISSING = "-"
"""RFC 6901: `-` names the member after the last one, which isn't there. Faults of no member point to it."""


@dataclass(frozen=True, slots=True)
class SheetReading:
    """A workbook read: the job or price-list document, the cell of every member, the reader's own faults.

    Attributes:
        document: None when the workbook could not be opened.
        cells: JSON Pointer of each member a row has or could have, of each row, and of "", to its cell.
        problems: what only a spreadsheet can get wrong, each with its cell.
        explained: pointers of members that are missing because of one of those problems.
    """

    document: dict[str, object] | None
    cells: dict[str, Cell]
    problems: tuple[Problem, ...]
    explained: frozenset[str] = frozenset()

    def explains(self, place: str) -> bool:
        """True when a problem of the reader already accounts for a fault at this pointer or above it."""
        return any(above in self.explained for above in _upward(place))


def _upward(place: str) -> Iterator[str]:
    while place:
        yield place
        place = place.rpartition("/")[0]


@dataclass(slots=True)
class RowRead:
    """One row before it has its place: spelled members, cells and faults by member path."""

    anchor: Cell
    members: dict[tuple[str, ...], object] = field(default_factory=dict)
    cells: dict[tuple[str, ...], Cell] = field(default_factory=dict)
    faults: dict[tuple[str, ...], Fault] = field(default_factory=dict)
    absent: tuple[tuple[str, ...], ...] = ()


class Draft:
    """Collects a document, its cells and its faults.

    `is_taped`: bare figures of lengths are inches read off a tape, as on an imperial room sheet.
    `lost`: folded names of rows that found no place in a room; what refers to them is no second fault.
    """

    def __init__(self) -> None:
        self.is_taped = False
        self.lost: set[str] = set()
        self.document: dict[str, object] = {"layout": 1}
        self.cells: dict[str, Cell] = {}
        self.problems = Problems()
        self.explained: set[str] = set()

    def placed_row(self, row: RowRead, *place: str | int) -> dict[str, object]:
        """The row's object, its cells and faults noted under the given place; the caller puts the object there."""
        base = pointer(*place)
        self.cells[base] = row.anchor
        for path, cell in row.cells.items():
            for depth in range(1, len(path)):
                self.cells.setdefault(base + pointer(*path[:depth]), cell)
            self.cells[base + pointer(*path)] = cell
        self.explained.update(base + pointer(*path) for path in row.absent)
        for path, fault in row.faults.items():
            self.explained.add(base + pointer(*path))
            self.refuse(fault, base + pointer(*path), row.cells[path])
        return nested(row.members)

    def orphan(self, row: RowRead, *place: str | int) -> None:
        """Faults of a row that has no place in the document."""
        for path, fault in row.faults.items():
            self.refuse(fault, pointer(*place, *path), row.cells[path])

    def refuse(self, fault: Fault, place: str, cell: Cell | None) -> None:
        """Collect an error in a cell."""
        self.problems.add(Problem(fault.code, Severity.ERROR, place, fault.detail, fault.help, fault.found, cell))

    def remark(
        self, code: Code, severity: Severity, place: str, detail: str, help_text: str, found: str, cell: Cell | None
    ) -> None:
        """Collect something about the workbook itself."""
        self.problems.add(Problem(code, severity, place, detail, help_text, found, cell))

    def reading(self) -> SheetReading:
        """What was read."""
        return SheetReading(self.document, self.cells, tuple(self.problems), frozenset(self.explained))


def nested(members: dict[tuple[str, ...], object]) -> dict[str, object]:
    """Object with members at their paths: {("joists", "first"): x} → {"joists": {"first": x}}."""
    result: dict[str, object] = {}
    for path, value in members.items():
        target = result
        for name in path[:-1]:
            inner = target.setdefault(name, {})
            assert isinstance(inner, dict)  # noqa: S101 - a layout never gives one member both a value and members
            target = inner
        target[path[-1]] = value
    return result
