"""The bounded knapsack that prices all boards of a profile at once.

Counts are split into powers of two, and each such lump is one pass over the table of capacities. Values are whole
numbers below 2⁵³ kept as floats, which holds them exactly and lets the machine take several at a time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    Counts = tuple[tuple[int, int], ...]

PREFIXES = 25
EXACT = 1 << 52


class _Lump(NamedTuple):
    item: int
    copies: int
    size: int


class _Found(NamedTuple):
    """A choice of items, its worth, and the last lump in it: the first so many lumps have another."""

    counts: Counts
    worth: float
    last: int


def lumps_of(sizes: Sequence[int], most: Sequence[int], capacity: int) -> Iterator[_Lump]:
    """Counts of all items in powers of two; any count up to the most is a sum of some of them."""
    for item, (size, limit) in enumerate(zip(sizes, most, strict=True)):
        left, lump = min(limit, capacity // size), 1
        while left > 0:
            lump = min(lump, left)
            yield _Lump(item, lump, lump * size)
            left -= lump
            lump *= 2


class Knapsack:
    """A table of capacities for some items, filled anew for every set of prices."""

    def __init__(self, sizes: Sequence[int], most: Sequence[int], capacity: int) -> None:
        """Lay out the table.

        Args:
            sizes: of the items, positive.
            most: how often each item may be taken.
            capacity: the largest capacity that is asked for.
        """
        self._lumps = list(lumps_of(sizes, most, capacity))
        self._items = np.array([lump.item for lump in self._lumps], dtype=np.intp)
        self._copies = np.array([lump.copies for lump in self._lumps], dtype=np.float64)
        self.dearest = EXACT // max(sum(lump.copies for lump in self._lumps), 1)
        self._best = np.zeros(capacity + 1)
        self._takes = np.zeros((len(self._lumps), capacity + 1), dtype=np.bool_)
        self._worth: list[float] = []
        spare = np.empty(capacity + 1)
        self._passes = [
            (spare[: -lump.size], self._best[: -lump.size], self._best[lump.size :], takes[lump.size :])
            for lump, takes in zip(self._lumps, self._takes, strict=True)
        ]

    def fill(self, values: NDArray[np.float64]) -> None:
        """Fill it for whole values of the items, none above `dearest`; items of value 0 are left out."""
        self._worth = (values[self._items] * self._copies).tolist()
        self._best[:] = 0.0
        for (with_it, before, best, takes), worth in zip(self._passes, self._worth, strict=True):
            if worth > 0:
                np.add(before, worth, out=with_it)
                np.greater(with_it, best, out=takes)
                np.maximum(with_it, best, out=best)
            else:
                takes[:] = False

    def value(self, capacity: int) -> int:
        """The best value of a capacity."""
        return int(self._best[capacity])

    def pattern(self, capacity: int) -> Counts:
        """A choice of items that has it."""
        return self._back(len(self._lumps), capacity).counts

    def prefixes(self, capacity: int, above: float) -> Iterator[Counts]:
        """Choices worth more than so much: the best of all items, then the best of the first items alone."""
        stride = max(len(self._lumps) // PREFIXES, 1)
        stop = len(self._lumps)
        while stop > 0:
            found = self._back(stop, capacity)
            if found.worth <= above:
                return
            yield found.counts
            stop = min(stop - stride, found.last)

    def _back(self, stop: int, capacity: int) -> _Found:
        counts: dict[int, int] = {}
        rest, worth, last = capacity, 0.0, 0
        for place in range(stop - 1, -1, -1):
            if self._takes[place, rest]:
                lump = self._lumps[place]
                counts[lump.item] = counts.get(lump.item, 0) + lump.copies
                rest -= lump.size
                worth += self._worth[place]
                last = last or place
        return _Found(tuple(sorted(counts.items())), worth, last)


class Table(Knapsack):
    """A table filled once."""

    def __init__(self, sizes: Sequence[int], most: Sequence[int], values: Sequence[int], capacity: int) -> None:
        """Fill the table.

        Args:
            sizes: of the items, positive.
            most: how often each item may be taken.
            values: price of each item; those of value 0 are left out.
            capacity: the largest capacity that is asked for.
        """
        super().__init__(sizes, most, capacity)
        self.fill(np.minimum(np.array(values, dtype=np.float64), float(self.dearest)))
