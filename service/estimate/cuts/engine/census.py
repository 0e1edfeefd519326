"""All patterns that a cheaper plan could use, found by what their items are worth.

With prices π, what a board s is worth at these, Vₛ, and y boards of each length, the patterns of a plan lose
Σ Vₛ·yₛ - Σ πᵢ·dᵢ together: none of them is worth less than its Vₛ by more than that. Where y is open, a plan that
costs C at most uses none that is worth less than cₛ by more than C less the bound of these prices. Where the patterns
left are few, the integer program over them decides.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from service.estimate.cuts.engine.knapsack import lumps_of
from service.estimate.cuts.engine.program import SCALE
from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from service.estimate.cuts.engine.program import Left, Proof
    from service.estimate.cuts.engine.work import Work

    Counts = NDArray[np.int64]

MOST_CELLS = 30_000_000


class Floor(NamedTuple):
    """Prices of the items, and what a pattern of each board is worth at these at least; None: the board is not used.

    `room`: how much less than the best all patterns of a plan may be worth, as a share of all pieces.
    """

    prices: list[int]
    worth: list[int | None]
    room: float


def floor_of(work: Work, proof: Proof, left: Left, cost: int) -> Floor:
    """What some prices ask of the patterns of a plan within some boxes that costs no more than so many cents.

    Args:
        work: of one profile.
        proof: the prices.
        left: boxes of the number of boards.
        cost: the highest cost of interest. [cents]
    """
    gains = [cents * SCALE - worth for cents, worth in zip(work.cents, proof.worth, strict=True)]
    need = sum(price * demand for price, demand in zip(proof.prices, work.demands, strict=True))
    room = cost * SCALE - need
    room -= sum(min(gain * low, gain * most) for gain, low, most in zip(gains, left.least, left.most, strict=True))
    worth = [
        value - room + (max(gain, 0) if not low else 0) if most else None
        for value, gain, low, most in zip(proof.worth, gains, left.least, left.most, strict=True)
    ]
    return Floor(proof.prices, worth, room / max(need, 1))


def census(work: Work, floors: Sequence[Floor], most: int) -> list[Column] | None:
    """Maximal patterns that are worth as much as all floors ask; None when more than `most` come up on the way.

    Args:
        work: items and boards of one profile.
        floors: the first is the one by which they are sought.
        most: how many patterns are allowed.
    """
    if len(work.sizes) * (max(work.holds) + 1) > MOST_CELLS:
        return None
    items = _Items(work, floors[0].prices)
    found: list[Column] = []
    for stock, worth in enumerate(floors[0].worth):
        counts = None if worth is None else items.listed(work.holds[stock], float(worth), most - len(found))
        if worth is not None and counts is None:
            return None
        if counts is not None:
            found += _columns(stock, counts[_stands(counts, stock, floors[1:])])
    return found


def _stands(counts: Counts, stock: int, floors: Sequence[Floor]) -> NDArray[np.bool_]:
    kept = np.ones(len(counts), dtype=np.bool_)
    for floor in floors:
        worth = floor.worth[stock]
        if worth is not None:
            kept &= counts @ np.array(floor.prices, dtype=np.float64) >= worth
    return kept


def _columns(stock: int, counts: Counts) -> Iterator[Column]:
    for row in counts.tolist():
        yield Column(stock, tuple((item, count) for item, count in enumerate(row) if count))


class _Items:
    """Items in falling order of size, with the best worth of all that come after each of them."""

    def __init__(self, work: Work, prices: Sequence[int]) -> None:
        self.order = sorted(range(len(work.sizes)), key=lambda item: (-work.sizes[item], item))
        self.sizes = [work.sizes[item] for item in self.order]
        self.most = [work.most[item] for item in self.order]
        self.prices = [float(prices[item]) for item in self.order]
        self.after = self._after(max(work.holds))

    def _after(self, capacity: int) -> list[NDArray[np.float64]]:
        best = np.zeros(capacity + 1)
        after = [best]
        for size, most, price in zip(self.sizes[::-1], self.most[::-1], self.prices[::-1], strict=True):
            best = best.copy()
            for lump in lumps_of((size,), (most,), capacity):
                np.maximum(best[lump.size :], best[: -lump.size] + lump.copies * price, out=best[lump.size :])
            after.append(best)
        return after[::-1]

    def listed(self, holds: int, worth: float, most: int) -> Counts | None:
        """Counts of the items in all maximal patterns of a board that are worth so much, a row each."""
        rest, need = np.array([holds], dtype=np.int64), np.array([worth])
        steps = []
        for size, limit, price, after in zip(self.sizes, self.most, self.prices, self.after[1:], strict=True):
            room = np.minimum(rest // size, limit) + 1
            origin = np.repeat(np.arange(len(rest)), room)
            count = np.arange(len(origin)) - np.repeat(np.cumsum(room) - room, room)
            rest, need = rest[origin] - count * size, need[origin] - count * price
            kept = np.flatnonzero(after[rest] >= need)
            if len(kept) > most:
                return None
            rest, need = rest[kept], need[kept]
            steps.append((origin[kept], count[kept]))
        return self._maximal(self._counts(steps, len(rest)), rest)

    def _counts(self, steps: list[tuple[Counts, Counts]], rows: int) -> Counts:
        counts = np.zeros((rows, len(self.order)), dtype=np.int64)
        row = np.arange(rows)
        for item, (origin, count) in zip(self.order[::-1], steps[::-1], strict=True):
            counts[:, item] = count[row]
            row = origin[row]
        return counts

    def _maximal(self, counts: Counts, rest: Counts) -> Counts:
        """Those to which nothing can be added."""
        smallest = np.full(len(counts), np.iinfo(np.int64).max)
        for item, size, most in zip(self.order, self.sizes, self.most, strict=True):
            smallest[counts[:, item] < most] = size
        return counts[smallest > rest]
