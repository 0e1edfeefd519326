"""OR-Tools' CP-SAT on one model, in a process of its own: its library and highspy's don't load beside each other.

    python deploy/benchmarks/cutting_cp_sat.py < model.json     (needs `pip install ortools`; no lock holds it)

Standard input: one JSON object, `costs` and `most` of the columns, `entries` as [row, number] pairs of each, `low` and
`high` of the rows, `start` as values of columns to begin with, `seconds` of
work by the solver's own measure, not the clock's. Standard output: `cost` (null without a
plan), `is_least`, `seconds` of processor time.
"""

from __future__ import annotations

import importlib
import json
import sys
import time
from typing import Any


def main() -> None:
    """Answer one model."""
    json.dump(solved(json.load(sys.stdin)), sys.stdout)


def solved(given: dict[str, Any]) -> dict[str, Any]:
    """What the solver says of a model."""
    sat = importlib.import_module("ortools.sat.python.cp_model")
    model, solver = sat.CpModel(), sat.CpSolver()
    columns = [model.new_int_var(0, most, "") for most in given["most"]]
    _constrain(model, columns, given)
    for column, value in given["start"].items():
        model.add_hint(columns[int(column)], value)
    solver.parameters.num_workers, solver.parameters.random_seed = 1, 0
    solver.parameters.max_deterministic_time = given["seconds"]
    begun = time.process_time()
    status = solver.solve(model)
    taken = time.process_time() - begun
    cost = round(solver.objective_value) if status in {sat.OPTIMAL, sat.FEASIBLE} else None
    return {"cost": cost, "is_least": status == sat.OPTIMAL, "seconds": taken}


def _constrain(model: Any, columns: list[Any], given: dict[str, Any]) -> None:  # noqa: ANN401 - an optional library without types
    rows: list[list[Any]] = [[] for _ in given["low"]]
    for column, entries in zip(columns, given["entries"], strict=True):
        for row, number in entries:
            rows[row].append(number * column)
    for terms, low, high in zip(rows, given["low"], given["high"], strict=True):
        model.add_linear_constraint(sum(terms), low, high)
    model.minimize(sum(cost * column for cost, column in zip(given["costs"], columns, strict=True) if cost))


if __name__ == "__main__":
    main()
