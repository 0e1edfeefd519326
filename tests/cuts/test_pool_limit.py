"""The solver's choice among plans is left out where its program would be too large."""

from __future__ import annotations

from dataclasses import replace

import pytest

from benchmarks.cutting_runs import joints_job
from service.estimate.cuts import direct
from service.estimate.cuts.engine import joined
from service.estimate.cuts.engine.work import Effort
from service.problems import Problems
from tests.cuts.audit import faults_of

REQUEST = joints_job(3, 1)


@pytest.fixture
def asked(monkeypatch):
    """Sizes of the programs that the solver was asked to choose from."""
    sizes = []
    real = joined.best_choice

    def counting(master, patterns, plans, *rest):
        sizes.append(len(patterns) + len(plans))
        return real(master, patterns, plans, *rest)

    monkeypatch.setattr(joined, "best_choice", counting)
    return sizes


@pytest.mark.parametrize(("entries", "is_asked"), [(0, False), (4_500, True)])
def test_a_program_too_large_is_never_made(asked, monkeypatch, entries, is_asked):
    """With no entries allowed the solver is not asked; the plan is lawful and its bound below its cost all the same."""
    monkeypatch.setattr(direct, "effort_of", lambda _seconds: replace(Effort(), joint_entries=entries))
    answer = direct.direct_plan(REQUEST, Problems())
    assert bool(asked) is is_asked
    assert faults_of(REQUEST, answer) == []
    assert answer.cutting.lower_bound <= answer.cutting.cost
