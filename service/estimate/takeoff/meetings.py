"""What happens to each position at each corner: miter, cope or butt, and who goes in first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.takeoff.ends import CornerSide
from service.estimate.takeoff.measured import interior_angle
from service.estimate.takeoff.ring import Meeting, first_wall, ring_order
from service.firm import Shape
from service.problems import Code
from service.survey import CornerKind, InsideJoint, OutsideJoint

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.ring import Corner
    from service.estimate.takeoff.rules import TakeoffRules
    from service.estimate.takeoff.seats import Seat
    from service.firm import Position
    from service.problems import Problems
    from service.survey import Wall


@dataclass(frozen=True, slots=True)
class CornerSeats:
    """Seats of one room that reach each wall's left and right end, by wall position."""

    at_left: tuple[Mapping[Position, Seat], ...]
    at_right: tuple[Mapping[Position, Seat], ...]

    def pair(self, place: int, position: Position) -> tuple[Seat | None, Seat | None]:
        """The two seats of a position that meet at a wall's right-hand corner."""
        following = (place + 1) % len(self.at_left)
        return self.at_right[place].get(position), self.at_left[following].get(position)


@dataclass(frozen=True, slots=True)
class Meetings:
    """Corners of one room for every position on it."""

    shape: RoomShape
    seats: CornerSeats
    corners: Mapping[Position, tuple[Corner, ...]]

    def right_of(self, place: int, position: Position) -> CornerSide:
        """A wall's right-hand corner, as the wall itself meets it."""
        corner = self.corners[position][place]
        neighbor = self.seats.at_left[(place + 1) % len(self.seats.at_left)]
        return self._side(place, neighbor, corner.meeting, runs_through=corner.left_runs_through)

    def left_of(self, place: int, position: Position) -> CornerSide:
        """A wall's left-hand corner, which is the right-hand corner of the wall before it."""
        before = (place - 1) % len(self.seats.at_left)
        corner = self.corners[position][before]
        return self._side(
            before, self.seats.at_right[before], corner.meeting, runs_through=not corner.left_runs_through
        )

    def _side(
        self, place: int, neighbor: Mapping[Position, Seat], meeting: Meeting, *, runs_through: bool
    ) -> CornerSide:
        wall = self.shape.room.walls[place]
        interior = self.shape.interior_deg[place]
        angle = interior_angle(wall, interior) if interior is not None else None
        return CornerSide(wall.corner, wall.angle_deg, interior, neighbor, meeting, runs_through, angle)


def meetings_of(
    shape: RoomShape, seats: CornerSeats, firm_joint: InsideJoint, rules: TakeoffRules, problems: Problems
) -> Meetings:
    """Every corner of a room, for each position ordered in it.

    Args:
        shape: the room.
        seats: what reaches its corners.
        firm_joint: the firm's inside joint, where neither Trim row nor layer sets one.
        rules: corner readings between which a cope is made.
        problems: collects profiles that do not meet.
    """
    start = first_wall(shape.room)
    corners = {}
    for position in sorted({position for wall in (*seats.at_left, *seats.at_right) for position in wall}):
        found = [
            _meeting(wall, seats.pair(place, position), firm_joint, rules)
            for place, wall in enumerate(shape.room.walls)
        ]
        corners[position] = ring_order(found, start)
        _strangers_told(shape, seats, position, problems)
    return Meetings(shape, seats, corners)


def _meeting(
    wall: Wall, pair: tuple[Seat | None, Seat | None], firm_joint: InsideJoint, rules: TakeoffRules
) -> Meeting:
    left, right = pair
    if wall.corner is CornerKind.OPEN or left is None or right is None:
        return Meeting.ALONE
    if not left.lines_up_with(right):
        return Meeting.BUTT
    if wall.corner is CornerKind.OUTSIDE:
        is_butt = left.ordered.layer.outside_joint is OutsideJoint.BUTT and left.profile.shape is Shape.FLAT
        return Meeting.BUTT if is_butt else Meeting.MITER
    return inside_meeting(_inside_joint(left, right, firm_joint), left.profile.shape, wall.angle_deg, rules)


def inside_meeting(joint: InsideJoint, shape: Shape, reading_deg: float, rules: TakeoffRules) -> Meeting:
    """What an ordered inside joint comes to on a profile and at a reading.

    A cope is made near square; any other inside corner is mitered. On a flat board a cope means butt; a
    shaped face cannot be butted and is coped.

    Source: common practice; NAVEDTRA 14044 ch. 6 (square-edge base butted, molded work coped).
    """
    if joint is InsideJoint.BUTT and shape is Shape.FLAT:
        return Meeting.BUTT
    if joint is InsideJoint.MITER or not rules.cope_low_deg <= reading_deg <= rules.cope_high_deg:
        return Meeting.MITER
    return Meeting.BUTT if shape is Shape.FLAT else Meeting.COPE


def _inside_joint(left: Seat, right: Seat, firm_joint: InsideJoint) -> InsideJoint:
    ordered = left.ordered.order.inside_joint or right.ordered.order.inside_joint
    layered = left.ordered.layer.inside_joint or right.ordered.layer.inside_joint
    return ordered or layered or firm_joint


def _strangers_told(shape: RoomShape, seats: CornerSeats, position: Position, problems: Problems) -> None:
    for place, wall in enumerate(shape.room.walls):
        left, right = seats.pair(place, position)
        if wall.corner is CornerKind.OPEN or not left or not right or left.lines_up_with(right):
            continue
        if left.profile.name == right.profile.name:
            change = f"the {position} {left.profile.name} stands at different heights on the two walls"
        else:
            change = f"the {position} changes from {left.profile.name} to {right.profile.name}"
        problems.warning(
            Code.PROFILES_DO_NOT_MEET,
            f"{wall.pointer}/corner",
            f"At the right of wall {wall.name} in {shape.room.name} {change}; one is butted to the other.",
            help="Order the same assembly on both walls, or look at the joint on site.",
        )
