"""Whole-number models written down at once, for general solvers: what the engine is measured against.

Boards. A board is a path from 0 to its length over arcs (c, c + w), one for each piece, pieces in falling order of
size along it (Valério de Carvalho 1999, Annals of Operations Research 86, from memory). Runs. A run is a path over its
ends and studs, its arcs are its pieces; of the joints in any window of one stagger along a line of a wall there is one
at most. That is the rule as long as no piece may be shorter than a stagger, less its overlaps, and studs that near
don't occur, which holds for the jobs of this benchmark. No bound, pricing or column of the engine has a part in it.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field, replace
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, NamedTuple

from benchmarks.cutting_pieces import work_of
from benchmarks.cutting_rivals import first_fit
from benchmarks.cutting_runs import sixteenths
from benchmarks.cutting_trade import Rules, last_studs, shelf_of, works_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from benchmarks.cutting_trade import Joints
    from service.estimate.cuts.engine.work import Column, Work
    from service.estimate.cuts.request import CutRequest, RunRow

MANY = 100_000
MOST_ARCS = 60_000

Arcs = dict[tuple[int, int], int]


@dataclass(slots=True)
class Model:
    """Minimize a cost; whole columns from 0 to `most`, rows between bounds; `start`: values to begin with."""

    costs: list[int] = field(default_factory=list)
    most: list[int] = field(default_factory=list)
    entries: list[tuple[tuple[int, int], ...]] = field(default_factory=list)
    low: list[int] = field(default_factory=list)
    high: list[int] = field(default_factory=list)
    start: dict[int, int] = field(default_factory=dict)

    def row(self, low: int, high: int) -> int:
        """Add a row; its index."""
        self.low.append(low)
        self.high.append(high)
        return len(self.low) - 1

    def column(self, cost: int, most: int, entries: Sequence[tuple[int, int]]) -> int:
        """Add a column; its index."""
        self.costs.append(cost)
        self.most.append(most)
        self.entries.append(tuple(entries))
        return len(self.costs) - 1


def boards_model(work: Work, begun: Sequence[Column]) -> Model | None:
    """Pieces of one profile, with a plan to begin with; None when the model would have too many arcs."""
    model = Model()
    boards = Boards.added(model, work, [model.row(count, count) for count in work.demands])
    if boards is None:
        return None
    boards.begin(begun)
    return model


@dataclass(frozen=True, slots=True)
class Boards:
    """The boards of one profile in a model: columns of its arcs by item and start, and of its ends by board and place."""

    model: Model
    work: Work
    arcs: Arcs
    ends: Arcs

    @classmethod
    def added(cls, model: Model, work: Work, demands: Sequence[int]) -> Boards | None:
        """Add a profile to a model; None when it would have too many arcs.

        Args:
            model: takes columns and rows.
            work: sizes, boards, and how many of each item a board may carry.
            demands: the row to which every piece of an item that is cut adds 1.
        """
        places = arcs_of(work)
        if places is None:
            return None
        ends = sorted({at + work.sizes[item] for item, at in places})
        nodes = {place: model.row(0, 0) for place in (0, *ends)}
        arcs = {
            (item, at): model.column(0, MANY, ((nodes[at], -1), (nodes[at + work.sizes[item]], 1), (demands[item], 1)))
            for item, at in places
        }
        limits = [model.row(0, MANY if limit is None else limit) for limit in work.limits]
        last = {
            (stock, end): model.column(work.cents[stock], MANY, ((nodes[end], -1), (nodes[0], 1), (limits[stock], 1)))
            for stock, holds in enumerate(work.holds)
            for end in ends
            if end <= holds
        }
        return cls(model, work, arcs, last)

    def begin(self, columns: Sequence[Column]) -> None:
        """Take some boards as values to begin with."""
        start: Counter[int] = Counter()
        for column in columns:
            at = 0
            for item, count in sorted(column.counts, key=lambda one: (-self.work.sizes[one[0]], one[0])):
                for _ in range(count):
                    start[self.arcs[item, at]] += 1
                    at += self.work.sizes[item]
            start[self.ends[column.stock, at]] += 1
        self.model.start |= start


def arcs_of(work: Work) -> list[tuple[int, int]] | None:
    """Item and start of every arc that some board of pieces in falling order can use; None when they are too many."""
    longest, reached = max(work.holds), {0}
    arcs: list[tuple[int, int]] = []
    for item in sorted(range(len(work.sizes)), key=lambda item: (-work.sizes[item], item)):
        size, begun, here = work.sizes[item], set[int](), set(reached)
        for _ in range(min(work.most[item], longest // size)):
            here = {place for place in here if place + size <= longest}
            begun |= here
            here = {place + size for place in here}
            reached |= here
        arcs += [(item, place) for place in sorted(begun)]
        if len(arcs) > MOST_ARCS:
            return None
    return arcs


class Span(NamedTuple):
    """One piece that a run may have: its ends from the run's left end, and its length, overlaps and all."""

    left: int
    right: int
    length: int


class Window(NamedTuple):
    """A stretch of a line, the upper end left out, and the row that allows one joint in it."""

    low: int
    high: int
    row: int


def joints_model(request: CutRequest) -> Model | None:
    """Runs and boards of a cutting job; None when the model would have too many arcs. Given pieces are left out.

    It begins with the trade's joints and first fit.
    """
    model, rules = Model(), Rules.of(request)
    windows, joint_cents = windows_of(model, request, rules), int(request.joint_cost * 100)
    joints = last_studs(request)
    begun = works_of(request, joints)
    for profile in sorted(begun):
        places = [place for place, row in enumerate(request.runs) if row.profile == profile]
        some = {place: list(spans(request.runs[place], rules)) for place in places}
        kerf = sixteenths(request.kerf)
        work = work_of((span.length for each in some.values() for span in each), shelf_of(request, profile), kerf)
        rows = dict(zip(work.sizes, (model.row(0, 0) for _ in work.sizes), strict=True))
        boards = Boards.added(model, work, list(rows.values()))
        if boards is None:
            return None
        boards.begin(first_fit(of_sizes(work, begun[profile])))
        for place in places:
            row_of = {span: rows[span.length + kerf] for span in some[place]}
            add_run(model, request.runs[place], row_of, joints[place], windows, joint_cents)
    return model


def of_sizes(work: Work, wanted: Work) -> Work:
    """The pieces that are wanted, numbered as in a work that has all their sizes."""
    count_of = dict(zip(wanted.sizes, wanted.demands, strict=True))
    return replace(work, demands=tuple(count_of.get(size, 0) for size in work.sizes))


def spans(row: RunRow, rules: Rules) -> Iterator[Span]:
    """Pieces that a run may have: itself where a board holds it, else all between its ends and studs that are allowed."""
    length, longest = sixteenths(row.length), rules.longest[row.profile]
    if length <= longest:
        yield Span(0, length, length)
        return
    for left, right in combinations((0, *map(sixteenths, row.backing), length), 2):
        size = right - left + rules.half * ((left > 0) + (right < length))
        if rules.shortest <= size <= longest:
            yield Span(left, right, size)


def windows_of(model: Model, request: CutRequest, rules: Rules) -> dict[str, list[Window]]:
    """Windows along each line on which several runs are joined, one from every stud."""
    lines: defaultdict[str, list[RunRow]] = defaultdict(list)
    for row in request.runs:
        if sixteenths(row.length) > rules.longest[row.profile]:
            lines[row.wall].append(row)
    return {
        wall: [
            Window(at, at + rules.stagger, model.row(0, 1)) for at in sorted({at for row in rows for at in studs(row)})
        ]
        for wall, rows in lines.items()
        if len(rows) > 1
    }


def studs(row: RunRow) -> Iterator[int]:
    """Studs behind a run, from its wall's left end."""
    return (sixteenths(row.start + at) for at in row.backing)


def add_run(
    model: Model,
    row: RunRow,
    row_of: Mapping[Span, int],
    joints: Joints,
    windows: Mapping[str, Sequence[Window]],
    joint_cents: int,
) -> None:
    """Add a run's path to a model that has its boards and windows; it begins with some joints."""
    length, start = sixteenths(row.length), sixteenths(row.start)
    inner = {at for span in row_of for at in (span.left, span.right)} - {0, length}
    nodes = {0: model.row(1, 1)} | {at: model.row(0, 0) for at in sorted(inner)}
    begun = set(pairwise((0, *joints, length)))
    for span, item_row in row_of.items():
        entries = [(nodes[span.left], 1), (item_row, -1)]
        if span.right < length:
            entries.append((nodes[span.right], -1))
        if span.left:
            entries += [(w.row, 1) for w in windows.get(row.wall, ()) if w.low <= start + span.left < w.high]
        column = model.column(joint_cents if span.left else 0, 1, entries)
        if (span.left, span.right) in begun:
            model.start[column] = 1
