"""Room sheets and price lists as documents: `read_room_sheet` and `read_price_list`.

The reader only re-spells cells as the document that the JSON door takes as well; the schema does all the
understanding, so that a sheet and a JSON document meet the same checks. What only a spreadsheet can get
wrong (a date where a length was typed, merged cells, headings, tabs …) is found here, each with its cell.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.nearest import MOST_GUESSED, nearest
from service.problems import Cell, Code, Problem, Severity, pointer
from service.sheets.draft import MISSING, Draft, RowRead, SheetReading
from service.sheets.fault import Fault
from service.sheets.items import read_items
from service.sheets.layout import VERSION, Layout, Tab
from service.sheets.layout_price_list import PRICE_LIST
from service.sheets.layout_room_sheet import ROOM_SHEET
from service.sheets.marks.own import is_faults_tab
from service.sheets.opening import Opened, opened
from service.sheets.tables import rows_of, table_of
from service.sheets.tabs import matched_tabs, tell_missing_tabs, tell_unknown_tabs
from service.sheets.wording import folded, short
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.sheets.opening import Sheet


def read_room_sheet(data: bytes) -> SheetReading:
    """Job document of a filled room sheet.

    Args:
        data: the workbook's bytes, as uploaded.

    Returns:
        Document (None when the workbook can't be opened), cells by pointer, the reader's own faults. Never raises.
    """
    return _read(data, ROOM_SHEET)


def read_price_list(data: bytes) -> SheetReading:
    """Price-list document of a filled price list; the rest as in `read_room_sheet`."""
    return _read(data, PRICE_LIST)


def _read(data: bytes, layout: Layout) -> SheetReading:
    book = opened(data)
    if book.problems:
        return SheetReading(None, {}, book.problems)
    if strange := _strange_version(book, layout):
        return SheetReading(None, {}, (strange,))
    return _document(book, layout)


def _strange_version(book: Opened, layout: Layout) -> Problem | None:
    version = book.version
    if version is None or version.strip() in {str(VERSION), f"{VERSION}.0"}:
        return None
    return Problem(
        Code.LAYOUT_UNKNOWN, Severity.ERROR, "/layout",
        f"The {layout.name} has layout version {version[:40]}; this program reads version {VERSION}.",
        "Download the template again and copy your values into it.", version[:40],
    )  # fmt: skip


def _document(book: Opened, layout: Layout) -> SheetReading:
    draft = Draft()
    draft.problems.extend(book.remarks)
    tabs = tuple(sheet for sheet in book.sheets if not is_faults_tab(sheet.name))
    sheets = matched_tabs(tabs, layout, draft)
    tell_missing_tabs(tabs, sheets, layout, draft)
    tell_unknown_tabs(tabs, sheets, layout, draft)
    draft.cells[""] = Cell(tabs[0].name, "A1") if tabs else Cell(layout.tabs[0].name, "A1")
    for tab in layout.tabs:
        if sheet := sheets.get(tab.name):
            _read_tab(sheet, tab, draft)
            draft.is_taped = layout is ROOM_SHEET and _units_typed(draft) == Units.IMPERIAL
        elif tab.required:
            _explain_tab(tab, draft)
    if draft.lost:
        _explain_lost(draft)
    return draft.reading()


def _units_typed(draft: Draft) -> str:
    job = draft.document.get("job")
    return folded(str(job.get("units", ""))) if isinstance(job, dict) else ""


def _read_tab(sheet: Sheet, tab: Tab, draft: Draft) -> None:
    if tab.is_items:
        read_items(sheet, tab, draft)
        return
    table = table_of(sheet, tab, draft)
    if table is None:
        _explain_tab(tab, draft)
        return
    rows = rows_of(table, draft)
    if tab.within:
        _place_in_rooms(rows, tab, draft)
    else:
        draft.cells[pointer(tab.member)] = sheet.cell(table.heading_row, 1)
        draft.document[tab.member] = [draft.placed_row(row, tab.member, n) for n, row in enumerate(rows)]


def _explain_tab(tab: Tab, draft: Draft) -> None:
    if tab.within:
        draft.explained.update(pointer("rooms", n, tab.member) for n in range(len(_rooms(draft))))
    else:
        draft.explained.add(pointer(tab.member))


def _explain_lost(draft: Draft) -> None:
    """References to walls whose row found no room: whether they are right can't be told before that is mended."""
    for number, room in enumerate(_rooms(draft)):
        if not room.get("walls"):
            draft.explained.add(pointer("rooms", number, "walls"))
        for place, name in _walls_named(room):
            if folded(name) in draft.lost:
                draft.explained.add(pointer("rooms", number, *place))
    orders = draft.document.get("trim", [])
    for number, order in enumerate(orders if isinstance(orders, list) else []):
        names = order.get("walls")
        if isinstance(names, list) and any(folded(name) in draft.lost for name in names):
            draft.explained.add(pointer("trim", number, "walls"))


def _walls_named(room: dict[str, object]) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """Where the rows of a room name one of its walls, and the name."""
    openings, joists = room.get("openings"), room.get("joists")
    for number, opening in enumerate(openings if isinstance(openings, list) else []):
        yield ("openings", number, "wall"), str(opening.get("wall", ""))
    if isinstance(joists, dict):
        yield ("joists", "parallel_to"), str(joists.get("parallel_to", ""))


def _rooms(draft: Draft) -> list[dict[str, object]]:
    rooms = draft.document.get("rooms", [])
    assert isinstance(rooms, list)  # noqa: S101 - placed as a list above
    return rooms


def _place_in_rooms(rows: list[RowRead], tab: Tab, draft: Draft) -> None:
    rooms = _rooms(draft)
    numbers: dict[str, int] = {}
    for position, room in enumerate(rooms):
        numbers.setdefault(folded(str(room.get("name", ""))), position)
    for row in rows:
        name = row.members.pop(("room",), None)
        number = numbers.get(folded(str(name))) if name is not None else None
        if number is None:
            _orphan(row, tab, name, rooms, draft)
        else:
            _place_in_room(row, tab, number, rooms[number], draft)


def _place_in_room(row: RowRead, tab: Tab, number: int, room: dict[str, object], draft: Draft) -> None:
    members = room.setdefault(tab.member, [])
    assert isinstance(members, list)  # noqa: S101 - made one line above
    draft.cells.setdefault(pointer("rooms", number, tab.member), row.anchor)
    members.append(draft.placed_row(row, "rooms", number, tab.member, len(members)))


def _orphan(row: RowRead, tab: Tab, name: object, rooms: list[dict[str, object]], draft: Draft) -> None:
    is_told = ("room",) in row.faults or ("room",) in row.absent
    if not is_told and ("room",) in row.cells and "rooms" in draft.document:
        known = rooms if len(draft.problems) < MOST_GUESSED else []
        row.faults[("room",)] = _no_room() if name is None else _unknown_room(str(name), known)
    draft.lost.add(folded(str(row.members.get(("name",), ""))))
    draft.orphan(row, "rooms", MISSING, tab.member, MISSING)


def _no_room() -> Fault:
    return Fault(Code.VALUE_MISSING, "The row doesn't say which room it belongs to.", "Type the room's name.", "")


def _unknown_room(name: str, rooms: list[dict[str, object]]) -> Fault:
    likely = nearest(name, [str(room["name"]) for room in rooms if "name" in room])
    cure = f"Did you mean {likely}?" if likely else "Type a name from the Rooms tab, or add the room there."
    return Fault(Code.ROOM_UNKNOWN, "The Rooms tab has no room of this name.", cure, short(name))
