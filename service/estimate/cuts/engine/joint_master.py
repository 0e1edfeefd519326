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

from service.estimate.cuts.engine.master import SCALE, Master, scale_down
from service.estimate.cuts.engine.network import Plan, all_below, cheapest
from service.estimate.cuts.engine.table import Table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from service.estimate.cuts.engine.network import Stack
    from service.estimate.cuts.engine.solver import Optimum, Prices
    from service.estimate.cuts.engine.work import Part, Work

    Entries = tuple[tuple[int, float], ...]

TOLERANCE = SCALE // 1_000


class JointMaster(Master):
    """Linear program over the patterns and the plans of stacks found so far."""

    def __init__(self, work: Work, stacks: Sequence[Stack], most_cents: int) -> None:
        """Start without patterns and plans.

        Args:
            work: items and boards; the items of each profile from the longest to the shortest.
            stacks: runs that are to be joined.
            most_cents: what the plan at hand costs.
        """
        self.stacks = stacks
        self.plans: list[Plan] = []
        self._plan_column: list[int] = []
        self._known_plans: set[Plan] = set()
        self.fewest_joints = 0
        self.most_joints = sum(path.last - 1 for stack in stacks for path in stack.paths)
        self.toll = 0
        super().__init__(work, most_cents)
        for larger, smaller in self._neighbors():
            self._program.add(0.0, ((larger, -1.0), (smaller, 1.0)))

    @property
    def _joints_row(self) -> int:
        return len(self.work.sizes) + len(self.work.holds)

    def _neighbors(self) -> Iterator[tuple[int, int]]:
        for part in self.work.parts:
            yield from pairwise(part.items)

    def row_bounds(self) -> tuple[list[float], list[float]]:
        """Bounds of all rows as they are set now."""
        lower, upper = super().row_bounds()
        once = [1.0] * len(self.stacks)
        return [*lower, float(self.fewest_joints), *once], [*upper, float(self.most_joints), *once]

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

    def _priced(self, at: Prices) -> bool:
        prices, worth, wanted = self._patterns_priced(at)
        row = self._joints_row
        toll = -int(at[row] * SCALE)
        plans, total = [], 0
        for place, (stack, rent) in enumerate(zip(self.stacks, at[row + 1 :], strict=True)):
            least, joints = cheapest(stack, prices, toll, SCALE, int(rent * SCALE) - TOLERANCE)
            total += least
            if joints is not None:
                plans.append(Plan(place, joints))
        self._prove_joined(prices, toll, total, worth)
        return bool(self.take(wanted)) | bool(self.take_plans(plans))

    def _prove_joined(self, prices: list[int], toll: int, plans: int, worth: Sequence[int]) -> None:
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
