"""Branching on how many boards of each length are bought and how many joints are made.

What a plan costs depends on nothing else where all joints cost the same, so a node whose bound reaches the cost of the
plan at hand is closed, and one whose linear program takes whole numbers has only to find plans and patterns for them.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from service.estimate.cuts.engine.program import SLACK

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from service.estimate.cuts.engine.coins import Coins
    from service.estimate.cuts.engine.joint_master import JointMaster
    from service.estimate.cuts.engine.solver import Optimum

    Counts = tuple[int, ...]


class _Node(NamedTuple):
    """A box that may still hold something better: its bound in cents, an order, lowest and highest counts."""

    bound: int
    order: int
    least: Counts
    most: Counts


@dataclass(slots=True)
class JointTree:
    """The search; counts are those of the boards by length, and last that of the joints.

    Attributes:
        master: converged; its boxes are put back.
        sums: what boards and joints can cost together.
        rounds: pricing rounds of a node.
        cost: of the best plan so far. [cents]
        bound: what is proven when it ends. [cents]
        improve: looks for a plan within the box; answers what the best plan costs then. [cents]
    """

    master: JointMaster
    sums: Coins
    rounds: int
    cost: int
    bound: int
    improve: Callable[[Optimum], int]
    _order: int = 0

    def search(self, nodes: int) -> None:
        """Look into so many boxes, the lowest bound first, or until all are closed."""
        master = self.master
        least, most = (*master.least, master.fewest_joints), (*master.most, master.most_joints)
        heap = [_Node(self.bound, 0, least, most)]
        stuck: list[int] = []
        for _ in range(nodes):
            if not heap or heap[0].bound >= self.cost:
                break
            for child in list(self._opened(heapq.heappop(heap), stuck)):
                heapq.heappush(heap, child)
        self._box(least, most)
        self.bound = min([self.cost, *stuck, *(node.bound for node in heap)])

    def _box(self, least: Counts, most: Counts) -> None:
        self.master.box(least[:-1], most[:-1])
        self.master.joint_box(least[-1], most[-1])

    def _opened(self, node: _Node, stuck: list[int]) -> Iterator[_Node]:
        self._box(node.least, node.most)
        optimum = self.master.converge(self.rounds)
        raised = self.sums.at_least(self.master.bound)
        bound = self.cost if raised is None else max(node.bound, raised)
        if bound >= self.cost:
            return
        if optimum is None or self.master.uncut(optimum):
            stuck.append(bound)
            return
        counts = self.master.counts(optimum)
        split = self._split_at(node, counts)
        if split is None:
            self.cost = self.improve(optimum)
            split = _around(node, counts)
        if split is None:
            stuck.append(bound)
        elif bound < self.cost:
            yield from self._children(node, bound, *split)

    def _split_at(self, node: _Node, counts: Sequence[float]) -> tuple[int, int] | None:
        """The count that is the least decided and where to split it; dear ones decide more. None: all are whole."""
        weights = (*self.master.work.cents, self.master.joint_cents)
        parts = [min(count % 1.0, 1.0 - count % 1.0) for count in counts]
        open_ = [place for place, part in enumerate(parts) if part > SLACK and node.least[place] < node.most[place]]
        if not open_:
            return None
        place = max(open_, key=lambda place: (parts[place] * (weights[place] + 1), -place))
        return place, int(counts[place])

    def _children(self, node: _Node, bound: int, place: int, count: int) -> Iterator[_Node]:
        below = (*node.most[:place], count, *node.most[place + 1 :])
        above = (*node.least[:place], count + 1, *node.least[place + 1 :])
        for least, most in ((node.least, below), (above, node.most)):
            if least[place] <= most[place]:
                self._order += 1
                yield _Node(bound, self._order, least, most)


def _around(node: _Node, counts: Sequence[float]) -> tuple[int, int] | None:
    """Where whole counts hold no plan: split off the first that is still free; None when none is."""
    for place, (low, high) in enumerate(zip(node.least, node.most, strict=True)):
        if low < high:
            whole = round(counts[place])
            return place, whole if whole < high else max(whole - 1, low)
    return None
