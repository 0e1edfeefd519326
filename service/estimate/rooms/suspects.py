"""Who may be to blame when walls do not close, in words an estimator can act on."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from service.estimate.rooms.walk import gap_vector, unit_vector
from service.survey import CornerKind
from service.units import Length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.rooms.model import Point
    from service.estimate.rooms.walk import Walk
    from service.units import Units

LEAST_TURN_DEG, MOST_TURN_DEG = 0.5, 15.0
EIGHTHS = 8


def suspects_of(walk: Walk, tolerance: Length, units: Units) -> tuple[str, ...]:
    """Single slips that would close the room, the likeliest first.

    A mistaped wall lies along the gap and is wrong by its size; a misread corner, turned by 0.5–15°,
    brings the end of the walk back to its start.

    Args:
        walk: the walk that does not close.
        tolerance: how near to closed a slip must bring it. [Length]
        units: how lengths are printed.
    """
    found = [*_mistaped(walk, units), *_misread(walk)]
    return tuple(text for rest, text in sorted(found) if rest <= float(tolerance))


def _mistaped(walk: Walk, units: Units) -> Iterator[tuple[float, str]]:
    gap_x, gap_y = gap_vector(walk.points)
    for wall, heading in zip(walk.room.walls, walk.headings_deg, strict=True):
        dx, dy = unit_vector(heading)
        missing = -(gap_x * dx + gap_y * dy)
        rest = math.hypot(gap_x + missing * dx, gap_y + missing * dy)
        size = Length.measured(abs(missing)).snapped(EIGHTHS).text(units)
        yield rest, f"wall {wall.name} may be {size} {'short' if missing > 0 else 'long'}"


def _misread(walk: Walk) -> Iterator[tuple[float, str]]:
    start, end = walk.points[0], walk.points[-1]
    for wall, corner in zip(walk.room.walls[:-1], walk.points[1:-1], strict=True):
        turn = _turned_deg(corner, end, start)
        if LEAST_TURN_DEG <= abs(turn) <= MOST_TURN_DEG:
            rest = abs(math.dist(corner, start) - math.dist(corner, end))
            reading = wall.angle_deg + (turn if wall.corner is CornerKind.INSIDE else -turn)
            yield rest, f"the corner after wall {wall.name} may be nearer {reading:.1f}° than {wall.angle_deg:g}°"


def _turned_deg(center: Point, point: Point, goal: Point) -> float:
    there = math.atan2(goal[1] - center[1], goal[0] - center[0])
    here = math.atan2(point[1] - center[1], point[0] - center[0])
    return math.degrees(math.remainder(there - here, math.tau))
