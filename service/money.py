"""Money as decimals: rounding to cents and sharing out without losing one.

Amounts are `decimal.Decimal`; a float never becomes money. Every currency handled has two decimals
(ISO 4217 minor unit 2); the price list schema refuses others.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

CENT = Decimal("0.01")
ZERO = Decimal("0.00")


def to_cents(amount: Decimal | Fraction | int) -> Decimal:
    """Amount rounded half up (away from zero) to whole cents.

    Source: common commercial rounding; 34.5 × 2 × 1¢ × ½ = 0.345 prints as 0.35.
    """
    if isinstance(amount, Fraction):
        return _fraction_to_cents(amount)
    return Decimal(amount).quantize(CENT, rounding=ROUND_HALF_UP)


def _fraction_to_cents(amount: Fraction) -> Decimal:
    magnitude = (abs(amount) * 200 + 1) // 2
    return Decimal(int(magnitude) if amount >= 0 else -int(magnitude)).scaleb(-2)


def shared_out(total: Decimal, weights: Sequence[Decimal | Fraction | int]) -> tuple[Decimal, ...]:
    """Total in cents shared in proportion to the weights, by largest remainder; the shares add up to it exactly.

    Equal remainders go to the earlier share. All weights zero: everything falls on the first.

    Args:
        total: amount to share, whole cents. [money]
        weights: one a share, none negative. [any one unit]

    Returns:
        One amount a weight, in order. [money]

    Source: largest remainder (Hamilton) method, common practice.
    """
    if not weights:
        return ()
    parts = [Fraction(weight) for weight in weights]
    whole = sum(parts)
    if whole == 0:
        return (total, *([ZERO] * (len(parts) - 1)))
    cents = int(total.scaleb(2))
    exact = [Fraction(abs(cents)) * part / whole for part in parts]
    floors = [int(share) for share in exact]
    order = sorted(range(len(parts)), key=lambda i: (floors[i] - exact[i], i))
    for i in order[: abs(cents) - sum(floors)]:
        floors[i] += 1
    sign = -1 if cents < 0 else 1
    return tuple(Decimal(sign * share).scaleb(-2) for share in floors)


def money_text(amount: Decimal, currency: str) -> str:
    """Money for people: `$1,234.50` for USD, `EUR 1,234.50` for any other currency; a true minus sign."""
    sign = "\N{MINUS SIGN}" if amount < 0 else ""
    figures = f"{abs(amount):,.2f}"
    return f"{sign}${figures}" if currency == "USD" else f"{sign}{currency} {figures}"
