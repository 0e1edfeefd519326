"""Least cost of boards for given pieces, stage by stage: every stage leaves a plan and an honest bound."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.branching import Branching
from service.estimate.cuts.engine.census import census, floor_of
from service.estimate.cuts.engine.choices import Choices
from service.estimate.cuts.engine.coins import coins
from service.estimate.cuts.engine.dive import Diver
from service.estimate.cuts.engine.pool import best_of, sound, with_fewest_boards
from service.estimate.cuts.engine.program import SLACK, Left, Program

if TYPE_CHECKING:
    from service.estimate.cuts.engine.work import Column, Effort, Work

PROOFS = 8
TIES = 6
FAR, FARTHER = (8, 1), (10, 2)  # how deep a series of dives tries other choices, and how many on one way down


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
    for stage in (search.generate, search.dive, search.branch, search.finish):
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
        self.sums = coins(work.cents, work.limits, self.cost)
        self.program = Program(work, self.cost)
        self.program.take(column for column in start if work.used(column) <= work.holds[column.stock])
        self.is_polished = False
        self.choices = Choices(work, self.program.whole.most)

    def _improve(self, columns: list[Column] | None) -> None:
        found = sound(self.work, columns)
        if found is not None and (self.work.cost(found), len(found)) < (self.cost, len(self.plan)):
            self.has_plan = True
            self.plan, self.cost = found, self.work.cost(found)
            self.program.take(found)

    def _raised(self, cents: Fraction) -> int:
        raised = self.sums.at_least(cents)
        return self.cost if raised is None else min(raised, self.cost)

    def _is_hopeless(self, cents: float) -> bool:
        """True for the cost of a program, less what it may be off, that is no less than that of the plan at hand."""
        return self._raised(Fraction(math.floor(cents - SLACK * (1 + cents)))) >= self.cost

    def generate(self) -> None:
        """Column generation; its bound, raised to what boards can cost."""
        self.program.converge(
            self.effort.rounds, lambda bound, cents: self._raised(bound) >= self._raised(Fraction(cents - SLACK))
        )
        self.bound = self._raised(self.program.bound)
        self._learn()

    def dive(self) -> None:
        """A dive without looking back."""
        self._dive(self.program.whole, (0, 0))

    def branch(self) -> None:
        """Branch on the number of boards of each length."""
        search = Branching(self.program, self.choices, self.sums, self, self.bound, self.effort.rounds)
        search.search(self.effort.boxes, self.effort.branches)
        self.bound = min(search.bound, self.cost)
        self.is_exact = all(cost >= self.bound for cost in search.doubted)

    def settle(self, left: Left) -> bool:
        """Look for a plan of just these boards; True when there is one, or none at all as the solver says."""
        before = self.cost
        if len(left.most) > 1:
            self._dive(left, FAR)
        else:
            self._dive_for(left.most)
        return self.cost < before or self._counted(left)

    def _dive_for(self, most: tuple[int, ...]) -> None:
        """Dives for so many boards of the only length; they prefer to do with fewer, which leads farther."""
        before, box = self.cost, self.program.whole._replace(most=most)
        self._dive(box, FAR)
        if self.cost == before:
            self._polish()
            self._dive(box, FARTHER)

    def _dive(self, left: Left, reach: tuple[int, int]) -> None:
        diver = Diver(self.program, self._is_hopeless, self.effort.steps)
        self._improve(diver.plan(left, *reach))

    def _counted(self, left: Left) -> bool:
        """The integer program over all patterns that a plan of just these boards could use; True when it is decided."""
        cost = sum(c * n for c, n in zip(self.work.cents, left.most, strict=True))
        return self._decided(left, cost)

    def _polish(self) -> None:
        """Once: all patterns that prices call for, and the bounds they prove."""
        if not self.is_polished:
            self.is_polished = True
            self.program.ask(self.program.whole)
            self.program.converge(self.effort.rounds, lambda _bound, _cents: False)
            self._learn()

    def _learn(self) -> None:
        for proof in self.program.trail[-PROOFS:]:
            self.choices.add(proof)

    def _decided(self, left: Left, limit: int) -> bool:
        """Choose among all patterns that a plan within a limit could use; True when a plan is found or there is none."""
        self._polish()
        floors = sorted(
            (floor_of(self.work, proof, left, limit) for proof in self.choices.proofs), key=lambda f: f.room
        )
        patterns = census(self.work, floors, self.effort.patterns)
        if patterns is None:
            return False
        before = self.cost
        most = self.program.whole._replace(most=left.most)
        columns, is_complete = best_of(self.work, patterns, most, self.effort.census_nodes, self.bound)
        self._improve(columns)
        return is_complete or self.cost < before

    def finish(self) -> None:
        """Whether anything cheaper is left at all, as the solver says."""
        if self.effort.patterns and self._decided(self.program.whole, self.cost - self.sums.step):
            self.bound, self.is_exact = self.cost, False

    def break_ties(self) -> None:
        """Fewer boards at the same cost."""
        if not self.effort.tie_columns:
            return
        points = self.choices.listed(self.choices.with_fewer(len(self.plan)), self.cost, self.cost)
        if points is None:
            self._take_fewer(self._fewest_of_pool() if self.sums.step > 1 else None)
            return
        for point in sorted(map(tuple, points.tolist()), key=sum)[:TIES]:
            if not self.choices.rules_out(point) and self._take_fewer(self._cut_from(point)):
                return

    def _take_fewer(self, columns: list[Column] | None) -> bool:
        found = sound(self.work, columns)
        if found is None or self.work.cost(found) > self.cost or len(found) >= len(self.plan):
            return False
        self.plan = found
        return True

    def _cut_from(self, boards: tuple[int, ...]) -> list[Column] | None:
        """A plan from so many boards of each length, at no higher cost than that of the plan at hand."""
        diver = Diver(self.program, lambda cents: cents > self.cost + SLACK * (1 + self.cost), self.effort.steps)
        return diver.plan(self.program.whole._replace(most=boards), 0, 0)

    def _fewest_of_pool(self) -> list[Column] | None:
        """The fewest boards that patterns at hand leave, as the solver says, where these are not too many."""
        if len(self.plan) <= self._fewest() or len(self.program.patterns) > self.effort.tie_columns:
            return None
        self.program.ask(self.program.whole)
        return with_fewest_boards(self.program, self.plan, self.effort.tie_nodes)

    def _fewest(self) -> int:
        """No plan has fewer boards: as many as the sizes fill of the longest."""
        total = sum(size * demand for size, demand in zip(self.work.sizes, self.work.demands, strict=True))
        return -(-total // max(self.work.holds))
