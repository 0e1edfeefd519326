"""How one cell is spelled in the job document, or why it can't be.

Only what a spreadsheet alone can get wrong is judged here; the schema understands the rest.

| in the cell | rule |
|---|---|
| formula with a result | the result |
| formula never calculated, in any column | fault `formula-without-value`; never the formula, never blank, never 0 |
| formula that shows an empty text | blank |
| error value, in any column | fault `formula-error` |
| stored as a number, date or truth value, and none | fault `number-not-understood` or `date-not-understood`; found by the guard |
| date or time where a length belongs | fault `length-is-date`, with the fraction that was probably typed |
| date in another column | `YYYY-MM-DD`, by the workbook's own epoch (1900 or 1904); the schema judges it |
| TRUE or FALSE | yes or no where that is asked; fault `length-is-boolean` in a length; else the word |
| percent cell | as shown: `15%`. A share takes it, a length, number or amount refuses it |
| number format with words, `0" mm"` | a length is read with them, as shown; of other numbers only a known measure is |
| number | at most nine decimals, which drops binary noise |
| bare decimal inches of a measured length, number or text | the mark of the tape within 1/2000"; else fault `length-between-marks` |
| number stored as text | as typed: the same words as the number |
| a literal apostrophe before a value | dropped, except in names and prose; a quote prefix is no part of the text |
| rich text | its runs joined |
| `_x000D_`, zero-width and control characters, no-break spaces | undone, dropped, collapsed (`wording`) |
| ′ ″ ’ ” ½ ⁄ − – × | kept in the text; the grammar of lengths reads them (`service.units`); × parts two lengths, a fault |
| decimal comma | kept in the text; read where it can be nothing else, refused with both readings where it can (`service.units`) |
| merged cells in the data | fault `merged-cells` at the first; the others are accounted for by it (`tables`) |
| hidden rows, columns, tabs | read like any other, and a note says so (`tables`) |
"""

from __future__ import annotations

import math
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from service.problems import Code
from service.sheets.fault import Fault
from service.sheets.layout import Kind
from service.sheets.sheet_pass import Broken
from service.sheets.shown import is_measure, is_percent, percent_text, worded, words_of
from service.sheets.tape import is_bare_decimal, on_tape
from service.sheets.wording import cleaned, cleaned_prose, listed

if TYPE_CHECKING:
    from service.sheets.layout import Column
    from service.sheets.opening import Found

_FRACTION_DENOMINATORS = (2, 4, 8, 16, 32, 64)
_NAMES = frozenset({Kind.TEXT, Kind.PROSE, Kind.LIST})


def spelled(found: Found, column: Column, *, is_taped: bool = False) -> str | bool | list[str] | Fault:
    """A cell as the job document writes it: cleaned text, true or false, a list of texts; or the fault in it.

    Args:
        found: the cell.
        column: what it stands under.
        is_taped: bare figures of lengths are inches read off a tape.
    """
    return cell_fault(found, column) or _on_tape(_value(found, column), is_taped=is_taped and column.kind.is_length)


def _on_tape(value: str | bool | list[str], *, is_taped: bool) -> str | bool | list[str] | Fault:
    if not is_taped or isinstance(value, bool):
        return value
    marks = [
        on_tape(text) if is_bare_decimal(text) else text for text in ([value] if isinstance(value, str) else value)
    ]
    fault = next((mark for mark in marks if isinstance(mark, Fault)), None)
    texts = [mark for mark in marks if isinstance(mark, str)]
    return fault or (texts[0] if isinstance(value, str) else texts)


def cell_fault(found: Found, column: Column) -> Fault | None:
    """What only a spreadsheet can get wrong."""
    if found.broken:
        return _broken(found.broken, str(found.value))
    if found.is_error:
        return _error_value(found)
    if found.is_uncalculated:
        return _never_calculated()
    if isinstance(found.value, float) and not math.isfinite(found.value):
        return Fault(Code.NUMBER_NOT_UNDERSTOOD, "The cell holds no finite number.", "Type a number.", str(found.value))
    return _length_fault(found.value) if column.kind.is_length else None


def _length_fault(value: object) -> Fault | None:
    if isinstance(value, bool):
        return _is_boolean(value)
    if isinstance(value, (date, time, timedelta)):
        return _is_date(value)
    return None


def _broken(kind: Broken, text: str) -> Fault:
    code = Code.DATE_NOT_UNDERSTOOD if kind is Broken.DATE else Code.NUMBER_NOT_UNDERSTOOD
    cure = "Type the value again, or open the workbook in your spreadsheet program and save it."
    return Fault(code, f"The cell is stored as a {kind}, but what it holds is none.", cure, text)


def _error_value(found: Found) -> Fault:
    return Fault(
        Code.FORMULA_ERROR,
        f"The cell shows the error {found.value}.",
        "Mend the formula or type the value itself.",
        str(found.value),
    )


def _never_calculated() -> Fault:
    return Fault(
        Code.FORMULA_WITHOUT_VALUE,
        "The cell holds a formula that was never calculated.",
        "Open the workbook in your spreadsheet program and save it once, or type the value itself.",
        "a formula",
    )


def _is_boolean(value: bool) -> Fault:
    shown = "TRUE" if value else "FALSE"
    return Fault(
        Code.LENGTH_IS_BOOLEAN, f"The cell holds {shown}, no length.", "Type the length, such as 12' 6 1/2\".", shown
    )


def _is_date(value: date | time | timedelta) -> Fault:
    shown = _date_text(value)
    likely = likely_fraction(value)
    cure = f"If you meant {likely}, format the cell as Text and type {likely} again." if likely else (
        "Format the cell as Text, then type the length, such as 12' 6 1/2\"."
    )  # fmt: skip
    what = "time" if isinstance(value, (time, timedelta)) else "date"
    return Fault(Code.LENGTH_IS_DATE, f"The spreadsheet program turned this into the {what} {shown}.", cure, shown)


def likely_fraction(value: object) -> str:
    """The fraction that was probably typed before a spreadsheet program made a date of it; "" when none fits.

    `1/2` becomes 2 January (month first) or 1 February (day first) of the running year; `10-1/2` becomes
    1 October 2002.

    Source: measured in two spreadsheet programs.
    """
    if not isinstance(value, date):
        return ""
    tail = value.year - 2000
    if value.day % 2 and tail in _FRACTION_DENOMINATORS[:-1] and value.day < tail:
        return f"{value.month} {value.day}/{tail}"
    for numerator, denominator in ((value.month, value.day), (value.day, value.month)):
        if numerator % 2 and denominator in _FRACTION_DENOMINATORS and numerator < denominator:
            return f"{numerator}/{denominator}"
    return ""


def _value(found: Found, column: Column) -> str | bool | list[str]:
    value = found.value
    if isinstance(value, bool):
        return _truth(value, column)
    if isinstance(value, (date, time, timedelta)):
        return _date_text(value)
    text = _figure(value, found.number_format, column.kind) if isinstance(value, (int, float, Decimal)) else str(value)
    return _text(text, column.kind)


def _figure(value: float | Decimal, number_format: str, kind: Kind) -> str:
    if is_percent(number_format):
        return percent_text(value)
    plain, shown = worded(value, number_format)
    after = words_of(number_format)[1]
    return shown if kind.is_length or (kind is Kind.NUMBER and is_measure(after)) else plain


def _truth(value: bool, column: Column) -> str | bool:
    if column.kind is Kind.YES_NO:
        return value
    if "yes" in column.choices:
        return "yes" if value else "no"
    return "TRUE" if value else "FALSE"


def _date_text(value: date | time | timedelta) -> str:
    if isinstance(value, datetime):
        return value.date().isoformat()
    return value.isoformat() if isinstance(value, (date, time)) else str(value)


def _text(text: str, kind: Kind) -> str | list[str]:
    if kind.is_list:
        values = [value.removeprefix("'").strip() if kind.is_length else value for value in listed(text)]
        return values[0] if kind is Kind.LIST and [value.casefold() for value in values] == ["all"] else values
    if kind is Kind.PROSE:
        return cleaned_prose(text)
    clean = cleaned(text)
    return clean if kind in _NAMES else clean.removeprefix("'").strip()
