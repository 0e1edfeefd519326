"""The work by day of whole jobs: what a finish carpenter would expect, props, cure, and what it does to the hours."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.estimate.labor.stages import DryingRules
from service.firm import AdhesiveUse, Position
from service.survey import CornerKind, FinishOrder, Joists, Room, Studs, TrimOrder, Wall
from service.trade.book import shipped_book
from tests.labor.examples import D, labor, occupied, prices, quantity, rates, rows, tall
from tests.materials.examples import BASE, IN, book_with, centers, crown, room, run, unbacked
from tests.pipeline.estimates import quote_of, sample_price_list, sample_quote, sample_survey, survey_of
from tests.pipeline.test_samples import GOOD

JOISTS = centers(16, 144)


def days_with(found, task):
    """Elapsed days on which there is work of a task, coat by coat."""
    return {(item.coat, day.elapsed_day) for day in found.plan.days for item in day.tasks if item.task == task}


def small_trim(**more):
    """Primed trim of 160 in on one wall, both edges caulked, painted by us, rates as the sample list has them."""
    listed = sample_price_list().labor
    hours = {key.replace("-", "_"): str(rate.hours_per_unit) for key, rate in listed.items()}
    item = run(Position.RAIL, BASE, at=JOISTS, layer={"caulked_edges": 2}, finish=FinishOrder.PAINT)
    return labor(item, price_list=prices(labor=rates(**hours)), **more)


def test_trim_on_one_wall():
    """Hung, filled, caulked and painted once on day 1, painted again on day 2, in one visit.

    Source: common practice: caulk is painted over after two hours, a coat of latex after four.
    """
    found = small_trim()
    assert days_with(found, "hang-rail") == days_with(found, "caulk") == days_with(found, "fill") == {(None, 1)}
    assert days_with(found, "paint") == {(1, 1), (2, 2)}
    assert rows(found, "prime") == []
    assert (found.plan.visits, found.plan.working_days, found.plan.elapsed_days) == (1, 2, 2)
    assert (quantity(found, "trip"), quantity(found, "set-up")) == (2, 1)


def test_crown_of_one_room_as_a_carpenter_would_do_it():
    """Crown on four walls of 12 by 14 ft, primed stock: up, filled and caulked on day 1, painted on days 2 and 3.

    Source: common practice for two people; only nights lie between, so it is one visit and one set-up.
    """
    lengths = [("A", 168), ("B", 144), ("C", 168), ("D", 144)]
    walls = [
        Wall(f"/rooms/0/walls/{i}", name, IN(length), CornerKind.INSIDE, 90.0, Studs(IN(16), IN(16)))
        for i, (name, length) in enumerate(lengths)
    ]
    joists = Joists("A", IN(16), IN(16))
    bedroom = Room("/rooms/0", "Bedroom", IN(96), IN("0.5"), IN("0.5"), tuple(walls), joists)
    quote = quote_of(survey_of(bedroom, trim=(TrimOrder("/trim/0", None, None, "Plain crown"),)))
    assert {days_with_task(quote, task) for task in ("hang-crown", "fill", "caulk")} == {(1,)}
    assert quote.labor_plan.elapsed_days in {2, 3}
    assert set(days_with_task(quote, "paint")) <= {1, 2, 3}
    assert len(days_with_task(quote, "paint")) == 2
    assert quote.labor_plan.visits == 1
    assert [row.quantity for row in quote.labor if row.task == "set-up"] == [1]


def days_with_task(quote, task):
    """Elapsed days of a quote on which there is work of a task."""
    return tuple(day.elapsed_day for day in quote.labor_plan.days if any(item.task == task for item in day.tasks))


def test_a_wait_within_the_day_costs_no_hours():
    """Caulk that takes two hours and caulk that takes none cost the same hours; only the trips may differ."""
    quick = small_trim(book=book_with(labor__caulk_dry="0", labor__filler_dry="0", labor__paint_dry="0"))
    slow = small_trim()
    on_site = [sum(row.hours for row in found.rows if row.task != "trip") for found in (quick, slow)]
    assert on_site[0] == on_site[1]
    assert (quantity(quick, "trip"), quantity(slow, "trip")) == (1, 2)


def glued(**more):
    """A ceiling board without a joist behind 160 in: adhesive and crossed nails hold it, on props."""
    layer = {"adhesive": AdhesiveUse.BEAD}
    return run(at=(), layer=layer, backing=unbacked((0, 160)), **more)


def test_props_come_down_after_the_cure():
    """Boards on props alone: the room is left, and cleaned up on day 3, 24 h later; that is a second visit.

    Day 1 ends less than 24 h before any hour of day 2 that is worth coming for, so day 2 has no work: the room is set
    up twice and driven to twice.
    """
    found = labor(glued())
    assert [(day.elapsed_day, day.visit) for day in found.plan.days] == [(1, 1), (3, 2)]
    assert days_with(found, "clean-up") == {(None, 3)}
    (wait,) = found.plan.waits
    assert (wait.what, wait.hours, wait.from_day, wait.until_day) == ("adhesive", 24, 1, 2)
    assert "props under the ceiling boards on wall A stay until later on day 2" in wait.text
    assert (quantity(found, "set-up"), quantity(found, "trip")) == (2, 2)
    (set_up,) = rows(found, "set-up")
    assert "trade:labor.adhesive-cure" in set_up.basis


def test_the_crown_waits_for_the_boards_that_carry_it():
    """A crown under boards on props is cut on day 1 and hung when the adhesive has cured; base goes on meanwhile."""
    base = run(Position.BASE, BASE, at=JOISTS, number=3)
    found = labor(glued(), crown(number=2), base)
    assert days_with(found, "hang-ceiling") == days_with(found, "hang-base") == days_with(found, "block") == {(None, 1)}
    assert min(day for _, day in days_with(found, "hang-crown")) == 3


def test_props_are_told_even_where_nothing_is_left_to_do():
    """With no hours for cleaning up the plan still says when props may come down."""
    found = labor(glued(), price_list=prices(labor=rates(clean_up="0")))
    assert [wait.what for wait in found.plan.waits] == ["adhesive"]
    assert found.plan.visits == 1


def test_boards_with_wood_behind_them_need_no_props():
    """Where joists take the nails nothing waits for adhesive."""
    found = labor(run(at=JOISTS, layer={"adhesive": AdhesiveUse.BEAD}), crown(number=2))
    assert [wait for wait in found.plan.waits if wait.what == "adhesive"] == []


def test_a_slow_maker_s_label_makes_another_visit():
    """Paint that takes two days between coats sends the crew away: one more visit, set-up and trip, no other hours."""
    usual, slow = small_trim(), small_trim(book=book_with(labor__paint_dry="48"))
    assert (usual.plan.visits, slow.plan.visits) == (1, 2)
    assert quantity(slow, "set-up") == quantity(usual, "set-up") + 1
    work = [
        {row.task: row.hours for row in found.rows if row.task not in {"set-up", "trip"}} for found in (usual, slow)
    ]
    assert work[0] == work[1]


def test_raw_wood_is_primed_before_it_is_painted():
    """Raw stock: primer after caulk and filler, a coat of paint an hour after the primer, the next four hours after it."""
    found = labor(run(at=JOISTS, finish=FinishOrder.PAINT, layer={"caulked_edges": 1}))
    assert {wait.what: wait.hours for wait in found.plan.waits} == {"filler": 2, "caulk": 2, "primer": 1, "paint": 4}
    order = [(item.task, item.coat) for day in found.plan.days for item in day.tasks]
    places = [
        order.index(key) for key in (("fill", None), ("caulk", None), ("sand", None), ("prime", None), ("paint", 1))
    ]
    assert places == sorted(places)
    assert order.index(("paint", 2)) > places[-1]


def test_a_job_too_long_for_days_has_none():
    """Beyond the trade book's longest plan the days are counted, not listed: 13 h a day, 3 days at most."""
    listed = prices(labor=rates(clean_up="60"))
    found = labor(run(at=JOISTS), price_list=listed, book=book_with(labor__longest_plan="3"))
    on_site = sum(row.hours for row in found.rows if row.task != "trip")
    assert found.plan.days == ()
    assert found.plan.working_days == math.ceil(on_site / 13) == quantity(found, "trip")


@pytest.mark.parametrize("name", GOOD)
def test_days_of_every_sample_hold_its_hours(name):
    """Hours by room and task in the days are those of the rows, trips apart; trips are the days with work."""
    quote = sample_quote(name)
    planned, priced = defaultdict(Decimal), defaultdict(Decimal)
    for day in quote.labor_plan.days:
        assert day.hours <= 2 * D("6.5")
        for item in day.tasks:
            planned[item.room, item.task] += item.hours
    for row in quote.labor:
        if row.task != "trip":
            priced[row.room, row.task] += row.hours
    assert planned == priced
    (trips,) = [row.quantity for row in quote.labor if row.task == "trip"]
    assert trips == quote.labor_plan.working_days == len(quote.labor_plan.days)


@pytest.mark.parametrize("name", ["rectangle", "bay"])
def test_one_person_takes_longer_than_two(name):
    """A crew of one needs more days than a crew of two, and the same hours for everything but set-up and trips."""
    listed = sample_price_list()
    alone = replace(listed, settings=replace(listed.settings, crew_size=1))
    one, two = quote_of(sample_survey(name), alone), sample_quote(name)
    assert one.labor_plan.working_days > two.labor_plan.working_days
    assert one.crew_days > two.crew_days
    work = [[row.hours for row in quote.labor if row.task not in {"set-up", "trip"}] for quote in (one, two)]
    assert work[0] == work[1]


@pytest.mark.parametrize("name", ["rectangle", "metric"])
def test_doubled_rates_double_every_hour(name):
    """Twice every rate is twice the hours of every row for each unit of it, to the rounding of a hundredth."""
    listed = sample_price_list()
    twice = {key: replace(rate, hours_per_unit=rate.hours_per_unit * 2) for key, rate in listed.labor.items()}
    doubled = quote_of(sample_survey(name), replace(listed, labor=twice))
    assert len(doubled.labor) == len(sample_quote(name).labor)
    for one, two in zip(sample_quote(name).labor, doubled.labor, strict=True):
        assert (one.task, one.room, two.rate) == (two.task, two.room, one.rate * 2)
        if one.task not in {"set-up", "trip"}:
            assert two.quantity == one.quantity
        assert abs(two.hours * one.quantity - 2 * one.hours * two.quantity) <= D("0.015") * max(
            one.quantity, two.quantity
        )


@settings(max_examples=25, deadline=None)
@given(st.integers(min_value=60, max_value=150), st.integers(min_value=0, max_value=60))
def test_more_work_never_takes_fewer_hours(length, more):
    """A longer run takes at least as many hours of every task that is measured or counted on it."""
    short, longer = (
        labor(run(length=size, at=centers(16, size - 4), finish=FinishOrder.PAINT)) for size in (length, length + more)
    )
    for row in short.rows:
        if row.task not in {"set-up", "trip"}:
            assert sum(other.hours for other in rows(longer, row.task)) >= row.hours


def test_long_pieces_in_a_high_occupied_room_multiply():
    """12 ft in one piece, ceiling from 9 to 10 ft, people living there: 12 × 0.1 × 1.2 × 1.1 × 1.5 = 2.376, so 2.38 h."""
    conditions = (tall("108", "120", "1.2", "ceiling"), occupied("1.1"))
    item = run(length=144, at=centers(16, 128))
    found = labor(item, price_list=prices(*conditions), place=room("119.99"), is_occupied=True)
    (row,) = rows(found, "hang-ceiling")
    assert [factor.factor for factor in row.factors] == [D("1.2"), D("1.1"), D("1.5")]
    assert row.hours == D("2.38")
    beyond = labor(item, price_list=prices(*conditions), place=room("120"), is_occupied=True)
    assert [factor.factor for factor in rows(beyond, "hang-ceiling")[0].factors] == [D("1.1"), D("1.5")]


def test_drying_times_are_the_trade_book_s():
    """Waits are read from the trade book, a firm's own values among them."""
    book = shipped_book()
    assert DryingRules.of(book).caulk.hours == book.value("labor.caulk-dry")
    assert DryingRules.of(book_with(labor__caulk_dry="7")).caulk.hours == 7
