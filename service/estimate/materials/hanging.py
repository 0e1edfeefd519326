"""What ceiling features take: the item itself, and what holds and coats a medallion."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.materials.demands import Demand, Origin, by_area, by_volume, demand
from service.estimate.materials.model import FeatureFitting
from service.estimate.materials.volumes import bead_volume
from service.estimate.takeoff.feature_sizes import area_told, medallion_diameter
from service.estimate.takeoff.features import item_of
from service.firm import SupplyKind
from service.survey import FeatureKind, FinishOrder
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.materials.demands import Measure
    from service.estimate.materials.rules import Rules
    from service.estimate.rooms import RoomShape
    from service.firm import PriceList
    from service.survey import CeilingFeature
    from service.trade.book import TradeBook

SQUARE_INCHES_IN_FOOT = 144


def fittings_of(shape: RoomShape, price_list: PriceList, rules: Rules, book: TradeBook) -> tuple[FeatureFitting, ...]:
    """What hangs on one room's ceiling, each with what holds and coats it.

    Args:
        shape: the room; its area stands in where a medallion's diameter is not given.
        price_list: items, and the firm's default finish.
        rules, book: trade book.
    """
    area = area_told(shape)
    return tuple(
        _fitting(feature, shape.number, medallion_diameter(feature, area, book) or ZERO, price_list, rules)
        for feature in shape.room.ceiling
    )


def _fitting(
    feature: CeilingFeature, room: int, diameter: Length, price_list: PriceList, rules: Rules
) -> FeatureFitting:
    item = item_of(feature, price_list)
    if feature.feature is not FeatureKind.MEDALLION:
        return FeatureFitting(feature, room, item)
    is_painted = FinishOrder(price_list.settings.default_finish) is FinishOrder.PAINT
    return FeatureFitting(
        feature=feature,
        room=room,
        item=item,
        screws=rules.medallion.screws,
        adhesive_length=rim_length(diameter) * rules.medallion.beads,
        painted_area_sqft=disk_area_sqft(diameter) if is_painted else Fraction(0),
        coats=rules.finish.paint_coats if is_painted else 0,
    )


def rim_length(diameter: Length) -> Length:
    """Once around a medallion: π × diameter, the length of one bead of adhesive on its back.

    Source: geometry.

    Returns:
        [Length]
    """
    return diameter * Fraction(math.pi)


def disk_area_sqft(diameter: Length) -> Fraction:
    """Face of a medallion as a plain disk: π·d²/4; its relief is not counted.

    Source: geometry.

    Returns:
        [sq ft]
    """
    return Fraction(math.pi) * diameter.inches**2 / 4 / SQUARE_INCHES_IN_FOOT


def demands_for(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    """Everything one ceiling feature takes; a fan or a light takes itself and nothing more.

    A medallion is screwed and glued, its screw holes are filled, and it is painted where the firm paints; it is
    taken as sold primed. (Common practice.)
    """
    if fitting.item is not None:
        yield demand(_from(fitting, "item"), fitting.item, Fraction(1), "waste.items", ())
    if fitting.feature.feature is FeatureKind.MEDALLION:
        yield from _screws(fitting, measure)
        yield from _adhesive(fitting, measure)
        yield from _filler(fitting, measure)
        yield from _paint(fitting, measure)


def _from(fitting: FeatureFitting, member: str) -> Origin:
    place = f"{fitting.feature.pointer}/{member}"
    return Origin(fitting.room, place, (place,))


def _screws(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    origin = _from(fitting, "feature")
    supply = measure.shelf.of_kind(SupplyKind.SCREW, origin.place)
    if supply is not None:
        yield demand(origin, supply, Fraction(fitting.screws), "waste.screws", ("features.medallion-screws",))


def _adhesive(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    if fitting.adhesive_length > ZERO:
        volume = bead_volume(measure.rules.glue.bead_diameter, fitting.adhesive_length)
        entries = ("features.medallion-beads", "adhesive.bead-diameter", *_advised(fitting))
        yield from by_volume(
            _from(fitting, "diameter"), SupplyKind.ADHESIVE, volume, "waste.adhesive", entries, measure
        )


def _filler(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    volume = fitting.screws * measure.rules.finish.filler_per_hole
    entries = ("features.medallion-screws", "finish.filler-per-hole")
    yield from by_volume(_from(fitting, "feature"), SupplyKind.FILLER, volume, "waste.filler", entries, measure)


def _paint(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    area = fitting.painted_area_sqft * fitting.coats
    if area:
        origin = _from(fitting, "diameter")
        supply = measure.shelf.of_kind(SupplyKind.PAINT, origin.place)
        entries = ("finish.paint-coats", "finish.paint-coverage")
        yield from by_area(origin, supply, area, entries, measure, _advised(fitting))


def _advised(fitting: FeatureFitting) -> tuple[str, ...]:
    return () if fitting.feature.diameter is not None else ("features.medallion-area-divisor",)
