"""Figures that no firm and no trade sets: units and plane geometry.

Source: NIST Handbook 44, Appendix C: 1 gal = 231 cu in, 1 in = 2.54 cm, 1 lb = 0.45359237 kg,
1 ft = 0.3048 m, all exact.
"""

from __future__ import annotations

import math
from fractions import Fraction

from service.estimate.figures import CUBIC_INCH, EACH, FOOT, INCH, SQUARE_FOOT, Figure, given, over, times

PI = given("pi", Fraction(math.pi), "ratio", "geometry:pi")
CIRCLE_DIVISOR = given("divisor of pi times diameter squared", 4, "ratio", "geometry:circle-divisor")
TRIANGLE_DIVISOR = given("divisor of leg times leg", 2, "ratio", "geometry:triangle-divisor")
BOTH_SIDES = given("both sides", 2, EACH, "geometry:both-sides")
ONE_MORE = given("one more than there are spaces", 1, EACH, "geometry:one-more-than-spaces")
ONE = given("one", 1, "ratio", "geometry:one")
INCHES_IN_FOOT = given("inches in a foot", 12, "in/ft", "geometry:inches-in-foot")
SQUARE_INCHES_IN_FOOT = given(
    "square inches in a square foot", 144, "sq in/sq ft", "geometry:square-inches-in-square-foot"
)
KILOGRAMS_IN_POUND = given(
    "kilograms in a pound", Fraction("0.45359237"), "kg/lb", "geometry:kilograms-in-pound"
)  # fmt: skip
_YARD = given("feet in a yard", 3, "ft/yd", "geometry:feet-in-yard")
_FOOT_M = given("meters in a foot", Fraction("0.3048"), "m/ft", "geometry:meters-in-foot")
_FOOT = given("a foot", 1, FOOT, "geometry:one")
_METER = over("feet in a meter", FOOT, _FOOT, _FOOT_M)
LENGTH_UNITS = {
    "ft": _FOOT, "foot": _FOOT, "feet": _FOOT, "yd": _YARD, "yds": _YARD, "yard": _YARD, "yards": _YARD,
    "m": _METER, "meter": _METER, "meters": _METER, "metre": _METER, "metres": _METER,
}  # fmt: skip
_SQUARE_FOOT = given("a square foot", 1, SQUARE_FOOT, "geometry:one")
_SQUARE_METER = times("square feet in a square meter", SQUARE_FOOT, _METER, _METER)
AREA_UNITS = {
    "sq ft": _SQUARE_FOOT, "sqft": _SQUARE_FOOT, "sf": _SQUARE_FOOT,
    "sq yd": times("square feet in a square yard", SQUARE_FOOT, _YARD, _YARD),
    "sq m": _SQUARE_METER, "m2": _SQUARE_METER, "m²": _SQUARE_METER,
}  # fmt: skip


def in_feet(what: str, inches: Figure) -> Figure:
    """A length in feet. [ft]"""
    return over(what, FOOT, inches, INCHES_IN_FOOT)


def in_square_feet(what: str, square_inches: Figure) -> Figure:
    """An area in square feet. [sq ft]"""
    return over(what, SQUARE_FOOT, square_inches, SQUARE_INCHES_IN_FOOT)


def disk(what: str, unit: str, diameter: Figure, *depth: Figure) -> Figure:
    """π·d²/4: area of a disk; with a depth or length the volume of a cylinder.

    Source: geometry.

    Args:
        what, unit: of the result.
        diameter: of the circle. [Length]
        depth: one length, or none. [Length]
    """
    squared = times("pi times diameter squared", unit, PI, diameter, diameter, *depth)
    return over(what, unit, squared, CIRCLE_DIVISOR)


def triangle(what: str, leg: Figure, length: Figure) -> Figure:
    """a²/2 × length: a fillet whose section is half a square.

    Source: geometry.

    Args:
        what: of the result.
        leg, length: of the fillet. [Length, Length]

    Returns:
        [cu in]
    """
    return over(what, CUBIC_INCH, times("leg squared times length", CUBIC_INCH, leg, leg, length), TRIANGLE_DIVISOR)


def circumference(what: str, diameter: Figure) -> Figure:
    """π × diameter. [Length]

    Source: geometry.
    """
    return times(what, INCH, PI, diameter)
