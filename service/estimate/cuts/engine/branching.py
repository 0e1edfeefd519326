"""Branching on how many boards of each length are bought.

The cost depends on nothing else, so a node whose bound reaches the cost of the plan at hand is closed, and one whose
linear program buys whole numbers of boards has only to find patterns for them.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from service.estimate.cuts.engine.master import SLACK
from service.estimate.cuts.engine.pool import best_of_pool, sound

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from service.estimate.cuts.engine.coins import Coins
    from service.estimate.cuts.engine.master import Master
    from service.estimate.cuts.engine.solver import Optimum
    from service.estimate.cuts.engine.work import Column, Effort

    Box = tuple[tuple[int, ...], tuple[int, ...]]


class _Node(NamedTuple):
    """A box that may still hold something better: its bound in cents, an order, lowest and highest counts."""

    bound: int
    order: int
    box: Box


@dataclass(slots=True)
class Tree:
    """The search. `plan` is the best plan so far; `bound` what is proven when it ends. [cents]"""

    master: Master
    sums: Coins
    effort: Effort
    plan: list[Column]
    cost: int
    bound: int
    _order: int = 0

    def search(self) -> None:
        """Look into boxes, the lowest bound first, until all are closed or the nodes are spent."""
        everything = (tuple(self.master.least), tuple(self.master.most))
        heap = [_Node(self.bound, 0, everything)]
        stuck: list[int] = []
        for _ in range(self.effort.branches):
            if not heap or heap[0].bound >= self.cost:
                break
            node = heapq.heappop(heap)
            children = list(self._opened(node, stuck))
            for child in children:
                heapq.heappush(heap, child)
        self.master.box(*everything)
        self.bound = min([self.cost, *stuck, *(node.bound for node in heap)])

    def _opened(self, node: _Node, stuck: list[int]) -> Iterator[_Node]:
        self.master.box(*node.box)
        optimum = self.master.converge(self.effort.rounds)
        bound = node.bound
        raised = self.sums.at_least(self.master.bound)
        bound = self.cost if raised is None else max(bound, raised)
        if bound >= self.cost:
            return
        if optimum is None or self.master.uncut(optimum):
            stuck.append(bound)
            return
        counts = self._counts(optimum)
        fractional = [stock for stock, count in enumerate(counts) if abs(count - round(count)) > SLACK]
        if fractional:
            yield from self._split(node.box, bound, self._widest(counts, fractional))
            return
        self._try_pool()
        if bound >= self.cost:
            return
        free = [stock for stock, (low, high) in enumerate(zip(*node.box, strict=True)) if low < high]
        if not free:
            stuck.append(bound)
            return
        whole = round(counts[free[0]])
        low, high = node.box[0][free[0]], node.box[1][free[0]]
        yield from self._split(node.box, bound, (free[0], whole if whole < high else max(whole - 1, low)))

    def _counts(self, optimum: Optimum) -> list[float]:
        counts = [0.0] * len(self.master.work.holds)
        for pattern, value in zip(self.master.patterns, self.master.usage(optimum), strict=False):
            counts[pattern.stock] += value
        return counts

    def _widest(self, counts: Sequence[float], fractional: Sequence[int]) -> tuple[int, int]:
        """The board whose number is the least decided, and where to split it; dear boards decide more."""
        cents = self.master.work.cents

        def weight(stock: int) -> tuple[float, int]:
            part = counts[stock] - int(counts[stock])
            return min(part, 1 - part) * (cents[stock] + 1), -stock

        stock = max(fractional, key=weight)
        return stock, int(counts[stock])

    def _split(self, box: Box, bound: int, at: tuple[int, int]) -> Iterator[_Node]:
        (least, most), (stock, count) = box, at
        below = (*most[:stock], count, *most[stock + 1 :])
        above = (*least[:stock], count + 1, *least[stock + 1 :])
        for child in ((least, below), (above, most)):
            if child[0][stock] <= child[1][stock]:
                self._order += 1
                yield _Node(bound, self._order, child)

    def _try_pool(self) -> None:
        found = sound(self.master.work, best_of_pool(self.master, self.effort.nodes))
        if found is not None and self.master.work.cost(found) < self.cost:
            self.plan, self.cost = found, self.master.work.cost(found)
            self.master.take(found)
