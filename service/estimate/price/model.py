"""Records of the price stage."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal

    from service.estimate.figures import Figure


class LineKind(StrEnum):
    """What a line charges for."""

    MATERIAL = "material"
    LABOR = "labor"
    ALLOWANCE = "allowance"
    DISCOUNT = "discount"
    MINIMUM = "minimum"
    OPTION = "option"


@dataclass(frozen=True, slots=True, eq=False)
class LineStory:
    """How quantity and amount of a line were worked out."""

    quantity: Figure
    amount: Figure


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the quote.

    Attributes:
        number: position, from 1; `code` a profile, supply code, task key or extra.
        unit_code: UN/ECE Recommendation 20.
        unit_price: amount / quantity, rounded to cents, for reading only.
        amount: the customer's price; lines add up to the price before tax. A discount is below zero.
        cost: direct cost, for the office alone; None on extras, discount and minimum.
        story: how quantity and amount were worked out; None on a line read back from storage.
    """

    number: int
    code: str
    room: str | None
    kind: LineKind
    description: str
    quantity: Decimal
    unit: str
    unit_code: str
    unit_price: Decimal
    amount: Decimal
    cost: Decimal | None
    basis: tuple[str, ...]
    story: LineStory | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Totals:
    """The price ladder, every step in cents.

    labor = wages + burden; direct_cost = labor + materials + material_tax; cost = direct_cost + overhead;
    price_before_tax = cost + contingency + profit + extras - discount + minimum_charge;
    total = price_before_tax + sales_tax. `discount` is the amount taken off, never below zero;
    `minimum_charge` what was added to reach the firm's minimum; `taxable` what the sales tax is charged on.
    """

    wages: Decimal
    burden: Decimal
    labor: Decimal
    materials: Decimal
    material_tax: Decimal
    direct_cost: Decimal
    overhead: Decimal
    cost: Decimal
    contingency: Decimal
    profit: Decimal
    extras: Decimal
    discount: Decimal
    minimum_charge: Decimal
    price_before_tax: Decimal
    taxable: Decimal
    sales_tax: Decimal
    total: Decimal
    deposit: Decimal


@dataclass(frozen=True, slots=True)
class ScheduledPayment:
    """One payment of the total."""

    when: str
    share: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Priced:
    """Result of the price stage; options are apart, never in the total. `story`: how the total was worked out."""

    lines: tuple[Line, ...]
    totals: Totals
    options: tuple[Line, ...]
    payments: tuple[ScheduledPayment, ...]
    story: Figure | None = field(default=None, compare=False)
