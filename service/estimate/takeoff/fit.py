"""Whether the layers on a wall fit each other, and the reveals they leave."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.firm import Position
from service.problems import Code

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.estimate.takeoff.seats import Seat
    from service.problems import Problems
    from service.survey import Room, Wall
    from service.units import Length, Units

__all__ = ["ceiling_reveal", "fit_checked", "wall_reveal"]


def ceiling_reveal(ceiling: Seat, crown: Seat) -> Length:
    """Flat of the ceiling layer left in front of the crown: width − (t_w + projection).

    Source: plane geometry.
    """
    return ceiling.far - crown.far


def wall_reveal(wall: Seat, crown: Seat) -> Length:
    """Flat of the wall layer left below the crown: width − drop.

    Source: plane geometry.
    """
    return crown.low - wall.low


def fit_checked(seats: Mapping[Position, Seat], room: Room, wall: Wall, units: Units, problems: Problems) -> None:
    """Collect `assembly-does-not-fit` for a crown wider than its boards, and layers that rest on nothing."""
    crown = seats.get(Position.CROWN)
    for position, reveal in ((Position.CEILING, ceiling_reveal), (Position.WALL, wall_reveal)):
        board = seats.get(position)
        if crown and board and reveal(board, crown).inches < 0:
            _misfit_told(crown, board, -reveal(board, crown), units, problems)
    for position in (Position.CAP, Position.SHOE):
        if position in seats and Position.BASE not in seats:
            _on_nothing_told(seats[position], room, wall, problems)
    for seat in seats.values():
        if seat.low.inches < 0 or seat.high > room.ceiling_height:
            _too_high_told(seat, room, units, problems)


def _misfit_told(crown: Seat, board: Seat, over: Length, units: Units, problems: Problems) -> None:
    problems.error(
        Code.ASSEMBLY_DOES_NOT_FIT,
        f"{crown.ordered.order.pointer}/assembly",
        f"{crown.profile.name} reaches {over.text(units, denominator=16)} past the edge of the {board.position} layer "
        f"{board.profile.name}.",
        help="Take a wider board or a smaller crown.",
        found=crown.ordered.assembly,
    )


def _on_nothing_told(seat: Seat, room: Room, wall: Wall, problems: Problems) -> None:
    problems.error(
        Code.TRIM_ON_NOTHING,
        f"{seat.ordered.order.pointer}/assembly",
        f"The {seat.position} {seat.profile.name} on wall {wall.name} of {room.name} has no base to stand on.",
        help="Order a base on the same wall, or take the layer out.",
        found=seat.ordered.assembly,
    )


def _too_high_told(seat: Seat, room: Room, units: Units, problems: Problems) -> None:
    problems.error(
        Code.ASSEMBLY_DOES_NOT_FIT,
        f"{seat.ordered.order.pointer}/assembly",
        f"The {seat.position} {seat.profile.name} does not fit between floor and ceiling of {room.name}, "
        f"{room.ceiling_height.text(units)}.",
        help="Check the ceiling height, the rail's Height and the assembly.",
        found=seat.ordered.assembly,
    )
