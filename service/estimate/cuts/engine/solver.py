"""The one door to the linear and integer solver.

The integer solver always gets a fresh object: highspy 1.16.0 reports a wrong objective, status optimal, when columns
of an object that has already solved a linear program turn integer. Nothing here is believed but the values of the
variables: costs and bounds are computed again by those who call.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import highspy
import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Prices = NDArray[np.float64]

INFINITY = float("inf")
MOST_STEPS = 20_000  # simplex iterations; the primal method was seen to run on for ever, the dual from scratch not
DUAL, PRIMAL = 1, 4  # simplex strategies: dual after a changed bound, primal after further columns
SPARSE: tuple[tuple[str, float | bool], ...] = (
    ("mip_heuristic_effort", 0.01),
    ("mip_heuristic_run_feasibility_jump", False),
    ("mip_allow_restart", False),
    ("mip_lp_age_limit", 3),
    ("mip_pool_age_limit", 5),
)
Entries = tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Optimum:
    """Values and reduced costs of the columns, prices of the rows."""

    objective: float
    values: NDArray[np.float64]
    prices: NDArray[np.float64]
    reduced: NDArray[np.float64]


def _fresh() -> highspy.Highs:
    solver = highspy.Highs()  # type: ignore[no-untyped-call] # its constructor alone has no types
    for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 0), ("parallel", "off")):
        solver.setOptionValue(option, value)
    return solver


class LinearProgram:
    """A linear program that grows by columns: minimize cost, rows between bounds, columns from 0 up."""

    def __init__(self, lower: Sequence[float], upper: Sequence[float]) -> None:
        """Start with rows and no columns."""
        self._solver = _fresh()
        self.columns = 0
        self._is_grown = True
        self._solver.setOptionValue("simplex_iteration_limit", MOST_STEPS)
        for low, high in zip(lower, upper, strict=True):
            self._solver.addRow(low, high, 0, np.empty(0, dtype=np.int32), np.empty(0))

    def add(self, cost: float, entries: Entries, most: float = INFINITY) -> None:
        """Add a column."""
        rows = np.array([row for row, _ in entries], dtype=np.int32)
        values = np.array([value for _, value in entries], dtype=np.float64)
        self._solver.addCol(cost, 0.0, most, len(entries), rows, values)
        self.columns += 1

    def add_all(self, costs: Sequence[float], entries: Sequence[Entries]) -> None:
        """Add columns without an upper bound, all at once."""
        starts = np.cumsum([0, *(len(entry) for entry in entries[:-1])], dtype=np.int32)
        rows = np.array([row for entry in entries for row, _ in entry], dtype=np.int32)
        values = np.array([value for entry in entries for _, value in entry], dtype=np.float64)
        count = len(costs)
        none, endless = np.zeros(count), np.full(count, INFINITY)
        self._solver.addCols(count, np.array(costs), none, endless, len(rows), starts, rows, values)
        self.columns += count

    def add_row(self, least: float, values: Sequence[float], most: float = INFINITY) -> None:
        """Add a row over all columns."""
        self._is_grown = False
        columns = np.flatnonzero(values).astype(np.int32)
        self._solver.addRow(least, most, len(columns), columns, np.array(values)[columns])

    def bound_columns(self, least: Sequence[int], most: Sequence[int]) -> None:
        """Change the bounds of the first columns."""
        self._is_grown = False
        places = np.arange(len(least), dtype=np.int32)
        low, high = np.array(least, dtype=np.float64), np.array(most, dtype=np.float64)
        self._solver.changeColsBounds(len(least), places, low, high)

    def cap_columns(self, first: int, most: Prices) -> None:
        """Change the upper bounds of columns in a row."""
        self._is_grown = False
        places = np.arange(first, first + len(most), dtype=np.int32)
        self._solver.changeColsBounds(len(most), places, np.zeros(len(most)), most)

    def bound_column(self, column: int, least: float, most: float = INFINITY) -> None:
        """Change the bounds of a column."""
        self._is_grown = False
        self._solver.changeColBounds(column, least, most)

    def bound_row(self, row: int, least: float, most: float) -> None:
        """Change the bounds of a row."""
        self._is_grown = False
        self._solver.changeRowBounds(row, least, most)

    def optimum(self) -> Optimum | None:
        """Solve from where the last solution stood; None when there is no optimum."""
        self._solver.setOptionValue("simplex_strategy", PRIMAL if self._is_grown else DUAL)
        self._solver.run()
        if self._solver.getModelStatus() == highspy.HighsModelStatus.kIterationLimit:
            self._solver.clearSolver()
            self._solver.setOptionValue("simplex_strategy", DUAL)
            self._solver.run()
        self._is_grown = True
        if self._solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        solution = self._solver.getSolution()
        return Optimum(
            self._solver.getInfo().objective_function_value,
            np.array(solution.col_value),
            np.array(solution.row_dual),
            np.array(solution.col_dual),
        )


@dataclass(slots=True)
class IntegerProgram:
    """An integer program, built once and solved once: minimize cost, rows between bounds, columns from 0 up."""

    lower: list[float]
    upper: list[float]
    costs: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    entries: list[Entries] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)

    def add(self, cost: float, entries: Entries, most: float = INFINITY, *, is_whole: bool = True) -> int:
        """Add a column; its index."""
        self.costs.append(cost)
        self.most.append(most)
        self.entries.append(entries)
        self.whole.append(is_whole)
        return len(self.costs) - 1

    def add_row(self, least: float, most: float) -> int:
        """Add a row; its index."""
        self.lower.append(least)
        self.upper.append(most)
        return len(self.lower) - 1


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the integer solver says: values, if any were found, and whether it calls its search complete."""

    values: list[int] | None
    is_complete: bool


def solved(
    program: IntegerProgram,
    nodes: int,
    start: Sequence[int] | None = None,
    target: float | None = None,
    near: float = 0.0,
    *,
    is_sparse: bool = False,
) -> Verdict:
    """Solve an integer program in a fresh solver.

    Args:
        program: what to solve.
        nodes: the most branch-and-bound nodes.
        start: values of all columns to start from.
        target: a cost at which to stop, known to be the least.
        near: stop within such a share of the least.
        is_sparse: solutions are few, if any; search the tree and leave off guessing.
    """
    solver = _fresh()
    solver.setOptionValue("mip_max_nodes", nodes)
    solver.setOptionValue("mip_rel_gap", near)
    solver.setOptionValue("mip_abs_gap", 0.9)
    for option, value in SPARSE if is_sparse else ():
        solver.setOptionValue(option, value)
    if target is not None:
        solver.setOptionValue("objective_target", target * (1.0 + near) + 0.5)
    solver.passModel(_model(program))
    if start is not None:
        given = highspy.HighsSolution()
        given.col_value = [float(value) for value in start]
        solver.setSolution(given)
    solver.run()
    status = solver.getModelStatus()
    statuses = highspy.HighsModelStatus
    complete = status in {statuses.kOptimal, statuses.kInfeasible}
    if solver.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return Verdict(None, complete)
    return Verdict([round(value) for value in solver.getSolution().col_value], complete)


def _model(program: IntegerProgram) -> highspy.HighsLp:
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(program.costs), len(program.lower)
    model.col_cost_ = np.array(program.costs)
    model.col_lower_ = np.zeros(len(program.costs))
    model.col_upper_ = np.array(program.most)
    model.row_lower_, model.row_upper_ = np.array(program.lower), np.array(program.upper)
    starts = np.cumsum([0, *(len(entry) for entry in program.entries)], dtype=np.int32)
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = starts
    model.a_matrix_.index_ = np.array([row for entry in program.entries for row, _ in entry], dtype=np.int32)
    model.a_matrix_.value_ = np.array([value for entry in program.entries for _, value in entry], dtype=np.float64)
    kinds = highspy.HighsVarType
    model.integrality_ = [kinds.kInteger if whole else kinds.kContinuous for whole in program.whole]
    return model
