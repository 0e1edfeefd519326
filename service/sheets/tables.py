"""Tabs as rows of members: headings found by their words, cells spelled, everything odd collected."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING

from service.nearest import HEADING_LIKENESS, nearest
from service.problems import Cell, Code, Severity, pointer
from service.sheets.draft import MISSING, Draft, RowRead
from service.sheets.fault import Fault
from service.sheets.shown import number_text
from service.sheets.spelling import spelled
from service.sheets.wording import folded, heading_key, short

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.sheets.layout import Column, Tab
    from service.sheets.opening import Area, Found, Sheet

HEADING_ROWS = 10
MOST_ROWS = 5_000
_FAR_TOO_MANY = 2 * MOST_ROWS
_MOST_STRANGERS = 20  # headings that are guessed at; no tab has as many columns


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
    places, strangers = _places(sheet, tab, row, known, draft)
    absent = tuple(column for column in tab.columns if column not in places.values())
    meant = _meant(strangers, absent)
    _tell_strangers(sheet, tab, row, strangers, places, meant, draft)
    for column in absent:
        if column.required:
            _heading_missing(sheet, tab, row, column, _found_for(column, meant, strangers), draft)
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


def _places(
    sheet: Sheet, tab: Tab, row: int, known: dict[str, Column], draft: Draft
) -> tuple[dict[int, Column], dict[int, Found]]:
    """Columns by number, and the headings that are none of the tab's."""
    places: dict[int, Column] = {}
    strangers: dict[int, Found] = {}
    for number, cell in sheet.rows[row].items():
        column = known.get(heading_key(str(cell.value)))
        if column is None:
            strangers[number] = cell
        elif column in places.values():
            _heading_twice(sheet, tab, cell, column, draft)
        else:
            places[number] = column
    return places, strangers


def _meant(strangers: dict[int, Found], absent: tuple[Column, ...]) -> dict[int, Column]:
    """The absent column that each strange heading most likely means, each column once; a guess, only ever offered."""
    meant: dict[int, Column] = {}
    for number, cell in islice(strangers.items(), _MOST_STRANGERS):
        keys = {word: column for column in absent if column not in meant.values() for word in words_of(column)}
        near = nearest(heading_key(str(cell.value)), keys, HEADING_LIKENESS)
        if near is not None:
            meant[number] = keys[near]
    return meant


def words_of(column: Column) -> tuple[str, ...]:
    """Every word that names a column."""
    return (column.heading, *column.synonyms)


def _found_for(column: Column, meant: dict[int, Column], strangers: dict[int, Found]) -> Found | None:
    return next((strangers[number] for number, guess in meant.items() if guess is column), None)


def _tell_strangers(
    sheet: Sheet,
    tab: Tab,
    row: int,
    strangers: dict[int, Found],
    places: dict[int, Column],
    meant: dict[int, Column],
    draft: Draft,
) -> None:
    """A warning for each column that holds data and isn't read, unless it is told as a missing heading."""
    filled = {number for below, cells in sheet.rows.items() if below > row for number in cells}
    twice = {number for number in sheet.rows[row] if number not in places and number not in strangers}
    for number in sorted(filled - places.keys() - twice):
        guess = meant.get(number)
        if guess is None or not guess.required:
            _heading_unknown(sheet, tab, sheet.cell(row, number), strangers.get(number), guess, draft)


def _heading_unknown(
    sheet: Sheet, tab: Tab, cell: Cell, stranger: Found | None, guess: Column | None, draft: Draft
) -> None:
    hint = f"Did you mean {guess.heading}? " if guess else ""
    draft.remark(
        Code.HEADING_UNKNOWN, Severity.WARNING, place_of(tab),
        f"The tab {sheet.name} has no column with this heading; what stands below it was not read.",
        hint + "Use one of: " + ", ".join(column.heading for column in tab.columns) + "; or remove the column.",
        short(stranger.value) if stranger else "", cell,
    )  # fmt: skip


def _no_headings(sheet: Sheet, tab: Tab, draft: Draft) -> None:
    draft.remark(
        Code.HEADING_MISSING, Severity.ERROR, place_of(tab),
        f"None of the first {HEADING_ROWS} rows of the tab {sheet.name} holds its headings.",
        "Put these headings in one row: " + ", ".join(column.heading for column in tab.columns if column.required) + ".",
        "", sheet.cell(1, 1),
    )  # fmt: skip


def _heading_missing(sheet: Sheet, tab: Tab, row: int, column: Column, meant: Found | None, draft: Draft) -> None:
    """An error at the mistyped heading, or at the first one where none is like it."""
    cell = Cell(sheet.name, meant.address) if meant else sheet.cell(row, min(sheet.rows[row]))
    cure = f"Add a column with the heading {column.heading} in row {row}."
    if meant:
        cure = f"Did you mean {column.heading}? Then type that heading in {meant.address}."
    draft.remark(
        Code.HEADING_MISSING, Severity.ERROR, place_of(tab, *column.path),
        f"The tab {sheet.name} has no column {column.heading}.", cure,
        short(meant.value) if meant else "", cell,
    )  # fmt: skip


def _heading_twice(sheet: Sheet, tab: Tab, cell: Found, column: Column, draft: Draft) -> None:
    draft.remark(
        Code.HEADING_DUPLICATE, Severity.ERROR, place_of(tab, *column.path),
        f"Two columns of the tab {sheet.name} are read as {column.heading}; the first one was read.",
        "Keep one of them and rename or remove the other.",
        short(cell.value), Cell(sheet.name, cell.address),
    )  # fmt: skip


def rows_of(table: Table, draft: Draft) -> list[RowRead]:
    """Rows below the headings that hold anything under a known heading, in order."""
    numbers = [
        number
        for number, cells in table.sheet.rows.items()
        if number > table.heading_row and any(column in table.places for column in cells)
    ]
    if len(numbers) <= _FAR_TOO_MANY:
        numbers = [number for number in numbers if not _is_example(table, number)]
    if len(numbers) > MOST_ROWS:
        _too_many_rows(table, len(numbers), draft)
        numbers = numbers[:MOST_ROWS]
    tell_hidden(table.sheet, table.tab, numbers, draft)
    _tell_hidden_columns(table, numbers, draft)
    return [_row(table, number, is_taped=draft.is_taped) for number in numbers]


def _is_example(table: Table, number: int) -> bool:
    """An example row of the template, untouched."""
    cells = table.sheet.rows[number]
    shown = {
        table.places[place].heading: folded(_shown(found.value))
        for place, found in cells.items()
        if place in table.places
    }
    return table.tab.is_example(shown)


def _shown(value: object) -> str:
    return number_text(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else str(value)


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


def _tell_hidden_columns(table: Table, numbers: list[int], draft: Draft) -> None:
    """A note for each column that nobody sees and that holds something in the rows that were read."""
    filled = {place for number in numbers for place in table.sheet.rows[number] if place in table.places}
    for place in sorted(filled):
        if any(first <= place <= last for first, last in table.sheet.hidden_columns):
            heading = table.places[place].heading
            draft.remark(
                Code.HIDDEN_COLUMNS_READ, Severity.NOTE, place_of(table.tab),
                f"The hidden column {heading} of the tab {table.sheet.name} was read.",
                "Show the column and look at it; empty it if it doesn't belong to the job.",
                heading, table.sheet.cell(table.heading_row, place),
            )  # fmt: skip


def _row(table: Table, number: int, *, is_taped: bool) -> RowRead:
    cells = table.sheet.rows[number]
    first = min(table.places)
    row = RowRead(table.sheet.cell(number, first), absent=table.absent)
    for place, column in table.places.items():
        row.cells[column.path] = table.sheet.cell(number, place)
        put(row, column, cells.get(place), merge_at(table.sheet, number, place), is_taped=is_taped)
    return row


def merge_at(sheet: Sheet, row: int, column: int) -> Area | None:
    """The merged range that covers a cell, if one does."""
    return sheet.merge_at(row, column)


def put(row: RowRead, column: Column, found: Found | None, merge: Area | None, *, is_taped: bool = False) -> None:
    """Spell one cell into its row; a merged range is a fault at its first cell and explains the others."""
    if merge is not None:
        if found is not None:
            row.faults[column.path] = _merged(merge)
        else:
            row.absent = (*row.absent, column.path)
    elif found is not None:
        spelling = spelled(found, column, is_taped=is_taped)
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
