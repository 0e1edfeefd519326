"""From needs to whole packages."""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from typing import TYPE_CHECKING

from service.estimate.figures import (
    EACH,
    SHARE,
    THOUSANDTH,
    Figure,
    added,
    given,
    less,
    over,
    rounded,
    rounded_up,
    times,
    trade_entries,
)
from service.estimate.materials.geometry import ONE
from service.estimate.materials.model import SupplyFigures, SupplyRow
from service.firm import SupplyKind

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from fractions import Fraction

    from service.estimate.materials.measure import Demand
    from service.estimate.materials.sold import Pack
    from service.firm import Supply
    from service.trade.book import TradeBook

MONEY = "money"
CENT = Decimal("0.01")
_KINDS = list(SupplyKind)


def with_waste(need: Figure, share: Figure) -> Figure:
    """Need and what is wasted of it, exact.

    Source: U.S. Army EN0069A table 4-1: 500 with 10% is 550, 6,000 nails with 20% are 7,200.
    """
    factor = added("need and waste, as a share", SHARE, ONE, share)
    return times("need with waste", need.unit, need, factor)


def whole_packages(gross: Figure, size: Figure) -> Figure:
    """Packages that hold at least so much.

    Args:
        gross: need with waste. [package unit]
        size: content of one package, above zero. [package unit]
    """
    return rounded_up("whole packages", EACH, over("packages", EACH, gross, size))


def printed_need(need: Figure) -> Figure:
    """Need to a thousandth, rounded up so that what is bought never falls short of it."""
    return rounded_up(f"{need.what}, to a thousandth", need.unit, need, THOUSANDTH)


def packaged(demands: Iterable[Demand], book: TradeBook) -> tuple[SupplyRow, ...]:
    """One row a supply, by kind and code, each bought in whole packages."""
    by_code: dict[str, list[Demand]] = defaultdict(list)
    for demand in demands:
        by_code[demand.supply.code].append(demand)
    rows = [_row(group, book) for group in by_code.values()]
    return tuple(sorted(rows, key=lambda row: (_KINDS.index(row.kind), row.code)))


def _row(group: Sequence[Demand], book: TradeBook) -> SupplyRow:
    first = group[0]
    supply, pack, share = first.supply, first.pack, book.value(first.waste)
    rooms = _by_room(group)
    waste = given("waste", share, SHARE, f"trade:{first.waste}")
    steps = bought_figures(supply, pack, rooms.values(), waste)
    return SupplyRow(
        code=supply.code,
        kind=supply.kind,
        description=supply.description,
        need=_decimal(steps.need.value),
        unit=pack.unit,
        waste_share=share,
        package_size=_decimal(pack.size.value),
        packages=steps.packages.number,
        rest=_decimal(steps.rest.value),
        unit_price=supply.price,
        amount=_decimal(steps.amount.value).quantize(CENT),
        room_needs={room: figure.value for room, figure in rooms.items()},
        basis=_basis_of(group, steps.amount),
        worked=steps,
    )


def _basis_of(group: Iterable[Demand], amount: Figure) -> tuple[str, ...]:
    """What the demands name, and every trade-book entry that a step of the amount was worked out from."""
    return tuple(dict.fromkeys((*(name for demand in group for name in demand.basis), *trade_entries(amount))))


def _by_room(group: Iterable[Demand]) -> dict[int, Figure]:
    """What each room takes of one supply, rooms in order."""
    rooms: dict[int, list[Demand]] = defaultdict(list)
    for demand in group:
        rooms[demand.room].append(demand)
    return {
        room: added(f"{same[0].supply.description}, room {room}", same[0].pack.unit, *(item.amount for item in same))
        for room, same in sorted(rooms.items())
    }


def bought_figures(supply: Supply, pack: Pack, rooms: Iterable[Figure], waste: Figure) -> SupplyFigures:
    """Every step from what the rooms take to what the packages cost.

    Args:
        supply: with its price.
        pack: what one package holds; its unit is that of the rooms' needs.
        rooms: need of each room, before waste. [package unit]
        waste: share bought beyond the need. [share]
    """
    need = printed_need(added(f"{supply.description} for the work", pack.unit, *rooms))
    gross = with_waste(need, waste)
    packages = whole_packages(gross, pack.size)
    held = times("in the packages bought", pack.unit, packages, pack.size)
    price = given(f"price of a package of {supply.code}", supply.price, MONEY, f"list:supplies/{supply.code}/price")
    cost = times(f"packages of {supply.code} at their price", MONEY, packages, price)
    return SupplyFigures(
        need=need,
        packages=packages,
        rest=less("rest", pack.unit, held, gross),
        amount=rounded(f"{supply.description}, cost", MONEY, cost),
    )


def _decimal(value: Fraction) -> Decimal:
    """A fraction of tenths as the decimal it is, without trailing zeros."""
    exact = (Decimal(value.numerator) / Decimal(value.denominator)).normalize()
    return exact.quantize(Decimal(1)) if exact == exact.to_integral_value() else exact
