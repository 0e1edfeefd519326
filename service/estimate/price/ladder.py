"""The rungs from wages to total, one rule each; every amount is rounded half up to cents where it is made.

Arguments and results are money in the firm's currency; shares and rates are fractions of one.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.firm import ProfitMethod, SalesTaxOn
from service.money import ZERO, to_cents

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.survey import Discount

ONE = Decimal(1)


def added_up(amounts: Iterable[Decimal]) -> Decimal:
    """Sum of amounts that are whole cents already; nothing at all is 0.00."""
    return sum(amounts, ZERO)


def share_of(amount: Decimal, share: Decimal) -> Decimal:
    """A share of an amount: burden of wages, overhead of direct cost, contingency of cost, a tax of what it is on.

    Source: the firm's price list sets the share; the program has none of its own.
    """
    return to_cents(amount * share)


def markup_profit(base: Decimal, markup: Decimal) -> Decimal:
    """Profit as a share of what the job costs.

    Source: accounting usage; cost 8 sold at 10 is a markup of 25%.
    """
    return to_cents(Fraction(base) * Fraction(markup))


def margin_profit(base: Decimal, margin: Decimal) -> Decimal:
    """Profit as a share of the price: price = base / (1 - margin).

    Source: accounting usage; cost 8 sold at 10 is a margin of 20%.

    Raises:
        ValueError: a margin of one or more leaves no price at which it could be had.
    """
    if margin >= ONE:
        raise ValueError("a margin must be less than the whole price")
    return to_cents(Fraction(base) * Fraction(margin) / (1 - Fraction(margin)))


def profit(base: Decimal, method: ProfitMethod, rate: Decimal) -> Decimal:
    """Profit on cost and contingency, by the firm's method.

    Raises:
        ValueError: as `margin_profit`.
    """
    return markup_profit(base, rate) if method is ProfitMethod.MARKUP else margin_profit(base, rate)


def discounted(price: Decimal, discount: Discount | None) -> Decimal:
    """What is taken off a price: its share or the amount, never below zero and never more than the price.

    Args:
        price: selling price with extras, before any discount.
        discount: as the sheet orders it, None for none.

    Returns:
        The amount off, not negative.
    """
    if discount is None:
        return ZERO
    wanted = share_of(price, discount.share) if discount.share is not None else to_cents(discount.amount or ZERO)
    return min(max(wanted, ZERO), max(price, ZERO))


def lacking(price: Decimal, minimum: Decimal | None) -> Decimal:
    """What lifts a price to the firm's minimum charge; without one, a price below zero is lifted to zero."""
    return max(to_cents(minimum or ZERO), ZERO) - price if price < max(minimum or ZERO, ZERO) else ZERO


def taxable_materials(materials: Decimal, price: Decimal, discount: Decimal) -> Decimal:
    """Taxable part of the price where the tax is on material lines.

    The discount falls on every line alike, so material lines carry discount × materials / price of it,
    rounded half up. What was added to reach a minimum charge pays for the visit and is no material.

    Args:
        materials: customer's amounts of all material lines, extras of that kind included.
        price: all lines before the discount.
        discount: amount taken off the price.

    Source: a discount shared in proportion to the lines it is given on, common practice.
    """
    part = to_cents(Fraction(discount) * Fraction(materials) / Fraction(price)) if price > 0 else ZERO
    return max(materials - part, ZERO)


def taxable(tax_on: SalesTaxOn, price_before_tax: Decimal, materials: Decimal) -> Decimal:
    """What the sales tax is charged on: nothing, the material part (never above the price), or the whole price."""
    if tax_on is SalesTaxOn.NOTHING:
        return ZERO
    return price_before_tax if tax_on is SalesTaxOn.WHOLE_PRICE else min(materials, price_before_tax)
