"""Least cost of boards for given pieces, stage by stage: every stage leaves a plan and an honest bound."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.branching import Tree
from service.estimate.cuts.engine.census import census
from service.estimate.cuts.engine.coins import coins
from service.estimate.cuts.engine.dive import dived
from service.estimate.cuts.engine.flow import best_flow, flow_size
from service.estimate.cuts.engine.master import SCALE, Master
from service.estimate.cuts.engine.pool import best_of, best_of_pool, sound, with_fewest_boards

if TYPE_CHECKING:
    from service.estimate.cuts.engine.work import Column, Effort, Work


@dataclass(frozen=True, slots=True)
class Answer:
    """A plan, what it costs, and a bound below which no plan lies. [cents]

    `is_exact` is False where the bound rests on the solver's word that nothing better exists.
    """

    boards: tuple[Column, ...]
    cost: int
    bound: int
    is_exact: bool = True


def least(work: Work, start: list[Column], effort: Effort) -> Answer | None:
    """The cheapest boards for some pieces; None when no plan was found.

    Args:
        work: of one profile.
        start: a plan to begin with, which is also the answer where nothing better is found; one that is none (too
            few boards) only gives its patterns.
        effort: how hard to try.
    """
    search = _Search(work, effort, start)
    for stage in (search.generate, search.dive, search.pick, search.branch, search.count, search.finish):
        if search.bound >= search.cost:
            break
        stage()
    if not search.has_plan:
        return None
    search.break_ties()
    return Answer(tuple(search.plan), search.cost, search.bound, search.is_exact)


class _Search:
    def __init__(self, work: Work, effort: Effort, start: list[Column]) -> None:
        self.work, self.effort = work, effort
        self.has_plan = work.is_plan(start)
        self.plan = start if self.has_plan else []
        self.cost = work.cost(start) if self.has_plan else sum(work.demands) * max(work.cents) + 1
        self.bound = 0
        self.is_exact = True
        self._root: tuple[Fraction, list[int]] = Fraction(0), []
        self.sums = coins(work.cents, work.limits, self.cost)
        self.master = Master(work, self.cost)
        self.master.take(column for column in start if work.used(column) <= work.holds[column.stock])

    def _improve(self, columns: list[Column] | None) -> None:
        found = sound(self.work, columns)
        if found is not None and (self.work.cost(found), len(found)) < (self.cost, len(self.plan)):
            self.has_plan = True
            self.plan, self.cost = found, self.work.cost(found)
            self.master.take(found)

    def generate(self) -> None:
        """Column generation; its bound, raised to what boards can cost."""
        optimum = self.master.converge(self.effort.rounds)
        if optimum is None or self.master.uncut(optimum):
            self.bound = self.cost
            return
        raised = self.sums.at_least(self.master.bound)
        self.bound = self.cost if raised is None else min(raised, self.cost)
        self._root = self.master.bound, self.master.prices

    def dive(self) -> None:
        """Two dives, the second only where the first leaves a gap."""
        self._improve(dived(self.master, one_by_one=False))
        if self.bound < self.cost:
            self._improve(dived(self.master, one_by_one=True))

    def pick(self) -> None:
        """The best plan of the patterns at hand."""
        if not self.effort.nodes:
            return
        self._improve(best_of_pool(self.master, self.effort.nodes, self.plan or None, self.bound))

    def branch(self) -> None:
        """Branch on the number of boards of each length."""
        tree = Tree(self.master, self.sums, self.effort, self.plan, self.cost, self.bound)
        tree.search()
        self.has_plan = bool(tree.plan)
        self.plan, self.cost, self.bound = tree.plan, tree.cost, tree.bound

    def count(self) -> None:
        """The integer program over all patterns that a cheaper plan could use, where they are few."""
        bound, prices = self._root
        gap = math.ceil((self.cost - self.sums.step - bound) * SCALE)
        patterns = census(self.work, prices, SCALE, gap, self.effort.patterns) if prices and gap >= 0 else None
        if patterns is None:
            return
        columns, is_complete = best_of(self.work, patterns, self.effort.census_nodes, self.bound)
        self._improve(columns)
        if is_complete and self.bound < self.cost:
            self.bound, self.is_exact = self.cost, False

    def finish(self) -> None:
        """The arc-flow model, where it is small."""
        starts = flow_size(self.work, self.effort.arcs)
        if starts is None:
            return
        columns, is_complete = best_flow(self.work, starts, self.effort.flow_nodes, self.cost)
        self._improve(columns)
        if is_complete:
            self.bound, self.is_exact = self.cost, False

    def break_ties(self) -> None:
        """Fewer boards at the same cost."""
        if len(self.plan) > self._fewest() and len(self.master.patterns) <= self.effort.tie_columns:
            found = sound(self.work, with_fewest_boards(self.master, self.plan, self.effort.nodes))
            if found is not None and self.work.cost(found) == self.cost and len(found) < len(self.plan):
                self.plan = found

    def _fewest(self) -> int:
        """No plan has fewer boards: as many as the sizes fill of the longest."""
        total = sum(size * demand for size, demand in zip(self.work.sizes, self.work.demands, strict=True))
        return -(-total // max(self.work.holds))
