"""Conditions in force, what they apply to, and the hours they make."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.estimate.labor import Factor
from service.estimate.labor.words import WORDS
from service.survey import Access
from service.trade.tasks import TASKS
from tests.labor.examples import D, access, labor, occupied, prices, quantity, rates, rows, tall
from tests.materials.examples import IN, book_with, centers, crown, piece, plan, room, run

JOISTS = centers(16, 144)
SHORT = run(length=96, at=centers(16, 80))


def factors(task, *conditions, place=None, is_occupied=False, of=SHORT):
    """Factors on one task of a short ceiling board."""
    found = labor(of, price_list=prices(*conditions), place=place, is_occupied=is_occupied)
    (row,) = rows(found, task)
    return [item.factor for item in row.factors]


@pytest.mark.parametrize(("height", "holds"), [("107.99", False), ("108", True), ("119.99", True), ("120", False)])
def test_band_holds_from_and_below_to(height, holds):
    """A band from 9 to 10 ft holds at 9 ft, not at 10: From ≤ height < To."""
    band = tall("108", "120", "1.2")
    assert bool(factors("hang-ceiling", band, place=room(height))) is holds


def test_open_bands():
    """A band without From holds below To, one without To from From on."""
    assert factors("hang-ceiling", tall(None, "100", "1.1"), tall("100", None, "1.3")) == [D("1.1")]
    assert factors("hang-ceiling", tall(None, "100", "1.1"), tall("100", None, "1.3"), place=room("100")) == [D("1.3")]


@pytest.mark.parametrize(
    ("applies_to", "task", "holds"),
    [
        (("all",), "set-up", True), (("ceiling",), "hang-ceiling", True), (("ceiling",), "nailing", True),
        (("ceiling",), "set-up", False), (("crown",), "hang-ceiling", False), (("nailing",), "nailing", True),
        (("nailing",), "hang-ceiling", False), (("crown", "hang-ceiling"), "hang-ceiling", True),
    ],
)  # fmt: skip
def test_what_a_condition_applies_to(applies_to, task, holds):
    """A condition applies to all, to work on a position, or to a task, and to nothing else."""
    assert bool(factors(task, tall("90", None, "1.2", *applies_to))) is holds


@pytest.mark.parametrize(("label", "is_occupied", "holds"), [
    ("yes", True, True), ("yes", False, False), ("no", False, True), ("no", True, False), (None, True, True),
    (None, False, False),
])  # fmt: skip
def test_occupied(label, is_occupied, holds):
    """An occupied condition holds as labeled; without label it means yes."""
    assert bool(factors("set-up", occupied("1.1", label=label), is_occupied=is_occupied)) is holds


def test_access():
    """A condition of access holds in rooms of that access alone."""
    condition = access(Access.OVER_STAIRS, "1.5")
    assert factors("set-up", condition, place=room(access=Access.OVER_STAIRS)) == [D("1.5")]
    assert factors("set-up", condition) == []


def test_factors_multiply():
    """8 ft hung at 0.1 h a foot under 1.2 and 1.1: 8 × 0.1 × 1.32 = 1.056, so 1.06 h, 31.80 at 30 an hour."""
    found = labor(SHORT, price_list=prices(tall("90", None, "1.2"), occupied("1.1")), is_occupied=True)
    (row,) = rows(found, "hang-ceiling")
    assert (row.quantity, row.hours, row.amount) == (8, D("1.06"), D("31.80"))
    assert [item.condition for item in row.factors] == ["ceiling height from 7′\N{NO-BREAK SPACE}6″", "occupied"]


def test_hours_round_half_up():
    """8 ft at 0.050625 h are 0.405 h exactly: 0.41, not the even 0.40."""
    found = labor(SHORT, price_list=prices(labor=rates(hang_ceiling="0.050625")))
    assert rows(found, "hang-ceiling")[0].hours == D("0.41")


def test_a_trip_is_no_work_in_a_room():
    """A condition on all leaves the drive as long as it is."""
    found = labor(SHORT, price_list=prices(occupied("2")), is_occupied=True)
    assert rows(found, "trip")[0].factors == ()


def test_position_splits_a_task_that_only_part_of_it_falls_under():
    """Nailing a crown is slower, nailing a ceiling board is not: two rows, their holes apart."""
    item = run(at=JOISTS, number=2)
    found = labor(crown(), item, price_list=prices(tall("90", None, "1.5", "crown")))
    split = {row.factors: row.quantity for row in rows(found, "nailing")}
    assert split == {(Factor("ceiling height from 7′\N{NO-BREAK SPACE}6″", D("1.5")),): 66, (): 18}


def test_long_piece_takes_two_people():
    """A piece longer than 10 ft takes 1.5 times the person-hours to hang; one of exactly 10 ft does not."""
    item = run(length=240, at=centers(16, 224))
    cuts = plan(item, pieces=(piece(item, length=IN(120)), piece(item, length=IN("120.5"))))
    found = labor(item, cuts=cuts)
    hung = {row.quantity: [item.factor for item in row.factors] for row in rows(found, "hang-ceiling")}
    assert hung == {D("10.00"): [], D("10.04"): [D("1.5")]}


def test_rate_for_two_people_has_no_factor():
    """Where the rate already counts a crew of two, a long piece adds nothing."""
    listed = rates()
    pair = {**listed, "hang-ceiling": replace(listed["hang-ceiling"], crew=2)}
    found = labor(run(at=JOISTS), price_list=prices(labor=pair))
    assert rows(found, "hang-ceiling")[0].factors == ()


def test_firm_sets_what_is_long():
    """A firm that lifts 14 ft alone says so in its trade book."""
    found = labor(run(at=JOISTS), book=book_with(labor__long_piece="168"))
    assert rows(found, "hang-ceiling")[0].factors == ()


def test_long_piece_names_its_entries():
    """The row of long pieces rests on the trade book's two entries."""
    (row,) = rows(labor(run(at=JOISTS)), "hang-ceiling")
    assert {"trade:labor.long-piece", "trade:labor.long-piece-factor"} <= set(row.basis)


@given(
    st.lists(st.decimals("1", "2", places=2), min_size=3, max_size=3).map(sorted),
    st.integers(min_value=84, max_value=200), st.integers(min_value=0, max_value=60),
)  # fmt: skip
def test_higher_ceiling_never_takes_fewer_hours(steps, height, more):
    """With bands whose factors rise, a higher ceiling never takes fewer hours, task by task and in all."""
    low, middle, high = (str(step) for step in steps)
    bands = (tall("96", "108", low), tall("108", "120", middle), tall("120", None, high))
    lower = labor(SHORT, crown(number=2), price_list=prices(*bands), place=room(str(height)))
    higher = labor(SHORT, crown(number=2), price_list=prices(*bands), place=room(str(height + more)))
    assert higher.hours >= lower.hours
    assert higher.crew_days >= lower.crew_days
    by_task = {row.task for row in lower.rows}
    for task in by_task:
        assert sum(r.hours for r in rows(higher, task)) >= sum(r.hours for r in rows(lower, task))


@given(st.integers(min_value=1, max_value=40))
def test_doubled_rates_double_hours(cents):
    """Twice the rate of a task is twice its hours, to the rounding of a hundredth; quantities stay."""
    rate = D(cents) / 100
    once, twice = (
        labor(SHORT, price_list=prices(labor=rates(hang_ceiling=str(r), nailing=str(r)))) for r in (rate, rate * 2)
    )
    for task in ("hang-ceiling", "nailing"):
        assert quantity(once, task) == quantity(twice, task)
        assert rows(twice, task)[0].hours == rows(once, task)[0].hours * 2


def test_rows_of_one_task_are_told_apart_by_what_differs():
    """Long and short pieces of an occupied house differ by the length alone, so that alone is said; one row says nothing."""
    item = run(length=240, at=centers(16, 224))
    cuts = plan(item, pieces=(piece(item, length=IN(100)), piece(item, length=IN(140))))
    found = labor(item, cuts=cuts, price_list=prices(occupied("1.1")), is_occupied=True)
    assert {row.description for row in rows(found, "hang-ceiling")} == {
        "Hang ceiling board",
        "Hang ceiling board (two people, pieces longer than 10\N{PRIME}\N{NO-BREAK SPACE}0\N{DOUBLE PRIME})",
    }
    assert [row.description for row in rows(found, "nailing")] == ["Drive nails"]


def test_every_published_task_has_words():
    """Every key that a price list may name has words for the quote."""
    assert set(WORDS) == set(TASKS)
