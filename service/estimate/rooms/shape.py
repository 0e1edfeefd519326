"""From measured rooms to figures in plan, with every fault of their geometry."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.rooms.checks import room_checked
from service.estimate.rooms.misclosure import angle_excess_deg, angle_sum_deg
from service.estimate.rooms.model import Closure, RoomRules, RoomShape
from service.estimate.rooms.suspects import is_honest, suspects_of
from service.estimate.rooms.walk import Walk, crosses_itself, shoelace_area
from service.problems import Code
from service.survey import CornerKind
from service.units import ZERO, Units

if TYPE_CHECKING:
    from collections.abc import Sequence

    from service.problems import Problems
    from service.survey import Room

SQIN_PER_SQFT = 144
LEAST_CORNERS = 3
CHECK_CORNERS = "Check each Corner (inside or outside) and Angle, and that no wall is missing."


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
    if None not in walk.interior_deg:
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


def _angles_checked(walk: Walk, suspects: Sequence[str], rules: RoomRules, problems: Problems) -> None:
    """An angle sum out of tolerance refuses the room; one that honest reading does not explain is a warning."""
    excess = abs(angle_excess_deg(walk))
    if excess <= rules.honest_excess_deg(len(walk.room.walls)):
        return
    is_refused = excess > rules.refused_excess_deg(len(walk.room.walls))
    walls, total = len(walk.room.walls), angle_sum_deg(walk)
    collect = problems.error if is_refused else problems.warning
    collect(
        Code.CORNER_ANGLES_DO_NOT_ADD_UP,
        f"{walk.room.pointer}/walls",
        f"The inside angles of {walk.room.name} add up to {total:g}°; {walls} walls make {total - angle_excess_deg(walk):g}°"
        f"{_one_slip(suspects)}",
        help="Read the suspects again." if suspects else CHECK_CORNERS,
        found=f"{total:g}°",
    )


def _closure(walk: Walk, units: Units, rules: RoomRules) -> Closure:
    is_closed = walk.gap <= rules.accepted_gap(len(walk.room.walls))
    if is_closed and abs(angle_excess_deg(walk)) <= rules.honest_excess_deg(len(walk.room.walls)):
        return Closure(is_closed=True, gap=walk.gap)
    suspects = tuple(suspect.text(units) for suspect in suspects_of(walk, rules))
    return Closure(is_closed=is_closed, gap=walk.gap, suspects=suspects)


def _misclosure_told(walk: Walk, closure: Closure, units: Units, rules: RoomRules, problems: Problems) -> None:
    """One fault for one slip: the gap of a room whose corners are written wrong says nothing of its own."""
    is_refused = abs(angle_excess_deg(walk)) > rules.refused_excess_deg(len(walk.room.walls))
    if closure.is_closed or is_refused:
        _angles_checked(walk, closure.suspects, rules, problems)
    if closure.is_closed or (is_refused and closure.suspects):
        return
    collect = problems.error if closure.gap > rules.refused_gap(walk.perimeter) else problems.warning
    collect(
        Code.ROOM_DOES_NOT_CLOSE,
        f"{walk.room.pointer}/walls",
        f"The walls of {walk.room.name} miss each other by {closure.gap.text(units)}{_one_slip(closure.suspects)}",
        help=f"Measure {'the suspects' if closure.suspects else 'the walls and corners'} again{_honestly(walk, rules)}.",
        found=closure.gap.text(units),
    )


def _honestly(walk: Walk, rules: RoomRules) -> str:
    return "; corners read to half a degree can leave as much without a slip" if is_honest(walk, rules) else ""


def _one_slip(suspects: Sequence[str]) -> str:
    return f". One slip that would explain it: {'; or '.join(suspects)}." if suspects else "."


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
