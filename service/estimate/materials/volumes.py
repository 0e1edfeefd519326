"""Volumes of what is squeezed, brushed or pressed in, and of the packages it comes in. Cubic inches throughout."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from service.firm import Supply
    from service.units import Length

GALLON = Fraction(231)
FLUID_OUNCE = GALLON / 128
LITER = 1000 / Fraction(254, 100) ** 3
_UNITS = {
    "gal": GALLON, "gallon": GALLON, "qt": GALLON / 4, "quart": GALLON / 4, "pt": GALLON / 8, "pint": GALLON / 8,
    "fl oz": FLUID_OUNCE, "oz": FLUID_OUNCE, "l": LITER, "liter": LITER, "litre": LITER, "ml": LITER / 1000,
    "cu in": Fraction(1),
}  # fmt: skip


def unit_volume(supply: Supply) -> Fraction | None:
    """Volume of one package unit: as the list gives it, else the unit's own; None where it has none.

    Source: NIST Handbook 44, Appendix C: 1 gal = 231 cu in, 1 fl oz = 231/128 cu in, 1 in = 2.54 cm.

    Returns:
        [cu in]
    """
    if supply.volume_cu_in is not None:
        return Fraction(supply.volume_cu_in)
    return _UNITS.get(supply.package_unit.strip().casefold())


def bead_volume(diameter: Length, length: Length, beads: int = 1) -> Fraction:
    """Round beads: beads × π·d²/4 × length.

    Source: geometry.

    Args:
        diameter, length: of one bead. [Length, Length]
        beads: how many side by side.

    Returns:
        [cu in]
    """
    return beads * Fraction(math.pi) * diameter.inches**2 / 4 * length.inches


def fillet_volume(leg: Length, length: Length) -> Fraction:
    """Fillet of sealant in a corner: a²/2 × length.

    Source: geometry.

    Returns:
        [cu in]
    """
    return leg.inches**2 / 2 * length.inches
