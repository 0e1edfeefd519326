"""The master program with joints: how each stack is joined is a column too, generated like the patterns.

Rows: items, board lengths, the number of joints, and one row a stack, of which one plan is taken. Columns, beside the
patterns: plans of the stacks, which take their pieces from the items; and exchanges, which let a piece cut long serve
as a shorter one and so keep the prices of the items rising with their size (Valério de Carvalho 2005, from memory).
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import floor
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.network import Plan, all_below, cheapest
from service.estimate.cuts.engine.program import SCALE, SLACK
from service.estimate.cuts.engine.solver import INFINITY, LinearProgram
from service.estimate.cuts.engine.table import Table
from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from service.estimate.cuts.engine.network import Stack
    from service.estimate.cuts.engine.solver import Optimum, Prices
    from service.estimate.cuts.engine.work import Part, Work

    Entries = tuple[tuple[int, float], ...]

TOLERANCE = SCALE // 1_000


class JointMaster:
    """Linear program over the patterns and the plans of stacks found so far."""

    def __init__(self, work: Work, stacks: Sequence[Stack], most_cents: int) -> None:
        """Start without patterns and plans.

        Args:
            work: items and boards; the items of each profile from the longest to the shortest.
            stacks: runs that are to be joined.
            most_cents: what the plan at hand costs; bounds hold for all plans that cost no more.
        """
        self.work, self.stacks = work, stacks
        self.patterns: list[Column] = []
        self._known: set[Column] = set()
        self._column_of: list[int] = []
        self.plans: list[Plan] = []
        self._known_plans: set[Plan] = set()
        self._plan_column: list[int] = []
        self._decided: set[int] = set()
        self.least = [0] * len(work.holds)
        self.most = [self._at_most(stock, most_cents) for stock in range(len(work.holds))]
        self.fewest_joints = 0
        self.most_joints = sum(path.last - 1 for stack in stacks for path in stack.paths)
        self.bound = Fraction(0)
        self.prices: list[int] = []
        self.toll = 0
        self._program = LinearProgram(*self.row_bounds())
        dear = 1_000.0 * (max(work.cents) + 1)
        for item in range(len(work.sizes)):
            self._program.add(dear, ((item, 1.0),))
        for larger, smaller in self._neighbors():
            self._program.add(0.0, ((larger, -1.0), (smaller, 1.0)))

    def _at_most(self, stock: int, cents: int) -> int:
        price, limit = self.work.cents[stock], self.work.limits[stock]
        most = cents // price if price else sum(self.work.most)
        return most if limit is None else min(limit, most)

    @property
    def _joints_row(self) -> int:
        return len(self.work.sizes) + len(self.work.holds)

    def _neighbors(self) -> Iterator[tuple[int, int]]:
        for part in self.work.parts:
            yield from pairwise(part.items)

    def row_bounds(self) -> tuple[list[float], list[float]]:
        """Bounds of all rows as they are set now."""
        once = [1.0] * len(self.stacks)
        lower = [*self.work.demands, *self.least, self.fewest_joints]
        upper = [INFINITY] * len(self.work.sizes) + [float(high) for high in (*self.most, self.most_joints)]
        return [*(float(low) for low in lower), *once], [*upper, *once]

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

    def box(self, least: Sequence[int], most: Sequence[int]) -> None:
        """Bound the number of boards of each length."""
        self.least, self.most = list(least), list(most)
        for stock, (low, high) in enumerate(zip(least, most, strict=True)):
            self._program.bound_row(len(self.work.sizes) + stock, float(low), float(high))

    def joint_box(self, fewest: int, most: int) -> None:
        """Bound the number of joints."""
        self.fewest_joints, self.most_joints = fewest, most
        self._program.bound_row(self._joints_row, float(fewest), float(most))

    def plan_cost(self, plan: Plan) -> int:
        """Labor of a plan's joints. [cents]"""
        return self.stacks[plan.stack].joints_cost(plan.joints)

    def plan_items(self, plan: Plan) -> Iterator[int]:
        """Items of a plan's pieces."""
        return self.stacks[plan.stack].items(plan.joints)

    def _plan_entries(self, plan: Plan) -> Entries:
        taken: dict[int, float] = {}
        for item in self.plan_items(plan):
            taken[item] = taken.get(item, 0.0) - 1.0
        row = self._joints_row
        return (*taken.items(), (row, float(plan.joint_count)), (row + 1 + plan.stack, 1.0))

    def take_plans(self, plans: Iterable[Plan]) -> int:
        """Add plans that are new; how many there were."""
        fresh = [plan for plan in dict.fromkeys(plans) if plan not in self._known_plans]
        for plan in fresh:
            self._known_plans.add(plan)
            self.plans.append(plan)
            self._plan_column.append(self._program.columns)
            self._program.add(float(self.plan_cost(plan)), self._plan_entries(plan))
        return len(fresh)

    def choose(self, plan: int, *, is_chosen: bool = True) -> None:
        """Fix one of the plans at hand, or let it loose."""
        self._program.bound_column(self._plan_column[plan], 1.0 if is_chosen else 0.0)
        change = self._decided.add if is_chosen else self._decided.discard
        change(self.plans[plan].stack)

    def uncut(self, optimum: Optimum) -> bool:
        """True when some item is not cut."""
        return bool(optimum.values[: len(self.work.sizes)].max(initial=0.0) > SLACK)

    def usage(self, optimum: Optimum) -> list[float]:
        """How often each pattern is used."""
        return [float(value) for value in optimum.values[self._column_of]]

    def plan_usage(self, optimum: Optimum) -> list[float]:
        """How far each plan is taken."""
        return [float(value) for value in optimum.values[self._plan_column]]

    @property
    def joint_cents(self) -> int:
        """What a joint costs at the least."""
        return min((path.joint_cents for stack in self.stacks for path in stack.paths), default=0)

    def counts(self, optimum: Optimum) -> list[float]:
        """How many boards of each length are taken, and how many joints."""
        counts = [0.0] * (len(self.work.holds) + 1)
        for pattern, value in zip(self.patterns, self.usage(optimum), strict=True):
            counts[pattern.stock] += value
        for plan, value in zip(self.plans, self.plan_usage(optimum), strict=True):
            counts[-1] += value * plan.joint_count
        return counts

    def slack(self, optimum: Optimum) -> tuple[list[float], list[float]]:
        """Reduced costs of the patterns and of the plans at hand. [cents]"""
        reduced = optimum.reduced
        return [float(cost) for cost in reduced[self._column_of]], [float(cost) for cost in reduced[self._plan_column]]

    def converge(self, rounds: int) -> Optimum | None:
        """Generate columns until none is wanted; None where the rows cannot be met.

        `bound` is then the best exact bound of these rounds, for the boxes as they are set; nothing is proven while
        some plan is fixed.

        Args:
            rounds: the most pricing rounds.
        """
        self.bound = Fraction(0)
        optimum = self._program.optimum()
        for _ in range(rounds):
            if optimum is None:
                return None
            if not self._priced(optimum.prices):
                break
            optimum = self._program.optimum()
        return optimum

    def _priced(self, at: Prices) -> bool:
        """Take the columns that prices of the rows call for, and the bound that they prove; True when some are new."""
        prices, worth, wanted = self._patterns_priced(at)
        row = self._joints_row
        toll = -int(at[row] * SCALE)
        plans, total = [], 0
        for place, (stack, rent) in enumerate(zip(self.stacks, at[row + 1 :].tolist(), strict=True)):
            if place not in self._decided:
                least, joints = cheapest(stack, prices, toll, SCALE, int(rent * SCALE) - TOLERANCE)
                total += least
                if joints is not None:
                    plans.append(Plan(place, joints))
        if not self._decided:
            self._prove(prices, toll, total, worth)
        return bool(self.take(wanted)) | bool(self.take_plans(plans))

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

    def _table(self, part: Part, prices: Sequence[int]) -> Table:
        """The knapsack without the items that a shorter one of the same price stands for."""
        most, values = self._stood_for(part, prices)
        work, items = self.work, slice(part.items.start, part.items.stop)
        return Table(work.sizes[items], most, values, max(work.holds[stock] for stock in part.stocks))

    def _stood_for(self, part: Part, prices: Sequence[int]) -> tuple[list[int], list[int]]:
        most, values, more = [], [], 0
        for item in part.items:
            is_dearer = item + 1 == part.items.stop or prices[item] > prices[item + 1]
            more += self.work.most[item]
            most.append(more)
            values.append(prices[item] if is_dearer else 0)
            more = 0 if is_dearer else more
        return most, values

    def _wanted(self, part: Part, table: Table, stock: int, above: int) -> Iterator[Column]:
        """Patterns of one board whose worth is above its price."""
        holds, first = self.work.holds[stock], part.items.start
        if table.value(holds) <= above:
            return
        yield Column(stock, tuple((item + first, count) for item, count in table.pattern(holds)))
        for counts in table.prefixes(holds, above):
            yield Column(stock, tuple((item + first, count) for item, count in counts))

    def listed(self, cost: int, most: int) -> list[list[tuple[int, Plan]]] | None:
        """All plans of every stack that a plan cheaper than `cost` can have, with what they add to the bound.

        Args:
            cost: in cents.
            most: how many plans of a stack are allowed; None is returned where there are more.
        """
        margin = floor((cost - self.bound) * SCALE)
        found = []
        for place, stack in enumerate(self.stacks):
            plans = all_below(stack, self.prices, self.toll, SCALE, margin, most)
            if plans is None:
                return None
            found.append([(more, Plan(place, joints)) for more, joints in plans])
        return found

    def _prove(self, prices: list[int], toll: int, plans: int, worth: Sequence[int]) -> None:
        """Bounds for these prices as they are, and scaled down until no board is worth more than it costs."""
        fixed = sum(price * demand for price, demand in zip(prices, self.work.demands, strict=True))
        joints = min(-toll * self.fewest_joints, -toll * self.most_joints)
        total = fixed + plans + joints
        self._prove_at(Fraction(total + self._boards_least(worth), SCALE), prices, toll)
        ratio = scale_down(self.work, worth)
        if ratio is not None:
            scaled = [floor(value * ratio) for value in worth]
            bound = Fraction(floor(total * ratio) + self._boards_least(scaled), SCALE)
            self._prove_at(bound, [floor(price * ratio) for price in prices], floor(toll * ratio))

    def _prove_at(self, bound: Fraction, prices: list[int], toll: int) -> None:
        if bound > self.bound:
            self.bound, self.prices, self.toll = bound, prices, toll

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
