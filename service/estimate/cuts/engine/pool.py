"""The integer program over the patterns at hand, and the ties it breaks."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from service.estimate.cuts.engine.solver import INFINITY, IntegerProgram, solved
from service.estimate.cuts.engine.tidy import tidied

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.cuts.engine.master import Master
    from service.estimate.cuts.engine.work import Column, Work


def best_of_pool(
    master: Master, nodes: int, start: Sequence[Column] | None = None, target: int | None = None
) -> list[Column] | None:
    """The cheapest plan of the patterns at hand within the boxes, as far as the nodes go; None when none was found.

    Args:
        master: patterns and boxes.
        nodes: the most branch-and-bound nodes.
        start: a plan of these patterns to start from.
        target: a cost known to be the least. [cents]
    """
    program = IntegerProgram(*master.row_bounds())
    for column in master.patterns:
        program.add(float(master.work.cents[column.stock]), master.pattern_entries(column))
    first = None if start is None else _usage(master.patterns, start)
    return _columns(master.patterns, solved(program, nodes, first, target).values)


def best_of(work: Work, patterns: Sequence[Column], nodes: int, target: int) -> tuple[list[Column] | None, bool]:
    """The cheapest plan of some patterns alone, and whether the solver calls its search complete.

    Args:
        work: of one profile, without runs to divide.
        patterns: all that may be used.
        nodes: the most branch-and-bound nodes.
        target: a cost known to be the least. [cents]
    """
    items = len(work.sizes)
    upper = [INFINITY] * items + [INFINITY if limit is None else float(limit) for limit in work.limits]
    program = IntegerProgram([float(demand) for demand in work.demands] + [0.0] * len(work.holds), upper)
    for column in patterns:
        entries = tuple((item, float(count)) for item, count in column.counts)
        program.add(float(work.cents[column.stock]), (*entries, (items + column.stock, 1.0)))
    verdict = solved(program, nodes, None, target)
    return _columns(patterns, verdict.values), verdict.is_complete


def with_fewest_boards(master: Master, plan: list[Column], nodes: int) -> list[Column]:
    """A plan of the same cost with fewer boards, if the patterns at hand have one."""
    program = IntegerProgram(*master.row_bounds())
    row = program.add_row(0.0, float(master.work.cost(plan)))
    for column in master.patterns:
        cents = float(master.work.cents[column.stock])
        program.add(1.0, (*master.pattern_entries(column), (row, cents)))
    found = _columns(master.patterns, solved(program, nodes, _usage(master.patterns, plan)).values)
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
