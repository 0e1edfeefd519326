"""What drives each task, counted by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.estimate.cuts.model import Splice
from service.estimate.labor.work import cut_task, is_by_hand
from service.estimate.takeoff.covered import covered_length
from service.estimate.takeoff.model import End, Joint
from service.firm import Position
from service.survey import CornerKind, FinishOrder
from service.trade.tasks import TASKS
from service.units import ZERO
from tests.labor.examples import D, labor, prices, quantity, rates, rows
from tests.materials.examples import BASE, IN, INSIDE, OUTSIDE, SCARF, SQUARE, centers, crown, piece, plan, room, run

JOISTS = centers(16, 144)
COPE = End(Joint.COPE, 90.0, 31.62, 33.86, 45.0, corner=CornerKind.INSIDE)
BUTT = End(Joint.BUTT, 90.0, 0.0, 0.0)
RETURN = End(Joint.RETURN, 90.0, 45.0, 0.0, corner=CornerKind.OUTSIDE)
SETTINGS = prices().settings


def test_room_is_set_up_and_cleaned_once():
    """Three runs in one room: one set-up, one clean-up."""
    found = labor(*(run(at=JOISTS, number=n) for n in (1, 2, 3)))
    assert (quantity(found, "set-up"), quantity(found, "clean-up")) == (1, 1)


def test_layout_counts_each_wall_once():
    """Framing is found once along a wall of 160 in, however many layers stand on it: 13.33 ft."""
    found = labor(run(at=JOISTS), run(Position.BASE, BASE, at=JOISTS, number=2))
    assert quantity(found, "layout") == D("13.33")


def test_layout_stops_at_the_walls_ends():
    """A run that passes an outside corner is laid out along the wall alone; gaps between runs are left out."""
    wall = room().walls[0]
    passing = run(length=170, start=IN(-5))
    left, right = run(length=40), run(length=50, start=IN(100))
    assert covered_length([passing], wall).length == IN(160)
    assert covered_length([left, right], wall).length == IN(90)
    assert covered_length([left, replace(right, start=IN(20))], wall).length == IN(70)
    assert covered_length([], wall).length == ZERO


def test_tear_out_counts_an_order_once():
    """Two layers of one order with Remove existing: the old trim is torn out along 160 in once."""
    one = run(at=JOISTS, remove_existing=True)
    other = run(Position.WALL, at=JOISTS, number=2, remove_existing=True)
    assert quantity(labor(one, other), "tear-out") == D("13.33")


def test_tear_out_of_two_orders_adds_up():
    """An old crown and an old base are torn out each: twice 13.33 ft, rounded once: 26.67."""
    one = run(at=JOISTS, remove_existing=True)
    base = run(Position.BASE, BASE, at=JOISTS, number=2, remove_existing=True, trim_pointer="/trim/1")
    assert quantity(labor(one, base), "tear-out") == D("26.67")


def test_disposal_is_priced_where_there_is_a_rate_for_it():
    """Old trim of 160 in is hauled away by the foot; a price list without a rate for that leaves it out, without a fault."""
    old = run(at=JOISTS, remove_existing=True)
    unpriced = {key: rate for key, rate in rates().items() if key != "disposal"}
    assert quantity(labor(old), "disposal") == D("13.33")
    assert rows(labor(run(at=JOISTS)), "disposal") == []
    assert rows(labor(old, price_list=prices(labor=unpriced)), "disposal") == []


def test_nothing_is_torn_out_unasked():
    """Without Remove existing no tear-out is priced."""
    assert rows(labor(run(at=JOISTS)), "tear-out") == []


@pytest.mark.parametrize(
    ("end", "task"),
    [(SQUARE, "cut-square"), (BUTT, "cut-butt"), (INSIDE, "cut-miter"), (OUTSIDE, "cut-miter"), (COPE, "cut-cope"),
     (SCARF, None), (RETURN, None)],
)  # fmt: skip
def test_ends_are_counted_by_joint(end, task):
    """Each end is a task by its joint; a scarf is counted with its splice, a return with its return piece."""
    assert cut_task(end, SETTINGS) == task


def test_both_ends_of_each_piece_are_cut():
    """A coped and a square end: one of each."""
    found = labor(run(at=JOISTS, left=COPE, right=SQUARE))
    assert (quantity(found, "cut-cope"), quantity(found, "cut-square")) == (1, 1)


def test_returns_are_pieces_of_work():
    """A run with a returned end: one return, one miter at its other end, and the return is not hung again."""
    item = run(at=JOISTS, right=RETURN)
    small = piece(item, IN(160), IN(3), is_return=True, left=RETURN, right=SQUARE)
    found = labor(item, cuts=plan(item, pieces=(piece(item), small)))
    assert (quantity(found, "return"), quantity(found, "cut-miter"), rows(found, "cut-square")) == (1, 1, [])
    assert quantity(found, "hang-ceiling") == D("13.33")


@pytest.mark.parametrize(
    ("miter", "bevel", "nested", "is_needed"),
    [
        (45.0, 0.0, None, False),  # within
        (52.5, 0.0, None, True),  # flat on the ceiling, no other way
        (31.6, 50.0, 45.0, False),  # stood against the fence it is within
        (10.0, 50.0, 60.0, True),  # past both ways
        (50.0, 47.0, None, False),  # the limits themselves are within
    ],
)
def test_by_hand_where_no_way_is_within_the_saw(miter, bevel, nested, is_needed):
    """An end is cut by hand only where neither lying flat nor against the fence the saw reaches it."""
    settings = replace(SETTINGS, saw_miter_limit_deg=50.0, saw_bevel_limit_deg=47.0)
    end = End(Joint.MITER, 70.0, miter, bevel, nested)
    assert is_by_hand(end, settings) is is_needed
    assert cut_task(end, settings) == ("cut-by-hand" if is_needed else "cut-miter")


def test_no_saw_limits_no_hand_cut():
    """A firm that sets no limits cuts everything on its saw."""
    assert not is_by_hand(End(Joint.MITER, 10.0, 85.0, 0.0), SETTINGS)


def test_splices_are_scarfs():
    """Two splices, one on a glue plate: two scarfs and one glue plate."""
    item = run(at=JOISTS)
    cuts = plan(item, splices=(Splice(1, IN(48)), Splice(1, IN(100), on_glue_plate=True)))
    found = labor(item, cuts=cuts)
    assert (quantity(found, "scarf"), quantity(found, "glue-plate")) == (2, 1)


def test_crown_tasks():
    """A crown on 11 blocks: 11 blocks, 66 nails driven, 44 holes filled, 13.33 ft hung."""
    found = labor(crown())
    drivers = [quantity(found, task) for task in ("block", "nailing", "fill", "hang-crown")]
    assert drivers == [11, 66, 44, D("13.33")]


def test_caulking_by_edges():
    """Two edges of 160 in are 26.67 ft of caulking."""
    assert quantity(labor(run(at=JOISTS, layer={"caulked_edges": 2})), "caulk") == D("26.67")


@pytest.mark.parametrize(
    ("finish", "expected"),
    [
        (FinishOrder.NONE, {}),
        (FinishOrder.PRIME, {"sand": "7.78", "prime": "7.78"}),
        (FinishOrder.PAINT, {"sand": "7.78", "prime": "7.78", "paint": "15.56"}),
        (FinishOrder.STAIN, {"sand": "7.78", "stain": "15.56"}),
    ],
)
def test_finishing_by_area_and_coat(finish, expected):
    """A girth of 7 in on 160 in is 7.78 sq ft: sanded once, primed once, painted or stained twice."""
    found = labor(run(at=JOISTS, finish=finish))
    tasks = ("sand", "prime", "paint", "stain")
    assert {task: str(quantity(found, task)) for task in tasks if rows(found, task)} == expected


def test_units_are_the_published_ones():
    """Every row is counted in the unit that its key is published with."""
    found = labor(crown(), run(at=JOISTS, number=2, finish=FinishOrder.PAINT))
    assert found.rows
    assert all(row.unit == TASKS[row.task].unit for row in found.rows)


def test_rows_stand_in_the_order_of_the_work():
    """Rows follow the published order of tasks, the trips last."""
    keys = [row.task for row in labor(crown(), run(at=JOISTS, number=2)).rows]
    assert keys == sorted(keys, key=list(TASKS).index)
    assert keys[-1] == "trip"


def test_no_trim_no_work():
    """A room without trim is not set up, and nobody drives there."""
    found = labor()
    assert (found.rows, found.hours, found.crew_days) == ((), 0, 0)


def test_only_what_is_ordered_is_torn_out():
    """Of an old base that goes and a ceiling board on bare gypsum, the base alone is torn out."""
    base = run(Position.BASE, BASE, at=JOISTS, number=2, remove_existing=True, trim_pointer="/trim/1")
    assert quantity(labor(run(at=JOISTS), base), "tear-out") == D("13.33")
