"""Records of the materials stage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal
    from fractions import Fraction

    from service.firm import SupplyKind
    from service.units import Length


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


@dataclass(frozen=True, slots=True)
class RunFastening:
    """What holds one run: counts that labor, field sheet and tests read.

    `nails` at framing, plates, blocks and joints, by supply code; `cross_nailed` nails in pairs on
    unbacked stretches; `blocks` behind a crown; `adhesive_length` of all beads; `caulked_length` of all
    edges; `painted_area_sqft` one coat.
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

    @property
    def nail_count(self) -> int:
        """All nails of the run; each leaves a hole to fill."""
        return sum(self.nails.values())


@dataclass(frozen=True, slots=True)
class Materials:
    """Result of the materials stage."""

    supplies: tuple[SupplyRow, ...]
    fastening: tuple[RunFastening, ...]
