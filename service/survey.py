"""What was measured and ordered: the job document as frozen records.

Every record carries the JSON Pointer of the member it came from, so that a later stage can say where
its fault lies. Lengths are exact; shares are fractions of one.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

    from service.units import Length, Units


class CornerKind(StrEnum):
    """What a wall's right-hand end meets; `open`: the trim stops there."""

    INSIDE = "inside"
    OUTSIDE = "outside"
    OPEN = "open"


class Framing(StrEnum):
    """What stands behind the covering."""

    WOOD = "wood"
    STEEL = "steel"
    MASONRY = "masonry"


class CeilingShape(StrEnum):
    """Shape of a ceiling; only a flat one is priced."""

    FLAT = "flat"
    SLOPED = "sloped"
    TRAY = "tray"


class CeilingFinish(StrEnum):
    """Surface of a ceiling."""

    SMOOTH = "smooth"
    TEXTURED = "textured"
    PLASTER = "plaster"


class Access(StrEnum):
    """How the work is reached."""

    NORMAL = "normal"
    OVER_STAIRS = "over stairs"
    OVER_TUB = "over tub"
    BUILT_IN = "built-in"


class OpeningKind(StrEnum):
    """What interrupts a wall."""

    DOOR = "door"
    WINDOW = "window"
    CASED_OPENING = "cased opening"
    CABINET = "cabinet"
    FIREPLACE = "fireplace"


class WindowStyle(StrEnum):
    """How a window is trimmed."""

    PICTURE_FRAME = "picture frame"
    STOOL_AND_APRON = "stool and apron"


class InsideJoint(StrEnum):
    """How two runs meet in an inside corner."""

    COPE = "cope"
    MITER = "miter"
    BUTT = "butt"


class OutsideJoint(StrEnum):
    """How two runs meet on an outside corner."""

    MITER = "miter"
    BUTT = "butt"


class OpenEnd(StrEnum):
    """How a run stops where nothing stands."""

    RETURN = "return"
    BUTT = "butt"
    SQUARE = "square"


class FinishOrder(StrEnum):
    """Finish ordered for a trim."""

    NONE = "none"
    PRIME = "prime"
    PAINT = "paint"
    STAIN = "stain"


class FeatureKind(StrEnum):
    """What hangs on the ceiling."""

    MEDALLION = "medallion"
    FAN = "fan"
    LIGHT = "light"


class BoxRating(StrEnum):
    """Whether a ceiling box is rated for a fan."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


class ExtraKind(StrEnum):
    """Kind of an extra line; an option is priced apart."""

    MATERIAL = "material"
    LABOR = "labor"
    ALLOWANCE = "allowance"
    OPTION = "option"


@dataclass(frozen=True, slots=True)
class Discount:
    """A share of the price (`share` set) or an amount (`amount` set)."""

    share: Decimal | None = None
    amount: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """Who it is for, where, and by which price list. `price_list` None: the caller's or `standard`."""

    pointer: str
    job_name: str
    customer: str
    site_address: str
    units: Units
    customer_email: str = ""
    customer_phone: str = ""
    measured_by: str = ""
    measured_on: date | None = None
    year_built: int | None = None
    occupied: bool = False
    price_list: str | None = None
    valid_for_days: int | None = None
    discount: Discount | None = None
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Studs:
    """Stud centers from a wall's left end: `first` and `spacing`, or the list `at`; neither: not known."""

    first: Length | None
    spacing: Length
    at: tuple[Length, ...] = ()

    @property
    def is_known(self) -> bool:
        """True when stud positions can be told."""
        return self.first is not None or bool(self.at)


@dataclass(frozen=True, slots=True)
class Joists:
    """Joists parallel to a wall, the first center at `first` from that wall's face."""

    parallel_to: str
    first: Length
    spacing: Length


@dataclass(frozen=True, slots=True)
class Wall:
    """One straight face, as seen from inside; `corner` and `angle_deg` stand at its right-hand end.

    `angle_deg` is what an angle finder reads between the two faces, 0–180.
    """

    pointer: str
    name: str
    length: Length
    corner: CornerKind
    angle_deg: float
    studs: Studs
    framing: Framing = Framing.WOOD
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Opening:
    """A gap in a wall: jamb face to jamb face; heights above the finished floor."""

    pointer: str
    wall: str
    kind: OpeningKind
    from_left: Length
    width: Length
    height: Length
    sill_height: Length | None = None
    casing: str | None = None
    style: WindowStyle | None = None
    sides: int = 1
    notes: str = ""


@dataclass(frozen=True, slots=True)
class CeilingFeature:
    """A medallion, fan or light. `weight_lb` in pounds; `nearest_wall` from its center."""

    pointer: str
    feature: FeatureKind
    item: str = ""
    diameter: Length | None = None
    weight_lb: Decimal | None = None
    hangs_down: Length | None = None
    remove_existing: bool = False
    box_rated_for_fan: BoxRating = BoxRating.UNKNOWN
    nearest_wall: Length | None = None
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Room:
    """A room: walls left to right (clockwise in plan; the other way round an island)."""

    pointer: str
    name: str
    ceiling_height: Length
    wall_covering: Length
    ceiling_covering: Length
    walls: tuple[Wall, ...]
    joists: Joists | None = None
    ceiling_shape: CeilingShape = CeilingShape.FLAT
    ceiling_finish: CeilingFinish = CeilingFinish.SMOOTH
    access: Access = Access.NORMAL
    openings: tuple[Opening, ...] = ()
    ceiling: tuple[CeilingFeature, ...] = ()
    notes: str = ""


@dataclass(frozen=True, slots=True)
class TrimOrder:
    """One assembly on some walls. `room` None: every room; `walls` None: every wall. None elsewhere: the firm's way."""

    pointer: str
    room: str | None
    walls: tuple[str, ...] | None
    assembly: str
    inside_joint: InsideJoint | None = None
    ends: OpenEnd | None = None
    height: Length | None = None
    remove_existing: bool = False
    finish: FinishOrder | None = None
    coats: int | None = None
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Extra:
    """A line of the estimator's own, at selling price. `room` None: the whole job."""

    pointer: str
    room: str | None
    description: str
    quantity: Decimal
    unit: str
    unit_price: Decimal
    kind: ExtraKind
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Survey:
    """A whole room sheet."""

    job: Job
    rooms: tuple[Room, ...]
    trim: tuple[TrimOrder, ...]
    extras: tuple[Extra, ...] = ()
