"""Bare decimal inches of a measured length, against the marks of a tape.

Nobody reads 12.499999999 off a tape: it is what a spreadsheet made of 12 1/2. And 150.3 lies between two marks, so
which of them was measured has to be asked.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import floor

from service.problems import Code
from service.sheets.fault import Fault
from service.units import SNAP, Length

TOLERANCE = Fraction(1, 2000)
"""[in] Half of the third decimal: charts of decimal equivalents print 7/16 as .438, and no tape shows as little."""

_DECIMAL = re.compile(r"\d{0,9}\.\d{1,17}", re.ASCII)


def is_bare_decimal(text: str) -> bool:
    """True for a plain number with decimals and nothing else."""
    return _DECIMAL.fullmatch(text) is not None


def on_tape(text: str) -> str | Fault:
    """The mark of the tape that bare decimal inches stand for, as a decimal; a fault with both neighbors between marks."""
    inches = Fraction(text)
    mark = Length(inches).snapped()
    return str(mark.decimal()) if abs(mark.inches - inches) <= TOLERANCE else _between(text, inches)


def _between(text: str, inches: Fraction) -> Fault:
    low = Length(Fraction(floor(inches * SNAP), SNAP))
    high = Length(low.inches + Fraction(1, SNAP))
    return Fault(
        Code.LENGTH_BETWEEN_MARKS,
        f"It lies between two marks of a tape, {low.inch_text()} and {high.inch_text()}.",
        f'Type the one that was measured; or {text}" with its inch mark, if it is meant so.',
        text,
    )
