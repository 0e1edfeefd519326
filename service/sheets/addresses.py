"""Cell addresses as a workbook writes them, inside the limits of its format."""

from __future__ import annotations

import re
from functools import cache

from service.sheets.refusal import unreadable

LAST_ROW, LAST_COLUMN = 1_048_576, 16_384
"""Source: ECMA-376 Part 1, 18.17.5.1 has no limit; these are the program's own published specifications (from memory)."""
_ADDRESS = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})")
_SHOWN = 40


def placed_at(address: str) -> tuple[int, int]:
    """Row and column of an address such as `C5` or `$C$5`.

    Raises:
        RefusedError: when it is none, or lies outside the sheet.
    """
    match = _ADDRESS.fullmatch(address)
    if match is None:
        raise impossible(address)
    column, row = column_of(match[1]), int(match[2])
    if not (1 <= row <= LAST_ROW and column <= LAST_COLUMN):
        raise impossible(address)
    return row, column


def impossible(address: str) -> Exception:
    """The refusal of an address that is none."""
    return unreadable("The workbook holds a cell with an impossible address.", address[:_SHOWN])


def corners_of(area: str) -> tuple[int, int, int, int]:
    """Top, left, bottom and right of a range such as `B2:D9`, or of one cell."""
    first, _, last = area.partition(":")
    (top, left), (bottom, right) = placed_at(first), placed_at(last or first)
    return min(top, bottom), min(left, right), max(top, bottom), max(left, right)


def column_of(letters: str) -> int:
    """Number of a column: AB → 28."""
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - ord("A") + 1
    return column


@cache
def letters_of(column: int) -> str:
    """Letters of a column number: 28 → AB."""
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
