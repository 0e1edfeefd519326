"""The linear program over patterns of one profile, for all its pieces or for those that are still to be cut."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from service.estimate.cuts.engine.knapsack import Knapsack
from service.estimate.cuts.engine.solver import INFINITY, LinearProgram
from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from numpy.typing import NDArray

    from service.estimate.cuts.engine.solver import Entries, Optimum
    from service.estimate.cuts.engine.work import Work

    Enough = Callable[[Fraction, float], bool]

SCALE = 1 << 20
SLACK = 1e-6


class Left(NamedTuple):
    """What is to be cut: how many of each item, and from how many boards of each length, at least and at most."""

    demands: tuple[int, ...]
    least: tuple[int, ...]
    most: tuple[int, ...]

    def without(self, column: Column, times: int) -> Left:
        """What is left after a pattern has been cut so often."""
        demands, least, most = list(self.demands), list(self.least), list(self.most)
        for item, count in column.counts:
            demands[item] = max(demands[item] - count * times, 0)
        least[column.stock] = max(least[column.stock] - times, 0)
        most[column.stock] -= times
        return Left(tuple(demands), tuple(least), tuple(most))


class Proof(NamedTuple):
    """Prices of the items and what they make of each board: Σ worth·y ≥ Σ prices·demands for all plans. [1/SCALE cents]"""

    prices: list[int]
    worth: list[int]


class Program:
    """Patterns found so far, and the linear program over them.

    Rows: one an item, one a board length. Columns: what is left uncut, at a price that no plan pays; patterns.
    """

    def __init__(self, work: Work, most_cents: int) -> None:
        """Start without patterns.

        Args:
            work: items and boards of one profile.
            most_cents: what the plan at hand costs; bounds hold for all plans that cost no more.
        """
        self.work = work
        self.patterns: list[Column] = []
        self._known: set[Column] = set()
        self._counts = np.zeros((0, len(work.sizes)), dtype=np.int32)
        self.whole = Left(work.demands, (0,) * len(work.holds), tuple(self._at_most(most_cents)))
        self.left = self.whole
        self.bound = Fraction(0)
        self.trail: list[Proof] = []
        self._at = np.zeros(len(work.sizes))
        self._whole_table = Knapsack(work.sizes, work.most, max(work.holds))
        self._table = self._whole_table
        self._lp = LinearProgram(*self.row_bounds())
        dear = 1_000.0 * (max(work.cents) + 1)
        self._lp.add_all([dear] * len(work.sizes), [((item, 1.0),) for item in range(len(work.sizes))])

    def _at_most(self, cents: int) -> Iterator[int]:
        for price, limit in zip(self.work.cents, self.work.limits, strict=True):
            most = cents // price if price else sum(self.work.demands)
            yield most if limit is None else min(limit, most)

    def row_bounds(self) -> tuple[list[float], list[float]]:
        """Bounds of all rows, for what is left."""
        lower = [float(demand) for demand in self.left.demands] + [float(low) for low in self.left.least]
        return lower, [INFINITY] * len(self.work.sizes) + [float(high) for high in self.left.most]

    def entries(self, column: Column) -> Entries:
        """Entries of a pattern's column."""
        items = tuple((item, float(count)) for item, count in column.counts)
        return (*items, (len(self.work.sizes) + column.stock, 1.0))

    def take(self, columns: Iterable[Column]) -> int:
        """Add patterns that are new; how many there were."""
        fresh = [column for column in dict.fromkeys(columns) if column not in self._known]
        if not fresh:
            return 0
        self._known.update(fresh)
        self.patterns += fresh
        self._lp.add_all([float(self.work.cents[column.stock]) for column in fresh], list(map(self.entries, fresh)))
        counts = np.zeros((len(fresh), len(self.work.sizes)), dtype=np.int32)
        for row, column in enumerate(fresh):
            for item, count in column.counts:
                counts[row, item] = count
        self._counts = np.vstack((self._counts, counts))
        return len(fresh)

    def ask(self, left: Left, barred: Iterable[int] = ()) -> None:
        """Ask for what is left; patterns that would cut more of something than that are out, and so are those barred."""
        self._bound_rows(left)
        caps = np.where((self._counts > np.array(left.demands)).any(axis=1), 0.0, INFINITY)
        caps[list(barred)] = 0.0
        self._lp.cap_columns(len(self.work.sizes), caps)
        if left.demands == self.whole.demands:
            self._table = self._whole_table
        elif left.demands != self.left.demands:
            self._table = Knapsack(self.work.sizes, left.demands, max(self.work.holds))
        self.left = left

    def _bound_rows(self, left: Left) -> None:
        items = len(self.work.sizes)
        for item, (old, new) in enumerate(zip(self.left.demands, left.demands, strict=True)):
            if old != new:
                self._lp.bound_row(item, float(new), INFINITY)
        for stock, (low, high) in enumerate(zip(left.least, left.most, strict=True)):
            if (low, high) != (self.left.least[stock], self.left.most[stock]):
                self._lp.bound_row(items + stock, float(low), float(high))

    def uncut(self, optimum: Optimum) -> bool:
        """True when some item is not cut."""
        return bool(optimum.values[: len(self.work.sizes)].max(initial=0.0) > SLACK)

    def usage(self, optimum: Optimum) -> NDArray[np.float64]:
        """How often each pattern is used."""
        return optimum.values[len(self.work.sizes) :]

    def converge(self, rounds: int, enough: Enough) -> Optimum | None:
        """Generate patterns until none is wanted; None where the rows cannot be met.

        `bound` is then the best exact bound of these rounds for what is left; the last of `trail` proves it.

        Args:
            rounds: the most pricing rounds.
            enough: told the bound and the cost of the program, says when to stop.
        """
        self.bound, self.trail = Fraction(0), []
        optimum = self._lp.optimum()
        for _ in range(rounds):
            if optimum is None:
                return None
            is_wanted = self.take(self._wanted(optimum))
            self._prove([int(price) for price in self._at])
            if not is_wanted or enough(self.bound, optimum.objective):
                break
            optimum = self._lp.optimum()
        return optimum

    def improve(self, rounds: tuple[int, int], is_enough: Callable[[float], bool]) -> Optimum | None:
        """The optimum after so many programs, patterns generated in between; None where the rows cannot be met.

        Args:
            rounds: so many programs if patterns are wanted, and so many at most.
            is_enough: told the cost of the program, says whether the first of these will do.
        """
        optimum = self._lp.optimum()
        for done in range(1, rounds[1]):
            if optimum is None or (done >= rounds[0] and is_enough(optimum.objective)):
                break
            if not self.take(self._wanted(optimum)):
                break
            optimum = self._lp.optimum()
        return optimum

    def _wanted(self, optimum: Optimum) -> Iterator[Column]:
        """Patterns worth more than their board, at the prices of an optimum."""
        items = len(self.work.sizes)
        prices = np.clip(np.floor(optimum.prices[:items] * SCALE), 0.0, float(self._table.dearest))
        prices[np.array(self.left.demands) == 0] = 0.0
        self._table.fill(prices)
        self._at = prices
        for stock, rent in enumerate(optimum.prices[items:].tolist()):
            if self.left.most[stock]:
                above = (self.work.cents[stock] - rent + SLACK) * SCALE
                for counts in self._table.prefixes(self.work.holds[stock], above):
                    yield Column(stock, counts)

    def _prove(self, prices: list[int]) -> None:
        """Bounds of these prices, and of the same scaled down until no board is worth more than it costs."""
        worth = [self._table.value(holds) for holds in self.work.holds]
        self._keep(Proof(prices, worth))
        ratios = [
            Fraction(cents * SCALE, value)
            for cents, value, limit in zip(self.work.cents, worth, self.work.limits, strict=True)
            if limit is None and value > cents * SCALE
        ]
        if ratios:
            top, bottom = min(ratios).as_integer_ratio()
            self._keep(Proof([price * top // bottom for price in prices], [value * top // bottom for value in worth]))

    def _keep(self, proof: Proof) -> None:
        bound = self._bound(*proof)
        if bound > self.bound:
            self.bound = bound
            self.trail.append(proof)

    def _bound(self, prices: list[int], worth: list[int]) -> Fraction:
        """Least of the Lagrangian for whole prices: exact whatever they are. [cents]"""
        total = sum(price * demand for price, demand in zip(prices, self.left.demands, strict=True))
        for cents, value, low, high in zip(self.work.cents, worth, self.left.least, self.left.most, strict=True):
            gain = cents * SCALE - value
            total += min(gain * low, gain * high)
        return Fraction(total, SCALE)
