"""What hangs on the ceiling: is it high, far and well enough held, of a usual size, and on the price list."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from service.estimate.takeoff.feature_sizes import area_told, fan_band, is_near, medallion_advised, tip_clearance
from service.firm import SupplyKind
from service.problems import Code
from service.survey import BoxRating, FeatureKind
from service.units import ZERO, Length, Units

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from service.estimate.rooms import RoomShape
    from service.firm import PriceList, Supply
    from service.problems import Problems
    from service.survey import CeilingFeature, Room
    from service.trade.book import TradeBook

KILOGRAMS_IN_POUND = Decimal("0.45359237")
KIND_OF = {
    FeatureKind.MEDALLION: SupplyKind.MEDALLION,
    FeatureKind.FAN: SupplyKind.FAN,
    FeatureKind.LIGHT: SupplyKind.LIGHT,
}


@dataclass(frozen=True, slots=True)
class Hung:
    """One ceiling feature with what it is judged by.

    Attributes:
        feature, room: as measured.
        area_sqft: of the room, to 0.01; None for an island. [sq ft]
        units: in which lengths are told.
        price_list, book: the firm's items, the trade's numbers.
        problems: collects what is found.
    """

    feature: CeilingFeature
    room: Room
    area_sqft: Decimal | None
    units: Units
    price_list: PriceList
    book: TradeBook
    problems: Problems

    def length(self, entry: str) -> Length:
        """A trade-book length given in inches."""
        return Length.of(self.book.value(entry))

    def weight_text(self, pounds: Decimal) -> str:
        """A weight for people: pounds, or kilograms on a metric job, to 0.1 at most."""
        amount, unit = (pounds * KILOGRAMS_IN_POUND, "kg") if self.units is Units.METRIC else (pounds, "lb")
        rounded = amount.quantize(Decimal("0.1"), ROUND_HALF_UP)
        return f"{rounded.normalize():f} {unit}"

    def text(self, length: Length) -> str:
        """A length for people."""
        return length.text(self.units, denominator=16)

    def at(self, member: str) -> str:
        """Pointer of one member of the feature."""
        return f"{self.feature.pointer}/{member}"


def features_checked(shapes: Sequence[RoomShape], price_list: PriceList, book: TradeBook, problems: Problems) -> None:
    """Collect every fault and doubt of what hangs on the ceilings.

    Args:
        shapes: rooms in plan; their area judges sizes.
        price_list: items that may be ordered.
        book: trade book `features.*`.
        problems: takes fan-blades-too-low and fan-box-not-rated (errors; warnings where the sheet does not
            tell), fan-near-wall, weight-on-box, feature-item-missing (warnings), feature-size-unusual (note).
    """
    for shape in shapes:
        area = area_told(shape)
        for feature in shape.room.ceiling:
            hung = Hung(feature, shape.room, area, price_list.settings.units, price_list, book, problems)
            for check in (item_checked, *_CHECKS[feature.feature]):
                check(hung)


def item_of(feature: CeilingFeature, price_list: PriceList) -> Supply | None:
    """The supply that a feature's Item names by code or description, of the feature's own kind; None where it names none."""
    wanted = _folded(feature.item)
    of_kind = [item for item in price_list.supplies.values() if item.kind is KIND_OF[feature.feature]]
    by_code = (item for item in of_kind if wanted and _folded(item.code) == wanted)
    by_words = (item for item in of_kind if wanted and _folded(item.description) == wanted)
    return next(by_code, None) or next(by_words, None)


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())


def item_checked(hung: Hung) -> None:
    """An item that is not on the price list is taken as supplied by others: only the work on it is priced."""
    feature = hung.feature
    if item_of(feature, hung.price_list) is not None:
        return
    named = f"The price list {hung.price_list.name} has no {feature.feature} of this name;" if feature.item else ""
    hung.problems.warning(
        Code.FEATURE_ITEM_MISSING,
        hung.at("item"),
        f"{named or 'Item is blank;'} the {feature.feature} in {hung.room.name} is taken as supplied by others, and "
        "only the work on it is priced.",
        help=_items_listed(hung),
        found=feature.item,
    )


def _items_listed(hung: Hung) -> str:
    kind = KIND_OF[hung.feature.feature]
    codes = ", ".join(item.code for item in hung.price_list.supplies.values() if item.kind is kind)
    if codes:
        return f"Type one of: {codes}; leave it blank when others supply it."
    return f"Add a supply of kind {kind} to the price list, or leave it blank when others supply it."


def blades_checked(hung: Hung) -> None:
    """Fan blades turn at least 7 ft above the finished floor: ceiling height less what the fan hangs down.

    An error, since people walk under them; a warning where Hangs down is blank and nobody can tell.

    Source: U.S. Department of Energy; 29 CFR 1926.300(b)(5); trade book `features.fan-blade-height`.
    """
    least, down = hung.length("features.fan-blade-height"), hung.feature.hangs_down
    if down is None:
        hung.problems.warning(
            Code.FAN_BLADES_TOO_LOW, hung.at("hangs_down"),
            f"Whether the fan in {hung.room.name} keeps its blades {hung.text(least)} above the floor was not checked.",
            help="Fill Hangs down: from the ceiling to the blades.",
        )  # fmt: skip
        return
    height = hung.room.ceiling_height - down
    if height < least:
        hung.problems.error(
            Code.FAN_BLADES_TOO_LOW, hung.at("hangs_down"),
            f"The blades of the fan in {hung.room.name} would turn {hung.text(height)} above the floor; "
            f"they need {hung.text(least)} at least.",
            help=f"Choose a mount that hangs at most {hung.text(max(hung.room.ceiling_height - least, ZERO))} down, "
            "or no fan.",
            found=hung.text(down),
        )  # fmt: skip


def wall_checked(hung: Hung) -> None:
    """Blade tips keep 18 in from the nearest wall: its distance from the center less half the span.

    Source: U.S. Department of Energy; trade book `features.fan-wall-clearance`.
    """
    least, feature = hung.length("features.fan-wall-clearance"), hung.feature
    if feature.nearest_wall is None or feature.diameter is None:
        hung.problems.note(
            Code.FAN_NEAR_WALL, hung.at("nearest_wall" if feature.nearest_wall is None else "diameter"),
            f"How far the fan in {hung.room.name} stays from the nearest wall was not checked.",
            help="Fill Diameter and Nearest wall.",
        )  # fmt: skip
        return
    clearance = tip_clearance(feature.nearest_wall, feature.diameter)
    if clearance < least:
        apart = f"{hung.text(clearance)} from" if clearance >= ZERO else f"{hung.text(-clearance)} into"
        hung.problems.warning(
            Code.FAN_NEAR_WALL, hung.at("nearest_wall"),
            f"The blade tips of the fan in {hung.room.name} would pass {apart} the nearest wall; "
            f"they want {hung.text(least)}.",
            help="Take a smaller fan, or move the box.", found=hung.text(feature.nearest_wall),
        )  # fmt: skip


def box_checked(hung: Hung) -> None:
    """A fan hangs from a box listed for fans, never from a medallion or the box of a light.

    Not known is a warning: somebody can look before the day of work. A box known not to be rated is an error:
    priced as it stands, the quote would promise to hang a turning weight from a box that is not made for it.

    Source: NEC 314.27(C).
    """
    rated = hung.feature.box_rated_for_fan
    if rated is BoxRating.YES:
        return
    tell = hung.problems.error if rated is BoxRating.NO else hung.problems.warning
    known = "is not" if rated is BoxRating.NO else "is not known to be"
    tell(
        Code.FAN_BOX_NOT_RATED,
        hung.at("box_rated_for_fan"),
        f"The box in {hung.room.name} {known} rated for a fan; a fan hangs from its listed box, never from a medallion.",
        help="Have a licensed electrician look at the box or set a listed one, then answer yes.",
        found=str(rated),
    )


def fan_weight_checked(hung: Hung) -> None:
    """Over 35 lb a fan's box must be marked for the weight, over 70 lb the fan is supported independently of it.

    Source: NEC 314.27(C), 422.18; trade book `features.fan-marked-weight`, `fan-independent-weight`.
    """
    marked, alone = hung.book.value("features.fan-marked-weight"), hung.book.value("features.fan-independent-weight")
    weight = hung.feature.weight_lb
    if weight is None:
        _tell_no_weight(hung, marked)
    elif weight > alone:
        _tell_weight(hung, weight, f"over {hung.weight_text(alone)} it is supported independently of the box")
    elif weight > marked:
        _tell_weight(hung, weight, f"over {hung.weight_text(marked)} the box must be marked for the weight")


def light_weight_checked(hung: Hung) -> None:
    """Over 50 lb a light is supported independently of the box.

    A light of unknown weight is not told apart: the printed cautions name the limit for every light.

    Source: NEC 314.27(A), from memory; trade book `features.light-independent-weight`.
    """
    alone, weight = hung.book.value("features.light-independent-weight"), hung.feature.weight_lb
    if weight is not None and weight > alone:
        _tell_weight(hung, weight, f"over {hung.weight_text(alone)} it needs its own support")


def _tell_weight(hung: Hung, weight: Decimal, rule: str) -> None:
    told = hung.weight_text(weight)
    hung.problems.warning(
        Code.WEIGHT_ON_BOX,
        hung.at("weight"),
        f"The {hung.feature.feature} in {hung.room.name} weighs {told}; {rule}. That support is not in the price.",
        help="Follow local code; have a licensed electrician see to it before the work.",
        found=told,
    )


def _tell_no_weight(hung: Hung, limit: Decimal) -> None:
    hung.problems.note(
        Code.WEIGHT_ON_BOX,
        hung.at("weight"),
        f"Whether the fan in {hung.room.name} weighs more than {hung.weight_text(limit)}, above which its box must be "
        "marked for the weight, was not checked.",
        help="Fill Weight.",
    )


def medallion_size_checked(hung: Hung) -> None:
    """A medallion far from what its room's area advises is noted; so is one whose diameter nobody gives.

    Source: common practice; trade book `features.medallion-size-tolerance`.
    """
    if hung.area_sqft is None:
        return
    advised = medallion_advised(hung.area_sqft, hung.book.value("features.medallion-area-divisor"))
    diameter = hung.feature.diameter
    if diameter is None:
        _tell_size(hung, f"has no diameter on the sheet; its adhesive and paint are counted for {hung.text(advised)}")
    elif not is_near(diameter, advised, hung.book.value("features.medallion-size-tolerance")):
        _tell_size(
            hung, f"is {hung.text(diameter)} across; a room of this size usually takes about {hung.text(advised)}"
        )


def fan_size_checked(hung: Hung) -> None:
    """A fan outside the band of its room's area is noted; so is one in a room larger than every band."""
    diameter = hung.feature.diameter
    if hung.area_sqft is None or diameter is None:
        return
    band = fan_band(hung.area_sqft, hung.book)
    if band is None:
        _tell_size(hung, "has to serve a room larger than one fan is usually sized for")
    elif not band[0] <= diameter <= band[1]:
        usual = " to ".join(dict.fromkeys(hung.text(limit) for limit in band))
        _tell_size(hung, f"spans {hung.text(diameter)}; a room of this size usually takes {usual}")


def _tell_size(hung: Hung, what: str) -> None:
    diameter = hung.feature.diameter
    hung.problems.note(
        Code.FEATURE_SIZE_UNUSUAL,
        hung.at("diameter"),
        f"The {hung.feature.feature} in {hung.room.name} ({hung.area_sqft} sq ft) {what}.",
        help="Check Diameter; rules of size differ, and taste decides.",
        found=hung.text(diameter) if diameter is not None else "",
    )


_CHECKS: dict[FeatureKind, tuple[Callable[[Hung], None], ...]] = {
    FeatureKind.MEDALLION: (medallion_size_checked,),
    FeatureKind.FAN: (blades_checked, wall_checked, box_checked, fan_weight_checked, fan_size_checked),
    FeatureKind.LIGHT: (light_weight_checked,),
}
