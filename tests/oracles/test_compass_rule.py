"""The compass rule against a least-squares adjustment found by relaxation."""

from __future__ import annotations

import itertools
import math
import random

import pytest

from service.estimate.rooms.walk import compass_adjusted
from tests.invented import ROOMS, shape


def relaxed(gap, lengths):
    """Corrections that close a gap with the least sum of squares over lengths, found two courses at a time.

    All begins on the first course; each pair then shares what it has so that the sum is least for the two,
    over and over until nothing moves.
    """
    corrections = [-gap] + [0.0] * (len(lengths) - 1)
    for _ in range(400):
        for one, other in itertools.combinations(range(len(lengths)), 2):
            both = corrections[one] + corrections[other]
            corrections[one] = both * lengths[one] / (lengths[one] + lengths[other])
            corrections[other] = both - corrections[one]
    return corrections


@pytest.mark.parametrize("name", ROOMS)
@pytest.mark.parametrize("error", [(0.4, -0.3), (-2.5, 0.0), (0.0, 3.9)])
def test_the_compass_rule_is_the_least_correction(name, error):
    """Each course is corrected as in the least-squares solution, weights one over the length; the figure then closes."""
    points = shape(ROOMS[name]()).points
    lengths = [math.dist(one, other) for one, other in itertools.pairwise(points)]
    rng = random.Random(5)  # noqa: S311 - a repeatable sample, nothing secret
    shares = sorted([0.0, 1.0, *(rng.random() for _ in lengths[1:])])
    walked = [(x + error[0] * share, y + error[1] * share) for (x, y), share in zip(points, shares, strict=True)]
    found = compass_adjusted(walked, lengths)
    assert found[-1] == found[0]
    for axis in (0, 1):
        made = [
            found[k + 1][axis] - found[k][axis] - walked[k + 1][axis] + walked[k][axis] for k in range(len(lengths))
        ]
        assert made == pytest.approx(relaxed(error[axis], lengths), abs=1e-6)
