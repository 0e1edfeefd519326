"""Figures that know how they were worked out: a value, what it is, the rule and the figures it was made of.

A stage that counts or measures something hands on a `Figure` instead of a bare number. What is priced is then the
last figure of its own story, and the story can be worked out again, step by step, by anyone.

Every function here is one step of arithmetic. A step's value is exact (`Fraction`) unless its rule is trigonometric.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Sequence

Number = Fraction | Decimal | int | Length

INCH, FOOT, SQUARE_FOOT, CUBIC_INCH = "in", "ft", "sq ft", "cu in"
EACH, HOUR, DEGREE, SHARE = "each", "h", "deg", "share"
MONEY = "money"
"""Unit of an amount in a stage that knows no currency; it is the price list's."""
CENT_STEP, HUNDREDTH, THOUSANDTH, WHOLE = Fraction(1, 100), Fraction(1, 100), Fraction(1, 1000), Fraction(1)
SNAP_STEP = Fraction(1, 64)


class Rule(StrEnum):
    """How a figure is worked out of those in `of`, in their order."""

    GIVEN = "given"
    COUNT = "count"
    SUM = "sum"
    DIFFERENCE = "difference"
    PRODUCT = "product"
    QUOTIENT = "quotient"
    LARGEST = "largest"
    SMALLEST = "smallest"
    ROUNDED_UP = "rounded up"
    ROUNDED = "rounded half up"
    SETBACK = "setback"
    PROJECTION = "projection"
    TANGENT = "tangent"
    TOTAL = "total of all lines"
    PART = "part by largest remainder"


@dataclass(frozen=True, slots=True, eq=False)
class Figure:
    """One step of a story.

    Attributes:
        what: what it is, in words, without article: `nails at studs`.
        value: exact; lengths in inches. [`unit`]
        rule: how it follows from `of`.
        of: the figures it was made of.
        source: of a given figure: `sheet:{pointer}`, `trade:{entry}`, `list:{place}` or `geometry:{name}`.
        step: of a rounded figure: what it is rounded to a multiple of.
        places: of a count: where the counted things stand. [Length]
        parts: of a total: the values of all lines, in order.
        place: of a part by largest remainder: which of those values is its own, from 0.
    """

    what: str
    value: Fraction
    unit: str
    rule: Rule
    of: tuple[Figure, ...] = ()
    source: str = ""
    step: Fraction | None = None
    places: tuple[Length, ...] = ()
    parts: tuple[Fraction, ...] = ()
    place: int = 0

    @property
    def number(self) -> int:
        """The value of a figure that is whole.

        Raises:
            ValueError: it is not.
        """
        if self.value.denominator != 1:
            raise ValueError(f"{self.what} is no whole number")
        return self.value.numerator

    @property
    def length(self) -> Length:
        """The value of a figure in inches, as a length."""
        return Length(self.value)


def given(what: str, value: Number, unit: str, source: str) -> Figure:
    """A figure that somebody set: read from a sheet, a price list, the trade book or a geometry book."""
    return Figure(what, exact(value), unit, Rule.GIVEN, source=source)


def exact(value: Number) -> Fraction:
    """A number without rounding; a length in inches."""
    return value.inches if isinstance(value, Length) else Fraction(value)


def counted(what: str, places: Sequence[Length], of: Sequence[Figure] = ()) -> Figure:
    """How many places there are; `of` tells what the places follow from, such as first stud and spacing."""
    return Figure(what, Fraction(len(places)), EACH, Rule.COUNT, tuple(of), places=tuple(places))


def added(what: str, unit: str, *parts: Figure) -> Figure:
    """Sum; of nothing 0."""
    return Figure(what, sum((part.value for part in parts), Fraction(0)), unit, Rule.SUM, parts)


def less(what: str, unit: str, whole: Figure, *parts: Figure) -> Figure:
    """Difference: the first less all others."""
    return Figure(what, whole.value - sum(part.value for part in parts), unit, Rule.DIFFERENCE, (whole, *parts))


def times(what: str, unit: str, *factors: Figure) -> Figure:
    """Product."""
    return Figure(what, math.prod((item.value for item in factors), start=Fraction(1)), unit, Rule.PRODUCT, factors)


def over(what: str, unit: str, dividend: Figure, divisor: Figure) -> Figure:
    """Quotient.

    Raises:
        ZeroDivisionError: for a divisor of 0.
    """
    return Figure(what, dividend.value / divisor.value, unit, Rule.QUOTIENT, (dividend, divisor))


def largest(what: str, unit: str, *figures: Figure) -> Figure:
    """The largest of several."""
    return Figure(what, max(item.value for item in figures), unit, Rule.LARGEST, figures)


def smallest(what: str, unit: str, *figures: Figure) -> Figure:
    """The smallest of several."""
    return Figure(what, min(item.value for item in figures), unit, Rule.SMALLEST, figures)


def rounded_up(what: str, unit: str, figure: Figure, step: Fraction = WHOLE) -> Figure:
    """The next multiple of `step` that is not less."""
    return Figure(what, math.ceil(figure.value / step) * step, unit, Rule.ROUNDED_UP, (figure,), step=step)


def rounded(what: str, unit: str, figure: Figure, step: Fraction = CENT_STEP) -> Figure:
    """The nearest multiple of `step`, halves away from zero; what is one already is only renamed."""
    magnitude = math.floor(abs(figure.value) / step + Fraction(1, 2)) * step
    value = magnitude if figure.value >= 0 else -magnitude
    if value == figure.value and figure.of:
        return replace(figure, what=what, unit=unit)
    return Figure(what, value, unit, Rule.ROUNDED, (figure,), step=step)


def snapped(what: str, figure: Figure) -> Figure:
    """A length snapped to the nearest 1/64 in, halves upward, as every final length is. [Length]"""
    inches = figure.length.snapped().inches
    if inches == figure.value and figure.of:
        return replace(figure, what=what)
    return Figure(what, inches, INCH, Rule.ROUNDED, (figure,), step=SNAP_STEP)


def listed(what: str, unit: str, values: Sequence[Number]) -> Figure:
    """Sum over all lines of a quote, told with the values of all of them in order."""
    parts = tuple(exact(value) for value in values)
    return Figure(what, sum(parts, Fraction(0)), unit, Rule.TOTAL, parts=parts)


def part(what: str, whole: Figure, value: Number, shares: Figure, own: Figure, place: int) -> Figure:
    """One share of a total that was shared out by largest remainder.

    Args:
        what: of the share.
        whole: what was shared out. [money]
        value: this share as `money.shared_out` gave it. [money]
        shares: what it was shared out by, as `listed` has it. [any one unit]
        own: this share's own weight. [the same unit]
        place: of this share among them, from 0.

    Returns:
        The share; the whole under another name where there is but one.
    """
    if len(shares.parts) == 1:
        return replace(whole, what=what)
    return Figure(what, exact(value), whole.unit, Rule.PART, (whole, shares, own), place=place)


def trade_entries(*figures: Figure) -> tuple[str, ...]:
    """Trade-book entries that figures rest on, as `trade:{entry}`, each once, the nearest first."""
    seen, found, waiting = {id(figure) for figure in figures}, dict[str, None](), list(figures)
    while waiting:
        below = [operand for figure in waiting for operand in figure.of]
        found |= dict.fromkeys(figure.source for figure in waiting if figure.source.startswith("trade:"))
        waiting = [operand for operand in {id(item): item for item in below}.values() if id(operand) not in seen]
        seen |= {id(operand) for operand in waiting}
    return tuple(found)
