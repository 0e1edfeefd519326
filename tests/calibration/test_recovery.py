"""Planted rates are found again. All jobs are invented; seeds are fixed."""

from __future__ import annotations

import pytest

from benchmarks.calibration import PLANTED, main, tally
from tests.calibration.jobs import comparison_of


def test_thirty_noisy_jobs_recover_planted_rates():
    """Thirty noisy jobs hold the planted rate within spread and interval as stated, nearer than the plain mean is.

    A tenth of the jobs are gross outliers. Stated are 90.1% of 150 trials; three standard deviations of a share of 150 are 7.3 points.
    """
    row = tally(30, 0.1, trials=150)
    assert row.stated == pytest.approx(0.901, abs=0.001)
    assert row.in_interval >= row.stated - 0.073
    assert row.in_spread >= 0.99
    assert row.proposed_error < 0.08 < row.mean_error


def test_more_jobs_are_nearer():
    """The mean error of the proposal falls as jobs come in, with and without outliers."""
    for outliers in (0.0, 0.2):
        errors = [tally(jobs, outliers, trials=90).proposed_error for jobs in (3, 8, 30)]
        assert errors == sorted(errors, reverse=True)


def test_outliers_do_not_move_the_proposal():
    """Three of fifteen jobs booked a thousand times too long move proposal and spread by a few percent at most.

    The plain mean of the same hours goes from 14 to over 2,000.
    """
    hours = [10 + number / 2 for number in range(15)]
    sound, spoiled = comparison_of(*hours), comparison_of(*hours[:12], *(1_000 * wrong for wrong in hours[12:]))
    assert sound.proposed is not None
    assert spoiled.proposed == sound.proposed
    assert spoiled.median == sound.median
    assert float(spoiled.spread) == pytest.approx(float(sound.spread), rel=0.05)


def test_the_benchmark_prints_every_table(monkeypatch, capsys):
    """It prints what was planted and, for each share of outliers, one row for each number of jobs."""
    monkeypatch.setattr("benchmarks.calibration.TRIALS", 3)
    monkeypatch.setattr("benchmarks.calibration.tally", lambda jobs, share: tally(jobs, share, trials=3))
    main()
    lines = capsys.readouterr().out.splitlines()
    assert all(each.task.key in lines[0] for each in PLANTED)
    assert [line.split()[0] for line in lines if line[:4].strip().isdigit()] == ["3", "5", "8", "12", "20", "30"] * 3
