"""Branching on how many boards of each length are bought.

Boxes of such numbers are split until the cheapest choice in one is whole. Patterns are then generated for just these
boards: either prices show that they cannot do, which rules out this choice and others with it, or a plan is looked
for.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple, Protocol

from service.estimate.cuts.engine.choices import Box, Choices, split_at
from service.estimate.cuts.engine.program import Left

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from service.estimate.cuts.engine.coins import Coins
    from service.estimate.cuts.engine.listing import Points
    from service.estimate.cuts.engine.program import Program, Proof

    Point = tuple[int, ...]

HALF = 0.5


class _Node(NamedTuple):
    """A box that may still hold something better: its bound in cents, an order, the box."""

    bound: int
    order: int
    box: Box
    points: Points | None


class Best(Protocol):
    """The best plan so far."""

    cost: int

    def settle(self, left: Left) -> bool:
        """Look for a plan of just these boards; True when there is one, or none at all as the solver says."""


@dataclass(slots=True)
class Branching:
    """The search.

    Attributes:
        program: what it asks for is put back.
        choices: what is proven about the number of boards.
        sums: what boards can cost.
        best: the best plan, what it costs in cents, and a way to find a better one.
        bound: what is proven. [cents]
        rounds: the most pricing rounds for one choice.
        open_costs: of the choices that could neither be met nor ruled out. [cents]
        doubted: costs of the choices that are out by the solver's word alone. [cents]
    """

    program: Program
    choices: Choices
    sums: Coins
    best: Best
    bound: int
    rounds: int
    open_costs: list[int] = field(default_factory=list)
    doubted: list[int] = field(default_factory=list)
    tried: int = 0
    _heap: list[_Node] = field(default_factory=list)
    _order: int = 0
    _next_list: int = 0
    _seen: set[Point] = field(default_factory=set)

    def search(self, nodes: int, visits: int) -> None:
        """Look into boxes, the lowest bound first, until all are closed, or the nodes or visits are spent.

        Args:
            nodes: the most boxes.
            visits: the most choices of boards for which patterns are generated.
        """
        self._push(self.bound, self.choices.box)
        while self._heap and self._heap[0].bound < self.best.cost and nodes > 0 and self.tried < visits:
            if self.tried >= self._next_list and self._list():
                continue
            node = heapq.heappop(self._heap)
            if node.points is not None:
                self._next_point(node, node.points)
                continue
            nodes -= self._followed(node, nodes)
        self.program.ask(self.program.whole)
        self.bound = min([self.best.cost, *(node.bound for node in self._heap), *self.open_costs])

    def _followed(self, node: _Node, most: int) -> int:
        """Look into a box, then into the better part of it, and so on, a number of times at most; how many there were."""
        here: _Node | None = node
        done = 0
        while here is not None and done < most:
            done += 1
            here = self._opened(here)
        if here is not None:
            self._push(here.bound, here.box)
        return done

    def _push(self, bound: int, box: Box, points: Points | None = None) -> None:
        self._order += 1
        heapq.heappush(self._heap, _Node(bound, -self._order, box, points))

    def _list(self) -> bool:
        """Put all choices that are left in place of the boxes, where they are few; the next try is put off if not."""
        first = self._heap[0]
        if first.points is not None or not self.choices.proofs:
            return False
        points = self.choices.listed(self.choices.box, first.bound, self.best.cost - 1)
        self._next_list = 2 * self.tried + 1
        if points is None:
            return False
        self._heap.clear()
        self._push_points(self.choices.box, points)
        return True

    def _push_points(self, box: Box, points: Points) -> None:
        if len(points):
            self._push(self._cost(points[0].tolist()), box, points)

    def _next_point(self, node: _Node, points: Points) -> None:
        points = self.choices.allowed(points)
        if not len(points):
            return
        cost = self._cost(points[0].tolist())
        if cost > node.bound:
            self._push(cost, node.box, points)
            return
        point = tuple(points[0].tolist())
        if point not in self._seen and not self.choices.rules_out(point):
            self._try(point, cost)
        self._push_points(node.box, points[1:])

    def _cost(self, point: Sequence[int]) -> int:
        return sum(cents * count for cents, count in zip(self.program.work.cents, point, strict=True))

    def _opened(self, node: _Node) -> _Node | None:
        """Look into a box; the part of it to look into next, all else is kept for later."""
        choice = self.choices.cheapest(node.box, self.best.cost - 1)
        if choice is None:
            return None
        bound = max(node.bound, self._raised(choice.bound))
        if bound >= self.best.cost:
            return None
        at = split_at(choice, self.choices.boards)
        if at is None:
            point = tuple(map(round, choice.values[: self.choices.boards]))
            cost = self._cost(point)
            if cost < self.best.cost and point not in self._seen and not self.choices.rules_out(point):
                self._try(point, cost)
            for part in _around(choice.box, point):
                self._push(bound, part)
            return None
        parts = list(choice.box.halves(*at))
        if choice.values[at[0]] - at[1] > HALF:
            parts.reverse()
        for part in parts[1:]:
            self._push(bound, part)
        return _Node(bound, 0, parts[0], None)

    def _try(self, point: Point, cost: int) -> None:
        """Look into one number of boards of each length."""
        self.tried += 1
        self._seen.add(point)
        proof = self._proof_against(point, cost)
        if proof is not None:
            self.choices.add(proof)
            return
        is_settled = self.best.settle(Left(self.program.whole.demands, point, point))
        if self.best.cost > cost:
            (self.doubted if is_settled else self.open_costs).append(cost)

    def _proof_against(self, point: Point, cost: int) -> Proof | None:
        """Prices that prove that these boards cannot do."""
        self.program.ask(Left(self.program.whole.demands, point, point))
        self.program.converge(self.rounds, lambda bound, _: bound > cost)
        return self.program.trail[-1] if self.program.bound > cost else None

    def _raised(self, cents: int) -> int:
        raised = self.sums.at_least(cents)
        return self.best.cost if raised is None else raised


def _around(box: Box, point: Point) -> Iterator[Box]:
    """The rest of a box without one point."""
    for place, count in enumerate(point):
        for part in box.halves(place, count - 1):
            if part.most[place] < count:
                yield part
            else:
                box = part
        for part in box.halves(place, count):
            if part.least[place] > count:
                yield part
            else:
                box = part
