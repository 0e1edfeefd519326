"""What is to be cut, in whole numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple


class Column(NamedTuple):
    """A pattern: the board it is cut from, and (item, count) pairs in rising order of the items."""

    stock: int
    counts: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Part:
    """Items and boards that go together: one profile. Ranges of indexes of a `Work`."""

    items: range
    stocks: range


@dataclass(frozen=True, slots=True)
class Work:
    """Items and boards, profile after profile.

    Attributes:
        sizes: of each item, in units of the saw grid, a kerf included.
        demands: how many of each item are wanted at least.
        most: how many of each item one board may carry.
        holds: what each board holds, in the same units.
        cents: what each board costs.
        limits: how many there are of each board; None: no limit.
        parts: which items go with which boards.
    """

    sizes: tuple[int, ...]
    demands: tuple[int, ...]
    most: tuple[int, ...]
    holds: tuple[int, ...]
    cents: tuple[int, ...]
    limits: tuple[int | None, ...]
    parts: tuple[Part, ...]

    def used(self, column: Column) -> int:
        """What a pattern takes of its board, in units of the saw grid."""
        return sum(self.sizes[item] * count for item, count in column.counts)

    def cost(self, columns: list[Column]) -> int:
        """What a plan costs. [cents]"""
        return sum(self.cents[column.stock] for column in columns)

    def is_plan(self, columns: list[Column]) -> bool:
        """True when every board holds its pattern, enough is cut and no length is overdrawn."""
        made = [0] * len(self.sizes)
        taken = [0] * len(self.holds)
        for column in columns:
            taken[column.stock] += 1
            for item, count in column.counts:
                made[item] += count
        return (
            all(self.used(column) <= self.holds[column.stock] for column in columns)
            and all(have >= want for have, want in zip(made, self.demands, strict=True))
            and all(limit is None or count <= limit for count, limit in zip(taken, self.limits, strict=True))
        )


def single(
    sizes: tuple[int, ...],
    demands: tuple[int, ...],
    holds: tuple[int, ...],
    cents: tuple[int, ...],
    limits: tuple[int | None, ...],
) -> Work:
    """Work of one profile whose items are all given."""
    part = Part(range(len(sizes)), range(len(holds)))
    return Work(sizes, demands, demands, holds, cents, limits, (part,))


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to try; counts, never seconds, so that the same work always gets the same plan.

    Attributes:
        rounds: pricing rounds of one column generation.
        nodes: branch-and-bound nodes of one solver run over the patterns at hand.
        branches: nodes of the tree over the number of boards of each length.
        patterns: the most patterns that are listed for the finish.
        census_nodes: branch-and-bound nodes over them.
        arcs: the largest arc-flow model that is tried; 0: none.
        flow_nodes: branch-and-bound nodes in it.
        tie_columns: the most patterns over which ties are broken by the solver.
    """

    rounds: int = 400
    nodes: int = 400
    branches: int = 60
    patterns: int = 3_000
    census_nodes: int = 1_000
    arcs: int = 6_000
    flow_nodes: int = 200
    tie_columns: int = 1_500
