"""Rooms: geometry from measured walls and corners."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from service.survey import Room
    from service.units import Length


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
    points: tuple[tuple[float, float], ...]
    is_island: bool
    is_open: bool
    closure: Closure
    area_sqft: float | None
    perimeter: Length
