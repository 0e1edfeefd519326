"""Rooms with something on the ceiling; house, items and prices are invented."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from service.estimate.materials.buying import bought
from service.estimate.takeoff.features import features_checked
from service.firm import SupplyKind
from service.problems import Problems
from service.survey import BoxRating, CeilingFeature, FeatureKind
from service.units import Length, Units
from tests import invented
from tests.materials import examples as made

if TYPE_CHECKING:
    from service.estimate.materials.model import Materials
    from service.firm import PriceList
    from service.problems import Problem
    from service.survey import Room
    from service.trade.book import TradeBook

IN = Length.of
FAN, LIGHT, MEDALLION = FeatureKind.FAN, FeatureKind.LIGHT, FeatureKind.MEDALLION
ITEMS = (
    made.supply("fan-44", SupplyKind.FAN, "1", "each", "150.00"),
    made.supply("fan-52", SupplyKind.FAN, "1", "each", "190.00"),
    made.supply("medallion-24", SupplyKind.MEDALLION, "1", "each", "64.00"),
    made.supply("light", SupplyKind.LIGHT, "1", "each", "70.00"),
    made.supply("screw", SupplyKind.SCREW, "100", "each", "12.00"),
)
PRICES = made.price_list(*made.SUPPLIES, *ITEMS)
PAINTED = replace(PRICES, settings=replace(PRICES.settings, default_finish="paint"))
SOUND = {
    FAN: {
        "item": "fan-44", "diameter": IN(44), "weight_lb": Decimal(20), "hangs_down": IN(10), "nearest_wall": IN(70),
        "box_rated_for_fan": BoxRating.YES,
    },
    LIGHT: {"item": "light", "weight_lb": Decimal(6)},
    MEDALLION: {"item": "medallion-24", "diameter": IN(24)},
}  # fmt: skip


def feature(kind: FeatureKind, place: int = 0, **more: object) -> CeilingFeature:
    """A feature with nothing to say about in a room of 12 × 14 ft, but for what is changed."""
    return CeilingFeature(f"/rooms/0/ceiling/{place}", kind, **{**SOUND[kind], **more})


def room(*features: CeilingFeature, width: str = "12'", depth: str = "14'", height: str = "8'") -> Room:
    """A rectangle with these on its ceiling."""
    return invented.rectangle(width, depth, ceiling=features, height=height)


def found_in(
    of: Room, prices: PriceList = PRICES, book: TradeBook = made.BOOK, units: Units = Units.IMPERIAL
) -> tuple[Problem, ...]:  # fmt: skip
    """Everything there is to say about what hangs in a room."""
    problems = Problems()
    features_checked(
        (invented.shape(of),), replace(prices, settings=replace(prices.settings, units=units)), book, problems
    )
    return tuple(problems)


def told(*features: CeilingFeature, **more: object) -> list[tuple[str, str, str]]:
    """Code, severity and member of what there is to say about features in a room of 12 × 14 ft."""
    return [(str(p.code), str(p.severity), p.pointer.rpartition("/")[2]) for p in found_in(room(*features), **more)]


def materials_of(of: Room, prices: PriceList = PRICES, book: TradeBook = made.BOOK) -> Materials:
    """What a room without trim takes for its ceiling; any error fails the test."""
    problems = Problems()
    materials = bought((invented.shape(of),), (), made.plan(), prices, book, problems)
    assert materials is not None, [problem.line() for problem in problems]
    return materials
