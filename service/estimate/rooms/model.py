"""Records of the rooms stage."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.trade.reading import FromBook, exact, length, real

if TYPE_CHECKING:
    from fractions import Fraction

    from service.survey import Room
    from service.units import Length

BEYOND_NOISE = 3.0
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class RoomRules(FromBook):
    """What decides whether measured walls make a room (trade book `rooms.*`).

    Attributes:
        angle_tolerance_deg: allowed misreading a corner. [deg]
        gap_base, gap_per_wall: a gap up to base + per wall · walls is accepted. [Length]
        gap_error_least, gap_error_share: a gap above the larger of the length and the share of the
            perimeter refuses the sheet; between the two it is a warning. [Length, fraction]
        tape_noise, angle_noise_deg: how far honest measuring strays in one wall and one corner; suspects of
            a room that does not close are judged by it. [Length, deg]
        slip_turn_least_deg, slip_turn_most_deg: a corner that would have to be turned by less or by more is no suspect. [deg]
        slip_parallel_deg: walls within this of each other are suspected together. [deg]
    """

    angle_tolerance_deg: float = real("rooms.angle-tolerance")
    gap_base: Length = length("rooms.gap-base")
    gap_per_wall: Length = length("rooms.gap-per-wall")
    gap_error_least: Length = length("rooms.gap-error-least")
    gap_error_share: Fraction = exact("rooms.gap-error-share")
    tape_noise: Length = length("rooms.tape-noise")
    angle_noise_deg: float = real("rooms.angle-noise")
    slip_turn_least_deg: float = real("rooms.slip-turn-least")
    slip_turn_most_deg: float = real("rooms.slip-turn-most")
    slip_parallel_deg: float = real("rooms.slip-parallel")

    def accepted_gap(self, walls: int) -> Length:
        """Largest gap taken without a word for so many walls."""
        return self.gap_base + self.gap_per_wall * walls

    def honest_excess_deg(self, walls: int) -> float:
        """Largest error of the angle sum that honest reading leaves, so many times the noise of its corners together. [deg]

        Source: errors that are independent add by their squares.
        """
        return min(BEYOND_NOISE * self.angle_noise_deg * math.sqrt(walls), self.refused_excess_deg(walls))

    def refused_excess_deg(self, walls: int) -> float:
        """Error of the angle sum above which the room is refused. [deg]"""
        return self.angle_tolerance_deg * walls

    def refused_gap(self, perimeter: Length) -> Length:
        """Gap above which the sheet is refused."""
        return max(self.gap_error_least, perimeter * self.gap_error_share)


@dataclass(frozen=True, slots=True)
class Closure:
    """How well the walls close: the gap after walking them, and who may be to blame, in words."""

    is_closed: bool
    gap: Length
    suspects: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RoomShape:
    """A measured room as a figure in plan.

    Attributes:
        number: position on the sheet, from 1.
        room: the survey's record.
        interior_deg: angle inside the room at each wall's right-hand end; None where it is open.
        headings_deg: direction of each wall in plan, counterclockwise from the x axis.
        points: adjusted plan positions, one a wall's left end, then the last wall's right end. [in]
        is_island: every corner outside, walked the other way round.
        is_open: the last wall's right-hand end is open; the area is then approximate.
        area_sqft: None for an island.
        perimeter: sum of the measured lengths.
    """

    number: int
    room: Room
    interior_deg: tuple[float | None, ...]
    headings_deg: tuple[float, ...]
    points: tuple[Point, ...]
    is_island: bool
    is_open: bool
    closure: Closure
    area_sqft: float | None
    perimeter: Length
