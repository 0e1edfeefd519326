"""One pass over a sheet's part: rows, cells and ranges counted, cells kept as stored, misleading ones found."""

from __future__ import annotations

import math
import re
from array import array
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from service.sheets.addresses import LAST_COLUMN, LAST_ROW, corners_of, letters_of, placed_at
from service.sheets.outside import reach_of_formula
from service.sheets.parts import Root, Watcher, walked
from service.sheets.refusal import too_large, unreadable

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.sheets.parts import Begin, End, Tally

MOST_CELLS = 200_000
MOST_FILLED = 100_000
MOST_ROWS = 200_000
MOST_RANGES = 5_000
MOST_COVERED = 50_000
MOST_CHARACTERS = 16_000_000
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_NUMBER = re.compile(r"\s*[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,4})?\s*")
_PLAIN_NUMBER = re.compile(r"-?[0-9]{1,15}(?:\.[0-9]{1,20})?")
_INDEX = re.compile(r"[0-9]{1,7}")
_LONGEST_NUMBER = 400
_TYPES = frozenset({"n", "s", "str", "inlineStr", "b", "e", "d"})
_SHOWN = 40
_COLUMN_BITS = 14
_TOLD = 20


class RawCell(NamedTuple):
    """A cell as stored: its type, or what it is not; its text (None: a formula never calculated); its format's number."""

    row: int
    column: int
    type: str
    text: str | None
    style: int


class Broken(StrEnum):
    """Types of cells whose stored text is not what their type says, in words."""

    NUMBER = "number"
    TRUTH = "truth value"
    DATE = "date"


@dataclass(slots=True)
class SheetFacts:
    """What one sheet's part holds.

    Attributes:
        cells: those with a value or a formula, in the order stored.
        merges: corners of merged ranges: top, left, bottom, right.
        hidden_rows: numbers of the rows that nobody sees.
        hidden_columns: first and last number of each span of columns that nobody sees.
        uncalculated: addresses of formulas that were never calculated.
        outside: address of formulas that reach outside the workbook, and to what; the first of them.
        outside_count: how many there are.
        highest_string: the highest shared text referred to; -1 for none.
        highest_style: the highest format referred to.
        is_in_order: the cells stand row by row, from left to right.
    """

    cells: list[RawCell] = field(default_factory=list)
    merges: list[tuple[int, int, int, int]] = field(default_factory=list)
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: list[tuple[int, int]] = field(default_factory=list)
    uncalculated: set[str] = field(default_factory=set)
    outside: dict[str, str] = field(default_factory=dict)
    outside_count: int = 0
    highest_string: int = -1
    highest_style: int = 0
    is_in_order: bool = True


def sheet_facts(part: bytes, tally: Tally, *, is_to_calculate: bool = False) -> SheetFacts:
    """Count a sheet's rows, cells and covered ranges, and find the cells that would mislead the reader.

    `is_to_calculate`: the workbook says that its formulas are still to be calculated. Programs that don't calculate
    leave 0 as their result, so a formula with 0 there was never calculated.
    """
    pass_ = _SheetPass(tally, is_to_calculate=is_to_calculate)
    root = walked(part, tally, pass_)
    if root != Root(MAIN, "worksheet"):
        raise unreadable("A tab of the workbook is no worksheet.", root.name[:_SHOWN])
    pass_.check_places()
    return pass_.facts


class _SheetPass(Watcher):
    is_bulk = True

    def __init__(self, tally: Tally, *, is_to_calculate: bool) -> None:
        super().__init__()
        self.tally = tally
        self.unset = {"", "0"} if is_to_calculate else {""}
        self.facts = SheetFacts()
        self.places = array("q")
        self.in_order, self.last_place = True, 0
        self.styles: dict[str, int] = {}
        self.tables = 0
        self.row = self.column = self.style = 0
        self.address: str | None = ""
        self.type = ""
        self.in_cell = self.is_phonetic = False
        self.value: list[str] | None = None
        self.inline: list[str] = []
        self.formula: list[str] | None = None

    def begins(self) -> Mapping[str, Begin]:
        return {
            "sheetData": self.begin_data, "col": self.begin_columns, "row": self.begin_row, "c": self.begin_cell, "v": self.begin_value,
            "f": self.begin_formula, "t": self.begin_text, "rPh": self.begin_phonetic,
            "mergeCell": self.merge, "hyperlink": self.link,
        }  # fmt: skip

    def ends(self) -> Mapping[str, End]:
        return {
            "c": self.end_cell, "v": self.end_text, "f": self.end_text, "t": self.end_text, "rPh": self.end_phonetic,
        }  # fmt: skip

    def begin_data(self, _attributes: dict[str, str]) -> None:
        self.tables += 1
        if self.tables > 1:
            raise unreadable("A tab of the workbook holds its cells twice.")

    def begin_columns(self, attributes: dict[str, str]) -> None:
        first, last = attributes.get("min", ""), attributes.get("max", "")
        if attributes.get("hidden") in {"1", "true"} and _INDEX.fullmatch(first) and _INDEX.fullmatch(last):
            self.facts.hidden_columns.append((int(first), int(last)))

    def begin_row(self, attributes: dict[str, str]) -> None:
        number = attributes.get("r")
        if number is None:
            self.row += 1
        elif _INDEX.fullmatch(number):
            self.row = int(number)
        else:
            self.row = 0
        if not 1 <= self.row <= LAST_ROW:
            raise unreadable("A row of the workbook has an impossible number.", (number or "")[:_SHOWN])
        self.column = 0
        self.tally.rows += 1
        if self.tally.rows > MOST_ROWS:
            raise too_large(f"The workbook has more than {MOST_ROWS:,} rows.")
        if attributes.get("hidden") in {"1", "true"}:
            self.facts.hidden_rows.add(self.row)

    def begin_cell(self, attributes: dict[str, str]) -> None:
        self.tally.cells += 1
        if self.tally.cells > MOST_CELLS:
            raise too_large(f"The workbook has more than {MOST_CELLS:,} cells, blank formatted ones included.")
        if self.in_cell or not self.row:
            raise unreadable("The workbook holds a cell outside its row.")
        self.address = attributes.get("r")
        self.column += 1
        if self.address or self.column > LAST_COLUMN:
            self.move_to(self.address or "")
        place = self.row << _COLUMN_BITS | self.column - 1
        self.in_order = self.in_order and place > self.last_place
        self.last_place = place
        self.places.append(place)
        self.type = attributes.get("t", "n")
        style = attributes.get("s")
        self.style = self.style_of(style) if style else 0
        self.in_cell = True
        self.value = self.formula = None
        if self.inline:
            self.inline = []

    def move_to(self, address: str) -> None:
        """Take a cell's own address; nearly always that of the next cell in the row."""
        if self.column > LAST_COLUMN or address != f"{letters_of(self.column)}{self.row}":
            self.row, self.column = placed_at(address)

    def style_of(self, text: str) -> int:
        known = self.styles.get(text)
        if known is None:
            if not _INDEX.fullmatch(text):
                raise unreadable("A cell refers to a format that the workbook doesn't hold.", self.shown_address())
            known = self.styles[text] = int(text)
            self.facts.highest_style = max(self.facts.highest_style, known)
        return known

    def shown_address(self) -> str:
        return self.address or f"{letters_of(self.column)}{self.row}"

    def begin_value(self, _attributes: dict[str, str]) -> None:
        if self.in_cell:
            if self.value is not None:
                raise unreadable("The workbook holds a cell with two values.", self.shown_address())
            self.value = self.sink = []

    def begin_formula(self, _attributes: dict[str, str]) -> None:
        if self.in_cell:
            self.formula = self.sink = []

    def begin_text(self, _attributes: dict[str, str]) -> None:
        if self.in_cell and not self.is_phonetic:
            self.sink = self.inline

    def begin_phonetic(self, _attributes: dict[str, str]) -> None:
        self.is_phonetic = True

    def end_phonetic(self) -> None:
        self.is_phonetic = False

    def end_text(self) -> None:
        self.sink = None

    def end_cell(self) -> None:
        self.in_cell = False
        self.sink = None
        value, formula = self.value, self.formula
        if value is None and formula is None and not self.inline:
            return
        self.tally.filled += 1
        if self.tally.filled > MOST_FILLED:
            raise too_large(f"The workbook has more than {MOST_FILLED:,} filled cells.")
        is_inline = self.type == "inlineStr"
        text = "".join(self.inline if is_inline else value or ())
        self.count_text(text)
        if formula is not None:
            self.note_formula("".join(formula))
            if text in self.unset and not (value is not None and self.type == "str"):
                self.facts.uncalculated.add(self.shown_address())
                self.facts.cells.append(RawCell(self.row, self.column, self.type, None, self.style))
                return
        if text:
            self.keep(text)

    def count_text(self, text: str) -> None:
        self.tally.characters += len(text)
        if self.tally.characters > MOST_CHARACTERS:
            raise too_large(f"The workbook holds more than {MOST_CHARACTERS:,} characters of text.")

    def note_formula(self, formula: str) -> None:
        if reach := reach_of_formula(formula):
            self.facts.outside_count += 1
            if len(self.facts.outside) < _TOLD:
                self.facts.outside[self.shown_address()] = reach

    def keep(self, text: str) -> None:
        if self.type not in _TYPES:
            raise unreadable("The workbook holds a cell of an unknown type.", self.shown_address())
        if broken := self.broken(text):
            self.facts.cells.append(RawCell(self.row, self.column, broken, text[:_SHOWN], 0))
        else:
            self.facts.cells.append(RawCell(self.row, self.column, self.type, text, self.style))

    def broken(self, text: str) -> Broken | None:
        match self.type:
            case "s":
                self.note_string(text)
            case "n":
                return None if is_number(text) else Broken.NUMBER
            case "b":
                return None if text.strip() in {"0", "1"} else Broken.TRUTH
            case "d":
                return None if _is_iso_date(text) else Broken.DATE
        return None

    def note_string(self, text: str) -> None:
        if not _INDEX.fullmatch(text.strip()):
            raise unreadable("A cell refers to a text that the workbook doesn't hold.", self.shown_address())
        self.facts.highest_string = max(self.facts.highest_string, int(text))

    def merge(self, attributes: dict[str, str]) -> None:
        self.facts.merges.append(self.area(attributes))

    def link(self, attributes: dict[str, str]) -> None:
        self.area(attributes)

    def area(self, attributes: dict[str, str]) -> tuple[int, int, int, int]:
        text = attributes.get("ref", "")
        top, left, bottom, right = corners_of(text)
        self.tally.ranges += 1
        self.tally.covered += (bottom - top + 1) * (right - left + 1)
        if self.tally.ranges > MOST_RANGES or self.tally.covered > MOST_COVERED:
            raise too_large("Merged cells or links cover far more than a room sheet.", text[:_SHOWN])
        return top, left, bottom, right

    def check_places(self) -> None:
        """Refuse two cells of one address: programs differ on which of them counts."""
        if self.in_order:
            return
        self.facts.is_in_order = False
        twice = next((one for one, other in pairwise(sorted(self.places)) if one == other), None)
        if twice is not None:
            row, column = twice >> _COLUMN_BITS, (twice & (1 << _COLUMN_BITS) - 1) + 1
            raise unreadable("The workbook holds two cells of one address.", f"{letters_of(column)}{row}")


def is_number(text: str) -> bool:
    """True for the text of a finite number as a workbook stores it."""
    if _PLAIN_NUMBER.fullmatch(text):
        return True
    return len(text) <= _LONGEST_NUMBER and _NUMBER.fullmatch(text) is not None and math.isfinite(float(text))


def _is_iso_date(text: str) -> bool:
    try:
        datetime.fromisoformat(text.strip())
    except ValueError:
        return False
    return True
