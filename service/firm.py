"""What the firm set: one price list as frozen records.

Shares are fractions of one, money is in the firm's currency, weights are in pounds.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from service.survey import InsideJoint, OutsideJoint

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from service.units import Length, Units


class Position(StrEnum):
    """Where a layer sits."""

    CEILING = "ceiling"
    WALL = "wall"
    CROWN = "crown"
    BASE = "base"
    CAP = "cap"
    SHOE = "shoe"
    RAIL = "rail"
    CASING = "casing"
    STOOL = "stool"
    APRON = "apron"
    PLINTH = "plinth"


class Shape(StrEnum):
    """Cross-section of a profile: plain board, molded face, or sprung between ceiling and wall."""

    FLAT = "flat"
    MOLDED = "molded"
    SPRUNG = "sprung"


class FinishState(StrEnum):
    """Finish in which a profile is sold."""

    PRIMED = "primed"
    RAW = "raw"
    STAIN = "stain"


class ProfitMethod(StrEnum):
    """Profit as a share of cost, or of price."""

    MARKUP = "markup"
    MARGIN = "margin"


class SalesTaxOn(StrEnum):
    """What the sales tax is charged on."""

    NOTHING = "nothing"
    MATERIALS = "materials"
    WHOLE_PRICE = "whole price"


class AdhesiveUse(StrEnum):
    """How a layer is glued."""

    BEAD = "bead"
    DABS = "dabs"
    NONE = "none"


class SupplyKind(StrEnum):
    """What a supply is."""

    NAIL = "nail"
    SCREW = "screw"
    ADHESIVE = "adhesive"
    SEALANT = "sealant"
    FILLER = "filler"
    PRIMER = "primer"
    PAINT = "paint"
    BLOCK = "block"
    MEDALLION = "medallion"
    FAN = "fan"
    LIGHT = "light"
    OTHER = "other"


class ConditionKind(StrEnum):
    """What makes work slower or faster."""

    CEILING_HEIGHT = "ceiling height"
    OCCUPIED = "occupied"
    ACCESS = "access"


@dataclass(frozen=True, slots=True)
class FirmSettings:
    """Name and way of working of the firm (tab Firm); None: not set, never a guess of ours."""

    name: str
    currency: str
    units: Units
    time_zone: str
    valid_for_days: int
    burden_share: Decimal
    overhead_share: Decimal
    profit_method: ProfitMethod
    profit_rate: Decimal
    contingency_share: Decimal
    material_tax_rate: Decimal
    sales_tax_rate: Decimal
    sales_tax_on: SalesTaxOn
    crew_size: int
    productive_hours_a_day: Decimal
    kerf: Length
    end_trim: Length
    shortest_piece: Length
    shortest_offcut_to_keep: Length
    joint_stagger: Length
    scarf_angle_deg: float
    inside_joint: InsideJoint
    casing_reveal: Length
    address: str = ""
    phone: str = ""
    email: str = ""
    license_number: str = ""
    paper: str = "Letter"
    document_word: str = "quote"
    minimum_charge: Decimal | None = None
    deposit_cap: Decimal | None = None
    splice_short_runs: bool = False
    solver_seconds: Decimal | None = None
    stool_horn: Length | None = None
    spare_stock_share: Decimal | None = None
    saw_miter_limit_deg: float | None = None
    saw_bevel_limit_deg: float | None = None
    shoe_nails_to: str = "floor"
    default_finish: str = "none"
    lead_certificate: str = ""


@dataclass(frozen=True, slots=True)
class Payment:
    """One payment: when, and what share of the total."""

    when: str
    share: Decimal


@dataclass(frozen=True, slots=True)
class Profile:
    """A molding or board as sold. `width`: overall edge to edge for a sprung one, else face width."""

    name: str
    description: str
    shape: Shape
    width: Length
    thickness: Length
    spring_angle_deg: float | None = None
    material: str = ""
    finish: FinishState | None = None
    girth: Length | None = None
    weight_lb_per_ft: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Stock:
    """One length in which a profile can be had. `available` None: no limit; price for one board."""

    profile: str
    length: Length
    price: Decimal
    available: int | None = None
    is_offcut: bool = False


@dataclass(frozen=True, slots=True)
class Layer:
    """One member of an assembly."""

    number: int
    position: Position
    profile: str
    inside_joint: InsideJoint | None = None
    outside_joint: OutsideJoint = OutsideJoint.MITER
    adhesive: AdhesiveUse = AdhesiveUse.NONE
    beads: int = 1
    bead_diameter: Length | None = None
    nail: str | None = None
    has_blocks: bool = False
    block_spacing: Length | None = None
    caulked_edges: int = 0


@dataclass(frozen=True, slots=True)
class Assembly:
    """A build-up by name, layers in order."""

    name: str
    layers: tuple[Layer, ...]


@dataclass(frozen=True, slots=True)
class Supply:
    """Something bought by the package. `package_size` in `package_unit`; volume and coverage as their units say."""

    code: str
    description: str
    kind: SupplyKind
    package_size: Decimal
    package_unit: str
    price: Decimal
    length: Length | None = None
    shank_diameter: Length | None = None
    volume_cu_in: Decimal | None = None
    coverage_sqft: Decimal | None = None


@dataclass(frozen=True, slots=True)
class LaborRate:
    """Hours of one person for one unit of a task, and whose hours."""

    task: str
    unit: str
    hours_per_unit: Decimal
    role: str
    crew: int = 1


@dataclass(frozen=True, slots=True)
class Condition:
    """A factor on hours, in force while `low ≤ value < high` (or value equals `label`).

    `applies_to`: `all`, or positions and task keys.
    """

    kind: ConditionKind
    factor: Decimal
    applies_to: tuple[str, ...]
    low: Length | None = None
    high: Length | None = None
    label: str | None = None


@dataclass(frozen=True, slots=True)
class Notice:
    """A text of the firm's own, printed verbatim. `smallest_type_pt`: least type size."""

    text: str
    smallest_type_pt: Decimal | None = None
    beside_signature: bool = False


@dataclass(frozen=True, slots=True)
class TradeOverride:
    """The firm's own value of a trade-book entry."""

    entry: str
    value: Decimal
    source: str


@dataclass(frozen=True, slots=True)
class PriceList:
    """One version of a firm's price list."""

    settings: FirmSettings
    wages: Mapping[str, Decimal]
    payments: tuple[Payment, ...]
    profiles: Mapping[str, Profile]
    stock: tuple[Stock, ...]
    assemblies: Mapping[str, Assembly]
    supplies: Mapping[str, Supply]
    labor: Mapping[str, LaborRate]
    conditions: tuple[Condition, ...] = ()
    notices: tuple[Notice, ...] = ()
    overrides: tuple[TradeOverride, ...] = ()
    name: str = "standard"
    version: int = 1
