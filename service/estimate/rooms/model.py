"""Records of the rooms stage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.units import Length

if TYPE_CHECKING:
    from fractions import Fraction

    from service.survey import Room
    from service.trade.book import TradeBook

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class RoomRules:
    """What decides whether measured walls make a room (trade book `rooms.*`).

    Attributes:
        angle_tolerance_deg: allowed misreading a corner. [deg]
        gap_base, gap_per_wall: a gap up to base + per wall · walls is accepted. [Length]
        gap_error_least, gap_error_share: a gap above the larger of the length and the share of the
            perimeter refuses the sheet; between the two it is a warning. [Length, fraction]
    """

    angle_tolerance_deg: float
    gap_base: Length
    gap_per_wall: Length
    gap_error_least: Length
    gap_error_share: Fraction

    @classmethod
    def of(cls, book: TradeBook) -> RoomRules:
        """The rules as the trade book has them."""
        return cls(
            angle_tolerance_deg=float(book.value("rooms.angle-tolerance")),
            gap_base=Length.of(book.value("rooms.gap-base")),
            gap_per_wall=Length.of(book.value("rooms.gap-per-wall")),
            gap_error_least=Length.of(book.value("rooms.gap-error-least")),
            gap_error_share=Length.of(book.value("rooms.gap-error-share")).inches,
        )

    def accepted_gap(self, walls: int) -> Length:
        """Largest gap taken without a word for so many walls."""
        return self.gap_base + self.gap_per_wall * walls

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
