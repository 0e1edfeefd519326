"""The steps of a story in words and numbers: `8 × 2 = 16`."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import DEGREE, EACH, INCH, MONEY, SHARE, Rule
from service.money import money_text, to_cents
from service.units import SNAP, Length, Units

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from service.estimate.quote.ledger import Step

FIGURES = 15
SHOWN = 6
FEW = 8
MINUS = "\N{MINUS SIGN}"


def number_of(value: Fraction) -> Decimal:
    """A number as a decimal: exact where it ends within 15 figures, else rounded to them."""
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    rounded = Decimal(f"{exact:.{FIGURES}g}")
    return rounded.normalize() + Decimal(0)


def plain(value: Fraction, figures: int = FIGURES) -> str:
    """A number in plain digits without trailing zeros."""
    shown = Decimal(f"{number_of(value):.{figures}g}")
    return f"{shown.normalize() + Decimal(0):f}"


def worded(value: Fraction, unit: str, units: Units, currency: str) -> str:
    """A value with its unit for people: `9′ 2 1/4″`, `$12.40`, `15%`, `90°`, `7.42 sq ft`, `16`."""
    if unit == INCH:
        return _length(value, units)
    if unit in {currency, MONEY}:
        return _money(value, currency)
    sign, figures = (MINUS if value < 0 else ""), plain(abs(value), SHOWN)
    if unit == SHARE:
        return f"{sign}{plain(abs(value) * 100, SHOWN)}%"
    if unit == DEGREE:
        return f"{sign}{figures}°"
    return f"{sign}{figures}" if unit in {EACH, "ratio", "factor", ""} else f"{sign}{figures} {unit}"


def _length(value: Fraction, units: Units) -> str:
    if units is Units.METRIC:
        return f"{plain(Length(value).mm, SHOWN)} mm".replace("-", MINUS)
    is_on_grid = (value * SNAP).denominator == 1
    return Length(value).text() if is_on_grid else f"{plain(value, SHOWN)}\N{DOUBLE PRIME}".replace("-", MINUS)


def _money(value: Fraction, currency: str) -> str:
    if (value * 100).denominator == 1:
        return money_text(to_cents(value), currency)
    figures = f"{Decimal(plain(abs(value), SHOWN + 2)):,f}"
    sign = MINUS if value < 0 else ""
    return f"{sign}${figures}" if currency == "USD" else f"{sign}{currency} {figures}"


def worked(step: Step, operands: Sequence[Step], units: Units, currency: str) -> str:
    """How a step follows from its operands, in numbers; empty for a given figure.

    Args:
        step: the step.
        operands: the steps it was made of, in order.
        units, currency: of the quote.
    """
    terms = [worded(item.value, item.unit, units, currency) for item in operands]
    match step.rule:
        case Rule.GIVEN:
            return ""
        case Rule.COUNT:
            return _counted(step, units)
        case Rule.TOTAL:
            return f"{len(step.parts)} together"
        case Rule.PART:
            whole, shares, own = terms
            return f"{whole} × {own} ÷ {shares}, the cents left over by largest remainder"
        case _:
            return _WORDED[step.rule](terms, step, units, currency)


def _counted(step: Step, units: Units) -> str:
    at = [worded(place.inches, INCH, units, "") for place in step.places[:FEW]]
    more = f", and {len(step.places) - FEW} more" if len(step.places) > FEW else ""
    return f"at {', '.join(at)}{more}" if at else "none"


def _joined(sign: str, terms: Sequence[str]) -> str:
    if not terms:
        return "nothing"
    if len(terms) > FEW:
        return f"{sign.join(terms[:FEW])}{sign}{len(terms) - FEW} more"
    return sign.join(terms)


def _multiple(step: Step, units: Units, currency: str) -> str:
    multiple = step.multiple or Fraction(1)
    if multiple == 1:
        return "a whole number"
    if step.unit == INCH:
        return "1/64 in" if units is Units.METRIC else Length(multiple).inch_text()
    return "cents" if step.unit in {currency, MONEY} else plain(multiple)


_WORDED: dict[Rule, Callable[[Sequence[str], Step, Units, str], str]] = {
    Rule.SUM: lambda terms, *_: _joined(" + ", terms),
    Rule.DIFFERENCE: lambda terms, *_: _joined(f" {MINUS} ", terms),
    Rule.PRODUCT: lambda terms, *_: _joined(" × ", terms),
    Rule.QUOTIENT: lambda terms, *_: _joined(" ÷ ", terms),
    Rule.LARGEST: lambda terms, *_: f"the largest of {_joined(', ', terms)}",
    Rule.SMALLEST: lambda terms, *_: f"the smallest of {_joined(', ', terms)}",
    Rule.ROUNDED_UP: lambda terms, step, units, currency: (
        f"{terms[0]}, rounded up to {_multiple(step, units, currency)}"
    ),
    Rule.ROUNDED: lambda terms, step, units, currency: f"{terms[0]}, rounded to {_multiple(step, units, currency)}",
    Rule.SETBACK: lambda terms, *_: f"({terms[0]} × cos {terms[2]} + {terms[1]}) ÷ sin {terms[2]}",
    Rule.PROJECTION: lambda terms, *_: f"{terms[0]} × sin {terms[1]}",
    Rule.TANGENT: lambda terms, *_: f"{terms[0]} × tan {terms[1]}",
}
