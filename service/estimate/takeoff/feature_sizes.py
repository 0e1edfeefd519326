"""Usual sizes of what hangs on a ceiling, by the room's area, and how far a fan's blades reach."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from service.units import Length

if TYPE_CHECKING:
    from service.estimate.rooms import RoomShape
    from service.survey import CeilingFeature
    from service.trade.book import TradeBook

FAN_BANDS = (
    ("features.fan-small-area", "features.fan-small-least", "features.fan-small-most"),
    ("features.fan-medium-area", "features.fan-medium-least", "features.fan-medium-most"),
    ("features.fan-large-area", "features.fan-large-least", "features.fan-large-most"),
    ("features.fan-great-area", "features.fan-great-least", "features.fan-great-most"),
)


def area_told(shape: RoomShape) -> Decimal | None:
    """Room area to 0.01, half up, so that a band's limit is not missed by rounding noise; None for an island. [sq ft]"""
    if shape.area_sqft is None:
        return None
    return Decimal(shape.area_sqft).quantize(Decimal("0.01"), ROUND_HALF_UP)


def tip_clearance(nearest_wall: Length, diameter: Length) -> Length:
    """From a fan's blade tips to the nearest wall: its distance from the center less half the blade span.

    Source: plane geometry.

    Returns:
        Negative where the blades would reach into the wall. [Length]
    """
    return nearest_wall - diameter / 2


def medallion_advised(area_sqft: Decimal, divisor: Decimal) -> Length:
    """Diameter that a room's area advises for a medallion: an inch for every 7 sq ft, to the nearest inch.

    140 sq ft: 20 in; 225 sq ft: 32 in. Rules differ, so the divisor is a setting.

    Source: common practice; trade book `features.medallion-area-divisor`.

    Args:
        area_sqft: of the room. [sq ft]
        divisor: area for each inch. [sq ft/in]

    Returns:
        [Length]
    """
    return Length.of(Fraction(area_sqft) / Fraction(divisor)).snapped(1)


def medallion_diameter(feature: CeilingFeature, area_sqft: Decimal | None, book: TradeBook) -> Length | None:
    """Diameter a medallion is counted with: as measured, else as its room advises; None where neither is known."""
    if feature.diameter is not None or area_sqft is None:
        return feature.diameter
    return medallion_advised(area_sqft, book.value("features.medallion-area-divisor"))


def is_near(diameter: Length, advised: Length, tolerance: Decimal) -> bool:
    """True when a diameter lies within a share of what is advised.

    Args:
        diameter, advised: measured and usual. [Length, Length]
        tolerance: trade book `features.medallion-size-tolerance`. [share]
    """
    return abs(diameter - advised) <= advised * Fraction(tolerance)


def fan_band(area_sqft: Decimal, book: TradeBook) -> tuple[Length, Length] | None:
    """Least and largest blade span for a room: up to 75 sq ft 29 to 36 in, to 144 36 to 42, to 225 44, to 400 50 to 54.

    The bands overlap at 144 and 225 sq ft, where the lower one holds.

    Source: ENERGY STAR, older table, seen second hand; trade book `features.fan-*-area`, `-least`, `-most`.

    Args:
        area_sqft: of the room. [sq ft]
        book: the bands.

    Returns:
        Both limits; None for a room larger than all bands, which takes more than one fan. [Length, Length]
    """
    for area, least, most in FAN_BANDS:
        if area_sqft <= book.value(area):
            return Length.of(book.value(least)), Length.of(book.value(most))
    return None
