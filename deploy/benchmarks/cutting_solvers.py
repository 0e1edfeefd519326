"""General solvers for the models of the cutting benchmark, one thread each, until so much work is done.

HiGHS is stopped at the first chance after so many processor seconds, CP-SAT after as much of its own measure of work,
which is about as many; neither looks at the clock, so a busy machine favors nobody.
"""

from __future__ import annotations

import importlib.util
import json
import subprocess
import sys
import time
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import highspy
import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from highspy.highs import HighsCallbackEvent

    from benchmarks.cutting_models import Model


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a solver says: cost of its plan, None without one, whether it calls it least, and its time. [cents, s]"""

    cost: int | None
    is_least: bool
    seconds: float


def by_highs(model: Model, seconds: float) -> Verdict:
    """The integer solver that the engine uses too, on the model as it stands."""
    solver = highspy.Highs()  # type: ignore[no-untyped-call] # its constructor alone has no types
    for option, value in (
        ("output_flag", False), ("threads", 1), ("random_seed", 0), ("parallel", "off"),
        ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.9),
    ):  # fmt: skip
        solver.setOptionValue(option, value)
    solver.passModel(_whole(model))
    if model.start:
        given = highspy.HighsSolution()
        given.col_value = [float(model.start.get(column, 0)) for column in range(len(model.costs))]
        solver.setSolution(given)
    begun = time.process_time()
    _stop(solver, begun + seconds)
    solver.run()
    taken = time.process_time() - begun
    if solver.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return Verdict(None, is_least=False, seconds=taken)
    is_least = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return Verdict(_cost(model, solver.getSolution().col_value), is_least, taken)


def _stop(solver: highspy.Highs, at: float) -> None:
    def stop(event: HighsCallbackEvent) -> None:
        if time.process_time() > at:
            event.interrupt()

    for moment in (solver.cbMipInterrupt, solver.cbSimplexInterrupt):
        moment.subscribe(stop)


def _cost(model: Model, values: Sequence[float]) -> int:
    return sum(cost * round(value) for cost, value in zip(model.costs, values, strict=True))


def _whole(model: Model) -> highspy.HighsLp:
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(model.costs), len(model.low)
    lp.col_cost_, lp.col_upper_ = np.array(model.costs, dtype=np.float64), np.array(model.most, dtype=np.float64)
    lp.col_lower_ = np.zeros(len(model.costs))
    lp.row_lower_, lp.row_upper_ = np.array(model.low, dtype=np.float64), np.array(model.high, dtype=np.float64)
    pairs = [pair for entry in model.entries for pair in entry]
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = np.cumsum([0, *(len(entry) for entry in model.entries)], dtype=np.int32)
    lp.a_matrix_.index_ = np.array([row for row, _ in pairs], dtype=np.int32)
    lp.a_matrix_.value_ = np.array([value for _, value in pairs], dtype=np.float64)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(model.costs)
    return lp


def has_cp_sat() -> bool:
    """Whether OR-Tools is installed here; no lock of the project holds it."""
    return importlib.util.find_spec("ortools") is not None


def by_cp_sat(model: Model, seconds: float) -> Verdict:
    """OR-Tools' CP-SAT on the same model."""
    script = Path(__file__).with_name("cutting_cp_sat.py")
    asked = json.dumps(asdict(model) | {"seconds": seconds})
    done = subprocess.run([sys.executable, str(script)], input=asked, capture_output=True, text=True, check=True)
    return Verdict(**json.loads(done.stdout))
