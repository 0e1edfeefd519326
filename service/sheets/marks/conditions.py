"""The formula of a conditional format that holds only while a refused value is still in its cell.

Decided by kind of value:
- text: the same text, letter case included (EXACT); a long one by its beginning; the text 12 is not the number 12;
- number, date or time (dates are numbers): a number within a billionth of the stored one, so that no program's
  rounding of a printed number turns the color off;
- TRUE or FALSE: the same truth value;
- error: any error, as mending means that there is none;
- blank: still blank;
- a formula is judged by its value; one that was never calculated by having no value, which ends when a program
  calculates it, and saving is then all that is left to do;
- a stored value that is none of its type ("abc" as a number): the same text, nothing or an error, as programs differ.
"""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from service.sheets.marks.own import RULE_TOKEN

if TYPE_CHECKING:
    from service.sheets.marks.stored import StoredCell

_LONGEST_LITERAL = 240
_MOST_LITERALS = 8
_CONTROL = re.compile(r"([\x00-\x1f])")
_BEYOND_BMP = re.compile("[\U00010000-\U0010ffff]")
_BLANKS = re.compile(" +")
_NUMBER = re.compile(r"\s*[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?\s*")
_LONGEST_NUMBER = 60
_CLOSE = Decimal("1E-9")


def rule_formula(cell: StoredCell | None, address: str) -> str:
    """Formula that is true while the cell still holds what was found in it."""
    return f"AND({RULE_TOKEN},{_holds(cell, address)})"


def _holds(cell: StoredCell | None, address: str) -> str:
    if cell is None or (not cell.value and not cell.text):
        return f'EXACT({address},"")' if cell and cell.has_formula else f"ISBLANK({address})"
    if cell.text is not None:
        same = _same_text(cell.text, address)
        return f"AND(ISTEXT({address}),{same})" if _NUMBER.fullmatch(cell.text) else same
    match cell.type:
        case "e":
            holds = f"ISERROR({address})"
        case "b" if cell.value.strip() in {"0", "1"}:
            holds = f"AND(ISLOGICAL({address}),{address}={'TRUE' if cell.value.strip() == '1' else 'FALSE'})"
        case "d" if day := _day(cell.value):
            holds = f"AND(ISNUMBER({address}),ABS({address}-DATE({day.year},{day.month},{day.day}))<1)"
        case "n" if _NUMBER.fullmatch(cell.value) and len(cell.value) <= _LONGEST_NUMBER:
            holds = _same_number(cell.value.strip(), address)
        case _:
            holds = f'IF(ISERROR({address}),TRUE,OR({address}=0,{address}="",{_same_text(cell.value, address)}))'
    return holds


def _same_number(text: str, address: str) -> str:
    """Within a billionth, or for huge numbers a million-millionth of the number."""
    value = Decimal(text)
    margin = max(_CLOSE, abs(value) * Decimal("1E-12"))
    return f"AND(ISNUMBER({address}),ABS({address}-({text}))<={margin:.1E})"


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text.strip()[:10])
    except ValueError:
        return None


def _same_text(text: str, address: str) -> str:
    if len(text) <= _LONGEST_LITERAL * _MOST_LITERALS:
        return _same_short_text(text, address)
    start = _BEYOND_BMP.split(text[:_LONGEST_LITERAL])[0]
    if not start:
        return f"ISTEXT({address})"
    return f"EXACT(LEFT({address},{len(start)}),{_literals(start)})"


def _same_short_text(text: str, address: str) -> str:
    """Blanks at the ends are dropped by some programs when a file doesn't say to keep them; inner ones never are."""
    if text == text.strip(" "):
        return f"EXACT({address},{_literals(text)})"
    return f"EXACT(TRIM({address}),{_literals(_BLANKS.sub(' ', text.strip(' ')))})"


def _literals(text: str) -> str:
    """A text as formula literals: at most 255 characters each, control characters by CHAR, quotation marks doubled."""
    pieces = [piece for piece in _CONTROL.split(text) if piece] or [""]
    return "&".join(_literal(piece) for piece in pieces)


def _literal(piece: str) -> str:
    if _CONTROL.fullmatch(piece):
        return f"CHAR({ord(piece)})"
    cuts = [piece[start : start + _LONGEST_LITERAL] for start in range(0, len(piece), _LONGEST_LITERAL)] or [""]
    return "&".join('"' + cut.replace('"', '""') + '"' for cut in cuts)
