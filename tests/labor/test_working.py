"""Crew days, trips, the joint's cost, and what the price list lacks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.estimate.labor import joint_cost
from service.firm import LaborRate
from service.problems import Code, Problems
from service.trade.tasks import TASKS
from tests.labor.examples import D, labor, prices, quantity, rates, rows
from tests.materials.examples import centers, crown, run

JOISTS = centers(16, 144)


def test_crew_days_and_trips():
    """One set-up of 20 h and nothing else that takes time: 20 / (2 × 6.5) = 1.54 days, told as 1.6, two trips.

    A trip of 0.7 h a crew day adds 1.40 h to the 20 h.
    """
    nothing = dict.fromkeys((key.replace("-", "_") for key in TASKS), "0")
    listed = rates(**{**nothing, "set_up": "20", "trip": "0.7"})
    found = labor(run(at=JOISTS), price_list=prices(labor=listed))
    assert (found.crew_days, quantity(found, "trip"), found.hours) == (D("1.6"), 2, D("21.40"))


def test_a_full_day_is_one_trip():
    """Exactly 13 h on site are one crew day and one trip."""
    nothing = dict.fromkeys((key.replace("-", "_") for key in TASKS), "0")
    found = labor(run(at=JOISTS), price_list=prices(labor=rates(**{**nothing, "set_up": "13"})))
    assert (found.crew_days, quantity(found, "trip")) == (1, 1)


def test_hours_are_the_sum_of_rows():
    """Total hours are those of all rows, amounts are hours × wage to the cent."""
    found = labor(crown(), run(at=JOISTS, number=2))
    assert found.hours == sum(row.hours for row in found.rows)
    assert all(row.amount == (row.hours * 30).quantize(D("0.01")) for row in found.rows)


def test_joint_cost_by_hand():
    """A scarf of 0.1 h at 30.00 with 30 percent burden costs 3.90; one of 0.0125 h 0.4875, so 0.49."""
    assert joint_cost(prices()) == D("3.90")
    assert joint_cost(prices(labor=rates(scarf="0.0125"))) == D("0.49")


@pytest.mark.parametrize("lacks", ["rate", "wage"])
def test_joint_cost_without_rate_or_wage_is_nothing(lacks):
    """Without a rate or wage for scarfs the cut plan weighs boards alone; the fault is told where one is made."""
    listed = prices(labor={}) if lacks == "rate" else replace(prices(), wages={})
    assert joint_cost(listed) == 0


def test_missing_rate_is_named():
    """A task that the work takes and the price list has no rate for is one fault with the key and its unit."""
    problems = Problems()
    listed = {key: rate for key, rate in rates().items() if key != "nailing"}
    found = labor(run(at=JOISTS), run(at=JOISTS, number=2), price_list=prices(labor=listed), problems=problems)
    (problem,) = problems.errors
    assert (problem.code, problem.found) == (Code.RATE_MISSING, "nailing")
    assert "hole" in problem.help
    assert found.rows == ()


def test_rate_that_nobody_needs_may_be_missing():
    """A price list without rates for stain or fans serves a job that has neither."""
    unused = {"stain", "fan-in", "hang-crown", "scarf"}
    listed = {key: rate for key, rate in rates().items() if key not in unused}
    assert labor(run(at=JOISTS), price_list=prices(labor=listed)).rows


def test_role_without_wage_is_named():
    """A task done by a role without a wage is a fault that names the role."""
    problems = Problems()
    listed = {**rates(), "nailing": LaborRate("nailing", "hole", D("0.01"), "apprentice")}
    labor(run(at=JOISTS), price_list=prices(labor=listed), problems=problems)
    (problem,) = problems.errors
    assert (problem.code, problem.found) == (Code.ROLE_UNKNOWN, "apprentice")


def test_basis_leads_to_the_sheet_and_the_list():
    """A row names its rate, its wage and the walls it was counted from."""
    (row,) = rows(labor(run(at=JOISTS)), "nailing")
    assert {"list:labor/nailing", "list:wages/carpenter", "sheet:/rooms/0/walls/0", "sheet:/trim/0"} <= set(row.basis)


def test_row_tells_its_room():
    """Rows of a room carry its number and name; the trip belongs to the whole job."""
    found = labor(run(at=JOISTS))
    assert {(row.room, row.room_name) for row in found.rows} == {(1, "Parlor"), (None, None)}
