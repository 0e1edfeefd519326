"""How any demand is measured in the supply's own unit: pieces, weight, volume or coated area, before waste."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.figures import SQUARE_FOOT, Figure, given, over, times
from service.estimate.materials.geometry import KILOGRAMS_IN_POUND
from service.estimate.materials.pounds import count_per_lb, pounds_of
from service.estimate.materials.sold import KILOGRAM, Pack, coverage_listed, pack_of, pack_of_pieces
from service.estimate.materials.volumes import GALLON, unit_volume
from service.firm import SupplyKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.materials.rules import Rules
    from service.estimate.materials.shelf import Shelf
    from service.estimate.takeoff.model import Run
    from service.firm import Supply
    from service.trade.book import TradeBook

COUNT_NAILS = (
    "On the price list's Supplies tab type each as Package unit and the number of nails as Package size; or 1 as "
    'Package size and a unit such as "coil of 300", "strip of 21", "box of 1000", lb or "box of 5 lb".'
)
TAPE_SOLD = (
    "On the price list's Supplies tab type ft, yd or m as Package unit and the length of a roll as Package size; or 1 "
    'as Package size and a unit such as "roll of 60 yd".'
)
COVER_SOLD = (
    "On the price list's Supplies tab type roll as Package unit and what one covers as Coverage; or sq ft as Package "
    "unit and the area of a roll as Package size."
)
COUNT_PIECES = (
    "On the price list's Supplies tab type each as Package unit and the number of pieces as Package size; or 1 as "
    'Package size and a unit such as "box of 100".'
)


@dataclass(frozen=True, slots=True)
class Demand:
    """So much of a supply for one run, room or ceiling feature.

    Attributes:
        amount: before waste. [`pack.unit`]
        pack: what one package holds.
        waste, basis: name trade-book entries and sheet members.
    """

    supply: Supply
    room: int
    amount: Figure
    pack: Pack
    waste: str
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Origin:
    """What a demand comes from: the room, where a fault of it is told, sheet members it rests on, in words."""

    room: int
    place: str
    sources: tuple[str, ...]
    title: str

    @classmethod
    def of(cls, run: Run, title: str) -> Origin:
        """A run, as ordered and on its wall."""
        return cls(run.room, run.trim_pointer, (run.wall_pointer, run.trim_pointer), title)


@dataclass(frozen=True, slots=True)
class Measure:
    """How demands are worked out: by which rules, with which supplies."""

    rules: Rules
    book: TradeBook
    shelf: Shelf


def demand(
    origin: Origin, supply: Supply, amount: Figure, waste: str, entries: tuple[str, ...], pack: Pack | None = None
) -> Demand:
    """So much of a supply, with the trade-book entries and sheet members that the amount rests on."""
    trade = tuple(f"trade:{entry}" for entry in (*entries, waste))
    places = tuple(f"sheet:{source}" for source in origin.sources)
    basis = (f"list:supplies/{supply.code}", *trade, *places)
    return Demand(supply, origin.room, amount, pack or pack_of(supply), waste, basis)


def by_count(
    origin: Origin, supply: Supply | None, count: Figure, waste: str, entries: tuple[str, ...], measure: Measure,
) -> Iterator[Demand]:  # fmt: skip
    """Pieces that are no nails; a unit that is neither a count nor a weight is read as one piece.

    A supply sold by weight is a fault: how many of them make a pound is printed for nails alone.
    """
    if supply is None:
        return
    pack = pack_of_pieces(supply, f"{supply.kind}s" if supply.kind is not SupplyKind.OTHER else "pieces")
    if pack is not None and pack.weight:
        measure.shelf.tell_uncounted(supply, origin.place, COUNT_PIECES)
        return
    yield demand(origin, supply, count, waste, entries, pack)


def nails_by(
    origin: Origin, nail: Supply, count: Figure, entries: tuple[str, ...], measure: Measure
) -> Iterator[Demand]:  # fmt: skip
    """Nails in the unit they are sold by: pieces, pounds or kilograms; any other is a fault."""
    pack = pack_of_pieces(nail, "nails")
    if pack is None:
        measure.shelf.tell_uncounted(nail, origin.place, COUNT_NAILS)
    elif not pack.weight:
        yield demand(origin, nail, count, "waste.nails", entries, pack)
    else:
        per_lb = count_per_lb(nail, measure.book)
        if per_lb is None:
            measure.shelf.tell_unusable(nail, origin.place, "Shank diameter")
            return
        amount = _weight(origin, pack, count, per_lb.per_lb)
        agreed = (per_lb.entry, "fastening.count-agreement", "fastening.steel-weight")
        yield demand(origin, nail, amount, "waste.nails", (*entries, *agreed), pack)


def _weight(origin: Origin, pack: Pack, count: Figure, per_lb: Figure) -> Figure:
    pounds = pounds_of(f"pounds of nails, {origin.title}", count, per_lb)
    if pack.weight != KILOGRAM:
        return pounds
    return times(f"kilograms of nails, {origin.title}", KILOGRAM, pounds, KILOGRAMS_IN_POUND)


def by_volume(
    origin: Origin, kind: SupplyKind, volume: Figure, waste: str, entries: tuple[str, ...], measure: Measure
) -> Iterator[Demand]:  # fmt: skip
    """A volume of the first listed supply of a kind, in its package units; a supply without a volume is a fault."""
    supply = measure.shelf.of_kind(kind, origin.place)
    if supply is None:
        return
    each = unit_volume(supply)
    if each:
        amount = over(f"{kind}, {origin.title}", supply.package_unit, volume, each)
        yield demand(origin, supply, amount, waste, entries)
    else:
        measure.shelf.tell_unusable(supply, origin.place, "Volume")


def by_area(
    origin: Origin, supply: Supply | None, area: Figure, coverage: str, measure: Measure,
    more: tuple[str, ...] = (),
) -> Iterator[Demand]:  # fmt: skip
    """A coated area of a supply, in its package units; a supply without coverage or volume is a fault.

    Args:
        origin: what it is for.
        supply: None where the price list has none, which is told already.
        area: all coats together. [sq ft]
        coverage: trade-book entry of it, for a supply that gives none.
        measure: trade book and shelf.
        more: further trade-book entries behind the area.
    """
    if supply is None:
        return
    per_gallon = given("area a gallon covers", measure.book.value(coverage), "sq ft/gal", f"trade:{coverage}")
    each = coverage_sqft(supply, per_gallon)
    if each:
        amount = over(f"{supply.description}, {origin.title}", supply.package_unit, area, each)
        yield demand(origin, supply, amount, "waste.finish", more)
    else:
        measure.shelf.tell_unusable(supply, origin.place, "Coverage")


def coverage_sqft(supply: Supply, sqft_per_gallon: Figure) -> Figure | None:
    """Area that one package unit covers: as the list gives it, else by its volume at so much a gallon; None without both.

    Source: trade book `finish.*-coverage` (U.S. Army TM 43-0139 Table 3-2).

    Returns:
        [sq ft]
    """
    listed = coverage_listed(supply)
    if listed is not None:
        return listed
    volume = unit_volume(supply)
    if not volume:
        return None
    return times(
        f"area a {supply.package_unit} covers",
        SQUARE_FOOT,
        sqft_per_gallon,
        over("gallons in it", "gal", volume, GALLON),
    )
