"""Nails sold by the pound."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.units import Length

if TYPE_CHECKING:
    from service.trade.book import TradeBook

POUNDS_IN_KILOGRAM = 1 / Fraction("0.45359237")
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


def steel_count_per_lb(length: Length, diameter: Length, steel_lb_per_cu_in: Fraction) -> Fraction:
    """Nails in a pound by the volume of their shanks; heads and points are left out.

    Source: geometry; weight of steel from the trade book `fastening.steel-weight`.
    """
    volume = Fraction(math.pi) * diameter.inches**2 / 4 * length.inches
    return 1 / (volume * steel_lb_per_cu_in)


@dataclass(frozen=True, slots=True)
class Count:
    """Nails in one pound, and the trade-book entry it rests on."""

    per_lb: Fraction
    entry: str


def count_per_lb(length: Length, diameter: Length, book: TradeBook) -> Count:
    """Nails in a pound: the printed count for finish nails of that length, else for box nails, else by steel volume.

    A printed count is taken only where the nail's own steel volume agrees with it.

    Source: trade book `fastening.*-per-lb` and `count-agreement`.

    Args:
        length, diameter: of the nail; the diameter not zero. [Length, Length]
        book: trade book.
    """
    steel = steel_count_per_lb(length, diameter, Fraction(book.value("fastening.steel-weight")))
    agreement = Fraction(book.value("fastening.count-agreement"))
    for key, penny in _PRINTED.items():
        printed = Fraction(book.value(key))
        if penny_length(penny) == length and abs(printed / steel - 1) <= agreement:
            return Count(printed, key)
    return Count(steel, "fastening.steel-weight")


def pounds_of(count: Fraction, per_lb: Fraction) -> Fraction:
    """Weight of so many nails. [lb]

    Source: U.S. Army EN0069A section 4-9: 7,200 nails at 74 to the pound weigh 97.3 lb.
    """
    return count / per_lb
