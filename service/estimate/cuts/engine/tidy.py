"""Boards put right after the solver: nothing cut twice, every board the cheapest that holds its pieces."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from service.estimate.cuts.engine.work import Work


def tidied(work: Work, columns: Iterable[Column]) -> list[Column]:
    """The same plan without what is cut too much, without empty boards, each board as cheap as can be."""
    return _shrunk(work, _exact(work, columns))


def _exact(work: Work, columns: Iterable[Column]) -> list[Column]:
    """Every item cut just as often as it is wanted; what is too much is left out of the emptiest boards first."""
    kept = sorted(columns, key=lambda column: (work.used(column), column))
    spare = [-demand for demand in work.demands]
    for column in kept:
        for item, count in column.counts:
            spare[item] += count
    exact = []
    for column in kept:
        counts = []
        for item, count in column.counts:
            off = min(count, max(spare[item], 0))
            spare[item] -= off
            if count > off:
                counts.append((item, count - off))
        if counts:
            exact.append(Column(column.stock, tuple(counts)))
    return exact


def _shrunk(work: Work, columns: Sequence[Column]) -> list[Column]:
    taken = [0] * len(work.holds)
    for column in columns:
        taken[column.stock] += 1
    boards = sorted(columns, key=lambda column: (-work.used(column), column))
    changed = True
    while changed:
        changed = False
        for place, column in enumerate(boards):
            best = _cheapest(work, column, taken)
            if best != column.stock:
                taken[column.stock] -= 1
                taken[best] += 1
                changed = changed or work.cents[best] < work.cents[column.stock]
                boards[place] = Column(best, column.counts)
    return boards


def _cheapest(work: Work, column: Column, taken: Sequence[int]) -> int:
    need = work.used(column)
    part = next(part for part in work.parts if column.stock in part.stocks)
    fits = (
        stock for stock in part.stocks
        if work.holds[stock] >= need and (stock == column.stock or _is_left(work, stock, taken))
    )  # fmt: skip
    return min(fits, key=lambda stock: (work.cents[stock], -work.holds[stock], stock != column.stock, stock))


def _is_left(work: Work, stock: int, taken: Sequence[int]) -> bool:
    limit = work.limits[stock]
    return limit is None or taken[stock] < limit
