"""What a stored cell shows: its type, text and number format turned into text, number, truth value or date.

The guard has made sure that every text is what its type says. Dates and built-in formats are the workbook
library's business.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from openpyxl.styles.numbers import BUILTIN_FORMATS, is_date_format, is_timedelta_format
from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH, from_excel

if TYPE_CHECKING:
    from service.sheets.guard import RawBook
    from service.sheets.sheet_pass import RawCell

GENERAL = "General"
NO_DATE = "#VALUE!"
"""What spreadsheet programs show for a date format on a number that is no date."""
_LONGEST_FORMAT = 255


class Values:
    """Turns stored cells of one workbook into values."""

    def __init__(self, book: RawBook) -> None:
        """Formats are looked at when a cell first uses them."""
        self._book = book
        self._epoch = MAC_EPOCH if book.has_1904_dates else WINDOWS_EPOCH
        self._formats: dict[int, tuple[str, bool, bool]] = {}

    def number_format(self, style: int) -> str:
        """The number format of a cell format, as its code."""
        return self._format(style)[0]

    def value_of(self, cell: RawCell) -> tuple[object, bool]:
        """What a cell shows, and whether that is an error."""
        text = cell.text
        if text is None:
            return None, False
        if cell.type == "n":
            return self._number(text, cell.style)
        return self._other(cell.type, text), cell.type == "e"

    def _other(self, kind: str, text: str) -> object:
        match kind:
            case "s":
                return self._book.texts[int(text)]
            case "b":
                return text.strip() == "1"
            case "d":
                return _iso_date(text.strip())
        return text

    def _number(self, text: str, style: int) -> tuple[object, bool]:
        number = float(text) if any(char in text for char in ".eE") else int(text)
        _, is_date, is_duration = self._format(style)
        if not is_date:
            return number, False
        try:
            return from_excel(number, self._epoch, timedelta=is_duration), False
        except (OverflowError, ValueError):
            return NO_DATE, True

    def _format(self, style: int) -> tuple[str, bool, bool]:
        known = self._formats.get(style)
        if known is None:
            code = self._code(style)
            shown = code[:_LONGEST_FORMAT]
            known = self._formats[style] = code, is_date_format(shown), is_timedelta_format(shown)
        return known

    def _code(self, style: int) -> str:
        if style >= len(self._book.of_style):
            return GENERAL
        number = self._book.of_style[style]
        return self._book.codes.get(number) or BUILTIN_FORMATS.get(number, GENERAL)


def _iso_date(text: str) -> object:
    """A date stored as text (ISO 8601); one with a time zone is taken as it is written."""
    moment = datetime.fromisoformat(text).replace(tzinfo=None)
    return moment if ":" in text else moment.date()
