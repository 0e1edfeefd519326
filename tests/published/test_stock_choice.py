"""Choice of stock length, against the worked examples of an Army carpentry course.

Source: U.S. Army Engineer School, subcourse EN0069A, lesson 4 "Estimating", pp 4-5 and 4-6 (public
domain): lumber is charged by its length, and the saw cut is left out of account (kerf zero).
"""

from __future__ import annotations

import pytest

from tests.cuts.examples import IN, bought, by_the_foot, planned, price_list, run

FOOT = IN(12)


def cut(count: int, length: int, *feet: int):
    """Plan of so many equal pieces from stock at one price a foot, every offcut shown."""
    runs = [run(number, length, wall=chr(64 + number)) for number in range(1, count + 1)]
    return planned(runs, price_list(*by_the_foot(*feet), shortest_offcut_to_keep=IN(1)))


def offcuts(plan):
    """Offcuts of all boards."""
    return [pattern.offcut for boards in plan.boards for pattern in boards.patterns]


@pytest.mark.parametrize("feet", [(8, 10), (8, 10, 12, 14, 16)])
def test_two_pieces_of_54_inches(feet):
    """Two pieces of 54 in. come from one 10-foot board and leave 12 in. (EN0069A pp 4-5, 4-6)."""
    plan = cut(2, 54, *feet)
    assert bought(plan) == {FOOT * 10: 1}
    assert offcuts(plan) == [IN(12)]


@pytest.mark.parametrize("feet", [(8, 10), (8, 10, 12, 14, 16)])
def test_two_pieces_of_36_inches(feet):
    """Two pieces of 36 in. come from one 8-foot board (EN0069A pp 4-5, 4-6)."""
    assert bought(cut(2, 36, *feet)) == {FOOT * 8: 1}


@pytest.mark.parametrize("feet", [(8, 10), (8, 10, 12, 14, 16)])
def test_four_pieces_of_28_inches(feet):
    """Four pieces of 28 in. come from one 10-foot board and leave 8 in. (EN0069A pp 4-5, 4-6)."""
    plan = cut(4, 28, *feet)
    assert bought(plan) == {FOOT * 10: 1}
    assert offcuts(plan) == [IN(8)]


def test_nine_pieces_of_36_inches():
    """Nine pieces of 36 in. are better cut from 10-foot than from 8-foot boards (EN0069A pp 4-5, 4-6)."""
    assert bought(cut(9, 36, 8, 10)) == {FOOT * 10: 3}
