"""A stored number as its cell shows it: with its percent sign, and with the unit that its number format adds.

What the estimator sees is what is read. A cell that shows `3810 mm` stores 3810 and a format; read as a bare number on an
imperial sheet it would be inches.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from service.sheets.wording import cleaned, folded

if TYPE_CHECKING:
    from collections.abc import Iterator

_TOKEN = re.compile(
    r'"(?P<quoted>[^"]*)"?|\\(?P<escaped>.)|[_*].|\[(?P<bracket>[^\]]*)\]?'
    r"|(?P<place>General|[0-9#?.,/@]|[Ee][+-])|(?P<percent>%)|(?P<end>;)|(?P<bare>.)",
    re.IGNORECASE | re.DOTALL,
)
_LONGEST_FORMAT = 255  # characters that spreadsheet programs allow
_DECIMALS = 9
_PLAIN_BELOW = 10**15
MEASURES = frozenset(
    (
        "lb",
        "lbs",
        "kg",
        "lb/ft",
        "kg/m",
        "ml",
        "cl",
        "l",
        "fl oz",
        "pt",
        "qt",
        "gal",
        "sq ft",
        "sq m",
        "ft²",
        "m²",
        "m2",
    )
)
"""Units that a bare number of weight, volume or coverage may carry; they change what the number means."""


def number_text(value: float | Decimal) -> str:
    """A number as people write it: at most nine decimals, which drops the noise of binary arithmetic.

    12.541666666666668 → 12.541666667; 14.0 → 14. A billionth of an inch is far below any tape.
    """
    exact = Decimal(str(value))
    if abs(exact) >= _PLAIN_BELOW:
        return str(value)
    text = format(round(exact, _DECIMALS), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def percent_text(value: float | Decimal) -> str:
    """A number as a percent cell shows it, its decimals kept: 0.065 → 6.5%."""
    hundred = Fraction(str(value)) * 100
    return number_text(Decimal(hundred.numerator) / Decimal(hundred.denominator)) + "%"


@lru_cache(maxsize=1024)
def is_percent(number_format: str) -> bool:
    """True when the format shows a hundredfold with a percent sign; a quoted sign is only a word."""
    return any(token["percent"] for token in _first_section(number_format))


def worded(value: float | Decimal, number_format: str) -> tuple[str, str]:
    """A number as text, and the same with the words that its format puts before and after it.

    Source: ECMA-376 Part 1, 18.8.31 (number formats: sections, quoted text, escapes, fill, padding).
    """
    before, after = words_of(number_format)
    plain = number_text(value)
    return plain, cleaned(f"{before} {plain} {after}") if before or after else plain


@lru_cache(maxsize=1024)
def words_of(number_format: str) -> tuple[str, str]:
    """The words that a number format shows before and after the figures: `0.0" mm"` → ("", "mm")."""
    parts = [("0", "") if token["place"] else ("", _word(token)) for token in _first_section(number_format)]
    places = [position for position, (place, _) in enumerate(parts) if place]
    if not places:
        return "", ""
    before, after = parts[: places[0]], parts[places[-1] + 1 :]
    return cleaned("".join(word for _, word in before)), cleaned("".join(word for _, word in after))


def is_measure(word: str) -> bool:
    """True for a unit of weight, volume or coverage."""
    return folded(word) in MEASURES


def _first_section(number_format: str) -> Iterator[re.Match[str]]:
    for token in _TOKEN.finditer(number_format[:_LONGEST_FORMAT]):
        if token["end"]:
            return
        yield token


def _word(token: re.Match[str]) -> str:
    if token["bracket"]:
        currency, _, _language = token["bracket"].partition("-")
        return currency[1:] if currency.startswith("$") else ""
    return token["quoted"] or token["escaped"] or token["bare"] or ""
