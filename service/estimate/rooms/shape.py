"""From measured rooms to figures in plan, with every fault of their geometry."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.rooms.checks import room_checked
from service.estimate.rooms.model import Closure, RoomRules, RoomShape
from service.estimate.rooms.suspects import suspects_of
from service.estimate.rooms.walk import STRAIGHT_DEG, Walk, crosses_itself, shoelace_area
from service.problems import Code
from service.survey import CornerKind
from service.units import ZERO, Units

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.problems import Problems
    from service.survey import Room

SQIN_PER_SQFT = 144
LEAST_CORNERS = 3


def shaped_rooms(rooms: Sequence[Room], units: Units, rules: RoomRules, problems: Problems) -> tuple[RoomShape, ...]:
    """Each room as a figure in plan, numbered from 1 in the sheet's order.

    Args:
        rooms: as measured.
        units: how lengths are printed in problems.
        rules: tolerances.
        problems: collects every fault of the rooms' geometry, openings and studs.
    """
    for room in rooms:
        room_checked(room, units, problems)
        _open_corners_checked(room, problems)
    return tuple(_shaped(number, Walk.along(room), units, rules, problems) for number, room in enumerate(rooms, 1))


def _shaped(number: int, walk: Walk, units: Units, rules: RoomRules, problems: Problems) -> RoomShape:
    closure = Closure(is_closed=False, gap=ZERO)
    if not walk.is_open:
        _angles_checked(walk, rules, problems)
        closure = _closure(walk, units, rules)
        _misclosure_told(walk, closure, units, rules, problems)
    _crossing_checked(walk, problems)
    return RoomShape(
        number=number,
        room=walk.room,
        interior_deg=walk.interior_deg,
        headings_deg=walk.headings_deg,
        points=walk.drawn_points,
        is_island=walk.is_island,
        is_open=walk.is_open,
        closure=closure,
        area_sqft=_area_sqft(walk),
        perimeter=walk.perimeter,
    )


def _area_sqft(walk: Walk) -> float | None:
    corners = walk.drawn_points if walk.is_open else walk.drawn_points[:-1]
    if walk.is_island or len(corners) < LEAST_CORNERS:
        return None
    return shoelace_area(corners) / SQIN_PER_SQFT


def _open_corners_checked(room: Room, problems: Problems) -> None:
    for wall in room.walls[:-1]:
        if wall.corner is CornerKind.OPEN:
            problems.error(
                Code.CORNER_OPEN_WITHIN,
                f"{wall.pointer}/corner",
                f"Wall {wall.name} of {room.name} ends open, but more walls follow.",
                help="Only the last wall may end open. A gap elsewhere is an opening, or a wall left out of Trim.",
                found="open",
            )


def needed_angle_sum(corners: int, *, is_island: bool) -> float:
    """What interior angles add up to: (n − 2)·180 in a room, (n + 2)·180 around an island. [deg]

    Source: plane geometry, angle sum of a polygon and of its outside.
    """
    return (corners + 2 if is_island else corners - 2) * STRAIGHT_DEG


def _angles_checked(walk: Walk, rules: RoomRules, problems: Problems) -> None:
    walls = len(walk.room.walls)
    needed = needed_angle_sum(walls, is_island=walk.is_island)
    total = sum(angle for angle in walk.interior_deg if angle is not None)
    if abs(total - needed) <= walls * rules.angle_tolerance_deg:
        return
    problems.error(
        Code.CORNER_ANGLES_DO_NOT_ADD_UP,
        f"{walk.room.pointer}/walls",
        f"The inside angles of {walk.room.name} add up to {total:g}°; {walls} walls make {needed:g}°.",
        help="Check each Corner (inside or outside) and Angle, and that no wall is missing.",
        found=f"{total:g}°",
    )


def _closure(walk: Walk, units: Units, rules: RoomRules) -> Closure:
    accepted = rules.accepted_gap(len(walk.room.walls))
    if walk.gap <= accepted:
        return Closure(is_closed=True, gap=walk.gap)
    return Closure(is_closed=False, gap=walk.gap, suspects=suspects_of(walk, accepted, units))


def _misclosure_told(walk: Walk, closure: Closure, units: Units, rules: RoomRules, problems: Problems) -> None:
    if closure.is_closed:
        return
    collect = problems.error if closure.gap > rules.refused_gap(walk.perimeter) else problems.warning
    suspects = f": {'; or '.join(closure.suspects)}." if closure.suspects else "."
    collect(
        Code.ROOM_DOES_NOT_CLOSE,
        f"{walk.room.pointer}/walls",
        f"The walls of {walk.room.name} miss each other by {closure.gap.text(units)}{suspects}",
        help="Measure the suspects again." if closure.suspects else "Measure the walls and corners again.",
        found=closure.gap.text(units),
    )


def _crossing_checked(walk: Walk, problems: Problems) -> None:
    pair = crosses_itself(walk.drawn_points)
    if pair:
        one, other = (walk.room.walls[i].name for i in pair)
        problems.error(
            Code.ROOM_CROSSES_ITSELF,
            f"{walk.room.pointer}/walls",
            f"Walls {one} and {other} of {walk.room.name} cross each other in plan.",
            help="List the walls left to right as you face them, and check inside and outside corners.",
        )
