"""Boards for people: buying order, cutting order, what is promised and what is not, and where each inch goes."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from service.estimate.cuts.boards import Packing
from service.estimate.cuts.model import Pattern, ProfileBoards
from service.estimate.cuts.patterns import boards_of, in_buying_order, pattern, with_boards
from service.estimate.cuts.scarf import left_scarf, right_scarf
from service.units import SNAP, ZERO, Length
from tests.cuts.examples import IN, INSIDE, OUTSIDE, SQUARE, board, by_the_foot, piece, planned, price_list, run

KERF, KEEP = IN("1/8"), IN(24)
LEFT_HALF = piece("1-01", 100, SQUARE, right_scarf(45.0), (0, "3/4"))
RIGHT_HALF = piece("1-02", 50, left_scarf(45.0), SQUARE, ("3/4", 0))
EIGHTHS = st.integers(1, 8 * 40).map(lambda eighths: Fraction(eighths, 8))


def marks(boards):
    """Marks board by board."""
    return [one.pieces for one in boards.patterns]


def test_boards_stand_in_buying_order():
    """Longest first, offcuts on hand after bought boards of their length, like boards together by their pieces."""
    long, short = board(16, piece("a", 150)), board(8, piece("b", 90), price="0.50")
    on_hand, other = board(8, piece("c", 60), price="0.00", is_offcut=True), board(8, piece("d", 95), price="0.50")
    again = board(16, piece("e", 150))
    found = in_buying_order((on_hand, short, again, other, long))
    assert [one.pieces[0].mark for one in found] == ["e", "a", "d", "b", "c"]


def test_numbers_are_those_of_the_order_list():
    """Boards are numbered in buying order, pieces carry the numbers, purchases stand in the same order."""
    pieces = (piece("a", 60), piece("b", 150), piece("c", 20))
    packing = Packing(
        (board(5, pieces[2], price="0.00", is_offcut=True), board(8, pieces[0]), board(16, pieces[1])), ()
    )
    found = boards_of("board", packing, KERF, KEEP, 0)
    assert [one.length for one in found.patterns] == [one.length for one in found.purchases]
    assert (
        [one.is_offcut for one in found.patterns] == [one.is_offcut for one in found.purchases] == [False, False, True]
    )
    assert marks(found) == [("b",), ("a",), ("c",)]
    assert [one.board for one in with_boards(pieces, {"board": packing})] == [2, 1, 3]


def test_scarf_halves_share_their_cut():
    """Two halves of a scarf lie together, and the lap is told as nested: the thickness of the board (plane geometry)."""
    found = pattern(1, board(16, RIGHT_HALF, LEFT_HALF), KERF, KEEP)
    assert found.pieces == ("1-01", "1-02")
    assert found.nested == IN("3/4")


def test_an_offcut_is_promised_without_what_is_nested():
    """The offcut is what long points and cuts leave, as if every piece were cut square between its long points."""
    found = pattern(1, board(16, LEFT_HALF, RIGHT_HALF, trim="1"), KERF, KEEP)
    assert found.offcut + found.kerf == IN(192) - IN(1) - IN(150)
    assert found.waste == IN(1)
    assert found.offcut >= KEEP


def test_what_is_nested_is_snapped_down():
    """A shared setback is told to the 1/64" below, never above."""
    setback = Fraction(100, 101)
    halves = replace(LEFT_HALF, right_setback=IN(setback)), replace(RIGHT_HALF, left_setback=IN(setback))
    found = pattern(1, board(16, *halves), KERF, KEEP).nested
    assert found <= IN(setback) < found + IN(Fraction(1, SNAP))


def test_ends_of_two_spliced_runs_nest():
    """Short ends of two 20-foot runs, one cut for the left and one for the right of a scarf, lie in that order."""
    runs = [run(1, 240, studs=(190,)), run(2, 240, wall="B", studs=(50,))]
    (one,) = planned(runs, price_list(*by_the_foot(10, 16), kerf=KERF)).boards
    assert [(found.pieces, found.nested) for found in one.patterns if len(found.pieces) > 1] == [
        (("1-03", "1-02"), IN("3/4"))
    ]


def test_usage_adds_up():
    """Boards are pieces, cuts, offcuts and waste; the shares make one."""
    packing = Packing((board(16, LEFT_HALF, RIGHT_HALF, trim="1"), board(8, piece("a", 90))), ())
    found = boards_of("board", packing, KERF, KEEP, 1).usage
    assert (found.boards, found.pieces) == (IN(288), IN(240))
    assert found.boards == found.pieces + found.kerf + found.offcuts + found.waste
    assert found.pieces_share + found.kerf_share + found.offcuts_share + found.waste_share == 1


def test_usage_of_nothing_is_nothing():
    """A profile without boards has no shares, and no division by zero."""
    found = ProfileBoards("board", (), (), Decimal(0), 0).usage
    assert (found.boards, found.waste_share) == (ZERO, 0)


def test_usage_is_the_sum_of_what_is_told():
    """Lengths of metric boards are summed as they are printed, so that anyone who adds up the boards gets the same."""
    length = Length.of_mm(2400)
    patterns = tuple(Pattern(i, length, (), Length.of_mm(3), ZERO, length - Length.of_mm(3)) for i in range(1, 8))
    found = ProfileBoards("board", (), patterns, Decimal(0), 0).usage
    assert found.boards == IN(str(length.decimal())) * 7
    assert found.kerf == IN(str(Length.of_mm(3).decimal())) * 7


@given(st.lists(EIGHTHS, min_size=1, max_size=4), st.sampled_from([SQUARE, INSIDE, OUTSIDE]))
def test_a_board_is_never_short(lengths, end):
    """Whatever the pieces and their ends, the parts of a board make it up exactly and none is below zero."""
    pieces = [piece(f"1-{i:02d}", length, end, INSIDE, ("11/2", "11/2")) for i, length in enumerate(lengths)]
    found = pattern(1, board(16, *pieces), KERF, KEEP)
    whole = sum((one.long_point for one in pieces), start=ZERO)
    assert whole + found.kerf + found.offcut + found.waste == found.length
    assert min(found.kerf, found.offcut, found.waste, found.nested) >= ZERO
