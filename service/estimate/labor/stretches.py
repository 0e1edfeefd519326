"""How much of a wall is trimmed, each inch of it once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.estimate.takeoff.model import Run


def covered_length(runs: Iterable[Run], wall_length: Length) -> Length:
    """Length of a wall on which at least one of these runs stands.

    What passes the wall's ends (outside corners) is left out, what lies above one another counts once.

    Args:
        runs: all on one wall.
        wall_length: measured face length. [Length]

    Returns:
        [Length]
    """
    spans = sorted((max(run.start, ZERO), min(run.end, wall_length)) for run in runs)
    covered, reached = ZERO, ZERO
    for start, end in spans:
        if end > reached:
            covered += end - max(start, reached)
            reached = end
    return covered
