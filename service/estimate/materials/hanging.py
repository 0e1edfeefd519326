"""What ceiling features take: the item itself, and what holds and coats a medallion."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.figures import (
    CUBIC_INCH,
    EACH,
    INCH,
    SQUARE_FOOT,
    WHOLE,
    Figure,
    given,
    over,
    rounded,
    times,
)
from service.estimate.materials.geometry import circumference, disk, in_square_feet
from service.estimate.materials.measure import Demand, Origin, by_area, by_count, by_volume, demand
from service.estimate.materials.model import FeatureFitting, FittingFigures
from service.estimate.materials.volumes import bead_volume
from service.estimate.takeoff.feature_sizes import area_told
from service.estimate.takeoff.features import item_of
from service.firm import SupplyKind
from service.survey import FeatureKind, FinishOrder
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.materials.measure import Measure
    from service.estimate.materials.rules import Rules
    from service.estimate.rooms import RoomShape
    from service.firm import PriceList
    from service.survey import CeilingFeature
    from service.trade.book import TradeBook

AREA_DIVISOR = "features.medallion-area-divisor"


def fittings_of(shape: RoomShape, price_list: PriceList, rules: Rules, book: TradeBook) -> tuple[FeatureFitting, ...]:
    """What hangs on one room's ceiling, each with what holds and coats it.

    Args:
        shape: the room; its area stands in where a medallion's diameter is not given.
        price_list: items, and the firm's default finish.
        rules, book: trade book.
    """
    return tuple(
        _medallion(feature, shape, price_list, rules, book)
        if feature.feature is FeatureKind.MEDALLION
        else FeatureFitting(feature, shape.number, item_of(feature, price_list))
        for feature in shape.room.ceiling
    )


def _medallion(
    feature: CeilingFeature, shape: RoomShape, price_list: PriceList, rules: Rules, book: TradeBook
) -> FeatureFitting:
    diameter = medallion_diameter(feature, shape, book)
    rim = rim_length(diameter, rules.medallion.beads) if diameter else None
    is_painted = FinishOrder(price_list.settings.default_finish) is FinishOrder.PAINT
    face = disk_area(diameter) if diameter and is_painted else None
    coats = rules.finish.paint_coats
    painted = times(f"paint on the medallion of {shape.room.name}", SQUARE_FOOT, face, coats) if face else None
    return FeatureFitting(
        feature=feature,
        room=shape.number,
        item=item_of(feature, price_list),
        screws=rules.medallion.screws.number,
        adhesive_length=rim.length if rim else ZERO,
        painted_area_sqft=face.value if face else Fraction(0),
        coats=coats.number if is_painted else 0,
        worked=FittingFigures(rules.medallion.screws, face, painted, rim),
    )


def medallion_diameter(feature: CeilingFeature, shape: RoomShape, book: TradeBook) -> Figure | None:
    """Diameter a medallion is counted with: as measured, else as its room advises; None where neither is known. [Length]

    An inch for every 7 sq ft, to the nearest inch.

    Source: common practice; trade book `features.medallion-area-divisor`.
    """
    if feature.diameter is not None:
        return given("diameter of the medallion", feature.diameter, INCH, f"sheet:{feature.pointer}/diameter")
    area = area_told(shape)
    if area is None:
        return None
    told = given(f"area of {shape.room.name}", area, SQUARE_FOOT, "plan:room-areas")
    divisor = given("area for each inch", book.value(AREA_DIVISOR), "sq ft/in", f"trade:{AREA_DIVISOR}")
    return rounded(
        "usual diameter of the medallion", INCH, over("area over area for an inch", INCH, told, divisor), WHOLE
    )


def rim_length(diameter: Figure, beads: Figure) -> Figure:
    """All beads around a medallion's back: π × diameter × beads.

    Source: geometry.

    Returns:
        [Length]
    """
    return times("adhesive around the medallion's back", INCH, circumference("once around", diameter), beads)


def disk_area(diameter: Figure) -> Figure:
    """Face of a medallion as a plain disk: π·d²/4; its relief is not counted.

    Source: geometry.

    Returns:
        [sq ft]
    """
    return in_square_feet("face of the medallion", disk("face of the medallion", "sq in", diameter))


def demands_for(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    """Everything one ceiling feature takes; a fan or a light takes itself and nothing more.

    A medallion is screwed and glued, its screw holes are filled, and it is painted where the firm paints; it is
    taken as sold primed. (Common practice.)
    """
    if fitting.item is not None:
        one = given(f"{fitting.feature.feature} hung", 1, EACH, "geometry:one")
        yield demand(_from(fitting, "item"), fitting.item, one, "waste.items", ())
    if fitting.feature.feature is FeatureKind.MEDALLION:
        yield from _screws(fitting, measure)
        yield from _adhesive(fitting, measure)
        yield from _filler(fitting, measure)
        yield from _paint(fitting, measure)


def _from(fitting: FeatureFitting, member: str) -> Origin:
    place = f"{fitting.feature.pointer}/{member}"
    return Origin(fitting.room, place, (place,), f"{fitting.feature.feature} on the ceiling")


def _screws(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    origin, screws = _from(fitting, "feature"), fitting.figures.screws
    supply = measure.shelf.of_kind(SupplyKind.SCREW, origin.place)
    if screws:
        yield from by_count(origin, supply, screws, "waste.screws", ("features.medallion-screws",), measure)


def _adhesive(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    beads = fitting.figures.adhesive
    if beads and beads.value:
        volume = bead_volume(measure.rules.glue.bead_diameter, beads)
        entries = ("features.medallion-beads", "adhesive.bead-diameter", *_advised(fitting))
        origin = _from(fitting, "diameter")
        yield from by_volume(origin, SupplyKind.ADHESIVE, volume, "waste.adhesive", entries, measure)


def _filler(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    screws = fitting.figures.screws
    if screws:
        volume = times("filler in all holes", CUBIC_INCH, screws, measure.rules.finish.filler_per_hole)
        entries = ("features.medallion-screws", "finish.filler-per-hole")
        yield from by_volume(_from(fitting, "feature"), SupplyKind.FILLER, volume, "waste.filler", entries, measure)


def _paint(fitting: FeatureFitting, measure: Measure) -> Iterator[Demand]:
    area = fitting.figures.painted_sqft
    if area and area.value:
        origin = _from(fitting, "diameter")
        supply = measure.shelf.of_kind(SupplyKind.PAINT, origin.place)
        yield from by_area(origin, supply, area, "finish.paint-coverage", measure, _advised(fitting))


def _advised(fitting: FeatureFitting) -> tuple[str, ...]:
    return () if fitting.feature.diameter is not None else (AREA_DIVISOR,)
