"""Joints and boards in one program: plans of the stacks and patterns of the boards, least together."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise, product
from math import prod
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.coins import coins
from service.estimate.cuts.engine.joint_master import JointMaster
from service.estimate.cuts.engine.joint_tree import JointTree
from service.estimate.cuts.engine.solver import IntegerProgram, solved
from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from service.estimate.cuts.engine.coins import Coins
    from service.estimate.cuts.engine.network import Plan, Stack
    from service.estimate.cuts.engine.solver import Optimum
    from service.estimate.cuts.engine.work import Effort, Work

    Plans = tuple[Plan, ...]

NODE_WORK, ROUND_WORK, ARCS_AN_ITEM = 8_000, 100_000, 20
FEW_NODES, FEW_ROUNDS, TRY_WORK = 6, 40, 600
NEARLY = 0.9  # a plan taken so far is fixed at once
SHARE = 8
EASY = 150  # so many patterns are no trouble for the solver
FEWEST_PLANS = 4  # it chooses among more where there is a plan to so many patterns; else the boards alone are hard
NEAR = 0.0002  # the choice among the plans at hand stops so near to the best of them


@dataclass(frozen=True, slots=True)
class Recut:
    """What the boards of some plans really cost, joints included, and their patterns. [cents]"""

    cost: int
    columns: tuple[Column, ...] = ()


@dataclass(slots=True)
class Joining:
    """A search for joints and boards.

    Attributes:
        work: items and boards.
        stacks: runs to be joined.
        recut: boards of some plans, cut at their least; None where they find no boards.
        effort: how hard to try.
        cost: of the best plan so far. [cents]
        joints: how many it has.
        plans: of the best plan; None while the plan to begin with is the best.
        bound: below which no plan lies. [cents]
    """

    work: Work
    stacks: Sequence[Stack]
    recut: Callable[[Plans], Recut | None]
    effort: Effort
    cost: int
    joints: int
    plans: Plans | None = None
    bound: int = 0
    sums: Coins = field(init=False)
    _master: JointMaster = field(init=False)

    def __post_init__(self) -> None:
        """Set up the master program."""
        joints = {path.joint_cents for stack in self.stacks for path in stack.paths}
        limits = (*self.work.limits, *(None for _ in joints))
        self.sums = coins((*self.work.cents, *joints), limits, self.cost)
        self._master = JointMaster(self.work, self.stacks, self.cost)

    def search(self, patterns: Iterable[Column], plans: Iterable[Plan]) -> None:
        """Look for something cheaper than the plan at hand, of which these are the patterns and plans."""
        master = self._master
        master.take(column for column in patterns if self.work.used(column) <= self.work.holds[column.stock])
        master.take_plans(plans)
        for stage in (self._dive, self._branch, self._list, self._pool, self._dive_slowly):
            optimum = self._converged()
            if optimum is None or self.bound >= self.cost:
                return
            stage(optimum)
        self._converged()

    def _converged(self) -> Optimum | None:
        optimum = self._master.converge(self._rounds)
        raised = self.sums.at_least(self._master.bound)
        self.bound = max(self.bound, self.cost if raised is None else min(raised, self.cost))
        return optimum

    def _try(self, plans: Plans | None) -> None:
        found = None if plans is None else self.recut(plans)
        if found is None:
            return
        self._master.take(found.columns)
        joints = sum(plan.joint_count for plan in plans or ())
        if (found.cost, joints) < (self.cost, self.joints):
            self.cost, self.joints, self.plans = found.cost, joints, plans

    def _pool(self, optimum: Optimum) -> None:
        """The best choice of the plans and patterns at hand, of those that can be part of something better."""
        if len(self.stacks) > self.effort.joint_pool_stacks:
            return
        of_patterns, of_plans = self._master.slack(optimum)
        patterns = self._near(of_patterns, self.effort.joint_patterns)
        plans = self._near(of_plans, self.effort.joint_plans)
        if len(patterns) > EASY and FEWEST_PLANS * len(plans) < len(patterns):
            return
        if self._entries(patterns, plans) > self.effort.joint_entries:
            return
        self._try(best_choice(self._master, patterns, plans, self.effort.joint_nodes, self.bound))

    def _near(self, costs: Sequence[float], most: int) -> list[int]:
        gap = self.cost - float(self._master.bound)
        near = sorted((cost, place) for place, cost in enumerate(costs) if cost <= gap)
        return sorted(place for _, place in near[:most])

    def _entries(self, patterns: Iterable[int], plans: Iterable[int]) -> int:
        """Entries of the program over some patterns and plans: the solver's time goes by them."""
        master = self._master
        of_patterns = sum(len(master.patterns[place].counts) + 1 for place in patterns)
        return of_patterns + sum(len(set(master.plan_items(master.plans[place]))) + 2 for place in plans)

    def _dive(self, _optimum: Optimum) -> None:
        self._try(dived(self._master, self.effort.joint_dive_rounds, SHARE))

    def _dive_slowly(self, _optimum: Optimum) -> None:
        """Once more, with all that was found since and in smaller steps."""
        self._try(dived(self._master, self.effort.joint_dive_rounds, 2 * SHARE))

    def _branch(self, _optimum: Optimum) -> None:
        """Branch on the numbers of boards and joints, where the stacks are few."""
        if len(self.stacks) > self.effort.joint_branch_stacks:
            return
        tree = JointTree(self._master, self.sums, self._rounds, self.cost, self.bound, self._recut_in_box)
        tree.search(self._branches())
        self.bound = max(self.bound, min(tree.bound, self.cost))

    def _list(self, _optimum: Optimum) -> None:
        """Take all plans that can be part of something better, and try the likeliest choices, where they are few."""
        if len(self.stacks) > self.effort.joint_branch_stacks:
            return
        listed = self._master.listed(self.cost, self.effort.joint_listed)
        if listed is None:
            return
        self._master.take_plans(plan for some in listed for _, plan in some)
        if prod(len(some) for some in listed) <= self.effort.joint_listed:
            likeliest = sorted(product(*listed), key=lambda choice: sum(more for more, _ in choice))
            for choice in likeliest[: min(self.effort.joint_tries, TRY_WORK // (sum(self.work.demands) + 1))]:
                self._try(tuple(plan for _, plan in choice))

    def _branches(self) -> int:
        """Nodes of the tree: the fewer, the more a node takes; none where that leaves but a few."""
        nodes = NODE_WORK // self._size
        return min(self.effort.joint_branches, nodes) if nodes >= FEW_NODES else 0

    @property
    def _size(self) -> int:
        """About what one round of pricing takes."""
        arcs = sum(len(path.arcs) for stack in self.stacks for path in stack.paths)
        return len(self.work.sizes) + arcs // ARCS_AN_ITEM

    @property
    def _rounds(self) -> int:
        """Pricing rounds: fewer where one takes long."""
        return min(self.effort.joint_rounds, max(ROUND_WORK // self._size, FEW_ROUNDS))

    def _recut_in_box(self, optimum: Optimum) -> int:
        """The best choice within the box, cut; what the best plan costs now. [cents]"""
        before = self.cost
        self._pool(optimum)
        if self.cost == before:
            self._try(dived(self._master, self.effort.joint_dive_rounds, SHARE))
        return self.cost


def dived(master: JointMaster, rounds: int, share: int) -> Plans | None:
    """Plans of all stacks, fixed a few at a time, with new columns in between; None where that comes to no end.

    Args:
        master: converged; it is left as it was.
        rounds: pricing rounds after each step.
        share: one in so many of the stacks left is fixed in a step where none is nearly decided.
    """
    bound = master.bound
    fixed: dict[int, int] = {}
    try:
        while len(fixed) < len(master.stacks):
            optimum = master.converge(rounds)
            if optimum is None:
                return None
            for place in _surest(master, master.plan_usage(optimum), fixed, share):
                fixed[master.plans[place].stack] = place
                master.choose(place)
        return tuple(master.plans[fixed[stack]] for stack in sorted(fixed))
    finally:
        for place in fixed.values():
            master.choose(place, is_chosen=False)
        master.bound = bound


def _surest(master: JointMaster, usage: Sequence[float], fixed: dict[int, int], share: int) -> list[int]:
    """The plan taken furthest of each stack: all that are nearly whole, or else some of them."""
    best: dict[int, tuple[float, int]] = {}
    for place, value in enumerate(usage):
        stack = master.plans[place].stack
        if stack not in fixed and value > best.get(stack, (0.0, 0))[0] + 1e-9:
            best[stack] = value, place
    order = sorted(best.values(), key=lambda one: (-one[0], one[1]))
    sure = [place for value, place in order if value >= NEARLY]
    return sure or [place for _, place in order[: max(len(order) // share, 1)]]


def best_choice(
    master: JointMaster, patterns: Sequence[int], plans: Sequence[int], nodes: int, target: int
) -> Plans | None:
    """The cheapest choice among some patterns and plans, as far as the nodes go; None when none was found.

    Args:
        master: patterns and plans.
        patterns: places of the patterns that may be used.
        plans: places of the plans that may be taken.
        nodes: the most branch-and-bound nodes.
        target: a cost known to be the least. [cents]
    """
    work = master.work
    chosen = [master.plans[place] for place in plans]
    needed = {item for plan in chosen for item in master.plan_items(plan)}
    needed |= {item for item, demand in enumerate(work.demands) if demand}
    rows = _Rows(work, needed)
    program = IntegerProgram(*rows.bounds(master))
    for plan in chosen:
        program.add(float(master.plan_cost(plan)), rows.plan(master, plan), 1.0)
    for larger, smaller in rows.exchanges():
        program.add(0.0, ((larger, -1.0), (smaller, 1.0)))
    for column in dict.fromkeys(rows.served(master.patterns[place]) for place in patterns):
        program.add(float(work.cents[column.stock]), rows.pattern(column))
    values = solved(program, nodes, None, target, NEAR).values
    if values is None:
        return None
    taken = [plan for plan, value in zip(chosen, values, strict=False) if value]
    return tuple(sorted(taken)) if [plan.stack for plan in sorted(taken)] == list(range(len(master.stacks))) else None


class _Rows:
    """Rows of the items that are needed, the others' pieces serving as the next shorter of them."""

    def __init__(self, work: Work, needed: set[int]) -> None:
        self.work = work
        self.items = sorted(needed)
        self.row_of = {item: row for row, item in enumerate(self.items)}
        self.part_of = {item: place for place, part in enumerate(work.parts) for item in part.items}
        self._serves: dict[int, int | None] = {}
        for part in work.parts:
            shorter: int | None = None
            for item in reversed(part.items):
                shorter = item if item in needed else shorter
                self._serves[item] = shorter

    def bounds(self, master: JointMaster) -> tuple[list[float], list[float]]:
        lower, upper = master.row_bounds()
        kept = [*self.items, *range(len(self.work.sizes), len(lower))]
        return [lower[row] for row in kept], [upper[row] for row in kept]

    def exchanges(self) -> list[tuple[int, int]]:
        return [
            (row, row + 1)
            for row, (one, two) in enumerate(pairwise(self.items))
            if self.part_of[one] == self.part_of[two]
        ]

    def served(self, column: Column) -> Column:
        counts: dict[int, int] = {}
        for item, count in column.counts:
            serves = self._serves[item]
            if serves is not None:
                counts[serves] = counts.get(serves, 0) + count
        return Column(column.stock, tuple(sorted(counts.items())))

    def pattern(self, column: Column) -> tuple[tuple[int, float], ...]:
        items = tuple((self.row_of[item], float(count)) for item, count in column.counts)
        return (*items, (len(self.items) + column.stock, 1.0))

    def plan(self, master: JointMaster, plan: Plan) -> tuple[tuple[int, float], ...]:
        taken: dict[int, float] = {}
        for item in master.plan_items(plan):
            taken[self.row_of[item]] = taken.get(self.row_of[item], 0.0) - 1.0
        row = len(self.items) + len(self.work.holds)
        return (*taken.items(), (row, float(plan.joint_count)), (row + 1 + plan.stack, 1.0))
