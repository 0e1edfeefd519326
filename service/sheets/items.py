"""Tabs of items and values: column A names the item, column B holds its value."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from service.problems import Cell, Code, Severity, pointer
from service.sheets.draft import MISSING, Draft, RowRead
from service.sheets.tables import keys_of, merge_at, put, recognized, tell_hidden
from service.sheets.wording import cleaned, heading_key

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
    for number in _item_rows(sheet):
        _read_item(sheet, tab, number, known, seen, row, draft)
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
) -> None:
    item, value = (sheet.rows[number].get(place) for place in (ITEM, VALUE))
    column = known.get(_key(item))
    if column is None:
        if value is not None:
            _unknown(sheet, tab, number, item, draft)
    elif column.heading in seen:
        _twice(sheet, tab, number, seen[column.heading], column, draft)
    else:
        seen[column.heading] = number
        row.cells[column.path] = sheet.cell(number, VALUE)
        put(row, column, value, merge_at(sheet, number, VALUE))


def _unknown(sheet: Sheet, tab: Tab, number: int, item: Found | None, draft: Draft) -> None:
    name = cleaned(str(item.value)) if item else ""
    keys = {key: column.heading for column in tab.columns for key in keys_of(column)}
    close = get_close_matches(heading_key(name), list(keys), n=1)
    cure = (
        f"Did you mean {keys[close[0]]}?"
        if close
        else "Use one of: " + ", ".join(column.heading for column in tab.columns) + "."
    )
    draft.remark(
        Code.ITEM_UNKNOWN, Severity.WARNING, pointer(tab.member, MISSING),
        f"The tab {sheet.name} has no item of this name; its value was not read.", cure, name, sheet.cell(number, ITEM),
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
            cleaned(str(found.value))[:80], Cell(sheet.name, found.address),
        )  # fmt: skip
