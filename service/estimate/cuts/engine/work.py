"""What is to be cut, in whole numbers."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from decimal import Decimal


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
        steps: programs that one series of dives may solve.
        boxes: nodes of the tree over the number of boards of each length.
        branches: choices of boards for which patterns are generated.
        patterns: the most patterns that are listed for the finish.
        census_nodes: branch-and-bound nodes over them.
        tie_columns, tie_nodes: the most patterns over which ties are broken by the solver, and its nodes.
        joint_rounds: pricing rounds where joints are chosen too.
        joint_nodes: branch-and-bound nodes where joints are chosen too.
        joint_patterns, joint_plans: the most patterns and plans among which the solver chooses then.
        joint_entries: with more entries than these in their columns it does not choose at all.
        joint_dive_rounds: pricing rounds after each step of a dive.
        joint_pool_stacks: with more stacks than these the solver does not choose among plans.
        joint_branch_stacks: with more stacks than these the numbers of boards and joints are not branched on.
        joint_branches: nodes of the tree over them.
        joint_listed: with more plans of a stack than these that could be part of something better they are not listed.
        joint_tries: the likeliest choices among the plans listed, each cut by itself, where there are no more than `joint_listed`.
    """

    rounds: int = 400
    steps: int = 300
    boxes: int = 3_000
    branches: int = 60
    patterns: int = 3_000
    census_nodes: int = 1_000
    tie_columns: int = 300
    tie_nodes: int = 20
    joint_rounds: int = 200
    joint_nodes: int = 50
    joint_patterns: int = 400
    joint_plans: int = 400
    joint_entries: int = 4_500
    joint_dive_rounds: int = 6
    joint_pool_stacks: int = 30
    joint_branch_stacks: int = 12
    joint_branches: int = 40
    joint_listed: int = 400
    joint_tries: int = 60

    @property
    def hasty(self) -> Effort:
        """The same without the stages that only close the last gap."""
        return replace(self, boxes=0, branches=0, patterns=0, tie_columns=0)


def effort_of(seconds: Decimal | None) -> Effort:
    """How hard to try where a firm grants so many seconds; a table, so that no plan depends on the clock.

    Args:
        seconds: about what a usual job may take; None: the default.
    """
    return next((effort for most, effort in EFFORTS if seconds is not None and seconds <= most), Effort())


QUICK = Effort(
    rounds=60,
    boxes=0,
    branches=0,
    patterns=0,
    tie_columns=0,
    joint_rounds=30,
    joint_pool_stacks=0,
    joint_branch_stacks=0,
)
SHORT = Effort(boxes=500, branches=20, patterns=1_000, joint_branches=15, joint_tries=20)
LONG = Effort(
    steps=1_000, boxes=20_000, branches=300, patterns=6_000, joint_pool_stacks=60, joint_branches=150, joint_tries=200
)
EFFORTS = ((0, QUICK), (1, SHORT), (5, Effort()), (600, LONG))
