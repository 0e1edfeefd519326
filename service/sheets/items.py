"""Tabs of items and values: column A names the item, column B holds its value."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.nearest import HEADING_LIKENESS, MOST_GUESSED, nearest
from service.problems import Cell, Code, Severity, pointer
from service.sheets.draft import MISSING, Draft, RowRead
from service.sheets.tables import merge_at, put, recognized, tell_hidden, words_of
from service.sheets.wording import heading_key, short

if TYPE_CHECKING:
    from service.sheets.layout import Column, Tab
    from service.sheets.opening import Found, Sheet

ITEM, VALUE = 1, 2
_HEADINGS = ("item", "value")


def read_items(sheet: Sheet, tab: Tab, draft: Draft) -> None:
    """Put the tab's object into the document."""
    known = recognized(tab.columns)
    row = RowRead(sheet.cell(1, ITEM))
    seen: dict[str, int] = {}
    strangers = [number for number in _item_rows(sheet) if not _read_item(sheet, tab, number, known, seen, row, draft)]
    _tell_unknown(sheet, tab, strangers, row, draft)
    for column in tab.columns:
        row.cells.setdefault(column.path, sheet.cell(max(sheet.rows, default=0) + 1, ITEM))
    tell_hidden(sheet, tab, _item_rows(sheet), draft)
    _tell_beyond(sheet, tab, draft)
    draft.document[tab.member] = draft.placed_row(row, tab.member)


def _item_rows(sheet: Sheet) -> list[int]:
    return [
        number
        for number, cells in sheet.rows.items()
        if (ITEM in cells or VALUE in cells) and tuple(_key(cells.get(place)) for place in (ITEM, VALUE)) != _HEADINGS
    ]


def _key(found: Found | None) -> str:
    return heading_key(str(found.value)) if found else ""


def _read_item(
    sheet: Sheet, tab: Tab, number: int, known: dict[str, Column], seen: dict[str, int], row: RowRead, draft: Draft
) -> bool:
    """Put one item into the row; False when it has a value and no such item is known."""
    item, value = (sheet.rows[number].get(place) for place in (ITEM, VALUE))
    column = known.get(_key(item))
    if column is None:
        return value is None
    if column.heading in seen:
        _twice(sheet, tab, number, seen[column.heading], column, draft)
    else:
        seen[column.heading] = number
        row.cells[column.path] = sheet.cell(number, VALUE)
        put(row, column, value, merge_at(sheet, number, VALUE))
    return True


def _tell_unknown(sheet: Sheet, tab: Tab, strangers: list[int], row: RowRead, draft: Draft) -> None:
    """A warning for each item that isn't known; a missing item that it is likely meant for is missed there."""
    absent = {word: column for column in tab.columns if column.path not in row.cells for word in words_of(column)}
    for count, number in enumerate(strangers):
        item = sheet.rows[number].get(ITEM)
        name = short(item.value) if item else ""
        near = nearest(heading_key(name), absent, HEADING_LIKENESS) if count < MOST_GUESSED else None
        if near is not None:
            row.cells.setdefault(absent[near].path, sheet.cell(number, ITEM))
        _unknown(sheet, tab, number, name, absent[near].heading if near else "", draft)


def _unknown(sheet: Sheet, tab: Tab, number: int, name: str, likely: str, draft: Draft) -> None:
    listed = "Use one of: " + ", ".join(column.heading for column in tab.columns) + "."
    draft.remark(
        Code.ITEM_UNKNOWN, Severity.WARNING, pointer(tab.member, MISSING),
        f"The tab {sheet.name} has no item of this name; its value was not read.",
        f"Did you mean {likely}?" if likely else listed, name, sheet.cell(number, ITEM),
    )  # fmt: skip


def _twice(sheet: Sheet, tab: Tab, number: int, first: int, column: Column, draft: Draft) -> None:
    draft.remark(
        Code.ITEM_DUPLICATE, Severity.ERROR, pointer(tab.member, MISSING),
        f"{column.heading} stands twice in the tab {sheet.name}, in rows {first} and {number}.",
        "Keep one of the two rows.", column.heading, sheet.cell(number, ITEM),
    )  # fmt: skip


def _tell_beyond(sheet: Sheet, tab: Tab, draft: Draft) -> None:
    beyond: dict[int, Found] = {}
    for cells in sheet.rows.values():
        for place, found in cells.items():
            if place > VALUE:
                beyond.setdefault(place, found)
    for found in beyond.values():
        draft.remark(
            Code.HEADING_UNKNOWN, Severity.WARNING, pointer(tab.member, MISSING),
            f"In the tab {sheet.name} only columns A and B are read.",
            "Move what belongs to the job into columns A and B, or into Notes.",
            short(found.value), Cell(sheet.name, found.address),
        )  # fmt: skip
