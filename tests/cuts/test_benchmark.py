"""The cutting benchmark: its small mode runs, its rivals are sound, and its verdicts can go either way."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal

import pytest

from benchmarks import cutting
from benchmarks.cutting_contest import contradicts, piece_entries
from benchmarks.cutting_goals import Trial, quantile
from benchmarks.cutting_models import boards_model, joints_model
from benchmarks.cutting_pieces import Known, house
from benchmarks.cutting_rivals import first_fit
from benchmarks.cutting_rows import PIECE_ROWS
from benchmarks.cutting_runs import joints_job, one_room_job
from benchmarks.cutting_solvers import Verdict, by_highs
from benchmarks.cutting_trade import last_studs
from benchmarks.cutting_trials import joined, tried
from service.estimate.cuts.engine.work import single
from service.estimate.cuts.request import CutRequest, RunRow, StockRow
from service.units import Length

TRIAL = Trial(size=1, seconds=1.0, cost=100, bound=90, parts=1, proven=0, rule_cost=110, rule_seconds=0.1)


def triplets(folder):
    """A file of one instance whose optimum is known by construction: three boards, each cut in three without a rest."""
    boards = ((480, 270, 250), (470, 275, 255), (495, 251, 254))
    items = [[size, 1] for board in boards for size in board]
    row = {"name": "T9", "set": "Triplets", "capacity": 1000, "items": items, "opt": 3}
    (folder / "triplets.jsonl").write_text(json.dumps(row) + "\n", "utf-8")
    return folder


def wall(length, studs, line="A", start=0, name="1"):
    """A run of profile P, in inches."""
    return RunRow(name, "P", line, Length.of(start), Length.of(length), tuple(Length.of(stud) for stud in studs))


def job(*runs, lengths=((96, 10), (192, 20))):
    """A cutting job of some runs without kerf, trim or overlap, two feet at least and apart, $6 a joint."""
    zero, two_feet = Length.of(0), Length.of(24)
    stock = tuple(StockRow("P", Length.of(length), Decimal(price)) for length, price in lengths)
    return CutRequest(
        currency="USD",
        kerf=zero,
        end_trim=zero,
        scarf_overlap=zero,
        shortest_piece=two_feet,
        stagger=two_feet,
        joint_cost=Decimal(6),
        splice_short_runs=False,
        stock=stock,
        runs=runs,
    )


def test_the_small_mode_prints_every_kind_of_row(tmp_path, capsys, monkeypatch):
    """One job each of given pieces, of runs, and of an open instance: goals, rules, rivals, nothing contradicted."""
    monkeypatch.setattr(cutting, "has_cp_sat", lambda: False)
    cutting.main(["--quick", "--data", str(triplets(tmp_path))])
    printed = capsys.readouterr().out
    assert "CP-SAT is left out" in printed
    titles = (
        "open instances, Triplets (1 jobs, median 9",
        "fixed pieces, one room (1",
        "joints and boards, one room (1",
    )
    assert [title in printed for title in titles] == [True] * 3
    assert printed.count("direct model, HiGHS") == printed.count("contradictions 0") == 1
    assert "last stud + least boards" in printed


def test_an_unknown_row_is_refused(capsys):
    """A row's name that does not exist ends the program with the names that do."""
    with pytest.raises(SystemExit):
        cutting.main(["--rows", "house,mansion"])
    assert "no such row: mansion" in capsys.readouterr().err


def test_jobs_follow_the_recipe_and_the_seed():
    """Eight rooms have about 260 pieces of six profiles; the same seed gives the same house, another seed another."""
    sizes = [sum(sum(work.demands) for work in house(8, seed).values()) for seed in range(20)]
    assert 240 <= sum(sizes) / 20 <= 280
    assert len(house(8, 0)) == 6
    assert house(8, 1) == house(8, 1) != house(8, 2)
    assert joints_job(8, 1) == joints_job(8, 1) != joints_job(8, 2)
    assert sum(len(one_room_job(seed).runs) for seed in range(12)) == 12 * 12


def test_the_small_mode_has_something_to_join():
    """The first one-room job has runs that no board of 16 feet holds."""
    assert max(run.length for run in one_room_job(0).runs) > Length.of(192)


def test_repeated_units_repeat():
    """Of 60 rooms of repeated units all but nine are among four."""
    runs = joints_job(60, 0, is_repeated=True).runs
    rooms = {}
    for run in runs:
        rooms.setdefault(run.wall.partition("-")[0][:-1], []).append((run.profile, run.length))
    assert len(rooms) == 60
    assert len({tuple(room) for room in rooms.values()}) == 9 + 4


def test_first_fit_opens_the_cheapest_by_the_inch_and_shrinks_at_the_end():
    """Two pieces of 5 and one of 3: a board of 12 at 11 holds two of 5; the last, of 3, ends on the short board."""
    work = single((5, 3), (2, 1), (12, 4), (11, 4), (None, None))
    assert [(column.stock, column.counts) for column in first_fit(work)] == [(0, ((0, 2),)), (1, ((1, 1),))]


def test_the_trades_way_joins_on_the_last_stud_that_a_full_board_reaches():
    """A 20-foot run on studs every 16 inches from 16 is joined at 192, the end of a 16-foot board."""
    assert last_studs(job(wall(240, range(16, 240, 16)))) == ((192 * 16,),)


def test_the_trades_way_goes_back_for_a_short_piece_and_for_the_stagger():
    """A run of 200 is joined at 176, so that 24 inches are left; the layer over it at 152, 24 inches from there."""
    studs = tuple(range(8, 200, 24))
    below, above = last_studs(job(wall(200, studs), wall(200, studs, name="2")))
    assert (below, above) == ((176 * 16,), (152 * 16,))


@pytest.mark.parametrize(("kerf", "cost"), [("0", 1000 + 2000 + 600), ("1/8", 1000 + 2000 + 1000 + 600)])
def test_direct_model_and_engine_find_a_known_least_cost(kerf, cost):
    """18 feet joined at 8 and a run of 6: the 10 feet and the 6 share a board of 16 unless the saw takes something."""
    request = replace(job(wall(216, (96,)), wall(72, (), line="B", name="2")), kerf=Length.of(kerf))
    verdict = by_highs(joints_model(request), 5)
    assert (verdict.is_least, verdict.cost) == (True, cost)
    assert (joined(request).cost, joined(request).bound) == (cost, cost)


@pytest.mark.parametrize(("line", "cost"), [("A", 3000 + 4000 + 1200), ("B", 3000 + 3000 + 1200)])
def test_direct_model_and_engine_keep_the_stagger(line, cost):
    """24 feet joined at 8 take one board of 8 and one of 16; on one wall the other layer joins at 10, from two of 16."""
    request = job(wall(288, (96, 120)), wall(288, (96, 120), line=line, name="2"))
    verdict = by_highs(joints_model(request), 5)
    assert (verdict.is_least, verdict.cost) == (True, cost)
    assert (joined(request).cost, joined(request).bound) == (cost, cost)


def test_a_model_of_runs_begins_with_the_trades_way():
    """The values to begin with keep every row and cost what last stud and first fit cost."""
    request = one_room_job(0)
    model = joints_model(request)
    sums = dict.fromkeys(range(len(model.low)), 0)
    for column, count in model.start.items():
        for row, number in model.entries[column]:
            sums[row] += number * count
    assert all(low <= sums[row] <= high for row, (low, high) in enumerate(zip(model.low, model.high, strict=True)))
    assert sum(model.costs[column] * count for column, count in model.start.items()) == joined(request).rule_cost


def test_solver_and_engine_agree_on_a_room():
    """Every profile of a small room costs the same by the direct model and by the engine, which proves it."""
    entries = list(piece_entries(house(1, 0).values()))
    costs = [(by_highs(entry.model, 20).cost, entry.trial.bound) for entry in entries]
    assert costs == [(entry.trial.cost, entry.trial.cost) for entry in entries]


def test_a_model_begins_with_the_plan_it_is_given():
    """The values to begin with cost what first fit's plan costs."""
    work = house(1, 1)["casing"]
    model = boards_model(work, first_fit(work))
    assert sum(model.costs[column] * count for column, count in model.start.items()) == work.cost(first_fit(work))


def test_a_contradiction_is_told():
    """A plan under the engine's bound contradicts it; so does a cheaper plan by the engine than what is called least."""
    plans = ((89, False), (101, True), (101, False), (None, False))
    found = [contradicts(TRIAL, Verdict(cost, is_least=least, seconds=1.0)) for cost, least in plans]
    assert found == [True, True, False, False]


def test_a_wrong_optimum_is_told():
    """An instance said to need four boards, that the engine cuts from three, counts as a contradiction."""
    work = single((5,), (3,), (5,), (1,), (None,))
    assert [tried(Known("K", "K", work, known, known)).wrong for known in (3, 4, 2)] == [0, 1, 1]


def test_a_goal_says_whether_it_is_met():
    """A profile that is not proven misses the goal of all; one that is meets it."""
    goal = PIECE_ROWS[0].goals[0]
    assert goal.line([TRIAL]).endswith("NOT MET")
    assert goal.line([replace(TRIAL, proven=1)]).endswith("  met")


def test_a_quantile_lies_straight_between_neighbors():
    """95 of 100 on 0…10 is 9.5; on a single value that value."""
    assert quantile(list(range(11)), 0.95) == pytest.approx(9.5)
    assert quantile([7.0], 0.95) == 7.0
