"""The ladder climbed: from wages and material to cost and profit, from lines to the total."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.price import ladder
from service.estimate.price.model import LineKind, Totals
from service.firm import ProfitMethod
from service.money import ZERO

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from service.estimate.price.model import Line
    from service.firm import FirmSettings
    from service.survey import Discount


@dataclass(frozen=True, slots=True)
class Costs:
    """Lower rungs: money that the job costs the firm, and what it adds to it."""

    wages: Decimal
    burden: Decimal
    materials: Decimal
    material_tax: Decimal
    overhead: Decimal
    contingency: Decimal
    profit: Decimal

    @property
    def labor(self) -> Decimal:
        """Wages and burden."""
        return self.wages + self.burden

    @property
    def direct_cost(self) -> Decimal:
        """What would not be spent without the job."""
        return self.labor + self.materials + self.material_tax

    @property
    def cost(self) -> Decimal:
        """Direct cost and the job's part of being in business."""
        return self.direct_cost + self.overhead

    @property
    def selling_price(self) -> Decimal:
        """What the cost-bearing lines sell for together."""
        return self.cost + self.contingency + self.profit


def costs_of(wages: Decimal, materials: Decimal, settings: FirmSettings) -> Costs:
    """Lower rungs from wages and material, each share of the rung before it.

    Args:
        wages: hours at their wages, all rows. [money]
        materials: boards, supplies and spare stock as bought. [money]
        settings: burden, material tax, overhead, contingency, profit.
    """
    burden = ladder.share_of(wages, settings.burden_share)
    tax = ladder.share_of(materials, settings.material_tax_rate)
    direct = wages + burden + materials + tax
    overhead = ladder.share_of(direct, settings.overhead_share)
    cost = direct + overhead
    contingency = ladder.share_of(cost, settings.contingency_share)
    return Costs(wages, burden, materials, tax, overhead, contingency, _profit(cost + contingency, settings))


def _profit(base: Decimal, settings: FirmSettings) -> Decimal:
    return ladder.profit(base, settings.profit_method, settings.profit_rate) if is_reachable(settings) else ZERO


def is_reachable(settings: FirmSettings) -> bool:
    """False for a margin of the whole price or more: no price has it."""
    return settings.profit_method is ProfitMethod.MARKUP or settings.profit_rate < ladder.ONE


@dataclass(frozen=True, slots=True)
class Asked:
    """Upper rungs: money from the sum of the lines to the total."""

    extras: Decimal
    discount: Decimal
    minimum_charge: Decimal
    price_before_tax: Decimal
    taxable: Decimal
    sales_tax: Decimal

    @property
    def total(self) -> Decimal:
        """What the customer pays."""
        return self.price_before_tax + self.sales_tax


def asked_for(
    cost_lines: Sequence[Line], extras: Sequence[Line], discount: Discount | None, settings: FirmSettings
) -> Asked:
    """Upper rungs over priced lines: extras, discount, minimum charge, sales tax.

    Args:
        cost_lines: lines whose amounts add up to the selling price of the work.
        extras: lines at selling price; options are none of them.
        discount: the sheet's.
        settings: minimum charge, sales tax and what it is on.
    """
    lines = (*cost_lines, *extras)
    price = ladder.added_up(line.amount for line in lines)
    off = ladder.discounted(price, discount)
    lift = ladder.lacking(price - off, settings.minimum_charge)
    before_tax = price - off + lift
    materials = ladder.added_up(line.amount for line in lines if line.kind is LineKind.MATERIAL)
    taxable = ladder.taxable(settings.sales_tax_on, before_tax, ladder.taxable_materials(materials, price, off))
    tax = ladder.share_of(taxable, settings.sales_tax_rate)
    return Asked(ladder.added_up(line.amount for line in extras), off, lift, before_tax, taxable, tax)


def totals_of(costs: Costs, asked: Asked, deposit: Decimal) -> Totals:
    """The whole ladder as one record."""
    return Totals(
        wages=costs.wages,
        burden=costs.burden,
        labor=costs.labor,
        materials=costs.materials,
        material_tax=costs.material_tax,
        direct_cost=costs.direct_cost,
        overhead=costs.overhead,
        cost=costs.cost,
        contingency=costs.contingency,
        profit=costs.profit,
        extras=asked.extras,
        discount=asked.discount,
        minimum_charge=asked.minimum_charge,
        price_before_tax=asked.price_before_tax,
        taxable=asked.taxable,
        sales_tax=asked.sales_tax,
        total=asked.total,
        deposit=deposit,
    )
