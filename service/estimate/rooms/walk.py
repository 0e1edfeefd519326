"""Walking the walls: directions, positions, the gap, and the compass rule that spreads it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from service.survey import CornerKind
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.estimate.rooms.model import Point
    from service.survey import Room, Wall

STRAIGHT_DEG = 180.0
FULL_TURN_DEG = 360.0


@dataclass(frozen=True, slots=True)
class Walk:
    """A room as walked along its measured walls, before any adjustment.

    Attributes:
        room: as measured.
        interior_deg: angle inside the room at each wall's right-hand end, None where open.
        headings_deg: direction of each wall, counterclockwise from the x axis.
        points: where the walk began, then each wall's right-hand end. [in]
    """

    room: Room
    interior_deg: tuple[float | None, ...]
    headings_deg: tuple[float, ...]
    points: tuple[Point, ...]

    @classmethod
    def along(cls, room: Room) -> Walk:
        """The walk along a room's walls."""
        interior = tuple(interior_deg(wall) for wall in room.walls)
        headings = headings_deg(interior)
        return cls(room, interior, headings, walked([float(wall.length) for wall in room.walls], headings))

    @property
    def is_open(self) -> bool:
        """True when the last corner is open: nothing has to close."""
        return self.interior_deg[-1] is None

    @property
    def is_island(self) -> bool:
        """True when every corner is an outside one, as around a wrapped column."""
        return all(wall.corner is CornerKind.OUTSIDE for wall in self.room.walls)

    @property
    def perimeter(self) -> Length:
        """Sum of the measured lengths."""
        return sum((wall.length for wall in self.room.walls), ZERO)

    @property
    def gap(self) -> Length:
        """How far from its start the walk ended, to the nearest 1/64 in."""
        return Length.measured(math.hypot(*gap_vector(self.points))).snapped()

    @property
    def drawn_points(self) -> tuple[Point, ...]:
        """Positions to draw: adjusted by the compass rule when the room has to close."""
        if self.is_open:
            return self.points
        return compass_adjusted(self.points, [float(wall.length) for wall in self.room.walls])


def interior_deg(wall: Wall) -> float | None:
    """Angle inside the room at a wall's right-hand end: the reading at an inside corner, 360 − reading outside.

    Source: plane geometry.

    Returns:
        Interior angle, None where the corner is open. [deg]
    """
    if wall.corner is CornerKind.OPEN:
        return None
    return wall.angle_deg if wall.corner is CornerKind.INSIDE else FULL_TURN_DEG - wall.angle_deg


def needed_angle_sum(corners: int, *, is_island: bool) -> float:
    """What interior angles add up to: (n − 2)·180 in a room, (n + 2)·180 around an island. [deg]

    Source: plane geometry, angle sum of a polygon and of its outside.
    """
    return (corners + 2 if is_island else corners - 2) * STRAIGHT_DEG


def headings_deg(interior: Sequence[float | None]) -> tuple[float, ...]:
    """Direction of each wall: the first lies along x, each corner turns right by 180 − θ.

    Source: plane geometry; a closed room turns right by 360 in all, an island left.
    """
    headings = [0.0]
    for angle in interior[:-1]:
        turn = STRAIGHT_DEG - angle if angle is not None else 0.0
        headings.append(headings[-1] - turn)
    return tuple(headings)


def unit_vector(heading_deg: float) -> Point:
    """Direction as x and y; quarter turns come out exact."""
    quarter, rest = divmod(heading_deg, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    angle = math.radians(heading_deg)
    return math.cos(angle), math.sin(angle)


def walked(lengths: Sequence[float], headings: Sequence[float]) -> tuple[Point, ...]:
    """Positions of the wall ends: the first wall's left end at the origin, then each right-hand end. [in]"""
    points = [(0.0, 0.0)]
    for length, heading in zip(lengths, headings, strict=True):
        x, y = points[-1]
        dx, dy = unit_vector(heading)
        points.append((x + length * dx, y + length * dy))
    return tuple(points)


def gap_vector(points: Sequence[Point]) -> Point:
    """From where the walk began to where it ended: the sum of the wall vectors. [in]"""
    (x0, y0), (x1, y1) = points[0], points[-1]
    return x1 - x0, y1 - y0


def compass_adjusted(points: Sequence[Point], lengths: Sequence[float]) -> tuple[Point, ...]:
    """Positions with the gap spread: each corner moved back in proportion to the distance walked to it.

    Source: compass (Bowditch) rule of traverse adjustment, common practice of surveying.

    Args:
        points: positions walked, last one where the walk ended. [in]
        lengths: wall lengths, one fewer than points. [in]

    Returns:
        Adjusted positions; the last equals the first. [in]
    """
    gap_x, gap_y = gap_vector(points)
    perimeter = sum(lengths)
    distance = 0.0
    adjusted = [points[0]]
    for (x, y), length in zip(points[1:], lengths, strict=True):
        distance += length
        share = distance / perimeter
        adjusted.append((x - gap_x * share, y - gap_y * share))
    adjusted[-1] = points[0]
    return tuple(adjusted)


def shoelace_area(points: Sequence[Point]) -> float:
    """Area of a polygon, closed by a straight line from its last point to its first. [sq in]

    Source: shoelace (surveyor's) formula.
    """
    return abs(_twice_signed_area(points)) / 2


def _twice_signed_area(points: Sequence[Point]) -> float:
    following = [*points[1:], points[0]]
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, following, strict=True))


def crosses_itself(points: Sequence[Point]) -> tuple[int, int] | None:
    """First pair of walls that cross or touch away from a common corner, by position; None when there is none.

    Args:
        points: wall ends in order, the last wall's right-hand end last. [in]
    """
    walls = list(pairwise(points))
    closed = math.dist(points[0], points[-1]) < 1e-6  # noqa: PLR2004 - a millionth of an inch: rounding of floats
    for i, first in enumerate(walls):
        for j in range(i + 2, len(walls)):
            if closed and i == 0 and j == len(walls) - 1:
                continue
            if _cross(*first, *walls[j]):
                return i, j
    return None


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _share_box(a, b, c, d) and _sides_differ(a, b, c, d) and _sides_differ(c, d, a, b)


def _share_box(a: Point, b: Point, c: Point, d: Point) -> bool:
    return all(max(a[i], b[i]) >= min(c[i], d[i]) and max(c[i], d[i]) >= min(a[i], b[i]) for i in (0, 1))


def _sides_differ(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _side(a, b, c) * _side(a, b, d) <= 0


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
