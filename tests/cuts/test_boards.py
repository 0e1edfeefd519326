"""Boards: kerf, end trim, offcuts, limits."""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal

import pytest

from service.estimate.cuts.kerf import kerf_at
from service.problems import Code, Problems
from service.units import SNAP, Length
from tests.cuts.examples import (
    IN,
    INSIDE,
    SQUARE,
    bought,
    by_the_foot,
    codes,
    joints,
    planned,
    price_list,
    profile,
    refused,
    run,
    stock,
)

FOOT = IN(12)


def walls(*lengths, **more):
    """One run a wall."""
    return [run(number, length, wall=chr(64 + number), **more) for number, length in enumerate(lengths, 1)]


def patterns(plan):
    """Patterns of all boards."""
    return [pattern for boards in plan.boards for pattern in boards.patterns]


def test_square_cut_takes_the_kerf():
    """A square cut is as wide as the blade."""
    assert kerf_at(SQUARE, IN("1/8")) == IN("1/8")


@pytest.mark.parametrize(("miter", "bevel"), [(45.0, 0.0), (0.0, 45.0), (31.62, 33.86)])
def test_angled_cut_takes_more(miter, bevel):
    """An angled cut crosses the board's length on a slant: kerf / (cos miter · cos bevel) (plane geometry)."""
    end = replace(SQUARE, miter_deg=miter, bevel_deg=bevel)
    expected = 0.125 / (math.cos(math.radians(miter)) * math.cos(math.radians(bevel)))
    assert float(kerf_at(end, IN("1/8"))) == pytest.approx(expected, rel=1e-12)


def test_one_kerf_parts_two_pieces():
    """Two pieces and one kerf fill a board to the end; a kerf more does not fit."""
    prices = price_list(*by_the_foot(16), kerf=IN("1/8"))
    assert bought(planned(walls(96, "767/8"), prices)) == {FOOT * 16: 1}
    assert bought(planned(walls(96, 96), prices)) == {FOOT * 16: 2}


def test_two_halves_without_kerf_or_trim():
    """Two 8-foot pieces come from a 16-foot board only without kerf and end trim."""
    assert bought(planned(walls(96, 96), price_list(*by_the_foot(16)))) == {FOOT * 16: 1}
    assert bought(planned(walls(96, 96), price_list(*by_the_foot(16), end_trim=IN("1/64")))) == {FOOT * 16: 2}


def test_remainder_loses_one_more_kerf():
    """What is left is shorter by the cut that frees it."""
    (one,) = patterns(planned(walls(96), price_list(*by_the_foot(16), kerf=IN("1/8"), end_trim=IN("1/2"))))
    assert one.kerf == IN("1/8")
    assert one.offcut == IN(192) - IN(96) - IN("1/8") - IN("1/2")
    assert one.waste == IN("1/2")


def test_short_remainder_is_waste():
    """What is shorter than the firm keeps is waste."""
    (one,) = patterns(planned(walls(170), price_list(*by_the_foot(16))))
    assert (one.offcut, one.waste) == (IN(0), IN(22))


def test_last_cut_may_run_out_of_the_board():
    """A remainder thinner than the blade turns into dust; nothing is left."""
    (one,) = patterns(planned(walls("3071/16"), price_list(*by_the_foot(16), kerf=IN("1/8"))))
    assert (one.kerf, one.offcut, one.waste) == (IN("1/16"), IN(0), IN(0))


def test_full_board_needs_no_last_cut():
    """A piece as long as the board is not cut at all."""
    (one,) = patterns(planned(walls(192), price_list(*by_the_foot(16), kerf=IN("1/8"))))
    assert (one.kerf, one.offcut, one.waste) == (IN(0), IN(0), IN(0))


def test_mitered_neighbors_need_the_wider_cut():
    """Between two mitered pieces the cut is 1/8" over cos 45°; half an inch of slack less does not hold both."""
    cut = math.ceil(0.125 * math.sqrt(2) * SNAP)
    fits = walls(96, IN(96).inches - IN(f"{cut}/{SNAP}").inches, left=INSIDE, right=INSIDE)
    prices = price_list(*by_the_foot(16), kerf=IN("1/8"))
    assert bought(planned(fits, prices)) == {FOOT * 16: 1}
    tight = walls(96, IN(96).inches - IN(f"{cut - 1}/{SNAP}").inches, left=INSIDE, right=INSIDE)
    assert bought(planned(tight, prices)) == {FOOT * 16: 2}


def test_board_is_shrunk_to_the_cheapest_that_holds_it():
    """A single short piece is cut from a short board even when long ones are the cheapest by the inch."""
    rows = (stock(16, "16.00"), stock(8, "9.00"))
    assert bought(planned(walls(192, 90), price_list(*rows))) == {FOOT * 16: 1, FOOT * 8: 1}


def test_longer_board_that_costs_less_is_taken():
    """A longer board is taken when it is the cheaper one."""
    assert bought(planned(walls(90), price_list(stock(16, "5.00"), stock(8, "9.00")))) == {FOOT * 16: 1}


def test_equal_cost_takes_fewer_boards():
    """At one price a foot two 8-foot pieces come from one 16-foot board, not from two boards."""
    assert bought(planned(walls(96, 96), price_list(*by_the_foot(8, 16)))) == {FOOT * 16: 1}


def test_offcut_on_hand_is_used():
    """An offcut on hand costs nothing and is used before a board is bought."""
    rows = (*by_the_foot(8, 16), stock(5, "0.00", available=1, is_offcut=True))
    plan = planned(walls(50, 90), price_list(*rows))
    assert bought(plan) == {FOOT * 5: 1, FOOT * 8: 1}
    assert [purchase.is_offcut for purchase in plan.boards[0].purchases] == [False, True]
    assert plan.cutting.boards_cost == Decimal("8.00")


def test_dear_offcut_stays_on_the_rack():
    """An offcut is used only where that costs less."""
    rows = (*by_the_foot(8), stock(5, "20.00", available=1, is_offcut=True))
    assert bought(planned(walls(50), price_list(*rows))) == {FOOT * 8: 1}


def test_limited_length_is_not_overdrawn():
    """No more boards of a limited length are bought than there are."""
    rows = (stock(16, "1.00", available=2), *by_the_foot(8))
    plan = planned(walls(90, 90, 90, 90, 90, 90), price_list(*rows))
    assert bought(plan) == {FOOT * 16: 2, FOOT * 8: 2}


def test_length_of_which_none_is_left_does_not_exist():
    """A row with nothing available is as if it were not there."""
    rows = (stock(16, "1.00", available=0), *by_the_foot(8))
    plan = planned([run(length=150, studs=(70,))], price_list(*rows))
    assert joints(plan) == [IN(70)]


def test_scarce_long_boards_splice_what_is_left():
    """Two runs want the one long board: one gets it whole, the other is spliced from short ones."""
    rows = (stock(16, "16.00", available=1), *by_the_foot(8))
    plan = planned(walls(180, 180, studs=(92,)), price_list(*rows))
    assert bought(plan) == {FOOT * 16: 1, FOOT * 8: 2}
    assert len(plan.splices) == 1


def test_scarce_long_board_that_no_splice_can_replace_is_a_fault():
    """When the run left over cannot be spliced either, the fault is the missing board."""
    rows = (stock(16, "16.00", available=1), *by_the_foot(8))
    found = refused(walls(180, 180, studs=(92,)), price_list(*rows, shortest_piece=IN(97)))
    assert codes(found) == [Code.STOCK_MISSING]


def test_scarce_stock_is_a_fault():
    """Too few boards: a fault that names room, wall, run and length, for each piece without one."""
    found = refused(walls(90, 90, 80), price_list(stock(8, "8.00", available=1)))
    assert codes(found) == [Code.STOCK_MISSING] * 2
    assert "Room 1, wall B: plain, layer 1 (ceiling)" in next(iter(found)).detail
    assert {fault.pointer for fault in found} == {"/rooms/0/walls/1", "/rooms/0/walls/2"}


def test_profile_without_stock_is_a_fault_once():
    """A profile without stock is told once, at the order that needs it."""
    found = refused(walls(90, 90, of=profile("rare")), price_list(*by_the_foot(8)))
    assert codes(found) == [Code.STOCK_MISSING]
    (fault,) = found
    assert (fault.found, fault.pointer) == ("rare", "/trim/0")


def test_board_shorter_than_its_trim_is_no_stock():
    """A length that the end trim eats up cannot be cut from."""
    found = refused(walls(10), price_list(stock(1, "1.00"), end_trim=IN(12)))
    assert codes(found) == [Code.STOCK_MISSING]


def test_faults_of_earlier_stages_do_not_stop_the_plan():
    """Errors already collected by others are neither repeated nor taken for the plan's own."""
    earlier = Problems()
    earlier.error(Code.ROOM_DOES_NOT_CLOSE, "/rooms/0", "The room does not close.")
    assert planned(walls(90), price_list(*by_the_foot(8)), earlier).pieces
    assert codes(earlier) == [Code.ROOM_DOES_NOT_CLOSE]


def test_metric_boards_are_exact():
    """Boards of 2.4 m with a 3 mm kerf: the equation of a board holds to the last rational."""
    rows = (replace(stock(1, "9.90"), length=Length.of_mm(2400)),)
    plan = planned(walls(40, 30, "81/4"), price_list(*rows, kerf=Length.of_mm(3), shortest_offcut_to_keep=IN(1)))
    (one,) = patterns(plan)
    pieces = sum((piece.long_point for piece in plan.pieces), start=IN(0))
    assert pieces + one.kerf + one.offcut + one.waste == one.length


def test_no_runs_no_boards():
    """A job without runs has an empty plan that costs nothing and is proven."""
    plan = planned([], price_list())
    assert (plan.pieces, plan.boards, plan.splices) == ((), (), ())
    assert plan.cutting.cost == 0
    assert plan.cutting.is_proven
