"""The integer program over the patterns at hand, and the ties it breaks."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.solver import INFINITY, IntegerProgram, solved
from service.estimate.cuts.engine.tidy import tidied

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.cuts.engine.program import Left, Program
    from service.estimate.cuts.engine.work import Column, Work


def best_of(
    work: Work, patterns: Sequence[Column], left: Left, nodes: int, target: int
) -> tuple[list[Column] | None, bool]:
    """The cheapest plan of some patterns alone, and whether the solver calls its search complete.

    Args:
        work: of one profile.
        patterns: all that may be used.
        left: what is to be cut, and from how many boards.
        nodes: the most branch-and-bound nodes.
        target: a cost known to be the least. [cents]
    """
    items = len(work.sizes)
    lower = [*map(float, left.demands), *map(float, left.least)]
    program = IntegerProgram(lower, [*(INFINITY for _ in left.demands), *map(float, left.most)])
    for column in patterns:
        entries = tuple((item, float(count)) for item, count in column.counts)
        program.add(float(work.cents[column.stock]), (*entries, (items + column.stock, 1.0)))
    verdict = solved(program, nodes, None, target, is_sparse=True)
    return _columns(patterns, verdict.values), verdict.is_complete


def with_fewest_boards(program: Program, plan: list[Column], nodes: int) -> list[Column]:
    """A plan of the same cost with fewer boards, if the patterns at hand have one."""
    whole = IntegerProgram(*program.row_bounds())
    row = whole.add_row(0.0, float(program.work.cost(plan)))
    for column in program.patterns:
        cents = float(program.work.cents[column.stock])
        whole.add(1.0, (*program.entries(column), (row, cents)))
    found = _columns(program.patterns, solved(whole, nodes, _usage(program.patterns, plan)).values)
    return plan if found is None else found


def _usage(patterns: Sequence[Column], plan: Sequence[Column]) -> list[int] | None:
    counts = Counter(plan)
    usage = [counts.pop(pattern, 0) for pattern in patterns]
    return None if counts else usage


def _columns(patterns: Sequence[Column], usage: Sequence[int] | None) -> list[Column] | None:
    if usage is None:
        return None
    return [pattern for pattern, count in zip(patterns, usage, strict=False) for _ in range(count)]


def sound(work: Work, columns: list[Column] | None) -> list[Column] | None:
    """A plan put right, None when it is none: nothing the solver says is taken on trust."""
    if columns is None or not work.is_plan(columns):
        return None
    return tidied(work, columns)
