"""One valid room sheet of our own invention, and ways to change it: by the workbook library, or by its XML."""

from __future__ import annotations

import io
import re
import zipfile
from functools import cache, reduce
from typing import TYPE_CHECKING, Any

import openpyxl

from tests.sheets.workbooks import saved

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    Change = Callable[[bytes], bytes]

TABS: dict[str, list[tuple[str | None, ...]]] = {
    "Job": [
        ("Item", "Value"),
        ("Job name", "Two rooms"), ("Customer", "Ottoline Färber-Quist"), ("Customer email", "o@example.org"),
        ("Site address", "7 Sallow Row, Nether Wick (invented)"), ("Measured by", "Tamsin Okoro-Hale"),
        ("Measured on", "2025-04-14"), ("Units", "imperial"), ("Year built", "1994"), ("Occupied", "no"),
        ("Price list", "standard"), ("Discount", "5%"), ("Notes", "Invented house.\nRing first."),
    ],
    "Rooms": [
        ("Room", "Ceiling height", "Wall covering", "Ceiling covering", "Joists parallel to", "First joist", "Joist spacing",
         "Ceiling shape", "Ceiling finish", "Access", "Notes"),
        ("Dining room", "8' 1\"", '1/2"', '1/2"', "B", '4"', '16"', "flat", "smooth", "normal", "North light"),
        ("Hall", "8' 1\"", '1/2"', '1/2"', "A", '6"', '16"', "flat", "smooth", "normal", " "),
    ],
    "Walls": [
        ("Room", "Wall", "Length", "Corner", "Angle", "First stud", "Stud spacing", "Studs at", "Framing", "Notes"),
        ("Dining room", "A", "12' 6 1/2\"", "inside", "90", '15 1/4"', '16"', None, "wood", None),
        ("Dining room", "B", "10' 6\"", "inside", "90", '14 1/2"', '16"', None, "wood", None),
        ("Dining room", "C", "12' 6 1/2\"", "inside", "90", '15 1/4"', '16"', None, "wood", None),
        ("Dining room", "D", "10' 6\"", "inside", "90", None, None, "4; 20; 36; 52; 68; 84; 100; 116", "wood", None),
        ("Hall", "A", "9'", "inside", "90", '12"', '16"', None, "wood", None),
        ("Hall", "B", "4' 6\"", "inside", "90", '12"', '16"', None, "wood", None),
        ("Hall", "C", "9'", "inside", "90", '12"', '16"', None, "wood", None),
        ("Hall", "D", "4' 6\"", "inside", "90", '12"', '16"', None, "wood", None),
    ],
    "Openings": [
        ("Room", "Wall", "Opening", "From left", "Width", "Height", "Sill height", "Casing", "Style", "Sides", "Notes"),
        ("Dining room", "A", "door", "3' 2\"", '32"', '80"', None, "Casing", None, "1", None),
    ],
    "Trim": [
        ("Room", "Walls", "Assembly", "Inside joint", "Ends", "Height", "Remove existing", "Finish", "Coats", "Notes"),
        ("Dining room", "all", "Three-piece crown", None, None, None, "no", "paint", "2", None),
        ("all", "all", "Base and shoe", None, None, None, None, None, None, None),
        ("Hall", "A;C", "Plain crown", "cope", "return", None, "yes", "paint", "2", None),
    ],
    "Ceiling": [
        ("Room", "Feature", "Item", "Diameter", "Weight", "Hangs down", "Remove existing", "Box rated for fan", "Nearest wall", "Notes"),
        ("Dining room", "medallion", "medallion-24", '24"', "4", None, "no", None, "5' 1\"", None),
    ],
    "Extras": [
        ("Room", "Description", "Quantity", "Unit", "Unit price", "Kind", "Notes"),
        ("Dining room", "Patch outlet holes", "1.5", "hour", "35.00", "labor", None),
    ],
}  # fmt: skip


@cache
def base() -> bytes:
    """The sheet, every value typed as text."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in TABS.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    return saved(book)


def by_book(edit: Callable[[Any], object]) -> Change:
    """A change made with the workbook library."""

    def change(data: bytes) -> bytes:
        book = openpyxl.load_workbook(io.BytesIO(data))
        edit(book)
        return saved(book)

    return change


def by_tab(tab: str, edit: Callable[[Any], object]) -> Change:
    """A change of one tab made with the workbook library."""
    return by_book(lambda book: edit(book[tab]))


def put(place: str, value: object, number_format: str = "") -> Change:
    """One cell typed anew, in the library's own format for the value unless another is given."""
    tab, address = place.split("!")

    def edit(sheet: Any) -> None:
        cell = sheet[address]
        cell.value = value
        cell.number_format = number_format or cell.number_format

    return by_tab(tab, edit)


def together(*changes: Change) -> Change:
    """Several changes, one after the other."""
    return lambda data: reduce(lambda done, change: change(done), changes, data)


def by_part(name: str, edit: Callable[[str], str]) -> Change:
    """A change of one part's XML; it must change something."""
    return by_parts({name: edit})


def by_parts(edits: Mapping[str, Callable[[str], str]], added: Mapping[str, str] | None = None) -> Change:
    """Changes of several parts' XML, each of which must change something, and parts that were not there."""

    def change(data: bytes) -> bytes:
        stream = io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
            for name in old.namelist():
                text = old.read(name).decode("utf-8")
                edited = edits[name](text) if name in edits else text
                assert (edited != text) == (name in edits), name
                new.writestr(name, edited)
            for name, text in (added or {}).items():
                new.writestr(name, text)
        return stream.getvalue()

    return change


def part_of(tab: str) -> str:
    """Name of a tab's part, as the workbook library numbers them."""
    return f"xl/worksheets/sheet{list(TABS).index(tab) + 1}.xml"


def cell_xml(place: str, attributes: str, content: str) -> Change:
    """One cell written by hand: attributes of its `c` element, and what stands in it."""
    tab, address = place.split("!")
    pattern = re.compile(rf'<c r="{address}"[^>]*?(?:/>|>.*?</c>)', re.DOTALL)
    return by_part(
        part_of(tab), lambda xml: pattern.sub(lambda _: f'<c r="{address}"{attributes}>{content}</c>', xml, count=1)
    )


def in_sheet(tab: str, old: str, new: str) -> Change:
    """A replacement in a tab's XML, once."""
    return by_part(part_of(tab), lambda xml: xml.replace(old, new, 1))
