"""The payment schedule: shares of the total, and the cap on the deposit."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from service.estimate.price.model import ScheduledPayment
from service.money import shared_out, to_cents

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.firm import Payment


def scheduled(total: Decimal, payments: Sequence[Payment], cap: Decimal | None) -> tuple[ScheduledPayment, ...]:
    """Payments that add up to the total; the first is the deposit, and what passes its cap moves to the last.

    A schedule of one row has no last row to move to: the excess then becomes a balance row of its own.

    Args:
        total: what the customer pays. [money]
        payments: the firm's rows, shares adding to one.
        cap: greatest deposit, None for no cap. [money]

    Source: shares by largest remainder; caps are law in places (one third; the lesser of $1,000 and 10%)
        and the firm's to set.
    """
    amounts = list(shared_out(total, [payment.share for payment in payments]))
    rows = [ScheduledPayment(row.when, row.share, amount) for row, amount in zip(payments, amounts, strict=True)]
    if not rows or cap is None or rows[0].amount <= cap:
        return tuple(rows)
    return _capped(rows, to_cents(cap))


def _capped(rows: list[ScheduledPayment], cap: Decimal) -> tuple[ScheduledPayment, ...]:
    first, *rest = rows
    *middle, last = rest or [ScheduledPayment("Balance on completion", Decimal(0), Decimal("0.00"))]
    excess = first.amount - cap
    return (
        ScheduledPayment(first.when, first.share, cap),
        *middle,
        ScheduledPayment(last.when, last.share, last.amount + excess),
    )
