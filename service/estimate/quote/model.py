"""The quote as frozen records, self-contained: what is stored, answered as JSON and printed.

Nothing here refers back to the survey or the price list; a stored quote is served as it stands.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from service.estimate.quote.ledger import Ledger
from service.estimate.takeoff.model import Member
from service.survey import BoxRating
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date, datetime
    from decimal import Decimal

    from service.estimate.cuts.model import Cutting, Piece, ProfileBoards
    from service.estimate.labor import LaborPlan, LaborRow
    from service.estimate.price import Line, ScheduledPayment, Totals
    from service.estimate.takeoff.model import End, Span
    from service.firm import Position
    from service.problems import Problem
    from service.survey import CornerKind, FeatureKind, OpeningKind, WindowStyle
    from service.units import Length, Units

EMPTY_LEDGER = Ledger()


class Status(StrEnum):
    """Where a quote stands; an issued one never changes."""

    DRAFT = "draft"
    ISSUED = "issued"
    ACCEPTED = "accepted"
    DECLINED = "declined"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Heading:
    """What the office adds to an estimate: identity, dates and status. `number` is None outside a firm's books."""

    id: str
    number: str | None
    revision: int
    status: Status
    created_at: datetime
    valid_until: date


@dataclass(frozen=True, slots=True)
class PriceListRef:
    """The price list version a quote was priced with."""

    name: str
    version: int


@dataclass(frozen=True, slots=True)
class NoticeCard:
    """A text of the firm's own, printed verbatim."""

    text: str
    smallest_type_pt: Decimal | None
    beside_signature: bool


@dataclass(frozen=True, slots=True)
class FirmCard:
    """The firm as it signs."""

    name: str
    address: str
    phone: str
    email: str
    license_number: str
    lead_certificate: str
    time_zone: str
    paper: str
    document_word: str
    notices: tuple[NoticeCard, ...]


@dataclass(frozen=True, slots=True)
class JobCard:
    """Who it is for and where."""

    job_name: str
    customer: str
    customer_email: str
    customer_phone: str
    site_address: str
    measured_by: str
    measured_on: date | None
    year_built: int | None
    occupied: bool
    notes: str


@dataclass(frozen=True, slots=True)
class PlanPoint:
    """A point in plan, inches: x to the right and y up."""

    x: Length
    y: Length


@dataclass(frozen=True, slots=True)
class PlanLine:
    """A straight line in plan."""

    start: PlanPoint
    end: PlanPoint


@dataclass(frozen=True, slots=True)
class ClosureCard:
    """Whether the measured walls close."""

    closed: bool
    gap: Length
    suspects: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WallCard:
    """One wall as measured and as drawn; the room lies to the right of the line from start to end."""

    name: str
    length: Length
    corner: CornerKind
    corner_deg: float | None
    line: PlanLine
    studs_at: tuple[Length, ...]
    notes: str


@dataclass(frozen=True, slots=True)
class OpeningCard:
    """An opening as measured, from the wall's left end.

    `casing` is the assembly around it, empty when none is ordered; `style` how a window is trimmed; `sides` how many
    of its sides are cased.
    """

    wall: str
    kind: OpeningKind
    from_left: Length
    width: Length
    height: Length
    sill_height: Length | None
    notes: str
    casing: str = ""
    style: WindowStyle | None = None
    sides: int = 1


@dataclass(frozen=True, slots=True)
class FeatureCard:
    """A ceiling feature as ordered. `weight_lb` in pounds; `nearest_wall` from its center."""

    feature: FeatureKind
    item: str
    notes: str
    diameter: Length | None = None
    weight_lb: Decimal | None = None
    hangs_down: Length | None = None
    remove_existing: bool = False
    box_rated_for_fan: BoxRating = BoxRating.UNKNOWN
    nearest_wall: Length | None = None


@dataclass(frozen=True, slots=True)
class JointCard:
    """A splice of a run, from the wall's left end."""

    at: Length
    on_glue_plate: bool


@dataclass(frozen=True, slots=True)
class BlockLegs:
    """Legs of the triangular blocks behind a crown."""

    wall: Length
    ceiling: Length


@dataclass(frozen=True, slots=True)
class RunCard:
    """One layer along one wall, or one member around an opening.

    Positions are from the wall's left end, lengths long point to long point. `opening` is the place, from 1, in the
    room's openings that the member goes around, None along a wall; `side` 1 or 2; `low`, `high` are the heights that
    it occupies above the finished floor.

    What holds it: `nails` by supply code, of them `cross_nailed` in pairs until the adhesive cures; `blocks` behind a
    crown and their legs; `adhesive` length of all beads; `holding_factor` strength of the nails in wood over the weight
    of a layer overhead, to 0.01, None where it was not checked.
    """

    number: int
    wall: str
    assembly: str
    layer: int
    position: Position
    profile: str
    start: Length
    length: Length
    near: Length
    far: Length
    left: End
    right: End
    backed_at: tuple[Length, ...]
    backed_all_along: bool
    unbacked: Length
    unbacked_stretches: tuple[Span, ...]
    joints: tuple[JointCard, ...]
    pieces: tuple[str, ...]
    member: Member = Member.ALONG
    opening: int | None = None
    side: int = 1
    low: Length | None = None
    high: Length | None = None
    nails: Mapping[str, int] = field(default_factory=dict)
    cross_nailed: int = 0
    blocks: int = 0
    block_legs: BlockLegs | None = None
    glue_plates: int = 0
    adhesive: Length = ZERO
    holding_factor: Decimal | None = None

    @property
    def is_along_wall(self) -> bool:
        """True for a layer along the wall, False for trim around an opening."""
        return self.member is Member.ALONG


@dataclass(frozen=True, slots=True)
class RoomCard:
    """One room of the quote."""

    number: int
    name: str
    area_sqft: Decimal | None
    area_is_approximate: bool
    perimeter: Length
    ceiling_height: Length
    closure: ClosureCard
    walls: tuple[WallCard, ...]
    openings: tuple[OpeningCard, ...]
    joists: tuple[PlanLine, ...]
    runs: tuple[RunCard, ...]
    features: tuple[FeatureCard, ...]
    notes: str


@dataclass(frozen=True, slots=True)
class SupplyCard:
    """A supply bought in whole packages."""

    code: str
    kind: str
    description: str
    need: Decimal
    unit: str
    waste_share: Decimal
    package_size: Decimal
    packages: int
    rest: Decimal
    unit_price: Decimal
    amount: Decimal
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something taken for granted, said so; `basis` names the trade-book entry, if one is behind it."""

    text: str
    basis: str
    internal: bool = False


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard whose trigger holds; `rooms` names where, empty for the whole job."""

    code: str
    text: str
    rooms: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Quote:
    """A priced quote, whole.

    `ledger`: every step behind its lines; empty when read back from storage. `labor_plan`: the hours by day; None in a
    quote stored before there was one.
    """

    schema: int
    id: str
    number: str | None
    revision: int
    status: Status
    created_at: datetime
    valid_until: date
    currency: str
    units: Units
    price_list: PriceListRef
    firm: FirmCard
    job: JobCard
    rooms: tuple[RoomCard, ...]
    pieces: tuple[Piece, ...]
    boards: tuple[ProfileBoards, ...]
    cutting: Cutting
    supplies: tuple[SupplyCard, ...]
    labor: tuple[LaborRow, ...]
    labor_hours: Decimal
    crew_days: Decimal
    lines: tuple[Line, ...]
    totals: Totals
    options: tuple[Line, ...]
    payment_schedule: tuple[ScheduledPayment, ...]
    assumptions: tuple[Assumption, ...]
    warnings: tuple[Problem, ...]
    cautions: tuple[Caution, ...]
    ledger: Ledger = EMPTY_LEDGER
    labor_plan: LaborPlan | None = None
