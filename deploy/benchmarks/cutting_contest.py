"""The engine against general solvers, model by model, in the same run."""

from __future__ import annotations

import statistics
from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchmarks.cutting_models import boards_model, joints_model
from benchmarks.cutting_rivals import first_fit
from benchmarks.cutting_trials import joined, one_profile

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from benchmarks.cutting_goals import Trial
    from benchmarks.cutting_models import Model
    from benchmarks.cutting_solvers import Verdict
    from service.estimate.cuts.engine.work import Work
    from service.estimate.cuts.request import CutRequest

    Solver = Callable[[Model, float], Verdict]


@dataclass(frozen=True, slots=True)
class Entry:
    """One model, None where it would be too large, and what the engine makes of the same work."""

    model: Model | None
    trial: Trial


def piece_entries(works: Iterable[Work]) -> Iterator[Entry]:
    """A model of every profile of a job; first fit's plan to begin with, as the engine has it."""
    return (Entry(boards_model(work, first_fit(work)), one_profile(work)) for work in works)


def job_entries(request: CutRequest) -> Iterator[Entry]:
    """One model of a job's runs and boards."""
    yield Entry(joints_model(request), joined(request))


def contest_lines(entries: Sequence[Entry], solvers: dict[str, Solver], seconds: float) -> Iterator[str]:
    """What each solver and the engine make of some models, and where they contradict each other."""
    least = sum(entry.trial.proven == entry.trial.parts for entry in entries)
    yield f"  against general solvers, {len(entries)} models, {seconds:g} s each; the engine proves {least} least"
    for name, solver in solvers.items():
        found = [(entry.trial, solver(entry.model, seconds)) for entry in entries if entry.model]
        yield f"    {name:<28}{standing(found)}" + (
            f"; {missed} too large" if (missed := len(entries) - len(found)) else ""
        )


def standing(found: Sequence[tuple[Trial, Verdict]]) -> str:
    """Plans, proofs, cost, time and contradictions of one solver."""
    plans = [(trial, verdict.cost) for trial, verdict in found if verdict.cost is not None]
    if not plans:
        return "no plan"
    dearer = sum(cost for _, cost in plans) / sum(trial.cost for trial, _ in plans) - 1
    times = statistics.geometric_mean(max(v.seconds, 1e-4) / max(trial.seconds, 1e-4) for trial, v in found)
    return (
        f"plans {len(plans)}, proven least {sum(v.is_least for _, v in found)}, {dearer:+.3%} dearer, "
        f"{times:.1f} times as long (geometric mean), contradictions {sum(map(contradicts, *zip(*found, strict=True)))}"
    )


def contradicts(trial: Trial, verdict: Verdict) -> bool:
    """True where a plan is under the engine's bound, or the engine's plan under what a solver calls least."""
    if verdict.cost is None:
        return False
    return verdict.cost < trial.bound or (verdict.is_least and trial.cost < verdict.cost)
