"""Cutting jobs by themselves against trying everything: every set of joints and every way to fill boards."""

from __future__ import annotations

from collections import Counter

import pytest

from service.estimate.cuts.direct import direct_plan
from service.problems import Problems
from tests.cuts.audit import faults_of
from tests.cuts.cut_requests import pieces, request, run, small_request, stock
from tests.oracles.cut_by_flow import Model, flow_cents
from tests.oracles.cut_by_trying import Trying, least_cents


@pytest.mark.parametrize("block", range(20))
def test_random_jobs_cost_the_least(block):
    """500 jobs cost what trying everything finds, to the cent; every plan is lawful, no bound is above the least."""
    for seed in range(block * 25, block * 25 + 25):
        job = small_request(seed)
        best = least_cents(job)
        problems = Problems()
        answer = direct_plan(job, problems)
        assert (answer is None) == (best is None) == problems.has_errors, seed
        if answer is not None:
            assert faults_of(job, answer) == [], seed
            assert answer.cutting.lower_bound * 100 <= best == answer.cutting.cost * 100, seed


def test_the_jobs_are_of_every_kind():
    """Among the 500 are plenty without a plan, spliced of need and by choice, stacked, and with limited boards."""
    kinds = Counter()
    for job in map(small_request, range(500)):
        trying = Trying(job)
        sets = [trying.sets_of(one) for one in job.runs]
        kinds["refused"] += not all(sets)
        kinds["spliced"] += any(some and () not in some for some in sets)
        kinds["maybe"] += any(() in some and len(some) > 1 for some in sets)
        kinds["stacked"] += len({one.wall for one in job.runs}) < len(job.runs)
        kinds["limited"] += any(row.available for row in job.stock)
        kinds["pieces"] += bool(job.pieces)
    assert min(kinds[kind] for kind in ("refused", "spliced", "maybe", "stacked", "limited", "pieces")) > 50


@pytest.mark.parametrize("block", range(4))
def test_trying_and_flows_agree(block):
    """The two slow ways, which share no search, find the same least cost for jobs whose flows are few."""
    compared = 0
    for seed in range(block * 40, block * 40 + 40):
        job = small_request(seed)
        if Model(job).columns() <= 300:
            compared += 1
            assert flow_cents(job) == least_cents(job), seed
    assert compared > 10


def test_trying_by_hand():
    """A run of 150 in. from 8-foot boards takes one joint and two boards, whatever else these two can hold.

    On the studs at 60 and 80 the pieces are 60 + 90 or 80 + 70. Beside them 26 and 16 fit only the second way, as
    70 + 26 and 80 + 16, and 36 only the first way, as 60 + 36; without the stud at 60 it takes a third board.
    """
    boards = [stock(96, "8.00")]
    assert least_cents(request(boards, [run("r", 150, (60, 80))])) == 1600 + 600
    assert least_cents(request(boards, [run("r", 150, (60, 80))], [pieces("p", 26), pieces("q", 16)])) == 1600 + 600
    assert least_cents(request(boards, [run("r", 150, (60, 80))], [pieces("p", 36)])) == 1600 + 600
    assert least_cents(request(boards, [run("r", 150, (80,))], [pieces("p", 36)])) == 2400 + 600
    assert least_cents(request(boards, [run("r", 150, (30,))])) is None
