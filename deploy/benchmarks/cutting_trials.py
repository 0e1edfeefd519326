"""One job of the cutting benchmark, planned by the engine and by the trade's rules."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import TYPE_CHECKING

from benchmarks.cutting_goals import Trial
from benchmarks.cutting_rivals import first_fit
from benchmarks.cutting_trade import last_studs, works_of
from service.estimate.cuts.direct import direct_plan
from service.estimate.cuts.engine.least import least
from service.estimate.cuts.engine.work import Effort
from service.problems import Problems

if TYPE_CHECKING:
    from collections.abc import Iterable

    from benchmarks.cutting_pieces import Known
    from service.estimate.cuts.engine.work import Work
    from service.estimate.cuts.request import CutAnswer, CutRequest


def planned(works: Iterable[Work]) -> Trial:
    """All profiles of a job, one after the other."""
    trials = [one_profile(work) for work in works]
    return Trial(
        size=sum(trial.size for trial in trials),
        seconds=sum(trial.seconds for trial in trials),
        cost=sum(trial.cost for trial in trials),
        bound=sum(trial.bound for trial in trials),
        parts=len(trials),
        proven=sum(trial.proven for trial in trials),
        rule_cost=sum(trial.rule_cost for trial in trials),
        rule_seconds=sum(trial.rule_seconds for trial in trials),
    )


def one_profile(work: Work) -> Trial:
    """Pieces of one profile by first fit, and by the engine, which starts from it and whose time includes it."""
    begun = time.process_time()
    start = first_fit(work)
    placed = time.process_time()
    answer = least(work, start, Effort())
    done = time.process_time()
    if answer is None or not (work.is_plan(start) and work.is_plan(list(answer.boards))):
        raise SystemExit(f"no plan: {work}")
    return Trial(
        size=sum(work.demands),
        seconds=done - begun,
        cost=work.cost(list(answer.boards)),
        bound=answer.bound,
        parts=1,
        proven=int(answer.bound >= answer.cost),
        rule_cost=work.cost(start),
        rule_seconds=placed - begun,
    )


def tried(instance: Known) -> Trial:
    """One open instance, held against what is known of its optimum."""
    trial = one_profile(instance.work)
    return replace(trial, wrong=int(trial.bound > instance.most or trial.cost < instance.least))


def joined(request: CutRequest) -> Trial:
    """Runs of a job, their joints and boards; by the trade's way, with first fit and with the least boards."""
    begun = time.process_time()
    joints = last_studs(request)
    works = works_of(request, joints).values()
    labor = int(request.joint_cost * 100) * sum(map(len, joints))
    by_rule = labor + sum(work.cost(first_fit(work)) for work in works)
    ruled = time.process_time()
    cutting = answered(request).cutting
    done = time.process_time()
    return Trial(
        size=len(request.runs),
        seconds=done - ruled,
        cost=int(cutting.cost * 100),
        bound=int(cutting.lower_bound * 100),
        parts=len(cutting.groups),
        proven=sum(group.is_proven for group in cutting.groups),
        rule_cost=by_rule,
        rule_seconds=ruled - begun,
        cut_cost=labor + planned(works).cost,
    )


def answered(request: CutRequest) -> CutAnswer:
    """The service's plan; ends the program with every fault when there is none."""
    problems = Problems()
    answer = direct_plan(request, problems)
    if answer is None:
        raise SystemExit("\n".join(problem.line() for problem in problems))
    return answer
