"""Exact lengths and the one grammar in which people write them.

A `Length` holds a rational number of inches. Only a final length snaps, once, to the nearest 1/64".
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import overload

MM_PER_INCH = Fraction(254, 10)
SNAP = 64


class Units(StrEnum):
    """System in which bare numbers are read and lengths are printed."""

    IMPERIAL = "imperial"
    METRIC = "metric"


class LengthFault(ValueError):
    """A text is no length; `reason` says why in words for people, `is_unit_missing` that a unit would settle it."""

    def __init__(self, reason: str, *, is_unit_missing: bool = False) -> None:
        """Keep the reason, one sentence."""
        super().__init__(reason)
        self.reason = reason
        self.is_unit_missing = is_unit_missing


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length, exact. May be negative as the difference of two others.

    Attributes:
        inches: the value in inches, a rational.
    """

    inches: Fraction

    @classmethod
    def of(cls, inches: Fraction | Decimal | int | str) -> Length:
        """Length of so many inches. A float is refused: round trips through binary are never exact."""
        if isinstance(inches, (float, bool)):
            raise TypeError("a length is made from an exact number, not from a float or a truth value")
        return cls(Fraction(inches))

    @classmethod
    def measured(cls, inches: float) -> Length:
        """Length of a computed real number (trigonometry), carried at its full binary precision."""
        return cls(Fraction(inches))

    @classmethod
    def of_mm(cls, millimeters: Fraction | Decimal | int | str) -> Length:
        """Length of so many millimeters; 1 inch is exactly 25.4 mm (NIST Handbook 44, Appendix C)."""
        return cls(Fraction(millimeters) / MM_PER_INCH)

    def __add__(self, other: Length) -> Length:
        """Sum of two lengths."""
        return Length(self.inches + other.inches)

    def __sub__(self, other: Length) -> Length:
        """Difference of two lengths."""
        return Length(self.inches - other.inches)

    def __neg__(self) -> Length:
        """The same length the other way."""
        return Length(-self.inches)

    def __abs__(self) -> Length:
        """Magnitude."""
        return Length(abs(self.inches))

    def __mul__(self, factor: Fraction | int) -> Length:
        """So many times this length."""
        return Length(self.inches * factor)

    __rmul__ = __mul__

    @overload
    def __truediv__(self, other: Length) -> Fraction: ...
    @overload
    def __truediv__(self, other: Fraction | int) -> Length: ...
    def __truediv__(self, other: Length | Fraction | int) -> Fraction | Length:
        """Ratio of two lengths, or a part of this one."""
        if isinstance(other, Length):
            return self.inches / other.inches
        return Length(self.inches / other)

    def __float__(self) -> float:
        """Inches as a float, for drawing and trigonometry only."""
        return float(self.inches)

    def __bool__(self) -> bool:
        """False for zero."""
        return self.inches != 0

    @property
    def feet(self) -> Fraction:
        """The value in feet [ft]."""
        return self.inches / 12

    @property
    def mm(self) -> Fraction:
        """The value in millimeters [mm]."""
        return self.inches * MM_PER_INCH

    def snapped(self, denominator: int = SNAP) -> Length:
        """Nearest 1/denominator inch, halves away from zero upward (half up)."""
        return Length(Fraction(self._parts(denominator), denominator))

    def decimal(self) -> Decimal:
        """Inches snapped to 1/64" as an exact decimal without trailing zeros, for answers to machines."""
        millionths = self._parts(SNAP) * (1_000_000 // SNAP)
        value = Decimal(millionths).scaleb(-6).normalize()
        return value.quantize(Decimal(1)) if millionths % 1_000_000 == 0 else value

    def text(self, units: Units = Units.IMPERIAL, *, denominator: int = SNAP) -> str:
        """For people: `12′ 6 1/2″`, `5 7/8″`, or `3810 mm` on a metric job.

        Millimeters print to the nearest half, as a metric tape is read; 1/64" is 0.4 mm.
        """
        return self._mm_text() if units is Units.METRIC else self._feet_text(denominator)

    def inch_text(self, denominator: int = SNAP) -> str:
        """Inches alone, for small sizes: `5 7/8″`."""
        snapped = self.snapped(denominator).inches
        return f"{_sign(snapped)}{_mixed(abs(snapped))}\N{DOUBLE PRIME}"

    def _parts(self, denominator: int) -> int:
        """Nearest whole number of 1/denominator inch, halves up; whole-number arithmetic, for this is done often."""
        top, bottom = self.inches.numerator, self.inches.denominator
        return (2 * top * denominator + bottom) // (2 * bottom)

    def _mm_text(self) -> str:
        halves = (abs(self.mm) * 4 + 1) // 2
        figures = f"{halves // 2}.5" if halves % 2 else f"{halves // 2}"
        return f"{_sign(self.inches if halves else Fraction(0))}{figures}\N{NO-BREAK SPACE}mm"

    def _feet_text(self, denominator: int) -> str:
        parts = self._parts(denominator)
        feet, rest = divmod(abs(parts), 12 * denominator)
        inches = f"{_mixed(Fraction(rest, denominator))}\N{DOUBLE PRIME}"
        return f"{_sign(parts)}{feet}\N{PRIME}\N{NO-BREAK SPACE}{inches}" if feet else f"{_sign(parts)}{inches}"


ZERO = Length(Fraction(0))


def _sign(value: Fraction | int) -> str:
    return "\N{MINUS SIGN}" if value < 0 else ""


def _mixed(value: Fraction) -> str:
    whole, part = divmod(value.numerator, value.denominator)
    if not part:
        return str(whole)
    fraction = f"{part}/{value.denominator}"
    return f"{whole} {fraction}" if whole else fraction


_MARKS = {
    "\N{PRIME}": "'", "\N{RIGHT SINGLE QUOTATION MARK}": "'", "\N{LEFT SINGLE QUOTATION MARK}": "'",
    "\N{ACUTE ACCENT}": "'", "\N{MODIFIER LETTER PRIME}": "'", "`": "'", "\N{FULLWIDTH APOSTROPHE}": "'",
    "\N{DOUBLE PRIME}": '"', "\N{RIGHT DOUBLE QUOTATION MARK}": '"', "\N{LEFT DOUBLE QUOTATION MARK}": '"',
    "\N{MODIFIER LETTER DOUBLE PRIME}": '"', "\N{DITTO MARK}": '"',
    "\N{FRACTION SLASH}": "/", "\N{DIVISION SLASH}": "/",
    "\N{MINUS SIGN}": "-", "\N{HYPHEN}": "-", "\N{NON-BREAKING HYPHEN}": "-",
    "\N{EN DASH}": "-", "\N{EM DASH}": "-", "\N{MULTIPLICATION SIGN}": "x",
    "\N{ZERO WIDTH SPACE}": "", "\N{ZERO WIDTH NO-BREAK SPACE}": "", "\N{WORD JOINER}": "",
    "\N{ZERO WIDTH JOINER}": "", "\N{ZERO WIDTH NON-JOINER}": "",
    "\N{LEFT-TO-RIGHT MARK}": "", "\N{RIGHT-TO-LEFT MARK}": "", "\N{SOFT HYPHEN}": "",
    "¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
    "⅓": " 1/3", "⅔": " 2/3", "⅙": " 1/6", "⅚": " 5/6",
}  # fmt: skip
_TRANSLATION = str.maketrans(_MARKS)
_DENOMINATORS = frozenset({2, 3, 4, 6, 8, 10, 12, 16, 32, 64, 100})  # of tapes and drawings; 3/19 is a slip

_DECIMAL = r"(?:\d{1,9}(?:\.\d{0,17})?|\.\d{1,17})"  # a spreadsheet stores up to 17 figures
_FRACTION = r"\d{1,6}\s*/\s*\d{1,6}"
_NUMBER = rf"(?:\d{{1,9}}(?:\s+|-\s?){_FRACTION}|{_FRACTION}|{_DECIMAL})"
_GROUPED = r"[1-9]\d{0,2}(?: \d{3})+(?:\.\d{0,17})?"  # 3 810: ISO 80000-1, 7.3.1, from memory
_FOOT = r"(?:'|ft\.?|feet|foot)"
_INCH = r"(?:\"|''|ins?\.?|inch(?:es)?)"
_MM, _CM, _M = (rf"{short}\.?|{long}met(?:er|re)s?" for short, long in (("mm", "milli"), ("cm", "centi"), ("m", "")))
_FLAGS = re.IGNORECASE | re.ASCII
_FEET_INCHES = re.compile(rf"(?P<feet>{_NUMBER})\s*{_FOOT}(?:\s*-?\s*(?P<inches>{_NUMBER})\s*{_INCH}?)?", _FLAGS)
_INCHES = re.compile(rf"(?P<inches>{_NUMBER})\s*{_INCH}", _FLAGS)
_METRIC = re.compile(rf"(?P<number>{_GROUPED}|{_NUMBER})\s*(?:(?P<mm>{_MM})|(?P<cm>{_CM})|(?P<m>{_M}))", _FLAGS)
_BARE = re.compile(_NUMBER, _FLAGS)
_BARE_GROUPED = re.compile(_GROUPED, _FLAGS)
_MM_OF = {"mm": 1, "cm": 10, "m": 1000}

_COMMA_FIGURE = re.compile(r"[\d.]*,[\d.,]*", re.ASCII)
_DECIMAL_COMMA = re.compile(r"(?:\d{1,9}|[1-9]\d{0,2}(?:\.\d{3})+),\d{1,17}", re.ASCII)
_COMMA_GROUPS = re.compile(r"[1-9]\d{0,2}(?:,\d{3})+(?:\.\d{1,17})?", re.ASCII)
_FEET_COMMA_INCHES = re.compile(r"(\d{1,3}),(\d|1[01])", re.ASCII)
_BETWEEN = re.compile(r"\s(?:by|to|and|or)\s|[x;&|+*]|\s", _FLAGS)
_LONGEST = 80
_UNIT = re.compile(rf"{_NUMBER}\s*[a-zµ²³]+\.?", _FLAGS)


def parsed_length(text: str, bare: Units) -> Length:
    """Length written as trade text.

    Reads `12' 6 1/2"`, `12'-6-1/2"`, `12 ft 6.5 in`, `150.5"`, `150 1/2`, `12.54'`, `3.81 m`, `381 cm`, `3 810 mm`,
    with typographic primes, quotes, fractions, minus signs and spaces, and a comma that can only be a decimal one.

    Args:
        text: as typed.
        bare: unit of a number without one: inches when imperial, millimeters when metric.

    Returns:
        The exact length, never negative. [Length]

    Raises:
        LengthFault: when the text is not one unambiguous length.
    """
    plain = " ".join(text.translate(_TRANSLATION).split())
    if not plain:
        raise LengthFault("It is empty.")
    if plain.startswith("-"):
        raise LengthFault("A length cannot be negative.")
    if len(plain) > _LONGEST:
        raise LengthFault("It is not one length.")
    length = _read(_pointed(plain, bare) if "," in plain else plain, bare)
    if length is None:
        raise LengthFault(_why_not(plain, bare))
    return length


def _read(plain: str, bare: Units) -> Length | None:
    for reading in (_feet_and_inches, _inches_alone, _metric, lambda t: _bare_number(t, bare)):
        length = reading(plain)
        if length is not None:
            return length
    return None


def comma_readings(figure: str) -> tuple[str, ...]:
    """The numbers that a figure with commas can be, written with a decimal point; none when it is no number.

    `12,5` → 12.5; `1,250` → 1.250 or 1250; `0,125` → 0.125; `1,250.5` and `1.250,5` → 1250.5.

    Source: ISO 80000-1, 7.3.2, from memory (comma or point as decimal sign); digit groups of three as commonly written.
    """
    readings = []
    if _DECIMAL_COMMA.fullmatch(figure):
        readings.append(figure.replace(".", "").replace(",", "."))
    if _COMMA_GROUPS.fullmatch(figure):
        readings.append(figure.replace(",", ""))
    return tuple(readings)


def _pointed(plain: str, bare: Units) -> str:
    """The text with its decimal commas turned into points."""
    feet_inches = _FEET_COMMA_INCHES.fullmatch(plain)
    if feet_inches and bare is Units.IMPERIAL:
        feet, inches = feet_inches.groups()
        raise LengthFault(f"It can be {feet}.{inches} inches or {feet} feet {inches} inches.")
    return _COMMA_FIGURE.sub(_one_reading, plain)


def _one_reading(figure: re.Match[str]) -> str:
    readings = comma_readings(figure[0])
    if len(readings) == 1:
        return readings[0]
    if readings:
        raise LengthFault(f"It can be read as {readings[0]} or as {readings[1]}.")
    raise LengthFault("A comma stands where no decimal sign can be.")


def _why_not(plain: str, bare: Units) -> str:
    if plain.startswith("="):
        return "It is a formula that was stored as text."
    if "%" in plain:
        return "A share is no length."
    if _is_two(plain, bare):
        return "It reads as two lengths."
    if _UNIT.fullmatch(plain):
        return "Its unit is not known."
    return "It is not one length."


def _is_two(plain: str, bare: Units) -> bool:
    parts = ((plain[: gap.start()].strip(), plain[gap.end() :].strip()) for gap in _BETWEEN.finditer(plain))
    return any(_is_length(first, bare) and _is_length(second, bare) for first, second in parts)


def _is_length(text: str, bare: Units) -> bool:
    try:
        return _read(text, bare) is not None
    except LengthFault as fault:
        return fault.is_unit_missing


def _feet_and_inches(text: str) -> Length | None:
    match = _FEET_INCHES.fullmatch(text)
    if not match:
        return None
    feet = _number(match["feet"])
    if not match["inches"]:
        return Length(feet * 12)
    inches = _number(match["inches"])
    if inches >= 12:  # noqa: PLR2004 - inches in a foot
        raise LengthFault("After feet, the inches must be less than 12.")
    if feet.denominator != 1:
        raise LengthFault("Inches follow whole feet only.")
    return Length(feet * 12 + inches)


def _inches_alone(text: str) -> Length | None:
    match = _INCHES.fullmatch(text)
    return Length(_number(match["inches"])) if match else None


def _metric(text: str) -> Length | None:
    match = _METRIC.fullmatch(text)
    return Length.of_mm(_ungrouped(match["number"]) * _MM_OF[str(match.lastgroup)]) if match else None


def _bare_number(text: str, bare: Units) -> Length | None:
    if bare is Units.METRIC and _BARE_GROUPED.fullmatch(text):
        return Length.of_mm(_ungrouped(text))
    if not _BARE.fullmatch(text):
        return None
    value = _number(text)
    if bare is Units.IMPERIAL:
        return Length(value)
    if "/" in text:
        raise LengthFault("A fraction without a unit on a metric sheet may be inches.", is_unit_missing=True)
    return Length.of_mm(value)


def _ungrouped(text: str) -> Fraction:
    return _number(text if "/" in text else text.replace(" ", ""))


def _number(text: str) -> Fraction:
    head, slash, denominator = text.partition("/")
    if not slash:
        return Fraction(text.rstrip(".") if text.endswith(".") else text)
    if int(denominator) == 0:
        raise LengthFault("A fraction cannot be divided by zero.")
    *whole, numerator = head.replace("-", " ").split()
    if int(numerator) >= int(denominator):
        raise LengthFault("In a fraction the upper number is the smaller one; put a space after the whole inches.")
    if int(denominator) not in _DENOMINATORS:
        raise LengthFault(f"No tape is divided into parts of 1/{int(denominator)} inch.")
    return (Fraction(whole[0]) if whole else Fraction(0)) + Fraction(int(numerator), int(denominator))
