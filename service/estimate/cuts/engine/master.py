"""The master program: patterns are generated until no other can make the plan cheaper, each round with an exact bound."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.knapsack import Table
from service.estimate.cuts.engine.network import Joint, Network, shortest
from service.estimate.cuts.engine.solver import INFINITY, LinearProgram
from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from service.estimate.cuts.engine.solver import Optimum
    from service.estimate.cuts.engine.work import Part, Work

SCALE = 1 << 20
SLACK = 1e-6


class Master:
    """Linear program over the patterns found so far.

    Rows: one an item, one a board length, then the runs' nodes and the windows of the stagger. Columns: what is
    left uncut, at a price that no plan pays; arcs of the runs; patterns.
    """

    def __init__(self, work: Work, network: Network, most_cents: int) -> None:
        """Start without patterns.

        Args:
            work: items and boards.
            network: runs that are to be divided.
            most_cents: what the plan at hand costs; bounds hold for all plans that cost no more.
        """
        self.work, self.network = work, network
        self.patterns: list[Column] = []
        self._known: set[Column] = set()
        self.least = [0] * len(work.holds)
        self.most = [self._at_most(stock, most_cents) for stock in range(len(work.holds))]
        self.bound = Fraction(0)
        self.prices: list[int] = []
        self._windows = network.windows_of()
        self._node_rows, self._window_row = self._rows()
        self._program = LinearProgram(*self._row_bounds())
        self._dear = 1_000.0 * (max(work.cents) + network.joint_cents + 1)
        self._add_static()

    def _at_most(self, stock: int, cents: int) -> int:
        price, limit = self.work.cents[stock], self.work.limits[stock]
        most = cents // price if price else sum(self.work.demands) + sum(len(p.arcs) for p in self.network.paths)
        return most if limit is None else min(limit, most)

    def _rows(self) -> tuple[list[int], int]:
        row = len(self.work.sizes) + len(self.work.holds)
        starts = []
        for path in self.network.paths:
            starts.append(row)
            row += path.last
        return starts, row

    def _row_bounds(self) -> tuple[list[float], list[float]]:
        work = self.work
        lower = [float(demand) for demand in work.demands] + [0.0] * len(work.holds)
        upper = [INFINITY] * len(work.sizes) + [INFINITY if limit is None else float(limit) for limit in work.limits]
        for path in self.network.paths:
            ends = [1.0] + [0.0] * (path.last - 1)
            lower += ends
            upper += ends
        lower += [-INFINITY] * len(self.network.windows)
        upper += [1.0] * len(self.network.windows)
        return lower, upper

    def _add_static(self) -> None:
        for item in range(len(self.work.sizes)):
            self._program.add(self._dear, ((item, 1.0),))
        for cost, entries in self.arc_columns():
            self._program.add(cost, entries)
        self.first_pattern = self._program.columns

    def arc_columns(self) -> Iterator[tuple[float, tuple[tuple[int, float], ...]]]:
        """Cost and entries of every arc's column."""
        for run, path in enumerate(self.network.paths):
            start = self._node_rows[run]
            for arc in path.arcs:
                entries = [(arc.item, -1.0), (start + arc.tail, 1.0)]
                if arc.head < path.last:
                    entries.append((start + arc.head, -1.0))
                if arc.tail:
                    entries += [(self._window_row + w, 1.0) for w in self._windows.get(Joint(run, arc.tail), ())]
                yield (float(self.network.joint_cents) if arc.tail else 0.0), tuple(entries)

    def pattern_entries(self, column: Column) -> tuple[tuple[int, float], ...]:
        """Entries of a pattern's column."""
        items = tuple((item, float(count)) for item, count in column.counts)
        return (*items, (len(self.work.sizes) + column.stock, 1.0))

    def row_bounds(self) -> tuple[list[float], list[float]]:
        """Bounds of all rows, those of the board lengths as they are set now."""
        lower, upper = self._row_bounds()
        for stock, (low, high) in enumerate(zip(self.least, self.most, strict=True)):
            row = len(self.work.sizes) + stock
            lower[row], upper[row] = float(low), float(high)
        return lower, upper

    def take(self, columns: Iterable[Column]) -> int:
        """Add patterns that are new; how many there were."""
        new = [column for column in columns if column not in self._known]
        fresh = list(dict.fromkeys(new))
        for column in fresh:
            self._known.add(column)
            self.patterns.append(column)
            self._program.add(float(self.work.cents[column.stock]), self.pattern_entries(column))
        return len(fresh)

    def hold(self, pattern: int, least: int) -> None:
        """Let a pattern be used so often at least."""
        self._program.bound_column(self.first_pattern + pattern, float(least))

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
        return [float(value) for value in optimum.values[self.first_pattern :]]

    def converge(self, rounds: int, goal: Fraction | None = None) -> Optimum | None:
        """Generate patterns until none is wanted; None where the rows cannot be met.

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
            wanted = self._priced(optimum)
            if (goal is not None and self.bound >= goal) or not self.take(wanted):
                break
            optimum = self._program.optimum()
        return optimum

    def _priced(self, optimum: Optimum) -> list[Column]:
        prices = [max(int(price * SCALE), 0) for price in optimum.prices[: len(self.work.sizes)]]
        rents = [int(price * SCALE) for price in optimum.prices[len(prices) : len(prices) + len(self.work.holds)]]
        sigmas = [max(int(-price * SCALE), 0) for price in optimum.prices[self._window_row :]]
        worth: list[int] = []
        wanted: list[Column] = []
        for part in self.work.parts:
            table = self._table(part, prices)
            worth += [table.value(self.work.holds[stock]) for stock in part.stocks]
            for stock in part.stocks:
                wanted += self._wanted(part, table, stock, self.work.cents[stock] * SCALE - rents[stock])
        for bound, kept in ((self._bound(prices, sigmas, worth), prices), self._scaled(prices, sigmas, worth)):
            if bound > self.bound:
                self.bound, self.prices = bound, kept
        return wanted

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

    def _scaled(self, prices: list[int], sigmas: Sequence[int], worth: Sequence[int]) -> tuple[Fraction, list[int]]:
        """The bound for prices scaled down until no board without limit is worth more than it costs (Farley 1990)."""
        work = self.work
        ratios = [
            Fraction(cents * SCALE, value)
            for cents, value, limit in zip(work.cents, worth, work.limits, strict=True)
            if limit is None and value > cents * SCALE
        ]
        if not ratios:
            return Fraction(0), prices
        top, bottom = min(ratios).as_integer_ratio()
        scaled = [price * top // bottom for price in prices]
        return self._bound(scaled, sigmas, [value * top // bottom for value in worth]), scaled

    def _bound(self, prices: Sequence[int], sigmas: Sequence[int], worth: Sequence[int]) -> Fraction:
        """Least of the Lagrangian for whole prices: exact whatever they are. [cents]"""
        total = sum(price * demand for price, demand in zip(prices, self.work.demands, strict=True)) - sum(sigmas)
        total += sum(self._least_path(run, prices, sigmas) for run in range(len(self.network.paths)))
        for cents, value, low, high in zip(self.work.cents, worth, self.least, self.most, strict=True):
            gain = cents * SCALE - value
            total += min(gain * low, gain * high)
        return Fraction(total, SCALE)

    def _least_path(self, run: int, prices: Sequence[int], sigmas: Sequence[int]) -> int:
        path = self.network.paths[run]
        joint = self.network.joint_cents * SCALE
        tolls = [0] * path.last
        for node in range(1, path.last):
            tolls[node] = joint + sum(sigmas[w] for w in self._windows.get(Joint(run, node), ()))
        return shortest(path, [tolls[arc.tail] + prices[arc.item] for arc in path.arcs])[0]
