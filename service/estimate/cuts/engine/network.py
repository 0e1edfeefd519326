"""Runs as networks, and the cheapest way to join all runs of one stack.

Run r is a path from node 0, its left end, to its last node, its right end; the nodes between are the places where a
joint may fall, an arc (u, v) is the piece between two of them. A plan of a stack is one path for each of its runs, no
two joints of different layers nearer than the stagger. For given prices of the pieces the cheapest plan is found by
building plans from left to right, the shortest paths of the runs by themselves telling what is still to come at the
least (best-first search with a consistent estimate: Hart, Nilsson, Raphael 1968, from memory).
"""

from __future__ import annotations

import heapq
from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby, islice, pairwise
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    Nodes = tuple[int, ...]

MOST_LOOKS = 4_000
NEVER = 1 << 200


class Arc(NamedTuple):
    """A piece of a run, between two of its nodes."""

    tail: int
    head: int
    item: int


@dataclass(frozen=True)
class Path:
    """One run.

    Attributes:
        at: where each node lies on the wall, in whole units of its stack, rising.
        arcs: in rising order of tail and head, all of them on some path.
        layer: joints of one layer may stand side by side.
        joint_cents: what one joint costs.
    """

    at: tuple[int, ...]
    arcs: tuple[Arc, ...]
    layer: int
    joint_cents: int

    @cached_property
    def ahead_of(self) -> dict[int, tuple[tuple[int, int], ...]]:
        """Heads and items of the pieces that begin at each node."""
        return dict(self.ahead)

    @cached_property
    def last(self) -> int:
        """The right end's node."""
        return len(self.at) - 1

    @cached_property
    def item_of(self) -> dict[tuple[int, int], int]:
        """Item of the piece between two nodes."""
        return {(arc.tail, arc.head): arc.item for arc in self.arcs}

    @cached_property
    def ahead(self) -> tuple[tuple[int, tuple[tuple[int, int], ...]], ...]:
        """Each node with the heads and items of its pieces."""
        return tuple(
            (tail, tuple((arc.head, arc.item) for arc in arcs))
            for tail, arcs in groupby(self.arcs, key=lambda arc: arc.tail)
        )

    def items(self, joints: Nodes) -> Iterator[int]:
        """Items of the pieces between some joints."""
        stops = (0, *joints, self.last)
        return (self.item_of[span] for span in pairwise(stops))

    def near(self, at: int, gap: int) -> int:
        """Nodes nearer than a gap to a place on the wall, as bits."""
        first, stop = bisect_right(self.at, at - gap), bisect_left(self.at, at + gap)
        return ((1 << stop) - (1 << first)) & self._inner

    @cached_property
    def _inner(self) -> int:
        return (1 << self.last) - 2


@dataclass(frozen=True)
class Stack:
    """Runs whose joints keep a gap where their layers differ."""

    paths: tuple[Path, ...]
    gap: int

    def keeps_apart(self, joints: Sequence[Nodes]) -> bool:
        """True when no two joints stand too near."""
        stops = sorted(
            (path.at[node], path.layer) for path, nodes in zip(self.paths, joints, strict=True) for node in nodes
        )
        for first, (at, layer) in enumerate(stops):
            for there, other in stops[first + 1 :]:
                if there - at >= self.gap:
                    break
                if other != layer:
                    return False
        return True

    def joints_cost(self, joints: Sequence[Nodes]) -> int:
        """Labor of some joints. [cents]"""
        return sum(path.joint_cents * len(nodes) for path, nodes in zip(self.paths, joints, strict=True))

    def items(self, joints: Sequence[Nodes]) -> Iterator[int]:
        """Items of all pieces."""
        for path, nodes in zip(self.paths, joints, strict=True):
            yield from path.items(nodes)


class Plan(NamedTuple):
    """The joints of one stack: its index, and the joint nodes of each of its paths."""

    stack: int
    joints: tuple[Nodes, ...]

    @property
    def joint_count(self) -> int:
        """How many joints there are."""
        return sum(len(nodes) for nodes in self.joints)


class _Way(NamedTuple):
    """Cheapest cost from each node of a path to its end, and the node that comes next."""

    rest: list[int]
    following: list[int]


class _Look(NamedTuple):
    """A beginning of a plan: what it comes to at the least, an order, the nodes reached, how it was reached."""

    least: int
    order: int
    reached: Nodes
    before: _Look | None


def cheapest(
    stack: Stack, prices: Sequence[int], toll: int, scale: int, ceiling: int, looks: int = MOST_LOOKS
) -> tuple[int, tuple[Nodes, ...] | None]:
    """What every plan of a stack costs at least, as far as a ceiling, and the cheapest plan found below it.

    Args:
        stack: its runs.
        prices: whole price of each item.
        toll: added to the price of each joint.
        scale: units of the prices a cent.
        ceiling: plans that cost as much are not looked for.
        looks: beginnings that are looked at; the bound holds however few they are.

    Returns:
        Bound in units of the prices; the joints of each path, None when no plan was found.
    """
    tolls = [path.joint_cents * scale + toll for path in stack.paths]
    ways = [_way(path, prices, one) for path, one in zip(stack.paths, tolls, strict=True)]
    alone = tuple(_followed(path, way) for path, way in zip(stack.paths, ways, strict=True))
    least = sum(way.rest[0] for way in ways)
    if least >= ceiling or stack.keeps_apart(alone):
        return least, None if least >= ceiling else alone
    return _Search(stack, prices, tolls, ways).plan(ceiling, looks)


def all_below(
    stack: Stack, prices: Sequence[int], toll: int, scale: int, margin: int, most: int
) -> list[tuple[int, tuple[Nodes, ...]]] | None:
    """Every plan of a stack that costs less than the cheapest and a margin, with its cost above the cheapest.

    Args:
        stack, prices, toll, scale: see `cheapest`.
        margin: in units of the prices.
        most: how many plans are allowed; None is returned where there are more.
    """
    tolls = [path.joint_cents * scale + toll for path in stack.paths]
    ways = [_way(path, prices, one) for path, one in zip(stack.paths, tolls, strict=True)]
    search = _Search(stack, prices, tolls, ways)
    least, plan = search.plan(NEVER, MOST_LOOKS)
    if plan is None:
        return None
    found = [(cost - least, joints) for cost, joints in islice(search.plans(least + margin), most + 1)]
    return found if len(found) <= most else None


def _way(path: Path, prices: Sequence[int], toll: int) -> _Way:
    """Backward over the nodes; the toll of a joint is paid by the piece that arrives at it."""
    rest, following = [NEVER] * len(path.at), [0] * len(path.at)
    arriving = [NEVER] * len(path.at)
    rest[-1] = arriving[-1] = 0
    for tail, ahead in reversed(path.ahead):
        best, then = NEVER, 0
        for head, item in ahead:
            cost = arriving[head] + prices[item]
            if cost < best:
                best, then = cost, head
        rest[tail], following[tail] = best, then
        arriving[tail] = best + toll
    return _Way(rest, following)


def _followed(path: Path, way: _Way) -> Nodes:
    nodes = []
    node = way.following[0]
    while 0 < node < path.last:
        nodes.append(node)
        node = way.following[node]
    return tuple(nodes)


class _Search:
    """Plans of a stack built from left to right, the one that can still come out cheapest first.

    The path whose last joint lies furthest left goes on. A new joint then has to keep the gap only to the last joint
    of each other layer: all earlier ones lie left of the joint it follows, which kept the gap to them.
    """

    def __init__(self, stack: Stack, prices: Sequence[int], tolls: Sequence[int], ways: Sequence[_Way]) -> None:
        self.stack, self.prices, self.tolls, self.ways = stack, prices, tolls, ways
        self.ahead = [path.ahead_of for path in stack.paths]
        self.ends = tuple(path.last for path in stack.paths)
        self.at = [path.at for path in stack.paths]

    def plan(self, ceiling: int, looks: int) -> tuple[int, tuple[Nodes, ...] | None]:
        """The bound and the cheapest plan found."""
        start = _Look(sum(way.rest[0] for way in self.ways), 0, (0,) * len(self.ways), None)
        heap, known, order = [start], {start.reached: start.least}, 0
        while heap:
            look = heapq.heappop(heap)
            if look.reached == self.ends:
                return look.least, self._joints(look)
            if order > looks:
                return look.least, self._hurried(look)
            for further in self._further(look, ceiling, order):
                order += 1
                if further.least < known.get(further.reached, NEVER):
                    known[further.reached] = further.least
                    heapq.heappush(heap, further)
        return ceiling, None

    def plans(self, ceiling: int) -> Iterator[tuple[int, tuple[Nodes, ...]]]:
        """Every plan below a ceiling, in no order; at most so many steps are made."""
        left = [_Look(sum(way.rest[0] for way in self.ways), 0, (0,) * len(self.ways), None)]
        for _ in range(MOST_LOOKS):
            if not left:
                return
            look = left.pop()
            if look.reached == self.ends:
                yield look.least, self._joints(look)
            else:
                left += self._further(look, ceiling, 0)

    def _next(self, reached: Nodes) -> int:
        """The path that goes on: one not begun, or that with the leftmost joint."""
        best, then = NEVER, 0
        for place, (node, end, at) in enumerate(zip(reached, self.ends, self.at, strict=True)):
            if node != end:
                here = at[node] if node else -NEVER
                if here < best:
                    best, then = here, place
        return then

    def _further(self, look: _Look, ceiling: int, order: int) -> Iterator[_Look]:
        """What may follow a beginning below a ceiling."""
        place = self._next(look.reached)
        node, rest, toll = look.reached[place], self.ways[place].rest, self.tolls[place]
        bars, end = self._bars(place, look.reached), self.ends[place]
        before, after = look.reached[:place], look.reached[place + 1 :]
        base = look.least - rest[node]
        for head, item in self.ahead[place][node]:
            least = base + rest[head] + self.prices[item] + (toll if head != end else 0)
            if least < ceiling and not bars >> head & 1:
                order += 1
                yield _Look(least, -order, (*before, head, *after), look)

    def _bars(self, place: int, reached: Nodes) -> int:
        """Nodes of a path too near to the last joints of other layers, as bits."""
        paths, bars = self.stack.paths, 0
        for other, node in zip(paths, reached, strict=True):
            if other.layer != paths[place].layer and 0 < node < other.last:
                bars |= paths[place].near(other.at[node], self.stack.gap)
        return bars

    def _hurried(self, look: _Look) -> tuple[Nodes, ...] | None:
        """The plan that follows when every step takes what looks cheapest; None when that way ends."""
        here: _Look | None = look
        while here is not None and here.reached != self.ends:
            here = min(self._further(here, NEVER, 0), default=None)
        return None if here is None else self._joints(here)

    def _joints(self, look: _Look) -> tuple[Nodes, ...]:
        found: list[set[int]] = [set() for _ in look.reached]
        here: _Look | None = look
        while here is not None:
            for nodes, node in zip(found, here.reached, strict=True):
                nodes.add(node)
            here = here.before
        return tuple(tuple(sorted(nodes - {0, path.last})) for nodes, path in zip(found, self.stack.paths, strict=True))
