"""The faults of a sheet where the estimator works: in the workbook itself, or as a table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.documents.lists import table_csv
from service.jobs.desk import Refused
from service.jobs.quotes import sheet_checked
from service.problems import Code, Problem, Severity
from service.sheets.marks import UnpatchableError, marked

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.jobs.desk import Desk
    from service.jobs.reading import Source, Workbook

FAULT_COLUMNS = ("severity", "code", "sheet", "cell", "pointer", "found", "detail", "help")
_OF_THE_FILE = "sheet-"


@dataclass(frozen=True, slots=True)
class Marked:
    """A user's own workbook with its faults marked, and the faults."""

    workbook: bytes
    problems: tuple[Problem, ...]


def sheet_marked(desk: Desk, firm_id: str, source: Workbook, wanted_list: str | None = None) -> Marked | Refused:
    """The workbook with every fault marked that making a quote of it would find; refused when it can't be opened."""
    problems = _problems(desk, firm_id, source, wanted_list)
    if is_unreadable(problems):
        return Refused(problems)
    try:
        return Marked(marked(source.data, problems), problems)
    except UnpatchableError as fault:
        return Refused((_not_patched(str(fault)), *problems))


def _not_patched(found: str) -> Problem:
    return Problem(
        Code.SHEET_UNREADABLE, Severity.ERROR, "",
        "The workbook is written in a way that nothing can be added to; its faults are told here only.",
        "Open it in your spreadsheet program, save it again as Excel Workbook (.xlsx), and upload that file.", found[:80],
    )  # fmt: skip


def sheet_faults_csv(desk: Desk, firm_id: str, source: Source, wanted_list: str | None = None) -> str | Refused:
    """The faults of a sheet or job document, one a row; refused when a workbook can't be opened."""
    problems = _problems(desk, firm_id, source, wanted_list)
    return Refused(problems) if is_unreadable(problems) else faults_csv(problems)


def faults_csv(problems: tuple[Problem, ...]) -> str:
    """Faults as comma-separated values; the header alone when there are none."""
    return table_csv(
        FAULT_COLUMNS,
        (
            (
                problem.severity.value, problem.code.value, problem.cell.sheet if problem.cell else None,
                problem.cell.address if problem.cell else None, problem.pointer, problem.found, problem.detail, problem.help,
            )
            for problem in problems
        ),
    )  # fmt: skip


def is_unreadable(problems: Sequence[Problem]) -> bool:
    """True when the file as a whole was refused, so that there are no cells to be marked."""
    return any(
        problem.is_error and problem.cell is None and problem.pointer == "" and problem.code.startswith(_OF_THE_FILE)
        for problem in problems
    )


def _problems(desk: Desk, firm_id: str, source: Source, wanted_list: str | None) -> tuple[Problem, ...]:
    checked = sheet_checked(desk, firm_id, source, wanted_list)
    return checked.problems if isinstance(checked, Refused) else checked.remarks
