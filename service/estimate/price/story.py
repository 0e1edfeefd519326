"""How the price of each line was worked out: the figures behind drafts, the ladder, lines, discount and minimum.

The ladder itself is arithmetic of cents in `ladder`; here each of its rungs is told as a step that anyone can repeat.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.figures import (
    SHARE,
    Figure,
    added,
    given,
    largest,
    less,
    listed,
    over,
    part,
    rounded,
    smallest,
    times,
)
from service.estimate.price.model import LineKind, LineStory
from service.firm import ProfitMethod, SalesTaxOn

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from service.estimate.price.drafts import Draft
    from service.estimate.price.model import Line
    from service.firm import FirmSettings
    from service.survey import Discount, Extra

DISCOUNT, MINIMUM, NOTHING = "sheet:/job/discount", "list:firm/minimum_charge", "geometry:nothing"


@dataclass(frozen=True, slots=True)
class Rungs:
    """The ladder as figures, each in the firm's currency."""

    burden: Figure
    material_tax: Figure
    selling_price: Figure


def shared(what: str, base: Figure, words: str, value: Decimal, member: str) -> Figure:
    """A share of an amount as the firm sets it, in cents. [money]

    Args:
        what: of the result.
        base: what the share is of. [money]
        words: what the share is called; `value` how much it is. [fraction of one]
        member: of the price list's Firm tab.
    """
    rate = given(words, value, SHARE, f"list:firm/{member}")
    return rounded(what, base.unit, times(f"{what}, exact", base.unit, base, rate))


def rungs_told(drafts: Sequence[Draft], settings: FirmSettings) -> Rungs:
    """From wages and material to what the work sells for.

    Args:
        drafts: every cost-bearing line before its price.
        settings: shares and profit.
    """
    currency = settings.currency
    wages = listed("wages of all lines", currency, _bases(drafts, LineKind.LABOR))
    material = listed("material of all lines", currency, _bases(drafts, LineKind.MATERIAL))
    burden = shared("burden", wages, "burden share", settings.burden_share, "burden_share")
    tax = shared("material tax", material, "material tax rate", settings.material_tax_rate, "material_tax_rate")
    direct = added("direct cost", currency, wages, burden, material, tax)
    overhead = shared("overhead", direct, "overhead share", settings.overhead_share, "overhead_share")
    cost = added("cost", currency, direct, overhead)
    spare = shared("contingency", cost, "contingency share", settings.contingency_share, "contingency_share")
    with_spare = added("cost and contingency", currency, cost, spare)
    return Rungs(burden, tax, added("selling price of the work", currency, with_spare, profit(with_spare, settings)))


def _bases(drafts: Sequence[Draft], kind: LineKind) -> list[Decimal]:
    return [draft.base for draft in drafts if draft.kind is kind]


def profit(base: Figure, settings: FirmSettings) -> Figure:
    """Profit: the markup's share of cost and contingency, or what leaves the margin's share of the price. [money]"""
    rate = given("profit rate", settings.profit_rate, SHARE, "list:firm/profit_rate")
    if settings.profit_method is ProfitMethod.MARKUP:
        return rounded("profit", base.unit, times("markup on it", base.unit, base, rate))
    rest = less("rest of the price", SHARE, given("whole price", 1, SHARE, "geometry:whole"), rate)
    if not rest.value:
        return given("profit", 0, base.unit, "geometry:whole")
    price = over("price with that margin", base.unit, base, rest)
    return rounded("profit", base.unit, times("margin of it", base.unit, price, rate))


def direct_costs_told(drafts: Sequence[Draft], costs: Sequence[Decimal], rungs: Rungs) -> tuple[Figure, ...]:
    """Direct cost of each line: labor with its part of the burden, material with its part of the tax. [money]

    Args:
        drafts: the lines; `costs` their direct costs as `lines.direct_costs` has them. [money]
        rungs: what burden and tax come to.
    """
    shares = {
        kind: listed(words, rungs.burden.unit, [draft.base if draft.kind is kind else 0 for draft in drafts])
        for kind, words in ((LineKind.LABOR, "wages, line by line"), (LineKind.MATERIAL, "material, line by line"))
    }
    return tuple(
        _direct_cost(draft, cost - draft.base, rungs, shares[draft.kind], place)
        for place, (draft, cost) in enumerate(zip(drafts, costs, strict=True))
    )


def _direct_cost(draft: Draft, more: Decimal, rungs: Rungs, shares: Figure, place: int) -> Figure:
    is_labor = draft.kind is LineKind.LABOR
    whole, words = (rungs.burden, "its part of the burden") if is_labor else (rungs.material_tax, "its part of the tax")
    if not whole.value:
        return draft.story
    own = part(words, whole, more, shares, draft.story, place)
    return added("direct cost of the line", whole.unit, draft.story, own)


def amounts_told(costs: Sequence[Figure], amounts: Sequence[Decimal], rungs: Rungs) -> tuple[Figure, ...]:
    """The customer's price of each line: the selling price shared out over the direct costs. [money]"""
    whole = rungs.selling_price
    shares = listed("direct costs, line by line", whole.unit, [cost.value for cost in costs])
    return tuple(
        part("price of the line", whole, amount, shares, cost, place)
        for place, (cost, amount) in enumerate(zip(costs, amounts, strict=True))
    )


def extra_told(extra: Extra, currency: str) -> LineStory:
    """An extra: quantity × unit price, in cents. [money]"""
    quantity = given(f"quantity of {extra.description}", extra.quantity, extra.unit, f"sheet:{extra.pointer}/quantity")
    price = given("unit price", extra.unit_price, currency, f"sheet:{extra.pointer}/unit_price")
    return LineStory(
        quantity, rounded("price of the line", currency, times("before rounding", currency, quantity, price))
    )


@dataclass(frozen=True, slots=True)
class Top:
    """Upper rungs as figures: the discount as a line below zero, what lifts to the minimum charge, the total. [money]"""

    discount: Figure
    lift: Figure
    total: Figure


def top_told(lines: Sequence[Line], discount: Discount | None, settings: FirmSettings) -> Top:
    """From the sum of all lines to what the customer pays.

    Args:
        lines: cost-bearing lines and extras, in the quote's order.
        discount: the sheet's.
        settings: minimum charge, sales tax and what it is on.
    """
    currency = settings.currency
    price = listed("all lines", currency, [line.amount for line in lines])
    off = _discount(price, discount)
    reduced = less("price less the discount", currency, price, off)
    nothing = given("nothing", 0, currency, NOTHING)
    least = given("minimum charge", settings.minimum_charge or 0, currency, MINIMUM)
    lift = largest(
        "what is missing to the minimum charge", currency, less("short of it", currency, least, reduced), nothing
    )
    before_tax = added("price before tax", currency, reduced, lift)
    tax = _sales_tax(before_tax, _taxable_material(lines, price, off), settings)
    return Top(less("discount as a line", currency, nothing, off), lift, added("total", currency, before_tax, tax))


def _discount(lines: Figure, discount: Discount | None) -> Figure:
    """What is taken off: a share of all lines or an amount, never more than the price; nothing of a price below zero."""
    currency = lines.unit
    if discount is None or lines.value <= 0:
        return given("no discount", 0, currency, NOTHING)
    if discount.share is not None:
        rate = given("discount", discount.share, SHARE, DISCOUNT)
        wanted = rounded("discount wanted", currency, times("its share of the lines", currency, lines, rate))
    else:
        wanted = rounded("discount wanted", currency, given("discount", discount.amount or 0, currency, DISCOUNT))
    return smallest("discount, at most the price", currency, wanted, lines)


def _taxable_material(lines: Sequence[Line], price: Figure, off: Figure) -> Figure:
    """Material lines less their part of the discount, not below zero. [money]"""
    currency = price.unit
    amounts = [line.amount if line.kind is LineKind.MATERIAL else 0 for line in lines]
    material = listed("material lines", currency, amounts)
    nothing = given("nothing", 0, currency, NOTHING)
    if price.value <= 0:
        return largest("material, not below zero", currency, material, nothing)
    of_it = over("material's part of the price", SHARE, material, price)
    part_off = rounded("material's part of the discount", currency, times("before rounding", currency, off, of_it))
    reduced = less("material less its discount", currency, material, part_off)
    return largest("material, not below zero", currency, reduced, nothing) if reduced.value < 0 else reduced


def _sales_tax(before_tax: Figure, material: Figure, settings: FirmSettings) -> Figure:
    currency = before_tax.unit
    if settings.sales_tax_on is SalesTaxOn.NOTHING:
        return given("sales tax, on nothing", 0, currency, "list:firm/sales_tax_on")
    taxable = before_tax
    if settings.sales_tax_on is SalesTaxOn.MATERIALS:
        taxable = smallest("taxable", currency, material, before_tax)
    return shared("sales tax", taxable, "sales tax rate", settings.sales_tax_rate, "sales_tax_rate")
