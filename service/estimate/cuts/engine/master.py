"""The master program: patterns are generated until no other can make the plan cheaper, each round with an exact bound."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.solver import INFINITY, LinearProgram
from service.estimate.cuts.engine.table import Table
from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from service.estimate.cuts.engine.solver import Optimum, Prices
    from service.estimate.cuts.engine.work import Part, Work

SCALE = 1 << 20
SLACK = 1e-6


class Master:
    """Linear program over the patterns found so far.

    Rows: one an item, one a board length. Columns: what is left uncut, at a price that no plan pays; patterns.
    """

    def __init__(self, work: Work, most_cents: int) -> None:
        """Start without patterns.

        Args:
            work: items and boards.
            most_cents: what the plan at hand costs; bounds hold for all plans that cost no more.
        """
        self.work = work
        self.patterns: list[Column] = []
        self._known: set[Column] = set()
        self._column_of: list[int] = []
        self.least = [0] * len(work.holds)
        self.most = [self._at_most(stock, most_cents) for stock in range(len(work.holds))]
        self.bound = Fraction(0)
        self.prices: list[int] = []
        self._program = LinearProgram(*self.row_bounds())
        dear = 1_000.0 * (max(work.cents) + 1)
        for item in range(len(work.sizes)):
            self._program.add(dear, ((item, 1.0),))

    def _at_most(self, stock: int, cents: int) -> int:
        price, limit = self.work.cents[stock], self.work.limits[stock]
        most = cents // price if price else sum(self.work.most)
        return most if limit is None else min(limit, most)

    def row_bounds(self) -> tuple[list[float], list[float]]:
        """Bounds of all rows, those of the board lengths as they are set now."""
        lower = [float(demand) for demand in self.work.demands] + [float(low) for low in self.least]
        upper = [INFINITY] * len(self.work.sizes) + [float(high) for high in self.most]
        return lower, upper

    def pattern_entries(self, column: Column) -> tuple[tuple[int, float], ...]:
        """Entries of a pattern's column."""
        items = tuple((item, float(count)) for item, count in column.counts)
        return (*items, (len(self.work.sizes) + column.stock, 1.0))

    def take(self, columns: Iterable[Column]) -> int:
        """Add patterns that are new; how many there were."""
        fresh = [column for column in dict.fromkeys(columns) if column not in self._known]
        for column in fresh:
            self._known.add(column)
            self.patterns.append(column)
            self._column_of.append(self._program.columns)
            self._program.add(float(self.work.cents[column.stock]), self.pattern_entries(column))
        return len(fresh)

    def hold(self, pattern: int, least: int) -> None:
        """Let a pattern be used so often at least."""
        self._program.bound_column(self._column_of[pattern], float(least))

    def box(self, least: Sequence[int], most: Sequence[int]) -> None:
        """Bound the number of boards of each length."""
        self.least, self.most = list(least), list(most)
        for stock, (low, high) in enumerate(zip(least, most, strict=True)):
            self._program.bound_row(len(self.work.sizes) + stock, float(low), float(high))

    def uncut(self, optimum: Optimum) -> bool:
        """True when some item is not cut."""
        return bool(optimum.values[: len(self.work.sizes)].max(initial=0.0) > SLACK)

    def usage(self, optimum: Optimum) -> list[float]:
        """How often each pattern is used."""
        return [float(value) for value in optimum.values[self._column_of]]

    def converge(self, rounds: int, goal: Fraction | None = None) -> Optimum | None:
        """Generate columns until none is wanted; None where the rows cannot be met.

        `bound` is then the best exact bound of these rounds, for the boxes as they are set.

        Args:
            rounds: the most pricing rounds.
            goal: stop as soon as the bound reaches it. [cents]
        """
        self.bound = Fraction(0)
        optimum = self._program.optimum()
        for _ in range(rounds):
            if optimum is None:
                return None
            is_wanted = self._priced(optimum.prices)
            if (goal is not None and self.bound >= goal) or not is_wanted:
                break
            optimum = self._program.optimum()
        return optimum

    def _priced(self, at: Prices) -> bool:
        """Take the patterns that prices of the rows call for, and the bound that they prove; True when some are new."""
        prices, worth, wanted = self._patterns_priced(at)
        self._prove(self._bound(prices, worth), prices)
        self._prove(*self._scaled(prices, worth))
        return bool(self.take(wanted))

    def _patterns_priced(self, at: Prices) -> tuple[list[int], list[int], list[Column]]:
        """Prices of the items, worth of the boards, patterns worth more than their board costs. [1/SCALE cents]"""
        prices = [max(int(price * SCALE), 0) for price in at[: len(self.work.sizes)]]
        rents = [int(price * SCALE) for price in at[len(prices) : len(prices) + len(self.work.holds)]]
        worth: list[int] = []
        wanted: list[Column] = []
        for part in self.work.parts:
            table = self._table(part, prices)
            worth += [table.value(self.work.holds[stock]) for stock in part.stocks]
            for stock in part.stocks:
                wanted += self._wanted(part, table, stock, self.work.cents[stock] * SCALE - rents[stock])
        return prices, worth, wanted

    def _prove(self, bound: Fraction, prices: list[int]) -> None:
        if bound > self.bound:
            self.bound, self.prices = bound, prices

    def _table(self, part: Part, prices: Sequence[int]) -> Table:
        work, items = self.work, slice(part.items.start, part.items.stop)
        capacity = max(work.holds[stock] for stock in part.stocks)
        return Table(work.sizes[items], work.most[items], prices[items], capacity)

    def _wanted(self, part: Part, table: Table, stock: int, above: int) -> Iterator[Column]:
        """Patterns of one board whose worth is above its price."""
        holds, first = self.work.holds[stock], part.items.start
        if table.value(holds) <= above:
            return
        yield Column(stock, tuple((item + first, count) for item, count in table.pattern(holds)))
        for counts in table.prefixes(holds, above):
            yield Column(stock, tuple((item + first, count) for item, count in counts))

    def _scaled(self, prices: list[int], worth: Sequence[int]) -> tuple[Fraction, list[int]]:
        """The bound for prices scaled down until no board without limit is worth more than it costs (Farley 1990)."""
        ratio = scale_down(self.work, worth)
        if ratio is None:
            return Fraction(0), prices
        top, bottom = ratio.as_integer_ratio()
        scaled = [price * top // bottom for price in prices]
        return self._bound(scaled, [value * top // bottom for value in worth]), scaled

    def _bound(self, prices: Sequence[int], worth: Sequence[int]) -> Fraction:
        """Least of the Lagrangian for whole prices: exact whatever they are. [cents]"""
        total = sum(price * demand for price, demand in zip(prices, self.work.demands, strict=True))
        return Fraction(total + self._boards_least(worth), SCALE)

    def _boards_least(self, worth: Sequence[int]) -> int:
        """What boards cost above their worth at the least, within the boxes. [1/SCALE cents]"""
        gains = [cents * SCALE - value for cents, value in zip(self.work.cents, worth, strict=True)]
        return sum(min(gain * low, gain * high) for gain, low, high in zip(gains, self.least, self.most, strict=True))


def scale_down(work: Work, worth: Sequence[int]) -> Fraction | None:
    """How far prices must fall so that no board without limit is worth more than it costs; None: not at all."""
    ratios = [
        Fraction(cents * SCALE, value)
        for cents, value, limit in zip(work.cents, worth, work.limits, strict=True)
        if limit is None and value > cents * SCALE
    ]
    return min(ratios, default=None)
