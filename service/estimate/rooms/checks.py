"""What can be wrong on a wall before any trim is put on it: openings, studs, ceilings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.problems import Code
from service.survey import CeilingShape
from service.units import ZERO

if TYPE_CHECKING:
    from service.problems import Problems
    from service.survey import Opening, Room, Wall
    from service.units import Units


def room_checked(room: Room, units: Units, problems: Problems) -> None:
    """Collect the faults of one room's ceiling, openings and studs."""
    _ceiling_checked(room, problems)
    walls = {wall.name: wall for wall in room.walls}
    for opening in room.openings:
        _opening_checked(opening, walls[opening.wall], room, units, problems)
    for wall in room.walls:
        _overlaps_checked([o for o in room.openings if o.wall == wall.name], units, problems)
        _studs_checked(wall, units, problems)


def _ceiling_checked(room: Room, problems: Problems) -> None:
    if room.ceiling_shape is not CeilingShape.FLAT:
        problems.error(
            Code.CEILING_NOT_FLAT,
            f"{room.pointer}/ceiling_shape",
            f"The ceiling of {room.name} is {room.ceiling_shape}; only flat ceilings are estimated.",
            help="Price this room by hand, or leave it off the sheet.",
            found=room.ceiling_shape,
        )


def _opening_checked(opening: Opening, wall: Wall, room: Room, units: Units, problems: Problems) -> None:
    end = opening.from_left + opening.width
    if end > wall.length:
        problems.error(
            Code.OPENING_OUTSIDE_WALL,
            f"{opening.pointer}/from_left",
            f"The {opening.kind} ends {end.text(units)} from the left, but wall {wall.name} is {wall.length.text(units)} long.",
            help="Measure From left to the left jamb and check Width and the wall's Length.",
            found=opening.from_left.text(units),
        )
    if opening.height > room.ceiling_height:
        problems.error(
            Code.OPENING_OUTSIDE_WALL,
            f"{opening.pointer}/height",
            f"The {opening.kind} is higher than the ceiling of {room.name}, {room.ceiling_height.text(units)}.",
            help="Measure Height from the finished floor to the head jamb.",
            found=opening.height.text(units),
        )
    if opening.sill_height is not None and opening.sill_height >= opening.height:
        problems.error(
            Code.OPENING_OUTSIDE_WALL,
            f"{opening.pointer}/sill_height",
            "The sill is not below the head of the opening.",
            help="Both heights are measured from the finished floor.",
            found=opening.sill_height.text(units),
        )


def _overlaps_checked(openings: list[Opening], units: Units, problems: Problems) -> None:
    before: list[Opening] = []
    for right in sorted(openings, key=lambda opening: opening.from_left):
        before = [left for left in before if left.from_left + left.width > right.from_left]
        for left in before:
            if _share_height(left, right):
                _overlap_told(left, right, units, problems)
        before.append(right)


def _overlap_told(left: Opening, right: Opening, units: Units, problems: Problems) -> None:
    problems.error(
        Code.OPENINGS_OVERLAP,
        f"{right.pointer}/from_left",
        f"The {right.kind} begins at {right.from_left.text(units)}, inside the {left.kind} before it.",
        help="Check From left and Width of both openings.",
        found=right.from_left.text(units),
    )


def _share_height(one: Opening, other: Opening) -> bool:
    one_sill, other_sill = one.sill_height or ZERO, other.sill_height or ZERO
    return one_sill < other.height and other_sill < one.height


def _studs_checked(wall: Wall, units: Units, problems: Problems) -> None:
    for place, center in enumerate(wall.studs.at):
        if center > wall.length:
            _stud_outside(wall, f"{wall.pointer}/studs/at/{place}", center.text(units), units, problems)
    first = wall.studs.first
    if first is not None and first > wall.length:
        _stud_outside(wall, f"{wall.pointer}/studs/first", first.text(units), units, problems)


def _stud_outside(wall: Wall, pointer: str, found: str, units: Units, problems: Problems) -> None:
    problems.error(
        Code.STUD_OUTSIDE_WALL,
        pointer,
        f"A stud at {found} lies beyond the end of wall {wall.name}, {wall.length.text(units)}.",
        help="Studs are measured to their centers from the wall's left end.",
        found=found,
    )
