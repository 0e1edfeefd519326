"""From wall coordinates to points on the sheet: scale, sides of a wall, lines that run beside it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from service.documents.labels import Point
    from service.estimate.quote.model import PlanPoint, RoomCard, WallCard
    from service.units import Length

LONGEST_SHIFT = 6.0


@dataclass(frozen=True, slots=True)
class WallOnSheet:
    """A wall as drawn, walked from its left to its right end with the room on the right hand.

    Attributes:
        card: the wall's own facts.
        start, end: its ends on the sheet. [pt]
        along: unit vector from start to end.
        inward: unit vector into the room.
        size: drawn length. [pt]
        left_deg, right_deg: angle on the room's side at each end; None where no wall meets it.
    """

    card: WallCard
    start: Point
    end: Point
    along: Point
    inward: Point
    size: float
    left_deg: float | None
    right_deg: float | None

    def at(self, position: Length, offset_pt: float = 0.0) -> Point:
        """Point at a wall coordinate, moved into the room (negative: out of it)."""
        return self.beside(self.distance(position), offset_pt)

    def distance(self, position: Length) -> float:
        """Distance along the drawn wall of a wall coordinate; the drawn wall is as long as the measured one. [pt]"""
        return float(position) / (float(self.card.length) or 1.0) * self.size

    def beside(self, distance_pt: float, offset_pt: float = 0.0) -> Point:
        """Point at a distance along the drawn wall, moved into the room."""
        return (
            self.start[0] + self.along[0] * distance_pt + self.inward[0] * offset_pt,
            self.start[1] + self.along[1] * distance_pt + self.inward[1] * offset_pt,
        )

    @property
    def text_angle_deg(self) -> float:
        """Turn of a text that runs along the wall and is never upside down."""
        angle = math.degrees(math.atan2(self.along[1], self.along[0]))
        turned = (angle + 90) % 180 - 90
        return 90.0 if abs(turned + 90) < 1e-6 else turned  # noqa: PLR2004 - upright walls all read from the right

    def lane(self, offset_pt: float, start: Length, end: Length, reach: Length) -> tuple[float, float] | None:
        """Where a line beside the wall starts and ends, as distances along the drawn wall.

        A run that comes within `reach` of the wall's end follows the corner: the line is shorter by
        o·cot(θ/2) at an inside corner and longer at an outside one; elsewhere it ends where the run ends.

        Args:
            offset_pt: distance of the line from the wall. [pt]
            start, end: the run, from the wall's left end. [Length]
            reach: how near to the wall's end a run counts as meeting the corner. [Length]

        Returns:
            Start and end. [pt], or None when nothing of the line is left.
        """
        low, high = _shift(offset_pt, self.left_deg), self.size - _shift(offset_pt, self.right_deg)
        first = low if start <= reach else max(self.distance(start), min(low, self.size))
        last = high if end >= self.card.length - reach else min(self.distance(end), max(high, 0.0))
        return (first, last) if last - first > 1.0 else None


def _shift(offset: float, angle_deg: float | None) -> float:
    """Distance by which a line at an offset ends short of the corner: o·cot(θ/2), bounded for needle corners."""
    if angle_deg is None or angle_deg <= 0:
        return 0.0
    shift = offset / math.tan(math.radians(angle_deg) / 2)
    return min(max(shift, -LONGEST_SHIFT * offset), LONGEST_SHIFT * offset)


@dataclass(frozen=True, slots=True)
class Scene:
    """A room fitted on a sheet.

    Attributes:
        walls: walls in order.
        scale: points of the sheet for one inch of the house.
        width, height: size of the sheet. [pt]
        origin: sheet position of the plan's own zero. [pt]
    """

    walls: tuple[WallOnSheet, ...]
    scale: float
    width: float
    height: float
    origin: Point

    def point(self, plan: PlanPoint) -> Point:
        """A point of the plan on the sheet."""
        return self.origin[0] + float(plan.x) * self.scale, self.origin[1] + float(plan.y) * self.scale

    @property
    def narrowest_depth(self) -> float:
        """Half the way across the room where it is narrowest, seen from the middle of each wall. [pt]"""
        return min((_depth(wall, self.walls) for wall in self.walls), default=0.0)


def scene(room: RoomCard, *, width: float, most_height: float, margin: tuple[float, float]) -> Scene:
    """The room at the largest scale that leaves the margins free on every side.

    Args:
        room: the room.
        width: width of the sheet. [pt]
        most_height: height that the sheet may have; it is lower when the room is. [pt]
        margin: free space left and right, above and below, for labels. [pt, pt]
    """
    points = [point for wall in room.walls for point in (wall.line.start, wall.line.end)]
    xs, ys = [float(point.x) for point in points], [float(point.y) for point in points]
    span_x, span_y = max(xs) - min(xs), max(ys) - min(ys)
    room_x, room_y = width - 2 * margin[0], most_height - 2 * margin[1]
    scale = min(room_x / max(span_x, 1.0), room_y / max(span_y, 1.0))
    height = span_y * scale + 2 * margin[1]
    origin = (
        margin[0] + (room_x - span_x * scale) / 2 - min(xs) * scale,
        margin[1] - min(ys) * scale,
    )
    bare = Scene((), scale, width, height, origin)
    return Scene(_walls(room, bare), scale, width, height, origin)


def _walls(room: RoomCard, bare: Scene) -> tuple[WallOnSheet, ...]:
    ends = [(bare.point(wall.line.start), bare.point(wall.line.end)) for wall in room.walls]
    joined = [_touch(ends[i][1], ends[(i + 1) % len(ends)][0]) and len(ends) > 1 for i in range(len(ends))]
    directions = [_unit(start, end) for start, end in ends]
    corners = [
        _room_side_deg(directions[i], directions[(i + 1) % len(ends)]) if joined[i] else None for i in range(len(ends))
    ]
    return tuple(
        WallOnSheet(
            card=wall,
            start=ends[i][0],
            end=ends[i][1],
            along=directions[i],
            inward=(directions[i][1], -directions[i][0]),
            size=math.dist(*ends[i]),
            left_deg=corners[i - 1],
            right_deg=corners[i],
        )
        for i, wall in enumerate(room.walls)
    )


def _touch(one: Point, other: Point) -> bool:
    return math.dist(one, other) < 1.5  # noqa: PLR2004 - a gap that nobody sees on the sheet [pt]


def _unit(start: Point, end: Point) -> Point:
    size = math.dist(start, end)
    return ((end[0] - start[0]) / size, (end[1] - start[1]) / size) if size else (1.0, 0.0)


def _room_side_deg(before: Point, after: Point) -> float:
    """Angle on the right hand between two walls walked one after the other: 180 less the right turn."""
    turn = math.degrees(
        math.atan2(before[0] * after[1] - before[1] * after[0], before[0] * after[0] + before[1] * after[1])
    )
    return 180.0 + turn


def _depth(wall: WallOnSheet, walls: tuple[WallOnSheet, ...]) -> float:
    """Half the way from a wall's middle straight into the room to the next wall (a long way if there is none)."""
    origin = wall.beside(wall.size / 2)
    hits = [_hit(origin, wall.inward, other) for other in walls if other is not wall]
    return min((hit for hit in hits if hit is not None), default=400.0) / 2


def _hit(origin: Point, direction: Point, wall: WallOnSheet) -> float | None:
    """Distance along a ray at which it meets a wall."""
    across = direction[0] * wall.along[1] - direction[1] * wall.along[0]
    if abs(across) < 1e-9:  # noqa: PLR2004 - parallel
        return None
    dx, dy = wall.start[0] - origin[0], wall.start[1] - origin[1]
    distance = (dx * wall.along[1] - dy * wall.along[0]) / across
    position = (dx * direction[1] - dy * direction[0]) / across
    return distance if distance > 1e-6 and -1e-6 <= position <= wall.size + 1e-6 else None  # noqa: PLR2004 - a tolerance of the drawing
