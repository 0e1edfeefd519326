"""What hangs on a ceiling, worded for the customer and for the field."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from service.documents.fonts import NBSP
from service.documents.order import descriptions
from service.documents.words import count_text, length_text, plain, size_text
from service.survey import BoxRating, FeatureKind
from service.units import Units

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from decimal import Decimal

    from service.estimate.quote.model import FeatureCard, Quote, RoomCard

FEATURE_WORDS = {
    FeatureKind.MEDALLION: "ceiling medallion",
    FeatureKind.FAN: "ceiling fan",
    FeatureKind.LIGHT: "ceiling light",
}
KILOGRAMS_PER_POUND = "0.45359237"


def feature_name(feature: FeatureCard, quote: Quote) -> str:
    """What it is, as its supply is called, or as the sheet calls it, or by its kind: never a bare code."""
    supplies = {supply.code: supply.description for supply in quote.supplies}
    known = {**descriptions(quote), **supplies}
    words = FEATURE_WORDS[feature.feature]
    if not feature.item:
        return words[:1].upper() + words[1:]
    return known.get(feature.item, f"{words[:1].upper()}{words[1:]} {feature.item}")


def feature_scope(feature: FeatureCard, quote: Quote) -> str:
    """The feature on a price section's heading, with the old one's removal."""
    removal = ", the old one taken down" if feature.remove_existing else ""
    return f"{feature_name(feature, quote)}{removal}"


def features_counted(rooms: Iterable[RoomCard]) -> list[str]:
    """`2 ceiling medallions`, `1 ceiling fan`, in the order of first appearance."""
    counts = Counter(feature.feature for room in rooms for feature in room.features)
    return [count_text(count, FEATURE_WORDS[kind]) for kind, count in counts.items()]


def feature_place(feature: FeatureCard, units: Units) -> str:
    """`center 7′ 0″ from the nearest wall`: all that a sheet tells of its place."""
    if feature.nearest_wall is None:
        return "place not on the sheet"
    return f"center {length_text(feature.nearest_wall, units)} from the nearest wall"


def feature_on_plan(feature: FeatureCard, units: Units) -> str:
    """`medallion 28″, center 7′ 0″ from the nearest wall`, for the rows under a plan."""
    size = f" {size_text(feature.diameter, units)}" if feature.diameter else ""
    return f"{feature.feature.value}{size}, {feature_place(feature, units)}"


def weight_text(pounds: Decimal, units: Units) -> str:
    """`28 lb`, or kilograms to a tenth (1 lb = 0.45359237 kg exactly, NIST Handbook 44, Appendix C)."""
    if units is Units.METRIC:
        return f"{plain(pounds * type(pounds)(KILOGRAMS_PER_POUND), 1)}{NBSP}kg"
    return f"{plain(pounds)}{NBSP}lb"


def feature_checks(room: RoomCard, quote: Quote) -> Iterator[str]:
    """What is checked under each feature of a room before it is hung.

    Source: common practice; the limits themselves stand in the cautions.
    """
    units = quote.units
    for feature in room.features:
        name = feature_name(feature, quote)
        if feature.feature is FeatureKind.MEDALLION:
            yield f"{name}: centered on the box, hole clear of the cable, screws into framing or toggles"
        if feature.feature is FeatureKind.FAN:
            yield f"{name}: {_blades(feature, room, units)}{_clear(feature, units)}; {_box(feature)}"
        if feature.feature is FeatureKind.LIGHT:
            yield f"{name}: {_carried(feature, units)}, box flush with the finished face"


def _blades(feature: FeatureCard, room: RoomCard, units: Units) -> str:
    if feature.hangs_down is None:
        return "height of the blades above the floor measured"
    above = length_text(room.ceiling_height - feature.hangs_down, units)
    return f"blades {above} above the floor by the sheet, measured again"


def _clear(feature: FeatureCard, units: Units) -> str:
    if feature.nearest_wall is None or feature.diameter is None:
        return ", way to the nearest wall measured"
    return f", tips {length_text(feature.nearest_wall - feature.diameter / 2, units)} from the nearest wall"


def _box(feature: FeatureCard) -> str:
    return {
        BoxRating.YES: "box listed for fans on the sheet, its marking read before hanging",
        BoxRating.NO: "box not listed for fans: no fan goes on it until it is replaced",
        BoxRating.UNKNOWN: "box looked at: no fan goes on one not listed for fans",
    }[feature.box_rated_for_fan]


def _carried(feature: FeatureCard, units: Units) -> str:
    if feature.weight_lb is None:
        return "weight read and compared with the marking of the box"
    return f"box marked for {weight_text(feature.weight_lb, units)} or more"
