"""Problems as marks: which cell is colored, how strongly, and what is said about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.problems import Code, Severity
from service.sheets.addresses import letters_of, placed_at
from service.sheets.marks.stored import merged_into

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.problems import Problem
    from service.sheets.marks.stored import StoredTab

MOST_MARKS = 1_000
_OF_THE_TAB = frozenset({Code.TAB_MISSING, Code.HEADING_MISSING})
_WEIGHT = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}


@dataclass(frozen=True, slots=True)
class Mark:
    """A cell to be marked and all that is wrong with it, the worst first."""

    sheet: str
    address: str
    problems: tuple[Problem, ...]

    @property
    def severity(self) -> Severity:
        """The worst of its problems."""
        return min((problem.severity for problem in self.problems), key=lambda severity: _WEIGHT[severity])


def has_cell(problem: Problem) -> bool:
    """True for a fault in one cell; one of a tab or of the whole workbook has only a place to start looking."""
    return problem.cell is not None and problem.pointer != "" and problem.code not in _OF_THE_TAB


def marks_of(problems: Iterable[Problem], tabs: Sequence[str]) -> tuple[Mark, ...]:
    """Cells to be marked, in the order of the problems; tabs that the workbook doesn't have are passed over."""
    cells: dict[tuple[str, str], list[Problem]] = {}
    for problem in problems:
        if problem.cell is not None and has_cell(problem) and problem.cell.sheet in tabs:
            cells.setdefault((problem.cell.sheet, problem.cell.address), []).append(problem)
    return tuple(Mark(sheet, address, _worst_first(found)) for (sheet, address), found in cells.items())


def _worst_first(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    return tuple(sorted(problems, key=lambda problem: _WEIGHT[problem.severity]))


def shown_in(tab: StoredTab, marks: Iterable[Mark]) -> dict[str, Mark]:
    """Marks by the cell that shows them: of a merged range the first, as no other is seen."""
    merges = merged_into(tab)
    shown: dict[str, Mark] = {}
    for mark in marks:
        address = _shown(mark.address, merges)
        earlier = shown[address].problems if address in shown else ()
        shown[address] = Mark(mark.sheet, address, _worst_first((*earlier, *mark.problems)))
    return shown


def _shown(address: str, merges: list[tuple[tuple[int, int], tuple[int, int]]]) -> str:
    row, column = placed_at(address)
    for (top, left), (bottom, right) in merges:
        if top <= row <= bottom and left <= column <= right:
            return f"{letters_of(left)}{top}"
    return address
