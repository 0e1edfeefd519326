"""Tabs as rows of members: headings found by their words, cells spelled, everything odd collected."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.problems import Cell, Code, Severity, pointer
from service.sheets.draft import MISSING, Draft, RowRead
from service.sheets.spelling import Fault, spelled
from service.sheets.wording import cleaned, folded, heading_key
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.sheets.layout import Column, Tab
    from service.sheets.opening import Area, Found, Sheet

HEADING_ROWS = 10
MOST_ROWS = 5_000


@dataclass(frozen=True, slots=True)
class Table:
    """A tab whose headings were found: heading row, column number of each layout column."""

    sheet: Sheet
    tab: Tab
    heading_row: int
    places: dict[int, Column]
    absent: tuple[tuple[str, ...], ...]


def keys_of(column: Column) -> frozenset[str]:
    """Keys under which a heading or item is recognized."""
    return frozenset(heading_key(word) for word in (column.heading, *column.synonyms))


def recognized(columns: Iterable[Column]) -> dict[str, Column]:
    """Columns by key; a heading's own word beats another column's synonym."""
    columns = tuple(columns)
    known = {key: column for column in columns for key in keys_of(column)}
    return known | {heading_key(column.heading): column for column in columns}


def table_of(sheet: Sheet, tab: Tab, draft: Draft) -> Table | None:
    """The tab's table; None, and a fault, when no heading row is found."""
    known = recognized(tab.columns)
    row = _heading_row(sheet, known)
    if row is None:
        _no_headings(sheet, tab, draft)
        return None
    places = _places(sheet, tab, row, known, draft)
    absent = tuple(column for column in tab.columns if column not in places.values())
    for column in absent:
        if column.required:
            _heading_missing(sheet, tab, row, column, draft)
    return Table(sheet, tab, row, places, tuple(column.path for column in absent if column.required))


def place_of(tab: Tab, *path: str) -> str:
    """Pointer for faults of a tab that belong to no row of the document."""
    return pointer("rooms", MISSING, tab.member, MISSING, *path) if tab.within else pointer(tab.member, MISSING, *path)


def _heading_row(sheet: Sheet, known: dict[str, Column]) -> int | None:
    counts = {
        row: len({key for cell in cells.values() if (key := heading_key(str(cell.value))) in known})
        for row, cells in sheet.rows.items()
        if row <= HEADING_ROWS
    }
    best = max(counts, key=lambda row: (counts[row], -row), default=None)
    return best if best is not None and counts[best] else None


def _places(sheet: Sheet, tab: Tab, row: int, known: dict[str, Column], draft: Draft) -> dict[int, Column]:
    places: dict[int, Column] = {}
    strangers = []
    for number, cell in sheet.rows[row].items():
        column = known.get(heading_key(str(cell.value)))
        if column is None:
            strangers.append((number, cell))
        elif column in places.values():
            _heading_twice(sheet, tab, cell, column, draft)
        else:
            places[number] = column
    _tell_strangers(sheet, tab, row, strangers, places, draft)
    return places


def _tell_strangers(
    sheet: Sheet, tab: Tab, row: int, strangers: list[tuple[int, Found]], places: dict[int, Column], draft: Draft
) -> None:
    headed = dict(strangers)
    filled = sorted({number for below, cells in sheet.rows.items() if below > row for number in cells} - places.keys())
    duplicates = {number for number in sheet.rows[row] if number not in places and number not in headed}
    for number in filled:
        if number in duplicates:
            continue
        found = cleaned(str(headed[number].value)) if number in headed else ""
        draft.remark(
            Code.HEADING_UNKNOWN, Severity.WARNING, place_of(tab),
            f"The tab {sheet.name} has no column with this heading; what stands below it was not read.",
            "Use one of: " + ", ".join(column.heading for column in tab.columns) + "; or remove the column.",
            found, sheet.cell(row, number),
        )  # fmt: skip


def _no_headings(sheet: Sheet, tab: Tab, draft: Draft) -> None:
    draft.remark(
        Code.HEADING_MISSING, Severity.ERROR, place_of(tab),
        f"None of the first {HEADING_ROWS} rows of the tab {sheet.name} holds its headings.",
        "Put these headings in one row: " + ", ".join(column.heading for column in tab.columns if column.required) + ".",
        "", sheet.cell(1, 1),
    )  # fmt: skip


def _heading_missing(sheet: Sheet, tab: Tab, row: int, column: Column, draft: Draft) -> None:
    draft.remark(
        Code.HEADING_MISSING, Severity.ERROR, place_of(tab, *column.path),
        f"The tab {sheet.name} has no column {column.heading}.",
        f"Add a column with the heading {column.heading} in row {row}.",
        "", sheet.cell(row, min(sheet.rows[row])),
    )  # fmt: skip


def _heading_twice(sheet: Sheet, tab: Tab, cell: Found, column: Column, draft: Draft) -> None:
    draft.remark(
        Code.HEADING_DUPLICATE, Severity.ERROR, place_of(tab, *column.path),
        f"Two columns of the tab {sheet.name} are read as {column.heading}; the first one was read.",
        "Keep one of them and rename or remove the other.",
        cleaned(str(cell.value)), Cell(sheet.name, cell.address),
    )  # fmt: skip


def rows_of(table: Table, draft: Draft) -> list[RowRead]:
    """Rows below the headings that hold anything under a known heading, in order."""
    numbers = [
        number
        for number, cells in table.sheet.rows.items()
        if number > table.heading_row
        and any(column in table.places for column in cells)
        and not _is_example(table, number)
    ]
    if len(numbers) > MOST_ROWS:
        _too_many_rows(table, len(numbers), draft)
        numbers = numbers[:MOST_ROWS]
    tell_hidden(table.sheet, table.tab, numbers, draft)
    return [_row(table, number) for number in numbers]


def _is_example(table: Table, number: int) -> bool:
    """The template's example row, untouched."""
    cells = table.sheet.rows[number]
    typed = {
        table.places[place].heading: folded(str(found.value)) for place, found in cells.items() if place in table.places
    }
    examples = (table.tab.example_row(units) for units in Units)
    return any(example and typed == {key: folded(text) for key, text in example.items()} for example in examples)


def _too_many_rows(table: Table, count: int, draft: Draft) -> None:
    draft.remark(
        Code.SHEET_TOO_LARGE, Severity.ERROR, place_of(table.tab),
        f"The tab {table.sheet.name} has {count:,} filled rows; at most {MOST_ROWS:,} are read.",
        "Split the job into several sheets.", f"{count} rows", table.sheet.cell(table.heading_row, 1),
    )  # fmt: skip


def tell_hidden(sheet: Sheet, tab: Tab, numbers: Iterable[int], draft: Draft) -> None:
    """A note when rows that nobody sees were read."""
    hidden = [number for number in numbers if sheet.is_hidden or number in sheet.hidden_rows]
    if not hidden:
        return
    listed = ", ".join(map(str, hidden[:20])) + (" …" if len(hidden) > 20 else "")  # noqa: PLR2004 - enough to find them by
    draft.remark(
        Code.HIDDEN_ROWS_READ, Severity.NOTE, place_of(tab),
        f"Hidden rows of the tab {sheet.name} were read, {len(hidden)} in all: {listed}.",
        "Show the rows and look at them; delete those that don't belong to the job.",
        f"{len(hidden)} hidden", sheet.cell(hidden[0], 1),
    )  # fmt: skip


def _row(table: Table, number: int) -> RowRead:
    cells = table.sheet.rows[number]
    first = min(table.places)
    row = RowRead(table.sheet.cell(number, first), absent=table.absent)
    for place, column in table.places.items():
        row.cells[column.path] = table.sheet.cell(number, place)
        put(row, column, cells.get(place), merge_at(table.sheet, number, place))
    return row


def merge_at(sheet: Sheet, row: int, column: int) -> Area | None:
    """The merged range that covers a cell, if one does."""
    return next((area for area in sheet.merges if area.covers(row, column)), None)


def put(row: RowRead, column: Column, found: Found | None, merge: Area | None) -> None:
    """Spell one cell into its row; a merged range is a fault at its first cell and explains the others."""
    if merge is not None:
        if found is not None:
            row.faults[column.path] = _merged(merge)
        else:
            row.absent = (*row.absent, column.path)
    elif found is not None:
        spelling = spelled(found, column)
        if isinstance(spelling, Fault):
            row.faults[column.path] = spelling
        else:
            row.members[column.path] = spelling


def _merged(area: Area) -> Fault:
    return Fault(
        Code.MERGED_CELLS,
        f"The cells {area.text} are merged, so it can't be told which of them the value is for.",
        "Unmerge them and type the value into each cell that it is for.",
        area.text,
    )
