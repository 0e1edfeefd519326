"""Volumes of what is squeezed, brushed or pressed in, and of the packages it comes in. Cubic inches throughout."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import CUBIC_INCH, Figure, given, over, times
from service.estimate.materials.geometry import disk, triangle

if TYPE_CHECKING:
    from service.firm import Supply

GALLON = given("cubic inches in a gallon", 231, CUBIC_INCH, "geometry:cubic-inches-in-gallon")
_INCH_CM = given("centimeters in an inch", Fraction(254, 100), "cm/in", "geometry:centimeters-in-inch")
_LITER_CC = given("cubic centimeters in a liter", 1000, "cu cm", "geometry:cubic-centimeters-in-liter")
_CUBIC_INCH_CC = times("cubic centimeters in a cubic inch", "cu cm", _INCH_CM, _INCH_CM, _INCH_CM)
LITER = over("cubic inches in a liter", CUBIC_INCH, _LITER_CC, _CUBIC_INCH_CC)


def _part(name: str, whole: Figure, count: int, of: str) -> Figure:
    divisor = given(f"{name}s in a {of}", count, "ratio", f"geometry:{name.replace(' ', '-')}s-in-{of}")
    return over(f"cubic inches in a {name}", CUBIC_INCH, whole, divisor)


FLUID_OUNCE = _part("fluid ounce", GALLON, 128, "gallon")
_QUART, _PINT = _part("quart", GALLON, 4, "gallon"), _part("pint", GALLON, 8, "gallon")
_UNITS = {
    "gal": GALLON, "gallon": GALLON, "qt": _QUART, "quart": _QUART, "pt": _PINT, "pint": _PINT,
    "fl oz": FLUID_OUNCE, "oz": FLUID_OUNCE, "l": LITER, "liter": LITER, "litre": LITER,
    "ml": _part("milliliter", LITER, 1000, "liter"), "cu in": given("a cubic inch", 1, CUBIC_INCH, "geometry:one"),
}  # fmt: skip


def unit_volume(supply: Supply) -> Figure | None:
    """Volume of one package unit: as the list gives it, else the unit's own; None where it has none.

    Source: NIST Handbook 44, Appendix C: 1 gal = 231 cu in, 1 fl oz = 231/128 cu in, 1 in = 2.54 cm.

    Returns:
        [cu in]
    """
    if supply.volume_cu_in is not None:
        place = f"list:supplies/{supply.code}/volume"
        return given(f"volume of a {supply.package_unit}", supply.volume_cu_in, CUBIC_INCH, place)
    return _UNITS.get(supply.package_unit.strip().casefold())


def bead_volume(diameter: Figure, length: Figure) -> Figure:
    """Round beads: π·d²/4 × length.

    Source: geometry.

    Args:
        diameter: of a bead. [Length]
        length: of all beads together. [Length]

    Returns:
        [cu in]
    """
    return disk("volume of the beads", CUBIC_INCH, diameter, length)


def fillet_volume(leg: Figure, length: Figure) -> Figure:
    """Fillet of sealant in a corner: a²/2 × length.

    Source: geometry.

    Returns:
        [cu in]
    """
    return triangle("volume of the fillets", leg, length)
