"""The compact arc-flow model of given pieces, solved whole by the integer solver: shares no bound and no pricing with the engine.

A board is a path from 0 to its length over arcs (c, c + wᵢ); items come in falling order of size along it, and its
rest is one arc. Only places that some choice of items reaches are nodes (Valério de Carvalho 1999).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.cuts.engine.solver import INFINITY, IntegerProgram, solved
from service.estimate.cuts.engine.work import Column

if TYPE_CHECKING:
    from service.estimate.cuts.engine.work import Work

Flow = dict[tuple[int, int], int]


def flow_size(work: Work, most: int) -> dict[int, set[int]] | None:
    """Starts of the arcs of each item, None when there are more than so many arcs. One profile only."""
    capacity = max(work.holds)
    reached = {0}
    starts: dict[int, set[int]] = {}
    arcs = 0
    for item in sorted(range(len(work.sizes)), key=lambda item: (-work.sizes[item], item)):
        size = work.sizes[item]
        here = set(reached)
        begun: set[int] = set()
        for _ in range(min(work.most[item], capacity // size)):
            begun |= {place for place in here if place + size <= capacity}
            here = {place + size for place in here if place + size <= capacity}
            reached |= here
            if len(begun) + arcs > most:
                return None
        starts[item] = begun
        arcs += len(begun)
    return starts


def best_flow(work: Work, starts: dict[int, set[int]], nodes: int, cost: int) -> tuple[list[Column] | None, bool]:
    """A plan cheaper than `cost`, if there is one, and whether the solver calls its search complete.

    Args:
        work: of one profile, without runs to divide.
        starts: see `flow_size`.
        nodes: the most branch-and-bound nodes.
        cost: what the plan at hand costs. [cents]
    """
    places = sorted({0} | {at for begun in starts.values() for at in begun} | {
        at + work.sizes[item] for item, begun in starts.items() for at in begun
    })  # fmt: skip
    row_of = {place: row for row, place in enumerate(places)}
    program = IntegerProgram([0.0] * len(places), [0.0] * len(places))
    demand = [program.add_row(float(d), float(d)) for d in work.demands]
    cap = program.add_row(-INFINITY, float(cost - 1))
    arcs = []
    for item, begun in starts.items():
        for at in sorted(begun):
            program.add(0.0, ((row_of[at], -1.0), (row_of[at + work.sizes[item]], 1.0), (demand[item], 1.0)))
            arcs.append((item, at))
    exits = _exits(work, places)
    for place, stock in exits:
        cents = float(work.cents[stock])
        program.add(cents, ((row_of[place], -1.0), (row_of[0], 1.0), (cap, cents)))
    _limit(work, program, exits, len(arcs))
    verdict = solved(program, nodes)
    if verdict.values is None:
        return None, verdict.is_complete
    return _paths(work, arcs, exits, verdict.values), verdict.is_complete


def _exits(work: Work, places: list[int]) -> list[tuple[int, int]]:
    """Where a board of each length may end: at every place that it holds."""
    return [(place, stock) for stock, holds in enumerate(work.holds) for place in places if 0 < place <= holds]


def _limit(work: Work, program: IntegerProgram, exits: list[tuple[int, int]], first: int) -> None:
    for stock, limit in enumerate(work.limits):
        if limit is not None:
            row = program.add_row(0.0, float(limit))
            for place, (_, one) in enumerate(exits):
                if one == stock:
                    program.entries[first + place] = (*program.entries[first + place], (row, 1.0))


def _paths(work: Work, arcs: list[tuple[int, int]], exits: list[tuple[int, int]], values: list[int]) -> list[Column]:
    """Boards of a flow, each followed back from where it ends."""
    into: dict[int, list[int]] = {}
    for arc, (item, at) in enumerate(arcs):
        into.setdefault(at + work.sizes[item], []).append(arc)
    left = list(values)
    boards = []
    for place, (at, stock) in enumerate(exits):
        for _ in range(values[len(arcs) + place]):
            counts: dict[int, int] = {}
            here = at
            while here:
                arc = next(arc for arc in into[here] if left[arc] > 0)
                left[arc] -= 1
                item, here = arcs[arc]
                counts[item] = counts.get(item, 0) + 1
            boards.append(Column(stock, tuple(sorted(counts.items()))))
    return boards
