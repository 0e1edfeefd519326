"""From needs to whole packages."""

from __future__ import annotations

import math
from collections import defaultdict
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.materials.model import SupplyRow
from service.firm import SupplyKind
from service.money import to_cents

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.materials.demands import Demand
    from service.trade.book import TradeBook

PLACES = 3
_KINDS = list(SupplyKind)


def with_waste(need: Decimal, share: Decimal) -> Decimal:
    """Need and what is wasted of it, exact.

    Source: U.S. Army EN0069A table 4-1: 500 with 10% is 550, 6,000 nails with 20% are 7,200.
    """
    return need * (1 + share)


def whole_packages(gross: Decimal, size: Decimal) -> int:
    """Packages that hold at least so much.

    Args:
        gross: need with waste. [package unit]
        size: content of one package, above zero. [package unit]
    """
    return math.ceil(Fraction(gross) / Fraction(size))


def printed_need(need: Fraction) -> Decimal:
    """Need to a thousandth, rounded up so that what is bought never falls short of it."""
    return Decimal(math.ceil(need * 10**PLACES)).scaleb(-PLACES).normalize() + Decimal(0)


def packaged(demands: Iterable[Demand], book: TradeBook) -> tuple[SupplyRow, ...]:
    """One row a supply, by kind and code, each bought in whole packages."""
    by_code: dict[str, list[Demand]] = defaultdict(list)
    for demand in demands:
        by_code[demand.supply.code].append(demand)
    rows = [_row(group, book) for group in by_code.values()]
    return tuple(sorted(rows, key=lambda row: (_KINDS.index(row.kind), row.code)))


def _row(group: Sequence[Demand], book: TradeBook) -> SupplyRow:
    supply = group[0].supply
    share = book.value(group[0].waste)
    rooms: dict[int, Fraction] = defaultdict(Fraction)
    for demand in group:
        rooms[demand.room] += demand.amount
    need = printed_need(sum(rooms.values(), Fraction(0)))
    gross = with_waste(need, share)
    packages = whole_packages(gross, supply.package_size)
    return SupplyRow(
        code=supply.code,
        kind=supply.kind,
        description=supply.description,
        need=need,
        unit=supply.package_unit,
        waste_share=share,
        package_size=supply.package_size,
        packages=packages,
        rest=packages * supply.package_size - gross,
        unit_price=supply.price,
        amount=to_cents(packages * supply.price),
        room_needs=dict(sorted(rooms.items())),
        basis=tuple(dict.fromkeys(name for demand in group for name in demand.basis)),
    )
