"""The bounded knapsack of the master program with joints, whose items and limits change from round to round.

Counts are split into powers of two, and each such lump is one pass over the table of capacities. All in whole
numbers: the values it returns are exact for the prices it is given.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    Counts = tuple[tuple[int, int], ...]

PREFIXES = 25


class _Lump(NamedTuple):
    item: int
    copies: int
    size: int


class Table:
    """Best value of every capacity, for some prices of the items."""

    def __init__(self, sizes: Sequence[int], most: Sequence[int], values: Sequence[int], capacity: int) -> None:
        """Fill the table.

        Args:
            sizes: of the items, positive.
            most: how often each item may be taken.
            values: price of each item; those of value 0 are left out.
            capacity: the largest capacity that is asked for.
        """
        self._lumps: list[_Lump] = []
        self._takes: list[NDArray[np.bool_]] = []
        self._steps: list[NDArray[np.int64]] = []
        self._best = np.zeros(capacity + 1, dtype=np.int64)
        for item, (size, limit, value) in enumerate(zip(sizes, most, values, strict=True)):
            if value > 0 and size <= capacity:
                self._add(item, size, min(limit, capacity // size), value)

    def _add(self, item: int, size: int, left: int, value: int) -> None:
        lump = 1
        while left > 0:
            lump = min(lump, left)
            self._pass(_Lump(item, lump, lump * size), lump * value)
            left -= lump
            lump *= 2

    def _pass(self, lump: _Lump, value: int) -> None:
        if lump.size >= len(self._best):
            return
        with_it = self._best[: -lump.size] + value
        take = with_it > self._best[lump.size :]
        best = self._best.copy()
        np.maximum(self._best[lump.size :], with_it, out=best[lump.size :])
        self._steps.append(self._best)
        self._best = best
        self._lumps.append(lump)
        self._takes.append(take)

    def value(self, capacity: int) -> int:
        """The best value of a capacity."""
        return int(self._best[capacity])

    def pattern(self, capacity: int) -> Counts:
        """A choice of items that has it."""
        return self._back(len(self._lumps), capacity)

    def prefixes(self, capacity: int, above: int) -> Iterator[Counts]:
        """Choices from the first items alone that are worth more than so much; cheap further patterns."""
        stride = max(len(self._lumps) // PREFIXES, 1)
        for stop in range(len(self._lumps) - stride, 0, -stride):
            if int(self._steps[stop][capacity]) <= above:
                break
            yield self._back(stop, capacity)

    def _back(self, stop: int, capacity: int) -> Counts:
        counts: dict[int, int] = {}
        rest = capacity
        for place in range(stop - 1, -1, -1):
            lump = self._lumps[place]
            if rest >= lump.size and self._takes[place][rest - lump.size]:
                counts[lump.item] = counts.get(lump.item, 0) + lump.copies
                rest -= lump.size
        return tuple(sorted(counts.items()))
