"""How well one slip of tape or angle finder explains that measured walls do not close.

A walk misses in three ways at once: along x, along y, and in the sum of its angles. Honest measuring
leaves a little of each; how much, and in which directions, follows from the walls themselves. A slip is
judged by what it leaves unexplained, counted in multiples of that.

Source: least squares adjustment with a test of one blunder at a time (Baarda, A testing procedure for use
in geodetic networks, 1968; from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from service.estimate.rooms.walk import (
    FULL_TURN_DEG,
    STRAIGHT_DEG,
    Walk,
    gap_vector,
    needed_angle_sum,
    unit_vector,
)
from service.survey import CornerKind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from service.estimate.rooms.model import RoomRules

APPROACHES = 4

Vector = tuple[float, float, float]
Matrix = tuple[Vector, Vector, Vector]


class Fit(NamedTuple):
    """A slip that explains a misclosure best: its size (measured less true) and what it leaves, as a chi-square."""

    size: float
    rest: float


def misclosure(walk: Walk) -> Vector:
    """What a walk misses: the gap along x and y, and the sum of its angles over what it should be. [in, in, deg]"""
    gap_x, gap_y = gap_vector(walk.points)
    return gap_x, gap_y, angle_excess_deg(walk)


def angle_sum_deg(walk: Walk) -> float:
    """Sum of the inside angles. [deg]"""
    return sum(angle for angle in walk.interior_deg if angle is not None)


def angle_excess_deg(walk: Walk) -> float:
    """Sum of the inside angles less what so many walls need. [deg]"""
    return angle_sum_deg(walk) - needed_angle_sum(len(walk.room.walls), is_island=walk.is_island)


def wall_effect(walk: Walk, place: int) -> Vector:
    """Misclosure by a wall taped one inch too long: along the wall. [in, in, deg]"""
    x, y = unit_vector(walk.headings_deg[place])
    return x, y, 0.0


def corner_effect(walk: Walk, place: int) -> Vector:
    """Misclosure by a corner read one degree too wide: all that was walked after it turns about it. [in, in, deg]

    The walk ends before its last corner, so that one shows in the sum of the angles alone.
    """
    if place == len(walk.room.walls) - 1:
        return 0.0, 0.0, 1.0
    (x0, y0), (x1, y1) = walk.points[place + 1], walk.points[0]
    turn = math.radians(1.0)
    return -(y1 - y0) * turn, (x1 - x0) * turn, 1.0


@dataclass(frozen=True, slots=True)
class Scatter:
    """What honest measuring leaves of a walk, as the inverse of the misclosure's covariance."""

    weights: Matrix

    @classmethod
    def of(cls, walk: Walk, rules: RoomRules) -> Scatter:
        """Scatter of a walk: every wall and every corner off by the trade book's noise, each on its own."""
        tape = float(rules.tape_noise)
        places = range(len(walk.room.walls))
        effects = [_times(wall_effect(walk, place), tape) for place in places]
        effects += [_times(corner_effect(walk, place), rules.angle_noise_deg) for place in places]
        return cls(_inverse(_summed(effects)))

    def distance(self, one: Vector, other: Vector) -> float:
        """Product of two misclosures in units of the scatter; of one with itself, its chi-square."""
        return sum(one[i] * self.weights[i][j] * other[j] for i in range(3) for j in range(3))

    def fit(self, missed: Vector, effect: Vector) -> Fit:
        """Size of the slip that leaves the least of a misclosure, and what it leaves.

        Source: weighted least squares, one unknown.
        """
        across = self.distance(effect, missed)
        size = across / self.distance(effect, effect)
        return Fit(size, self.distance(missed, missed) - size * across)


def wall_fit(walk: Walk, scatter: Scatter, place: int) -> Fit:
    """How well a wall taped wrong explains a walk; size in inches, above zero when taped too long."""
    return scatter.fit(misclosure(walk), wall_effect(walk, place))


def corner_fit(walk: Walk, scatter: Scatter, place: int) -> Fit:
    """How well a corner read wrong explains a walk; size in degrees of the inside angle, above zero when read too wide.

    A turn moves the end of the walk on a circle, so the size is approached in a few steps.
    """
    effect = corner_effect(walk, place)
    size = 0.0
    for _ in range(APPROACHES):
        size += scatter.fit(turned_misclosure(walk, place, -size), effect).size
    return Fit(size, scatter.fit(turned_misclosure(walk, place, -size), effect).rest)


def turned_misclosure(walk: Walk, place: int, turn_deg: float) -> Vector:
    """What the walk would miss with one inside angle wider by so much. [in, in, deg]"""
    gap_x, gap_y, excess = misclosure(walk)
    if place < len(walk.room.walls) - 1:
        (x0, y0), (x1, y1), turn = walk.points[place + 1], walk.points[-1], math.radians(turn_deg)
        x, y = x1 - x0, y1 - y0
        gap_x += x * (math.cos(turn) - 1) - y * math.sin(turn)
        gap_y += y * (math.cos(turn) - 1) + x * math.sin(turn)
    return gap_x, gap_y, excess + turn_deg


def with_inside_angle(walk: Walk, place: int, inside_deg: float) -> Walk:
    """The walk with another inside angle at one corner; past 180° the corner is an outside one."""
    wall = walk.room.walls[place]
    is_outside = inside_deg > STRAIGHT_DEG
    reading = FULL_TURN_DEG - inside_deg if is_outside else inside_deg
    turned = replace(wall, corner=CornerKind.OUTSIDE if is_outside else CornerKind.INSIDE, angle_deg=reading)
    walls = (*walk.room.walls[:place], turned, *walk.room.walls[place + 1 :])
    return Walk.along(replace(walk.room, walls=walls))


def turn_setting_angles_right(walk: Walk, place: int) -> float | None:
    """How much wider one inside angle would have to be for the angles to add up; None where it cannot be. [deg]

    This finds an inside corner written as an outside one, and an angle left at 90. Where all other corners
    are outside ones the room is an island, whose angles add up to more.
    """
    walls, inside = walk.room.walls, walk.interior_deg[place] or 0.0
    outside = sum(wall.corner is CornerKind.OUTSIDE for wall in walls)
    is_island = outside - (walls[place].corner is CornerKind.OUTSIDE) == len(walls) - 1
    turn = needed_angle_sum(len(walls), is_island=is_island) - angle_sum_deg(walk)
    least = STRAIGHT_DEG if is_island else 0.0
    return turn if least < inside + turn < FULL_TURN_DEG else None


def _times(vector: Vector, factor: float) -> Vector:
    x, y, z = vector
    return x * factor, y * factor, z * factor


def _summed(effects: Iterable[Vector]) -> Matrix:
    """Sum of each effect times itself, the covariance of independent errors."""
    kept = tuple(effects)
    rows = [[sum(effect[i] * effect[j] for effect in kept) for j in range(3)] for i in range(3)]
    return (_row(rows[0]), _row(rows[1]), _row(rows[2]))


def _row(values: list[float]) -> Vector:
    x, y, z = values
    return x, y, z


def _inverse(matrix: Matrix) -> Matrix:
    """Inverse of a symmetric matrix by cross products of its rows."""
    one, two, three = matrix
    volume = sum(a * b for a, b in zip(one, _cross(two, three), strict=True))
    return (
        _times(_cross(two, three), 1 / volume),
        _times(_cross(three, one), 1 / volume),
        _times(_cross(one, two), 1 / volume),
    )


def _cross(one: Vector, other: Vector) -> Vector:
    return (
        one[1] * other[2] - one[2] * other[1],
        one[2] * other[0] - one[0] * other[2],
        one[0] * other[1] - one[1] * other[0],
    )
