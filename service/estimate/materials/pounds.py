"""Nails sold by weight."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import CUBIC_INCH, INCH, Figure, given, over, times
from service.estimate.materials.geometry import ONE, disk
from service.units import Length

if TYPE_CHECKING:
    from service.firm import Supply
    from service.trade.book import TradeBook

STEEL_WEIGHT = "fastening.steel-weight"
_PRINTED = {
    "fastening.finish-8d-per-lb": 8, "fastening.finish-10d-per-lb": 10, "fastening.finish-16d-per-lb": 16,
    "fastening.box-6d-per-lb": 6, "fastening.box-8d-per-lb": 8, "fastening.box-10d-per-lb": 10,
}  # fmt: skip
_LONG_PENNIES = {12: Fraction(13, 4), 16: Fraction(7, 2), 20: Fraction(4)}


def penny_length(penny: int) -> Length:
    """Length of a nail by its penny size: d/4 + 1/2 in from 2d to 10d, then 12d 3 1/4, 16d 3 1/2, 20d 4 in.

    Source: Cyclopedia of Architecture, Carpentry and Building, "Nails" (public domain).

    Raises:
        ValueError: for a size that is not in the list.
    """
    if 2 <= penny <= 10:  # noqa: PLR2004 - the range of the rule
        return Length(Fraction(penny, 4) + Fraction(1, 2))
    if penny not in _LONG_PENNIES:
        raise ValueError(f"{penny}d is no listed penny size")
    return Length(_LONG_PENNIES[penny])


def steel_count_per_lb(length: Figure, diameter: Figure, steel_lb_per_cu_in: Figure) -> Figure:
    """Nails in a pound by the volume of their shanks; heads and points are left out.

    Source: geometry; weight of steel from the trade book `fastening.steel-weight`.

    Args:
        length, diameter: of the nail. [Length, Length]
        steel_lb_per_cu_in: weight of steel. [lb/cu in]
    """
    volume = disk("steel in a nail", CUBIC_INCH, diameter, length)
    return over("nails in a pound", "each/lb", ONE, times("weight of a nail", "lb", volume, steel_lb_per_cu_in))


@dataclass(frozen=True, slots=True)
class Count:
    """Nails in one pound, and the trade-book entry it rests on."""

    per_lb: Figure
    entry: str


def count_per_lb(nail: Supply, book: TradeBook) -> Count | None:
    """Nails in a pound: the printed count for finish nails of that length, else for box nails, else by steel volume.

    A printed count is taken only where the nail's own steel volume agrees with it.

    Source: trade book `fastening.*-per-lb` and `count-agreement`.

    Args:
        nail: with its length and diameter; without one of them nothing can be said: None.
        book: trade book.
    """
    if not nail.length or not nail.shank_diameter:
        return None
    place = f"list:supplies/{nail.code}"
    length = given(f"length of {nail.code}", nail.length, INCH, f"{place}/length")
    diameter = given(f"shank diameter of {nail.code}", nail.shank_diameter, INCH, f"{place}/shank_diameter")
    weight = given("weight of steel", book.value(STEEL_WEIGHT), "lb/cu in", f"trade:{STEEL_WEIGHT}")
    steel = steel_count_per_lb(length, diameter, weight)
    agreement = Fraction(book.value("fastening.count-agreement"))
    for key, penny in _PRINTED.items():
        printed = Fraction(book.value(key))
        if penny_length(penny) == nail.length and abs(printed / steel.value - 1) <= agreement:
            return Count(given("nails in a pound, as printed", printed, "each/lb", f"trade:{key}"), key)
    return Count(steel, STEEL_WEIGHT)


def pounds_of(what: str, count: Figure, per_lb: Figure) -> Figure:
    """Weight of so many nails. [lb]

    Source: U.S. Army EN0069A section 4-9: 7,200 nails at 74 to the pound weigh 97.3 lb.
    """
    return over(what, "lb", count, per_lb)
