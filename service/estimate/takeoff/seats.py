"""Where each ordered layer sits on a wall: offsets from the face and height band."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.takeoff.measured import offsets
from service.firm import Position
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.estimate.figures import Figure
    from service.firm import Layer, Profile
    from service.survey import TrimOrder

HANGING_ORDER = (
    Position.CEILING,
    Position.WALL,
    Position.CROWN,
    Position.BASE,
    Position.CAP,
    Position.SHOE,
    Position.RAIL,
)
STANDS_BEFORE = {Position.CROWN: Position.WALL, Position.SHOE: Position.BASE}


@dataclass(frozen=True, slots=True)
class Ordered:
    """A layer ordered for a wall: the order, its assembly's name, the layer and its profile."""

    order: TrimOrder
    assembly: str
    layer: Layer
    profile: Profile
    is_first: bool


@dataclass(frozen=True, slots=True)
class Seat:
    """Place of a layer on its wall.

    Attributes:
        ordered: what sits there.
        near, far: offsets from the wall's face. [Length]
        low, high: height band above the finished floor. [Length]
        stands_on: the layer behind it, whose face is its near edge; None on the wall itself.
    """

    ordered: Ordered
    near: Length
    far: Length
    low: Length
    high: Length
    stands_on: Profile | None = None

    @property
    def position(self) -> Position:
        """Where the layer sits."""
        return self.ordered.layer.position

    @property
    def profile(self) -> Profile:
        """What it is made of."""
        return self.ordered.profile

    def lines_up_with(self, other: Seat) -> bool:
        """True when the same profile stands at the same height, so that the two can be joined at a corner."""
        return self.profile.name == other.profile.name and self.high == other.high

    @property
    def offsets(self) -> tuple[Length, Length]:
        """Near and far edge."""
        return self.near, self.far

    @property
    def offset_figures(self) -> tuple[Figure, Figure]:
        """How the near and the far edge were worked out."""
        return offsets(self.position, self.profile, self.stands_on, self.near, self.far)


def projection(width: Length, spring_deg: float) -> Length:
    """How far a crown of overall width w reaches into the room: w·sin s.

    Source: plane geometry; 4⅝" at 38°: 2.847". The width is edge to edge as sold.
    """
    return width * Fraction(math.sin(math.radians(spring_deg)))


def drop(width: Length, spring_deg: float) -> Length:
    """How far a crown of overall width w reaches down the wall: w·cos s.

    Source: plane geometry; 4⅝" at 38°: 3.645".
    """
    return width * Fraction(math.cos(math.radians(spring_deg)))


def seats_of(ordered: Mapping[Position, Ordered], ceiling_height: Length) -> dict[Position, Seat]:
    """Seats of all layers ordered for one wall, in hanging order.

    A wall layer's top butts under the ceiling layer, a crown stands on the wall layer's face and hangs
    below the ceiling layer, a cap sits on the base, a shoe before it.

    Args:
        ordered: one layer a position.
        ceiling_height: finished floor to finished ceiling. [Length]
    """
    seats: dict[Position, Seat] = {}
    for position in HANGING_ORDER:
        if position in ordered:
            seats[position] = _seat(ordered[position], seats, ceiling_height)
    return seats


def _seat(item: Ordered, below: Mapping[Position, Seat], ceiling_height: Length) -> Seat:
    profile = item.profile
    ceiling = below.get(Position.CEILING)
    top = ceiling.low if ceiling else ceiling_height
    behind = _behind(item.layer.position, below)
    near = behind.far if behind else ZERO
    stands_on = behind.profile if behind else None
    thick = near + profile.thickness
    match item.layer.position:
        case Position.CEILING:
            return Seat(item, ZERO, profile.width, ceiling_height - profile.thickness, ceiling_height)
        case Position.WALL:
            return Seat(item, ZERO, thick, top - profile.width, top)
        case Position.CROWN:
            spring = profile.spring_angle_deg or 0.0
            far = near + projection(profile.width, spring)
            return Seat(item, near, far, top - drop(profile.width, spring), top, stands_on)
        case Position.CAP:
            floor = below[Position.BASE].high if Position.BASE in below else ZERO
            return Seat(item, ZERO, thick, floor, floor + profile.width)
        case Position.RAIL:
            height = item.order.height or ZERO
            return Seat(item, ZERO, thick, height - profile.width, height)
        case _:
            return Seat(item, near, thick, ZERO, profile.width, stands_on)


def standing_before(seat: Seat, neighbor: Mapping[Position, Seat]) -> Seat | None:
    """What already stands on the next wall where a layer without a counterpart runs into it.

    Boards go up before the crown and base before shoe: a crown meets the wall layer's face, a shoe the
    base's face, anything else the wall: None. (Common practice.)
    """
    return _behind(seat.position, neighbor)


def _behind(position: Position, seats: Mapping[Position, Seat]) -> Seat | None:
    behind = seats.get(STANDS_BEFORE.get(position, position))
    return behind if behind and behind.position is not position else None
