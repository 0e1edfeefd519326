"""All whole numbers in a box that keep some sums within bounds, listed many at a time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Points = NDArray[np.int64]
    Floats = NDArray[np.float64]

MOST_STATES = 20_000


@dataclass(frozen=True, slots=True)
class Limits:
    """What is asked of a point y: `rates`·y ≤ `slack` for every row, and a cost between `low` and `high` cents."""

    rates: Floats
    slack: Floats
    cents: Points
    low: int
    high: int


class _States(NamedTuple):
    """Points in the making, a row each: what they cost so far, and what each sum is at least."""

    points: Points
    spent: Points
    used: Floats


def listed(least: Sequence[int], most: Sequence[int], limits: Limits) -> Points | None:
    """All points between two corners that keep the limits, a row each; None where too many come up on the way.

    Args:
        least: the lower corner.
        most: the upper corner.
        limits: the cost of one more of anything is not negative.
    """
    low, high = np.array(least, dtype=np.int64), np.array(most, dtype=np.int64)
    floors = np.where(limits.rates > 0, limits.rates * low, limits.rates * high)
    states = _States(low[None, :], np.array([low @ limits.cents]), floors.sum(axis=1)[None, :])
    order = np.lexsort((-limits.cents, -limits.rates.max(axis=0, initial=0.0)))
    for stock in order.tolist():
        first, last = _room(states, limits, stock, int(high[stock]), is_last=stock == order[-1])
        counts = np.maximum(last - first + 1, 0)
        if counts.sum() > MOST_STATES:
            return None
        states = _extended(states, limits, stock, (first, counts), floors[:, stock])
    return states.points[states.spent >= limits.low]


def _room(states: _States, limits: Limits, stock: int, high: int, *, is_last: bool) -> tuple[Points, Points]:
    """Least and most of one board that each state has room for."""
    first = states.points[:, stock]
    last = np.full_like(first, high)
    cents = int(limits.cents[stock])
    tight = limits.rates[:, stock] > 0
    room = ((limits.slack - states.used)[:, tight] / limits.rates[tight, stock]).min(axis=1, initial=np.inf)
    last = np.minimum(last, first + np.floor(room).clip(-1, MOST_STATES).astype(np.int64))
    if cents:
        last = np.minimum(last, first + (limits.high - states.spent) // cents)
    if cents and is_last:
        first = np.maximum(first, first - (states.spent - limits.low) // cents)
    return first, last


def _extended(states: _States, limits: Limits, stock: int, room: tuple[Points, Points], floor: Floats) -> _States:
    """Every state with every number of one board that it has room for."""
    first, counts = room
    origin = np.repeat(np.arange(len(counts)), counts)
    values = np.arange(len(origin)) - np.repeat(np.cumsum(counts) - counts, counts) + first[origin]
    points = states.points[origin]
    spent = states.spent[origin] + (values - points[:, stock]) * limits.cents[stock]
    points[:, stock] = values
    used = states.used[origin] + values[:, None] * limits.rates[:, stock] - floor
    kept = (used <= limits.slack).all(axis=1)
    return _States(points[kept], spent[kept], used[kept])
