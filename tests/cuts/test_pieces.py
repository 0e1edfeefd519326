"""Pieces: marks, ends, returns."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.estimate.cuts.pieces import return_length
from service.estimate.takeoff.model import Edge, Joint
from service.firm import Position, Shape
from service.problems import Code
from tests.cuts.examples import (
    IN,
    INSIDE,
    OUTSIDE,
    RETURN,
    SQUARE,
    by_the_foot,
    codes,
    lengths,
    planned,
    price_list,
    profile,
    refused,
    run,
)

PRICES = price_list(*by_the_foot(8, 16))


def test_marks_follow_room_wall_and_layer():
    """Marks count through a room by wall, then layer, then left to right, however the runs are numbered."""
    runs = [
        run(1, 60, wall="B"),
        run(2, 50, wall="A", layer=2, position=Position.WALL),
        run(3, 40, wall="A"),
        run(4, 30, room=2),
        run(5, 20, wall="B", start=70),
    ]
    marks = {piece.mark: piece.run for piece in planned(runs, PRICES).pieces}
    assert marks == {"1-01": 3, "1-02": 2, "1-03": 1, "1-04": 5, "2-01": 4}


def test_tenth_wall_comes_after_the_ninth():
    """Walls follow their place on the sheet, not the spelling of it."""
    runs = [
        replace(run(1, 30), wall="J", wall_pointer="/rooms/0/walls/10"),
        replace(run(2, 30), wall="I", wall_pointer="/rooms/0/walls/9"),
    ]
    assert [piece.run for piece in planned(runs, PRICES).pieces] == [2, 1]


def test_more_than_99_pieces_have_marks():
    """The counter grows a third digit."""
    plan = planned([run(number, 24, start=30 * number) for number in range(1, 102)], PRICES)
    assert plan.pieces[-1].mark == "1-101"
    assert len({piece.mark for piece in plan.pieces}) == 101


def test_whole_run_keeps_its_ends_and_points():
    """An unspliced run is one piece with the run's own ends and points."""
    (piece,) = planned([run(length=100, left=INSIDE, right=OUTSIDE, setbacks=(5, 5))], PRICES).pieces
    assert (piece.left, piece.right) == (INSIDE, OUTSIDE)
    assert (piece.long_point, piece.short_point) == (IN(100), IN(90))


def test_right_return_is_a_piece_of_its_own():
    """A returned right end adds a short piece after the run, mitered at its left and square at its right."""
    main, small = planned([run(length=100, right=RETURN, setbacks=(0, "11/2"))], PRICES).pieces
    assert (main.is_return, small.is_return) == (False, True)
    assert (small.long_point, small.short_point) == (IN("11/2"), IN(0))
    assert small.start == IN(100)
    assert small.left.joint is Joint.RETURN
    assert small.left.long_edge is Edge.ROOM
    assert small.right.joint is Joint.SQUARE


def test_left_return_stands_first():
    """A returned left end adds a short piece before the run, square at its left."""
    small, main = planned([run(length=100, left=RETURN)], PRICES).pieces
    assert (small.is_return, main.is_return) == (True, False)
    assert small.mark < main.mark
    assert (small.left.joint, small.right.joint) == (Joint.SQUARE, Joint.RETURN)


@pytest.mark.parametrize(
    ("position", "shape", "spring", "saw"),
    [
        (Position.CEILING, Shape.FLAT, None, (45.0, 0.0)),
        (Position.WALL, Shape.FLAT, None, (0.0, 45.0)),
        (Position.CROWN, Shape.SPRUNG, 38.0, (31.62, 33.86)),
        (Position.CROWN, Shape.SPRUNG, 45.0, (35.26, 30.0)),
    ],
)
def test_return_is_cut_as_an_outside_90(position, shape, spring, saw):
    """Saw settings of a return: crown tables of compound saw manuals (s 38: 31.62 / 33.86; s 45: 35.26 / 30)."""
    one = run(length=100, right=RETURN, position=position, of=profile(shape=shape, spring=spring))
    small = planned([one], PRICES).pieces[-1]
    assert (small.left.miter_deg, small.left.bevel_deg) == saw


def test_return_that_dies_on_a_layer_is_shorter():
    """A crown over a wall layer returns from its far edge to that layer's face, a bare one to the wall."""
    over = run(near="3/4", far=4, position=Position.CROWN)
    assert return_length(over) == IN(4) - IN("3/4")
    assert return_length(run(near=0, far=4, position=Position.CROWN)) == IN(4)


def test_returns_are_cut_from_boards():
    """A return piece stands on a board like any other."""
    plan = planned([run(length=100, left=RETURN, right=RETURN)], PRICES)
    assert [len(pattern.pieces) for boards in plan.boards for pattern in boards.patterns] == [3]


def test_spliced_run_keeps_its_outer_ends():
    """The first piece keeps the run's left end, the last its right end."""
    plan = planned([run(length=300, studs=(100, 150), left=INSIDE, right=RETURN)], PRICES)
    first, last, small = plan.pieces
    assert first.left == INSIDE
    assert last.right == RETURN
    assert small.is_return
    assert (first.right.joint, last.left.joint) == (Joint.SCARF, Joint.SCARF)


def test_lengths_off_the_grid_snap():
    """A measured length off the 1/64" grid snaps to it, half up."""
    assert lengths(planned([run(length="12801/128")], PRICES)) == [IN("6401/64")]


def test_ends_that_cross_are_refused():
    """Two inside miters that meet before the far edge leave no piece to cut."""
    found = refused([run(length=8, left=INSIDE, right=INSIDE, setbacks=("11/2", "11/2"))], PRICES)
    assert codes(found) == [Code.PIECE_CANNOT_BE_CUT]


def test_parallel_ends_do_not_cross():
    """An inside and an outside miter lean the same way: a short wall between them can be cut."""
    plan = planned([run(length=10, left=INSIDE, right=OUTSIDE, setbacks=("11/2", "11/2"))], PRICES)
    assert lengths(plan) == [IN(10)]


def test_run_without_length_is_refused():
    """A run that its corners leave nothing of is a fault, not a crash."""
    assert codes(refused([run(length=0, left=SQUARE)], PRICES)) == [Code.PIECE_CANNOT_BE_CUT]
