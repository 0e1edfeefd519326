"""How much of a wall is trimmed, each inch of it once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.figures import INCH, Figure, added, less
from service.estimate.takeoff.measured import wall_length
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.estimate.takeoff.model import Run
    from service.survey import Wall


def covered_length(runs: Iterable[Run], wall: Wall) -> Figure:
    """Length of a wall on which at least one of these runs stands.

    What passes the wall's ends (outside corners) is left out, what lies above one another counts once.

    Args:
        runs: all on this wall.
        wall: for its measured face length.

    Returns:
        [Length]
    """
    stretches = []
    reached: tuple[Length, Figure | None] = (ZERO, None)
    for run in sorted(runs, key=lambda item: (max(item.start, ZERO), item.end)):
        end = wall_length(wall) if run.end >= wall.length else _end_of(run)
        if end.length > reached[0]:
            start = run.start_figure if run.start > reached[0] else reached[1]
            stretches.append(_stretch(run, start, end))
            reached = end.length, end
    return added(f"length of wall {wall.name} that is trimmed", INCH, *stretches)


def _stretch(run: Run, start: Figure | None, end: Figure) -> Figure:
    """What a run adds to the stretches before it, from their end or its own start, None for the wall's left end."""
    what = f"stretch under the {run.title}"
    return less(what, INCH, end, start) if start is not None else added(what, INCH, end)


def _end_of(run: Run) -> Figure:
    """Where a run ends along its wall: its start and its length. [Length]"""
    return added(f"right-hand end of the {run.title}", INCH, run.start_figure, run.length_figure)
