"""The whole job as one compact integer program: networks of the runs joined to flows along the boards.

A run is a path over the places where a joint may fall, at one unit of flow; an arc is a piece and asks for one of its
length. A board is a path from 0 to no farther than what it holds, over arcs as long as a piece and its kerf, pieces
in falling order of length (Valério de Carvalho, Annals of Operations Research 86 (1999) 629-659, from memory). Joints
that stand too near to each other are forbidden two by two. The solver gets it whole, in a fresh object; nothing of
the engine is used.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field
from itertools import combinations

import highspy
import numpy as np

from tests.oracles.cut_by_trying import unit_of

INFINITY = float("inf")


def flow_cents(request):
    """Least cost of boards and joints in cents, None when there is no plan; the solver must call it optimal."""
    return Model(request).program.least()


@dataclass(slots=True)
class Program:
    """Minimize cost: whole columns from 0 up, rows between bounds."""

    costs: list[int] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    entries: list[dict[int, float]] = field(default_factory=list)
    rows: list[tuple[float, float]] = field(default_factory=list)

    def column(self, cost, entries, most=INFINITY):
        """Add a column with its (row, value) entries; its index."""
        merged = Counter()
        for row, value in entries:
            merged[row] += value
        self.costs.append(cost)
        self.entries.append(merged)
        self.most.append(most)
        return len(self.costs) - 1

    def row(self, low, high):
        """Add a row; its index."""
        self.rows.append((low, high))
        return len(self.rows) - 1

    def least(self):
        """Cost of the optimum, added up from its values; None when there is none."""
        if not self.costs:
            return None if any(low > 0 or high < 0 for low, high in self.rows) else 0
        solver = highspy.Highs()
        for option, value in (("output_flag", False), ("threads", 1), ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.5)):
            solver.setOptionValue(option, value)
        solver.passModel(self._model())
        solver.run()
        if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
            return None
        assert solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
        values = solver.getSolution().col_value
        return sum(round(value) * cost for value, cost in zip(values, self.costs, strict=True))

    def _model(self):
        model = highspy.HighsLp()
        model.num_col_, model.num_row_ = len(self.costs), len(self.rows)
        model.col_cost_ = np.array(self.costs, dtype=np.float64)
        model.col_lower_, model.col_upper_ = np.zeros(len(self.costs)), np.array(self.most)
        model.row_lower_ = np.array([low for low, _ in self.rows])
        model.row_upper_ = np.array([high for _, high in self.rows])
        model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
        model.a_matrix_.start_ = np.cumsum([0, *(len(one) for one in self.entries)], dtype=np.int32)
        model.a_matrix_.index_ = np.array([row for one in self.entries for row in one], dtype=np.int32)
        model.a_matrix_.value_ = np.array([value for one in self.entries for value in one.values()], dtype=np.float64)
        model.integrality_ = [highspy.HighsVarType.kInteger] * len(self.costs)
        return model


class Model:
    """Columns and rows of a job."""

    def __init__(self, request):
        """Build the whole program."""
        self.request, self.unit, self.program = request, unit_of(request), Program()
        self.kerf = self._units(request.kerf)
        self.joints = defaultdict(list)  # a wall's (run, place on the wall, row that counts it)
        for name in sorted({row.profile for row in (*request.stock, *request.runs, *request.pieces)}):
            self._add_profile(name)
        self._add_stagger()

    def columns(self):
        """How large it is."""
        return len(self.program.costs)

    def _units(self, length):
        return int(length.inches * self.unit)

    def _add_profile(self, name):
        """Runs, pieces and boards of a profile."""
        rows = [row for row in self.request.stock if row.profile == name and row.available != 0]
        boards = [(self._units(row.length - self.request.end_trim) + self.kerf, row) for row in rows]
        fixed = Counter()
        for row in self.request.pieces:
            if row.profile == name:
                fixed[self._units(row.length) + self.kerf] += row.quantity
        runs = [(run, list(self._arcs(run, boards))) for run in self.request.runs if run.profile == name]
        most = fixed + Counter(size for _, arcs in runs for _, _, size in arcs)
        demand = {size: self.program.row(fixed[size], fixed[size]) for size in most}
        for run, arcs in runs:
            self._add_run(run, arcs, demand)
        self._add_boards(boards, most, demand)

    def _arcs(self, run, boards):
        """(From, to, sawn size) of every piece that the run may be made of."""
        end, half = self._units(run.length), self._units(self.request.scarf_overlap / 2)
        deepest = max((holds for holds, _ in boards), default=0)
        unlimited = max((holds for holds, row in boards if row.available is None), default=0)
        stays_whole = end + self.kerf <= unlimited and not self.request.splice_short_runs
        places = {self._units(at) for at in run.backing if 0 < self._units(at) < end} if not stays_whole else ()
        for tail, head in combinations(sorted({0, end, *places}), 2):
            length = head - tail + half * ((tail > 0) + (head < end))
            is_long_enough = length >= self._units(self.request.shortest_piece) or (tail, head) == (0, end)
            if is_long_enough and length + self.kerf <= deepest:
                yield tail, head, length + self.kerf

    def _add_run(self, run, arcs, demand):
        """One path from end to end; every place but the ends also has a row that counts the joint made there."""
        end, program = self._units(run.length), self.program
        start = program.row(1, 1)
        balance = defaultdict(lambda: program.row(0, 0))
        made = defaultdict(lambda: program.row(0, 1))
        for tail, head, size in arcs:
            entries = [(demand[size], -1.0), (balance[tail] if tail else start, 1.0)]
            entries += [(balance[head], -1.0)] if head < end else []
            entries += [(made[tail], 1.0)] if tail else []
            program.column(int(self.request.joint_cost * 100) if tail else 0, entries, 1.0)
        for place, row in made.items():
            self.joints[run.wall].append((run, self._units(run.start) + place, row))

    def _add_stagger(self):
        """Of two joints of different runs of a wall that stand too near at most one is made."""
        for joints in self.joints.values():
            for (one, here, row), (other, there, same) in combinations(joints, 2):
                if one is not other and abs(here - there) < self._units(self.request.stagger):
                    self._forbid(row, same)

    def _forbid(self, *rows):
        pair = self.program.row(0, 1)
        for entries in self.program.entries:
            for row in rows:
                if entries.get(row):
                    entries[pair] = 1.0

    def _add_boards(self, boards, most, demand):
        """Flows: pieces in falling order along a board, which may end at every place that it holds."""
        program, reached = self.program, {0}
        balance = defaultdict(lambda: program.row(0, 0))
        deepest = max((holds for holds, _ in boards), default=0)
        for size in sorted(most, reverse=True):
            begun, here = set(), reached
            for _ in range(most[size]):
                here = {place for place in here if place + size <= deepest}
                begun |= here
                here = {place + size for place in here}
                reached = reached | here
            for place in sorted(begun):
                entries = [(demand[size], 1.0), (balance[place + size], 1.0)]
                program.column(0, entries + ([(balance[place], -1.0)] if place else []))
        for holds, row in boards:
            limit = program.row(0, INFINITY if row.available is None else row.available)
            for place in sorted(reached - {0}):
                if place <= holds:
                    program.column(int(row.price * 100), [(balance[place], -1.0), (limit, 1.0)])
