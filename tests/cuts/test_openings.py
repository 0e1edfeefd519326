"""Trim around openings in the cut list: whole pieces, named in problems, marked after the layers along the wall."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from service.estimate.cuts.order import in_room_order, member_title, title
from service.estimate.takeoff.model import Edge, End, Joint, Member
from service.firm import Position
from service.problems import Code
from service.survey import CornerKind, OpeningKind
from tests.cuts.examples import (
    IN,
    SQUARE,
    by_the_foot,
    lengths,
    planned,
    price_list,
    profile,
    refused,
    run,
    stock,
)

CASING = profile("casing")
MITER = End(Joint.MITER, 90.0, 45.0, 0.0, None, Edge.OUTER, CornerKind.OUTSIDE)
STOCK = by_the_foot(8, 12, of="casing")


def member(number=1, what=Member.HEAD, length=100, *, opening=1, side=1, ends=(SQUARE, SQUARE), **more):
    """A member of the trim around a door of wall A."""
    one = run(number, length, of=CASING, position=Position.CASING, left=ends[0], right=ends[1], **more)
    return replace(
        one, member=what, opening=opening, opening_kind=OpeningKind.DOOR, side=side,
        trim_pointer=f"/rooms/0/openings/{opening - 1}",
    )  # fmt: skip


def test_member_longer_than_any_board_is_refused():
    """A head longer than every board is a fault at its opening: it is never spliced, not even on glue plates."""
    found = refused([member(length=150)], price_list(*STOCK))
    (problem,) = found.errors
    assert (problem.code, problem.pointer) == (Code.PIECE_CANNOT_BE_CUT, "/rooms/0/openings/0")
    for word in ("Room 1", "wall A", "opening 1", "head casing of the door"):
        assert word in problem.detail


def test_run_along_the_wall_of_that_length_is_spliced():
    """What is refused around an opening is spliced along a wall, so the difference is the member's."""
    along = run(1, 150, of=CASING, studs=(72,))
    assert len(planned([along], price_list(*STOCK)).splices) == 1


def test_members_are_not_spliced_where_long_boards_run_out():
    """With one long board for two heads the second is a fault of stock, not a splice."""
    scarce = (stock(12, "12.00", of="casing", available=1), stock(8, "8.00", of="casing"))
    found = refused([member(1), member(2)], price_list(*scarce))
    (problem,) = found.errors
    assert (problem.code, problem.pointer) == (Code.STOCK_MISSING, "/rooms/0/openings/0")
    assert "head casing of the door" in problem.detail


def test_crossing_ends_are_told_at_the_opening():
    """A member whose two miters would cross is a fault at its opening."""
    crossing = member(length=6, setbacks=(4, 4), ends=(MITER, MITER))
    (problem,) = refused([crossing], price_list(*STOCK)).errors
    assert (problem.code, problem.pointer) == (Code.PIECE_CANNOT_BE_CUT, "/rooms/0/openings/0")


def test_shortest_piece_is_no_limit_around_an_opening():
    """A plinth block of 6 in is cut although the firm's shortest piece is 24 in."""
    block = member(what=Member.LEFT_PLINTH, length=6)
    assert lengths(planned([block], price_list(*STOCK))) == [IN(6)]


def test_marks_follow_the_layers_along_the_wall():
    """Layers of a wall come first, then its openings one by one, each side by side, in the order of the takeoff."""
    runs = [
        member(7, Member.LEFT_LEG, 80, opening=2),
        member(4, Member.LEFT_LEG, 81, side=2),
        member(3, Member.HEAD, 40),
        member(2, Member.LEFT_LEG, 82),
        run(1, 60, of=CASING, position=Position.BASE),
        run(9, 50, of=CASING, position=Position.BASE, wall="B"),
    ]
    plan = planned(runs, price_list(*STOCK))
    assert [(piece.mark, piece.run) for piece in plan.pieces] == [
        ("1-01", 1), ("1-02", 2), ("1-03", 3), ("1-04", 4), ("1-05", 7), ("1-06", 9),
    ]  # fmt: skip


def test_order_does_not_depend_on_how_runs_are_handed_in():
    """Whatever the order given, runs are planned in one and the same order."""
    runs = [member(3), member(2, Member.LEFT_LEG), member(5, opening=2), run(1, 60, of=CASING), run(8, 60, wall="B")]
    assert in_room_order(runs) == in_room_order(reversed(runs))


def test_every_member_is_on_one_board():
    """Three members of a door are three pieces, each on exactly one board, cheapest by hand: 12 ft holds 80 + 40."""
    runs = [member(1, Member.LEFT_LEG, 80), member(2, Member.HEAD, 40), member(3, Member.RIGHT_LEG, 80)]
    plan = planned(runs, price_list(*STOCK))
    (boards,) = plan.boards
    assert sorted(mark for pattern in boards.patterns for mark in pattern.pieces) == ["1-01", "1-02", "1-03"]
    assert boards.cost == Decimal("20.00")
    assert plan.cutting.lower_bound <= plan.cutting.cost


def test_member_on_a_limited_board_keeps_the_bound_sound():
    """A member that only a limited board holds is counted whole, so no lower bound counts a joint it can't have."""
    rows = (stock(12, "12.00", of="casing", available=1), stock(6, "1.00", of="casing"))
    plan = planned([member(length=140)], price_list(*rows))
    assert (plan.splices, plan.cutting.cost) == ((), Decimal("12.00"))
    assert plan.cutting.lower_bound <= plan.cutting.cost


def test_casing_has_no_part_in_a_stagger():
    """A wall's base keeps its joint where it lies best, casing beside it or not."""
    base = run(1, 150, of=CASING, position=Position.BASE, studs=(48, 72, 96))
    alone, beside = (planned(runs, price_list(*STOCK)) for runs in ([base], [base, member(2, length=140)]))
    assert beside.splices == alone.splices


NAMES = [
    (Member.LEFT_LEG, "left leg casing of the door"),
    (Member.SILL, "sill casing of the door"),
    (Member.STOOL, "stool of the door"),
    (Member.APRON, "apron of the door"),
    (Member.RIGHT_PLINTH, "right plinth block of the door"),
]


@pytest.mark.parametrize(("what", "words"), NAMES)
def test_member_is_named_as_the_trade_does(what, words):
    """A problem names the member in the trade's words."""
    assert member_title(member(what=what)) == words


def test_second_side_is_named():
    """The two sides of an opening are told apart."""
    assert title(member(side=2)) == "Room 1, wall A: head casing of the door, opening 1 (plain, side 2)"
