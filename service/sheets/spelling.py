"""How one cell is spelled in the job document, or why it can't be.

Only what a spreadsheet alone can get wrong is judged here; the schema understands the rest.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.problems import Code
from service.sheets.layout import Kind
from service.sheets.wording import cleaned, cleaned_prose, listed

if TYPE_CHECKING:
    from service.sheets.layout import Column
    from service.sheets.opening import Found

_FRACTION_DENOMINATORS = (2, 4, 8, 16, 32, 64)
_QUOTED = re.compile(r'"[^"]*"|\\.')
_DECIMALS = 9
_PLAIN_BELOW = 10**15


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a cell has no spelling: code, what is wrong, what to type, what was found."""

    code: Code
    detail: str
    help: str
    found: str


def spelled(found: Found, column: Column) -> str | bool | list[str] | Fault:
    """A cell as the job document writes it: cleaned text, true or false, a list of texts; or the fault in it."""
    return cell_fault(found, column) or _value(found, column)


def cell_fault(found: Found, column: Column) -> Fault | None:
    """What only a spreadsheet can get wrong."""
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
    if isinstance(value, (int, float, Decimal)):
        text = _percent(value) if column.kind is Kind.SHARE and _is_percent(found.number_format) else number_text(value)
        return [text] if column.kind.is_list else text
    return _text(str(value), column.kind)


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


def number_text(value: float | Decimal) -> str:
    """A number as people write it: at most nine decimals, which drops the noise of binary arithmetic.

    12.541666666666668 → 12.541666667; 14.0 → 14. A billionth of an inch is far below any tape.
    """
    exact = Decimal(str(value))
    if abs(exact) >= _PLAIN_BELOW:
        return str(value)
    text = format(round(exact, _DECIMALS), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _percent(value: float | Decimal) -> str:
    hundred = Fraction(str(value)) * 100
    return number_text(Decimal(hundred.numerator) / Decimal(hundred.denominator)) + "%"


def _is_percent(number_format: str) -> bool:
    return "%" in _QUOTED.sub("", number_format)


def _text(text: str, kind: Kind) -> str | list[str]:
    if kind.is_list:
        values = listed(text)
        return values[0] if kind is Kind.LIST and [value.casefold() for value in values] == ["all"] else values
    if kind is Kind.PROSE:
        return cleaned_prose(text)
    clean = cleaned(text)
    return clean.removeprefix("'").strip() if kind.is_length else clean
