"""Records of the materials stage."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import EACH, FOOT, INCH, SQUARE_FOOT, given
from service.survey import FinishOrder
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from service.estimate.figures import Figure, Number
    from service.firm import Supply, SupplyKind
    from service.survey import CeilingFeature
    from service.units import Length


@dataclass(frozen=True, slots=True, eq=False)
class SupplyFigures:
    """How a supply's need before waste, its packages, what is left of them and their cost were worked out."""

    need: Figure
    packages: Figure
    rest: Figure
    amount: Figure


@dataclass(frozen=True, slots=True)
class SupplyRow:
    """One supply of the job, bought in whole packages.

    Attributes:
        need: what the work takes before waste, in `unit`.
        waste_share: share added for waste.
        packages: whole packages bought; rest = packages × size − need × (1 + waste_share).
        room_needs: the need split by room number, for sharing the price out.
        basis: `trade:{entry}` and `sheet:{pointer}` the quantity rests on.
    """

    code: str
    kind: SupplyKind
    description: str
    need: Decimal
    unit: str
    waste_share: Decimal
    package_size: Decimal
    packages: int
    rest: Decimal
    unit_price: Decimal
    amount: Decimal
    room_needs: Mapping[int, Fraction]
    basis: tuple[str, ...]
    worked: SupplyFigures | None = field(default=None, compare=False)

    @property
    def packages_figure(self) -> Figure:
        """How the packages were worked out."""
        return self.worked.packages if self.worked else _told("packages", self.packages, EACH)

    @property
    def amount_figure(self) -> Figure:
        """How the cost was worked out. [money]"""
        return self.worked.amount if self.worked else _told("cost", self.amount, "money")


@dataclass(frozen=True, slots=True, eq=False)
class FasteningFigures:
    """How the counts and sizes of one run's fastening were worked out; None where there is none.

    `nails` all of them, `holes` those to fill; `caulked_ft` of all edges; areas in square feet, `sanded_sqft` once,
    `primed_sqft` and `painted_sqft` (paint or stain) of all coats together.
    """

    blocks: Figure | None = None
    glue_plates: Figure | None = None
    nails: Figure | None = None
    caulked_ft: Figure | None = None
    holes: Figure | None = None
    sanded_sqft: Figure | None = None
    primed_sqft: Figure | None = None
    painted_sqft: Figure | None = None


@dataclass(frozen=True, slots=True, eq=False)
class FittingFigures:
    """How what holds and coats a ceiling feature was worked out; None where there is none.

    `painted_sqft` of all coats together, `sanded_sqft` once; `adhesive` length of all beads in inches.
    """

    screws: Figure | None = None
    sanded_sqft: Figure | None = None
    painted_sqft: Figure | None = None
    adhesive: Figure | None = None


@dataclass(frozen=True, slots=True)
class RunFastening:
    """What holds one run: counts that labor, field sheet and tests read.

    `nails` all of them, by supply code; of them `cross_nailed` in pairs on unbacked stretches and
    `hidden_nails` behind a crown, which leave no hole to fill; `blocks` behind a crown, each with legs of
    `block_legs` (wall, ceiling); `adhesive_length` of all beads; `dabs` of adhesive; `caulked_length` of
    all edges; `painted_area_sqft` (paint or stain, `finish` says which) and `primed_area_sqft` of one
    coat, zero where there is none; `coats` of paint or stain, `primer_coats` of primer.
    `holding_factor`: withdrawal strength of the nails in wood over dead weight, overhead layers only,
    None where it was not checked.
    """

    run: int
    nails: Mapping[str, int]
    cross_nailed: int
    blocks: int
    glue_plates: int
    adhesive_length: Length
    caulked_length: Length
    painted_area_sqft: Fraction
    primed_area_sqft: Fraction
    coats: int
    hidden_nails: int = 0
    dabs: int = 0
    primer_coats: int = 0
    finish: FinishOrder = FinishOrder.NONE
    block_legs: tuple[Length, Length] | None = None
    holding_factor: float | None = None
    worked: FasteningFigures | None = field(default=None, compare=False)

    @property
    def figures(self) -> FasteningFigures:
        """How its counts and sizes were worked out."""
        return self.worked or self._told()

    def _told(self) -> FasteningFigures:
        primed, painted = self.primed_area_sqft * self.primer_coats, self.painted_area_sqft * self.coats
        return FasteningFigures(
            blocks=_told("blocks", self.blocks, EACH),
            glue_plates=_told("glue plates", self.glue_plates, EACH),
            nails=_told("nails", self.nail_count, EACH),
            caulked_ft=_told("edges to caulk", self.caulked_length.feet, FOOT),
            holes=_told("holes to fill", self.hole_count, EACH),
            sanded_sqft=_told("area to sand", self.finished_area_sqft, SQUARE_FOOT),
            primed_sqft=_told("area to prime, all coats", primed, SQUARE_FOOT),
            painted_sqft=_told("area to paint, all coats", painted, SQUARE_FOOT),
        )

    @property
    def nail_count(self) -> int:
        """All nails of the run."""
        return sum(self.nails.values())

    @property
    def hole_count(self) -> int:
        """Holes to fill: every nail's but the hidden ones'."""
        return self.nail_count - self.hidden_nails

    @property
    def finished_area_sqft(self) -> Fraction:
        """Area that gets any finish, once: what is sanded. [sq ft]"""
        return max(self.painted_area_sqft, self.primed_area_sqft)


@dataclass(frozen=True, slots=True)
class FeatureFitting:
    """A ceiling feature with what holds and coats it: counts that labor and tests read.

    `item`: the supply its Item names, None where others supply it. A medallion has `screws` (each leaves a
    hole to fill), `adhesive_length` of all beads on its back, `painted_area_sqft` of one coat and `coats` of
    paint; a fan and a light have none of these.
    """

    feature: CeilingFeature
    room: int
    item: Supply | None
    screws: int = 0
    adhesive_length: Length = ZERO
    painted_area_sqft: Fraction = Fraction(0)
    coats: int = 0
    worked: FittingFigures | None = field(default=None, compare=False)

    @property
    def figures(self) -> FittingFigures:
        """How its counts and sizes were worked out."""
        if self.worked is not None:
            return self.worked
        return FittingFigures(
            screws=_told("screws", self.screws, EACH),
            sanded_sqft=_told("area to sand", self.painted_area_sqft, SQUARE_FOOT),
            painted_sqft=_told("area to paint, all coats", self.painted_area_sqft * self.coats, SQUARE_FOOT),
            adhesive=_told("adhesive", self.adhesive_length, INCH),
        )


def _told(what: str, value: Number, unit: str) -> Figure:
    return given(what, value, unit, "plan:fastening")


@dataclass(frozen=True, slots=True)
class Materials:
    """Result of the materials stage."""

    supplies: tuple[SupplyRow, ...]
    fastening: tuple[RunFastening, ...]
    features: tuple[FeatureFitting, ...] = ()
