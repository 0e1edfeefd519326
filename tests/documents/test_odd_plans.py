"""Plans of odd rooms: T, U, octagon, chimney breast, bay, jog, cut corner, half wall, column."""

from __future__ import annotations

import pytest

from service.documents.plan_look import CUSTOMER, FIELD
from tests.documents.odd_rooms import ODD, drawings, odd_quote, unreadable


@pytest.mark.parametrize("shape", ODD)
def test_labels_keep_apart_and_within_the_frame(shape):
    """Whatever the shape, every label is placed, inside its frame and clear of the others."""
    for look in (CUSTOMER, FIELD):
        for drawn in drawings(odd_quote(shape), look):
            assert unreadable(drawn) == []


@pytest.mark.parametrize(("shape", "count"), [("octagon", 8), ("bay", 4), ("cut corner", 2), ("T", 0)])
def test_corners_that_are_not_square_show_their_angle(shape, count):
    """One label a corner that isn't 90°, none at the square ones."""
    for drawn in drawings(odd_quote(shape), FIELD):
        assert sum(label.key.startswith("angle") for label in drawn.labels) == count
