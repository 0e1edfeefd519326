"""Which tab of a workbook is which tab of a layout."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.nearest import HEADING_LIKENESS, nearest
from service.problems import Cell, Code, Severity, pointer
from service.sheets.draft import MISSING, Draft
from service.sheets.layout import LISTS_TAB, Layout, Tab
from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.wording import folded

if TYPE_CHECKING:
    from service.sheets.opening import Sheet

_LAYOUTS = (ROOM_SHEET, PRICE_LIST)


def _tab_of(sheet: Sheet, layout: Layout) -> Tab | None:
    key = folded(sheet.name)
    by_name = next((tab for tab in layout.tabs if folded(tab.name) == key), None)
    return by_name or next((tab for tab in layout.tabs if key in map(folded, tab.synonyms)), None)


def matched_tabs(sheets: tuple[Sheet, ...], layout: Layout, draft: Draft) -> dict[str, Sheet]:
    """Tabs by the layout's name; one named exactly beats one named by a synonym, the first beats a second."""
    matched: dict[str, Sheet] = {}
    exact_first = sorted(sheets, key=lambda sheet: folded(sheet.name) not in {folded(tab.name) for tab in layout.tabs})
    for sheet in exact_first:
        tab = _tab_of(sheet, layout)
        if tab is not None and tab.name in matched:
            _tab_twice(sheet, matched[tab.name], tab, draft)
        elif tab is not None:
            matched[tab.name] = sheet
    return matched


def _tab_twice(sheet: Sheet, first: Sheet, tab: Tab, draft: Draft) -> None:
    draft.remark(
        Code.TAB_UNKNOWN, Severity.ERROR, pointer(MISSING),
        f"Two tabs are taken for {tab.name}: {first.name!r} and {sheet.name!r}.",
        "Keep one of them and rename or remove the other.", sheet.name, Cell(sheet.name, "A1"),
    )  # fmt: skip


def tell_missing_tabs(sheets: tuple[Sheet, ...], matched: dict[str, Sheet], layout: Layout, draft: Draft) -> None:
    """An error for each required tab that isn't there."""
    for tab in layout.tabs:
        if tab.required and tab.name not in matched:
            place = pointer("rooms", MISSING, tab.member) if tab.within else pointer(tab.member)
            draft.remark(
                Code.TAB_MISSING, Severity.ERROR, place, f"The {layout.name} has no tab {tab.name}.",
                _cure(sheets, layout, tab), "tabs: " + ", ".join(sheet.name for sheet in sheets[:20]), Cell(tab.name, "A1"),
            )  # fmt: skip


def _cure(sheets: tuple[Sheet, ...], layout: Layout, tab: Tab) -> str:
    for other in _LAYOUTS:
        if other is not layout and sum(_tab_of(sheet, other) is not None for sheet in sheets) > len(other.tabs) // 2:
            return f"This workbook looks like a {other.name}; upload a {layout.name} here."
    near = nearest(tab.name, _strangers(sheets, layout), HEADING_LIKENESS)
    return (
        f"Did you mean the tab {near}? Then name it {tab.name}."
        if near
        else f"Add a tab named {tab.name}, as in the template."
    )


def _strangers(sheets: tuple[Sheet, ...], layout: Layout) -> list[str]:
    return [
        sheet.name for sheet in sheets if _tab_of(sheet, layout) is None and folded(sheet.name) != folded(LISTS_TAB)
    ]


def tell_unknown_tabs(sheets: tuple[Sheet, ...], matched: dict[str, Sheet], layout: Layout, draft: Draft) -> None:
    """A note for each tab that was not read, a warning where its name is like that of a tab that isn't there.

    The template's own list of choices is none.
    """
    absent = [tab.name for tab in layout.tabs if tab.name not in matched]
    for name in _strangers(sheets, layout):
        near = nearest(name, absent, HEADING_LIKENESS)
        listed = (
            "Nothing, if it holds your own notes; else use one of: " + ", ".join(tab.name for tab in layout.tabs) + "."
        )
        draft.remark(
            Code.TAB_UNKNOWN, Severity.WARNING if near else Severity.NOTE, pointer(MISSING),
            f"The tab {name} was not read; a {layout.name} has no such tab.",
            f"Did you mean {near}? Then name it so." if near else listed, name, Cell(name, "A1"),
        )  # fmt: skip
