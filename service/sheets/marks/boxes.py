"""How far a note's box reaches over a tab's columns and rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.sheets.addresses import LAST_COLUMN, LAST_ROW, placed_at
from service.sheets.marks.note_text import WIDTH, height_of
from service.sheets.marks.shapes import Box
from service.sheets.marks.stored import size_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from service.sheets.marks.stored import StoredTab

_CHARACTER = 7  # pixels of a digit in 11 point Calibri, by which column widths are counted
_PADDING = 5
_USUAL_WIDTH, _USUAL_HEIGHT = 8.43, 15.0
_PIXELS = 4 / 3  # in a point, at 96 to the inch
_GAP, _DROP = 12, 6
_MOST_COLUMNS, _MOST_STEPS = 200, 60


class Grid:
    """Widths of columns and heights of rows in pixels, both counted from 0."""

    def __init__(self, tab: StoredTab) -> None:
        self._heights = tab.heights
        usual = tab.root.child("sheetFormatPr")
        told = usual.attributes if usual else {}
        self._usual_height = _number(told.get("defaultRowHeight"), _USUAL_HEIGHT)
        self._usual_width = _number(told.get("defaultColWidth"), _USUAL_WIDTH)
        columns = tab.root.child("cols")
        self._widths = [
            (_number(item.attribute("min"), 1), _number(item.attribute("max"), 1), _column_width(item.attributes))
            for item in (columns.children[:_MOST_COLUMNS] if columns else ())
        ]

    def width(self, column: int) -> int:
        """Pixels of a column."""
        told = next((width for low, high, width in self._widths if low <= column + 1 <= high), self._usual_width)
        return round(told * _CHARACTER + _PADDING) if told else 0

    def height(self, row: int) -> int:
        """Pixels of a row."""
        return round(self._heights.get(row + 1, self._usual_height) * _PIXELS)


def _number(text: str | None, otherwise: float) -> float:
    return size_of(text, otherwise) if text else otherwise


def _column_width(attributes: dict[str, str]) -> float:
    return 0.0 if attributes.get("hidden") in {"1", "true"} else _number(attributes.get("width"), _USUAL_WIDTH)


def box_at(grid: Grid, address: str, text: str) -> Box:
    """The box of a note: right of its cell, a little above it, as large as its text needs."""
    row, column = placed_at(address)
    height = height_of(text)
    left, top = min(column, LAST_COLUMN - 1), max(row - 2, 0)
    right, right_in = _reached(grid.width, left, _GAP + WIDTH, LAST_COLUMN)
    bottom, bottom_in = _reached(grid.height, top, _DROP + height, LAST_ROW)
    return Box((left, _GAP, top, _DROP, right, right_in, bottom, bottom_in), WIDTH, height)


def _reached(size: Callable[[int], int], start: int, pixels: int, last: int) -> tuple[int, int]:
    """The column or row, and the pixels into it, that lie a distance from the start of another."""
    place = start
    while pixels > size(place) and place < min(last - 1, start + _MOST_STEPS):
        pixels -= size(place)
        place += 1
    return place, min(pixels, size(place))
