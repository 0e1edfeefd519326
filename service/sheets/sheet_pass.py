"""One pass over a sheet's part: rows, cells and ranges counted, cells found that would mislead the reader."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING

from service.problems import Code
from service.sheets.parts import Watcher, walked
from service.sheets.refusal import too_large, unreadable

if TYPE_CHECKING:
    from service.sheets.parts import Tally

MOST_CELLS = 200_000
MOST_ROWS = 200_000
MOST_RANGES = 5_000
MOST_COVERED = 50_000
LAST_ROW, LAST_COLUMN = 1_048_576, 16_384
_ADDRESS = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_NUMBER = re.compile(r"\s*[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,4})?\s*")
_LONGEST_NUMBER = 400
_SHOWN = 40


@dataclass(frozen=True, slots=True)
class BadCell:
    """A cell whose stored text is not what its stored type says."""

    address: str
    code: Code
    found: str


@dataclass(slots=True)
class SheetFacts:
    """What one sheet's part holds: bad cells, formulas that were never calculated, the highest text it refers to."""

    bad: list[BadCell] = field(default_factory=list)
    uncalculated: set[str] = field(default_factory=set)
    highest_string: int = -1


def sheet_facts(part: bytes, tally: Tally) -> SheetFacts:
    """Count a sheet's rows, cells and covered ranges, and find the cells that would mislead the reader."""
    pass_ = _SheetPass(tally)
    walked(part, tally, pass_)
    return pass_.facts


class _SheetPass(Watcher):
    def __init__(self, tally: Tally) -> None:
        self.tally = tally
        self.facts = SheetFacts()
        self.row = self.column = 0
        self.seen: set[tuple[int, int]] = set()
        self.address = self.type = ""
        self.has_formula = self.has_value = self.in_value = False
        self.value: list[str] = []

    def start(self, name: str, attributes: dict[str, str]) -> None:
        match name:
            case "c":
                self._cell(attributes)
            case "row":
                self._row(attributes)
            case "v":
                self.has_value = self.in_value = True
            case "f":
                self.has_formula = True
            case "mergeCell" | "hyperlink":
                self._range(attributes.get("ref", ""))

    def text(self, text: str) -> None:
        if self.in_value:
            self.value.append(text)

    def end(self, name: str) -> None:
        if name == "v":
            self.in_value = False
        elif name == "c":
            self._close_cell()

    def _row(self, attributes: dict[str, str]) -> None:
        number = attributes.get("r", str(self.row + 1))
        if not re.fullmatch(r"[0-9]{1,7}", number) or not 1 <= int(number) <= LAST_ROW:
            raise unreadable("A row of the workbook has an impossible number.", number[:_SHOWN])
        self.row, self.column = int(number), 0
        self.tally.rows += 1
        if self.tally.rows > MOST_ROWS:
            raise too_large(f"The workbook has more than {MOST_ROWS:,} rows.")

    def _cell(self, attributes: dict[str, str]) -> None:
        self.tally.cells += 1
        if self.tally.cells > MOST_CELLS:
            raise too_large(f"The workbook has more than {MOST_CELLS:,} cells, blank formatted ones included.")
        self.row, self.column = self._place(attributes.get("r"))
        if (self.row, self.column) in self.seen:
            raise unreadable("The workbook holds two cells of one address.", self.address)
        self.seen.add((self.row, self.column))
        self.type = attributes.get("t", "n")
        self.has_formula = self.has_value = False
        self.value = []

    def _place(self, address: str | None) -> tuple[int, int]:
        if address is None:
            self.address = f"{letters_of(self.column + 1)}{self.row}"
            return self.row, self.column + 1
        self.address = address[:_SHOWN]
        return placed_at(address)

    def _range(self, text: str) -> None:
        self.tally.ranges += 1
        first, _, last = text.replace("$", "").partition(":")
        (top, left), (bottom, right) = placed_at(first), placed_at(last or first)
        self.tally.covered += (abs(bottom - top) + 1) * (abs(right - left) + 1)
        if self.tally.ranges > MOST_RANGES or self.tally.covered > MOST_COVERED:
            raise too_large("Merged cells or links cover far more than a room sheet.", text[:_SHOWN])

    def _close_cell(self) -> None:
        text = "".join(self.value)
        if self.has_formula and not text and not (self.has_value and self.type == "str"):
            self.facts.uncalculated.add(self.address)
        if self.has_value and text and (code := self._fault(text)):
            self.facts.bad.append(BadCell(self.address, code, text[:_SHOWN]))

    def _fault(self, text: str) -> Code | None:
        match self.type:
            case "n":
                return None if is_number(text) else Code.NUMBER_NOT_UNDERSTOOD
            case "b":
                return None if text.strip() in {"0", "1"} else Code.NUMBER_NOT_UNDERSTOOD
            case "d":
                return None if _is_iso_date(text) else Code.DATE_NOT_UNDERSTOOD
            case "s":
                self._string(text)
        return None

    def _string(self, text: str) -> None:
        if not re.fullmatch(r"[0-9]{1,7}", text.strip()):
            raise unreadable("A cell refers to a text that the workbook doesn't hold.", self.address)
        self.facts.highest_string = max(self.facts.highest_string, int(text))


def is_number(text: str) -> bool:
    """True for the text of a finite number as a workbook stores it."""
    return len(text) <= _LONGEST_NUMBER and _NUMBER.fullmatch(text) is not None and math.isfinite(float(text))


def _is_iso_date(text: str) -> bool:
    try:
        datetime.fromisoformat(text.strip())
    except ValueError:
        return False
    return True


def placed_at(address: str) -> tuple[int, int]:
    """Row and column of an address such as `C5`."""
    match = _ADDRESS.fullmatch(address)
    if match is None:
        raise unreadable("The workbook holds a cell with an impossible address.", address[:_SHOWN])
    column = 0
    for letter in match[1]:
        column = column * 26 + ord(letter) - ord("A") + 1
    row = int(match[2])
    if not (1 <= row <= LAST_ROW and column <= LAST_COLUMN):
        raise unreadable("The workbook holds a cell with an impossible address.", address[:_SHOWN])
    return row, column


def letters_of(column: int) -> str:
    """Letters of a column number: 28 → AB."""
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
