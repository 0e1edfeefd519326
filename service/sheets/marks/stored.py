"""What a tab's part holds that marking needs: wanted cells, sizes of columns and rows, merged ranges, its children."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING
from xml.parsers import expat

from service.sheets.addresses import letters_of, placed_at
from service.sheets.marks.splicing import Element, Outliner, utf8
from service.sheets.marks.xml_text import unescaped

if TYPE_CHECKING:
    from collections.abc import Collection

_LARGEST = 20_000.0
_USUAL_HEIGHT = 15.0
_PLACE = re.compile(r"[A-Z]{1,3}[0-9]{1,7}")


@dataclass(slots=True)
class StoredCell:
    """A cell as its part holds it: type, stored value ("" blank), whether a formula stands behind it.

    `text` is what a text cell shows; None for other types.
    """

    type: str = "n"
    value: str = ""
    has_formula: bool = False
    text: str | None = None


@dataclass(slots=True)
class StoredTab:
    """A tab's part in UTF-8, its tree without the cells, the wanted cells, and heights of rows that have one."""

    part: bytes
    root: Element
    cells: dict[str, StoredCell]
    heights: dict[int, float] = field(default_factory=dict)


class _TabOutliner(Outliner):
    """Builds a tab's tree; between `sheetData` and its end only rows and wanted cells are looked at."""

    def __init__(self, part: bytes, wanted: Collection[str]) -> None:
        super().__init__(part)
        self.wanted = wanted
        self.cells: dict[str, StoredCell] = {}
        self.heights: dict[int, float] = {}
        self.row, self.last = 0, ""
        self.cell: StoredCell | None = None
        self.pieces: list[str] = []
        self.phonetic = 0
        self.data = ""

    def begun(self, name: str, attributes: dict[str, str]) -> None:
        super().begun(name, attributes)
        if name.rpartition(":")[2] == "sheetData" and len(self.open) == 2:  # noqa: PLR2004 - a child of the root
            self.data = name
            self.parser.StartElementHandler = self.cell_begun
            self.parser.EndElementHandler = self.cell_ended
            self.parser.CharacterDataHandler = None

    def cell_begun(self, name: str, attributes: dict[str, str]) -> None:
        local = name.rpartition(":")[2]
        if local == "c":
            self._cell(attributes)
        elif local == "row":
            self._row(attributes)
        elif self.cell is not None:
            self._within(local)

    def _row(self, attributes: dict[str, str]) -> None:
        before = placed_at(self.last)[0] if self.last else self.row
        self.row, self.last = int(attributes.get("r", before + 1)), ""
        if attributes.get("hidden") in {"1", "true"}:
            self.heights[self.row] = 0.0
        elif "ht" in attributes:
            self.heights[self.row] = size_of(attributes["ht"], _USUAL_HEIGHT)

    def _cell(self, attributes: dict[str, str]) -> None:
        self.last = attributes.get("r") or self._next()
        if self.last in self.wanted:
            self.cell = self.cells[self.last] = StoredCell(attributes.get("t", "n"))

    def _next(self) -> str:
        """Address of a cell that doesn't tell it: right of the one before."""
        row, column = placed_at(self.last) if self.last else (self.row, 0)
        return f"{letters_of(column + 1)}{row}"

    def _within(self, local: str) -> None:
        assert self.cell is not None  # noqa: S101 - asked by the caller
        self.phonetic += local == "rPh"
        if local == "f":
            self.cell.has_formula = True
        elif local in {"v", "t"} and not self.phonetic:
            self.parser.CharacterDataHandler = self.pieces.append

    def cell_ended(self, name: str) -> None:
        local = name.rpartition(":")[2]
        if local == "c" and self.cell is not None:
            self.cell.value, self.cell = "".join(self.pieces), None
            self.pieces = []
        elif local in {"v", "t"}:
            self.parser.CharacterDataHandler = None
        elif local == "rPh":
            self.phonetic -= 1
        elif name == self.data:
            self.listen()
            self.ended(name)


def stored_tab(content: bytes, wanted: Collection[str]) -> StoredTab:
    """A tab's part, looked at once; texts that lie apart are added by `with_texts`."""
    part = utf8(content)
    outliner = _TabOutliner(part, wanted)
    root = outliner.outlined()
    for cell in outliner.cells.values():
        if cell.type in {"inlineStr", "str"}:
            cell.text = unescaped(cell.value)
    return StoredTab(part, root, outliner.cells, outliner.heights)


class _Texts:
    """Looks up shared texts by their numbers; readings of East Asian words are passed over."""

    def __init__(self, wanted: set[int]) -> None:
        self.found = dict.fromkeys(wanted, "")
        self.number, self.phonetic = -1, 0
        self.parser = expat.ParserCreate()
        self.parser.StartElementHandler = self.begun
        self.parser.EndElementHandler = self.ended

    def begun(self, name: str, _attributes: dict[str, str]) -> None:
        local = name.rpartition(":")[2]
        self.number += local == "si"
        self.phonetic += local == "rPh"
        if local == "t" and self.number in self.found and not self.phonetic:
            self.parser.CharacterDataHandler = self.said

    def ended(self, name: str) -> None:
        self.phonetic -= name.rpartition(":")[2] == "rPh"
        self.parser.CharacterDataHandler = None

    def said(self, text: str) -> None:
        self.found[self.number] += text


def shared_texts(content: bytes, numbers: set[int]) -> dict[int, str]:
    """Shared texts by number, as the spreadsheet program shows them."""
    if not numbers or not content:
        return {}
    texts = _Texts(numbers)
    texts.parser.Parse(utf8(content), True)  # noqa: FBT003 - expat takes it by position
    return {number: unescaped(text) for number, text in texts.found.items()}


def with_texts(tabs: list[StoredTab], strings: bytes) -> None:
    """Give the wanted cells of all tabs the shared texts that they refer to."""
    cells = [cell for tab in tabs for cell in tab.cells.values() if cell.type == "s" and cell.value.strip().isdigit()]
    texts = shared_texts(strings, {int(cell.value) for cell in cells})
    for cell in cells:
        cell.text = texts.get(int(cell.value), "")


def first_text(content: bytes, strings: bytes) -> str:
    """Text of a tab's cell A1."""
    tab = stored_tab(content, {"A1"})
    with_texts([tab], strings)
    return tab.cells["A1"].text or "" if "A1" in tab.cells else ""


def merged_into(tab: StoredTab) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    """Corners (row, column) of the tab's merged ranges."""
    merges = tab.root.child("mergeCells")
    corners = []
    for merge in merges.children if merges else ():
        first, _, last = merge.attribute("ref").replace("$", "").partition(":")
        if _PLACE.fullmatch(first) and _PLACE.fullmatch(last or first):
            corners.append((placed_at(first), placed_at(last or first)))
    return corners


def size_of(text: str, otherwise: float) -> float:
    """A width, height or number of a column as stored; what no sheet has is taken for the usual one."""
    try:
        size = float(text)
    except ValueError:
        return otherwise
    return size if 0 <= size <= _LARGEST else otherwise
