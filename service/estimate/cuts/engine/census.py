"""All patterns that a cheaper plan could use, found by their reduced cost.

With prices π and a bound L, a plan that costs C at most uses no pattern whose price is above the worth of its items
by more than C - L. Where the patterns left are few, the integer program over them decides.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from service.estimate.cuts.engine.work import Part, Work

MOST_STEPS = 600_000


class TooManyError(Exception):
    """More patterns, or more steps, than were allowed."""


def census(work: Work, prices: Sequence[int], scale: int, gap: int, most: int) -> list[Column] | None:
    """Maximal patterns of which the price is above the worth by no more than a gap; None when they are too many.

    Args:
        work: items and boards.
        prices: whole price of each item, in 1/scale cents.
        scale: of the prices.
        gap: in 1/scale cents.
        most: how many patterns are allowed.
    """
    found: list[Column] = []
    try:
        for part in work.parts:
            items = _Items(work, part, prices)
            for stock in part.stocks:
                for column in items.patterns(stock, work.cents[stock] * scale - gap):
                    if not _is_dominated(work, part, column):
                        found.append(column)
                    if len(found) > most:
                        return None
    except TooManyError:
        return None
    return found


def _is_dominated(work: Work, part: Part, column: Column) -> bool:
    """True when a cheaper board without limit holds the same."""
    used = work.used(column)
    return any(
        work.limits[stock] is None and work.holds[stock] >= used and work.cents[stock] < work.cents[column.stock]
        for stock in part.stocks
    )


class _Items:
    """Items of one profile with the best worth of all that come after each of them."""

    def __init__(self, work: Work, part: Part, prices: Sequence[int]) -> None:
        self.work, self.prices = work, prices
        self.items = sorted(part.items, key=lambda item: (-work.sizes[item], item))
        self.smallest = min(work.sizes[item] for item in part.items)
        self.after = self._after(max(work.holds[stock] for stock in part.stocks))
        self.steps = 0

    def _after(self, capacity: int) -> list[NDArray[np.int64]]:
        best = np.zeros(capacity + 1, dtype=np.int64)
        after = [best]
        for item in reversed(self.items):
            size, value = self.work.sizes[item], self.prices[item]
            for _ in range(min(self.work.most[item], capacity // size)):
                more = best.copy()
                np.maximum(best[size:], best[:-size] + value, out=more[size:])
                if np.array_equal(more, best):
                    break
                best = more
            after.append(best)
        after.reverse()
        return after

    def patterns(self, stock: int, worth: int) -> Iterator[Column]:
        """Maximal patterns of a board worth so much at least."""
        for counts in self._choices(0, self.work.holds[stock], worth):
            yield Column(stock, tuple(sorted(counts)))

    def _choices(self, place: int, rest: int, worth: int) -> Iterator[tuple[tuple[int, int], ...]]:
        self.steps += 1
        if self.steps > MOST_STEPS:
            raise TooManyError
        if int(self.after[place][rest]) < worth:
            return
        if place == len(self.items) or rest < self.smallest:
            yield ()
            return
        item = self.items[place]
        size, most = self.work.sizes[item], self.work.most[item]
        for count in range(min(most, rest // size), -1, -1):
            left = rest - count * size
            for more in self._choices(place + 1, left, worth - count * self.prices[item]):
                if count < most and left - self._size(more) >= size:
                    continue
                yield ((item, count), *more) if count else more

    def _size(self, counts: tuple[tuple[int, int], ...]) -> int:
        return sum(self.work.sizes[item] * count for item, count in counts)
