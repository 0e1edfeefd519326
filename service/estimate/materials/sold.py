"""How pieces are sold: one by one, by the coil, strip or box, or by weight; and what a package then holds."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import SQUARE_FOOT, Figure, given, times
from service.estimate.materials.geometry import AREA_UNITS, LENGTH_UNITS

if TYPE_CHECKING:
    from service.firm import Supply

POUND, KILOGRAM = "lb", "kg"
PIECE_UNITS = frozenset({
    "each", "ea", "piece", "pieces", "pc", "pcs", "ct", "count", "nail", "nails", "screw", "screws", "block", "blocks",
})  # fmt: skip
_WEIGHTS = {
    "lb": POUND, "lbs": POUND, "pound": POUND, "pounds": POUND, "kg": KILOGRAM, "kilogram": KILOGRAM,
    "kilograms": KILOGRAM,
}  # fmt: skip
_HOLDER = re.compile(r"[a-z][a-z -]{0,18}?s? of (?P<count>\d{1,3}(?:,\d{3})+|\d{1,7}(?:\.\d{1,3})?) ?(?P<unit>[a-z]*)")


@dataclass(frozen=True, slots=True)
class Pack:
    """What one package holds: `size` in `unit`; `weight` is the unit of one sold by weight, else None."""

    unit: str
    size: Figure
    weight: str | None = None


def pack_of(supply: Supply) -> Pack:
    """A package as the price list has it: so many of its package unit."""
    return Pack(supply.package_unit, _listed_size(supply))


def pack_of_pieces(supply: Supply, pieces: str) -> Pack | None:
    """A package of pieces, None where its unit is no count and no weight.

    `each` (or `nail`) counts the package size; `coil of 300`, `strip of 21`, `box of 1000` count what is in one, and
    the need is then told in pieces, not in coils; `lb`, `kg` and `box of 5 lb` weigh.

    Args:
        supply: what is sold.
        pieces: what one of them is called, several of them: `nails`.
    """
    unit = " ".join(supply.package_unit.split()).casefold()
    if unit in PIECE_UNITS:
        return pack_of(supply)
    if unit in _WEIGHTS:
        return Pack(supply.package_unit, _listed_size(supply), _WEIGHTS[unit])
    held = _HOLDER.fullmatch(unit)
    return _held(supply, pieces, _number(held), held["unit"]) if held else None


def pack_of_length(supply: Supply) -> tuple[Pack, Figure] | None:
    """A package of what is sold by length, with feet in one of its units; None where its unit is no length.

    `ft`, `yd` and `m` measure the package size; `roll of 60 yd` tells how much is on one.
    """
    unit = " ".join(supply.package_unit.split()).casefold()
    if unit in LENGTH_UNITS:
        return pack_of(supply), LENGTH_UNITS[unit]
    held = _HOLDER.fullmatch(unit)
    if held is None or held["unit"] not in LENGTH_UNITS:
        return None
    pack = _filled(supply, held["unit"], _number(held))
    return (pack, LENGTH_UNITS[held["unit"]]) if pack else None


def pack_of_area(supply: Supply) -> tuple[Pack, Figure] | None:
    """A package of what covers an area, with square feet in one of its units; None where nothing tells the area.

    Coverage tells what one package unit, such as a roll, covers; `sq ft` measures the package size itself.
    """
    unit = " ".join(supply.package_unit.split()).casefold()
    coverage = coverage_listed(supply)
    if coverage is None:
        return (pack_of(supply), AREA_UNITS[unit]) if unit in AREA_UNITS else None
    size = _listed_size(supply)
    held = coverage if size.value == 1 else times("area a package covers", SQUARE_FOOT, size, coverage)
    return Pack(SQUARE_FOOT, held), AREA_UNITS[SQUARE_FOOT]


def coverage_listed(supply: Supply) -> Figure | None:
    """Area that one package unit covers, as the price list gives it; None where it does not. [sq ft]"""
    if supply.coverage_sqft is None:
        return None
    place = f"list:supplies/{supply.code}/coverage"
    return given(f"area a {supply.package_unit} covers", supply.coverage_sqft, SQUARE_FOOT, place)


def _number(held: re.Match[str]) -> Fraction:
    return Fraction(held["count"].replace(",", ""))


def _held(supply: Supply, pieces: str, count: Fraction, unit: str) -> Pack | None:
    """A package that holds so many pieces, or so much weight."""
    weight = _WEIGHTS.get(unit)
    if weight:
        return _filled(supply, weight, count, weight)
    is_number = count.denominator == 1 and (not unit or unit in PIECE_UNITS)
    return _filled(supply, pieces, count) if is_number else None


def _filled(supply: Supply, unit: str, count: Fraction, weight: str | None = None) -> Pack | None:
    """A package of things that each hold so much; None for nothing."""
    if not count:
        return None
    place = f"list:supplies/{supply.code}/package_unit"
    content = given(f"{unit} in a {supply.package_unit}", count, unit, place)
    if supply.package_size == 1:
        return Pack(unit, content, weight)
    return Pack(unit, times(f"{unit} in a package", unit, _listed_size(supply), content), weight)


def _listed_size(supply: Supply) -> Figure:
    place = f"list:supplies/{supply.code}/package_size"
    return given(f"{supply.package_unit} in a package", supply.package_size, supply.package_unit, place)
