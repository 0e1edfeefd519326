"""What each run takes of each supply, in the supply's own unit, before waste; and how any demand is measured."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.materials.glue import adhesive_volume
from service.estimate.materials.pounds import POUNDS_IN_KILOGRAM, count_per_lb, pounds_of
from service.estimate.materials.shelf import GLUE_PLATE, STAIN
from service.estimate.materials.volumes import GALLON, fillet_volume, unit_volume
from service.firm import AdhesiveUse, SupplyKind
from service.survey import FinishOrder
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.materials.fastening import Fastened
    from service.estimate.materials.rules import Rules
    from service.estimate.materials.shelf import Shelf
    from service.estimate.takeoff.model import Run
    from service.firm import Supply
    from service.trade.book import TradeBook

_BY_COUNT = frozenset({"each", "ea", "piece", "pieces", "pc", "pcs", "nail", "nails", "block", "blocks"})
_POUNDS = {"lb": Fraction(1), "lbs": Fraction(1), "pound": Fraction(1), "pounds": Fraction(1), "kg": POUNDS_IN_KILOGRAM}


@dataclass(frozen=True, slots=True)
class Demand:
    """So much of a supply for one run or ceiling feature. `waste` and `basis` name trade-book entries and sheet members."""

    supply: Supply
    room: int
    amount: Fraction
    waste: str
    basis: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Origin:
    """What a demand comes from: number of the room, where a fault of it is told, sheet members it rests on."""

    room: int
    place: str
    sources: tuple[str, ...]

    @classmethod
    def of(cls, run: Run) -> Origin:
        """A run, as ordered and on its wall."""
        return cls(run.room, run.trim_pointer, (run.wall_pointer, run.trim_pointer))


@dataclass(frozen=True, slots=True)
class Measure:
    """How demands are worked out: by which rules, with which supplies."""

    rules: Rules
    book: TradeBook
    shelf: Shelf


def demands_of(item: Fastened, measure: Measure) -> Iterator[Demand]:
    """Everything one run takes."""
    for source in (_nails, _blocks, _glue_plates, _adhesive, _sealant, _filler, _primer, _top_coats):
        yield from source(item, measure)


def demand(origin: Origin, supply: Supply, amount: Fraction, waste: str, entries: tuple[str, ...]) -> Demand:
    """So much of a supply, with the trade-book entries and sheet members that the amount rests on."""
    trade = tuple(f"trade:{entry}" for entry in (*entries, waste))
    places = tuple(f"sheet:{source}" for source in origin.sources)
    return Demand(supply, origin.room, amount, waste, (f"list:supplies/{supply.code}", *trade, *places))


def _nails(item: Fastened, measure: Measure) -> Iterator[Demand]:
    for use in item.uses:
        counted = _nail_units(use.nail, Fraction(use.group.count), item.run, measure)
        if counted is not None:
            amount, entries = counted
            entries = (*use.group.basis, "fastening.penetration-diameters", "fastening.penetration-least", *entries)
            yield demand(Origin.of(item.run), use.nail, amount, "waste.nails", entries)


def _nail_units(
    nail: Supply, count: Fraction, run: Run, measure: Measure
) -> tuple[Fraction, tuple[str, ...]] | None:  # fmt: skip
    """Nails in the unit they are sold by: pieces, pounds or kilograms."""
    unit = nail.package_unit.strip().casefold()
    if unit in _BY_COUNT:
        return count, ()
    if unit not in _POUNDS:
        measure.shelf.tell_unusable(nail, run.trim_pointer, "Package unit each or lb")
        return None
    if not nail.length or not nail.shank_diameter:
        measure.shelf.tell_unusable(nail, run.trim_pointer, "Shank diameter")
        return None
    per_lb = count_per_lb(nail.length, nail.shank_diameter, measure.book)
    return pounds_of(count, per_lb.per_lb) / _POUNDS[unit], (per_lb.entry,)


def _blocks(item: Fastened, measure: Measure) -> Iterator[Demand]:
    if item.fastening.blocks:
        supply = measure.shelf.of_kind(SupplyKind.BLOCK, item.run.trim_pointer)
        if supply:
            entries = ("fastening.block-from-end", "fastening.block-clearance")
            yield demand(Origin.of(item.run), supply, Fraction(item.fastening.blocks), "waste.blocks", entries)


def _glue_plates(item: Fastened, measure: Measure) -> Iterator[Demand]:
    if item.fastening.glue_plates:
        supply = measure.shelf.coded(GLUE_PLATE, item.run.trim_pointer)
        if supply:
            entries = ("joints.glue-plate-spacing",)
            yield demand(
                Origin.of(item.run), supply, Fraction(item.fastening.glue_plates), "waste.glue-plates", entries
            )


def _adhesive(item: Fastened, measure: Measure) -> Iterator[Demand]:
    fastening, glue = item.fastening, measure.rules.glue
    if fastening.adhesive_length or fastening.dabs:
        volume = adhesive_volume(item.run, fastening.adhesive_length, fastening.dabs, glue)
        beads = ("adhesive.bead-diameter", "fastening.unbacked-limit") if fastening.adhesive_length else ()
        dabs = ("adhesive.dab-volume",) if fastening.dabs else ()
        spaced = ("adhesive.dab-spacing",) if item.run.adhesive is AdhesiveUse.DABS else ()
        entries = (*beads, *dabs, *spaced)
        yield from by_volume(Origin.of(item.run), SupplyKind.ADHESIVE, volume, "waste.adhesive", entries, measure)


def _sealant(item: Fastened, measure: Measure) -> Iterator[Demand]:
    length = item.fastening.caulked_length
    if length > ZERO:
        volume = fillet_volume(measure.rules.glue.fillet_leg, length)
        yield from by_volume(
            Origin.of(item.run), SupplyKind.SEALANT, volume, "waste.sealant", ("adhesive.fillet-leg",), measure
        )


def _filler(item: Fastened, measure: Measure) -> Iterator[Demand]:
    holes = item.fastening.hole_count
    if holes:
        volume = holes * measure.rules.finish.filler_per_hole
        yield from by_volume(
            Origin.of(item.run), SupplyKind.FILLER, volume, "waste.filler", ("finish.filler-per-hole",), measure
        )


def by_volume(
    origin: Origin, kind: SupplyKind, volume: Fraction, waste: str, entries: tuple[str, ...], measure: Measure
) -> Iterator[Demand]:  # fmt: skip
    """A volume of the first listed supply of a kind, in its package units; a supply without a volume is a fault."""
    supply = measure.shelf.of_kind(kind, origin.place)
    if supply is None:
        return
    each = unit_volume(supply)
    if each:
        yield demand(origin, supply, volume / each, waste, entries)
    else:
        measure.shelf.tell_unusable(supply, origin.place, "Volume")


def _primer(item: Fastened, measure: Measure) -> Iterator[Demand]:
    fastening, origin = item.fastening, Origin.of(item.run)
    if fastening.primer_coats:
        area = fastening.primed_area_sqft * fastening.primer_coats
        supply = measure.shelf.of_kind(SupplyKind.PRIMER, origin.place)
        yield from by_area(origin, supply, area, ("finish.primer-coats", "finish.primer-coverage"), measure)


def _top_coats(item: Fastened, measure: Measure) -> Iterator[Demand]:
    fastening, shelf, origin = item.fastening, measure.shelf, Origin.of(item.run)
    if not fastening.coats:
        return
    area = fastening.painted_area_sqft * fastening.coats
    if fastening.finish is FinishOrder.STAIN:
        entries = ("finish.stain-coats", "finish.stain-coverage")
        yield from by_area(origin, shelf.coded(STAIN, origin.place), area, entries, measure)
    else:
        entries = ("finish.paint-coats", "finish.paint-coverage")
        yield from by_area(origin, shelf.of_kind(SupplyKind.PAINT, origin.place), area, entries, measure)


def by_area(
    origin: Origin, supply: Supply | None, area: Fraction, entries: tuple[str, str], measure: Measure,
    more: tuple[str, ...] = (),
) -> Iterator[Demand]:  # fmt: skip
    """A coated area of a supply, in its package units; a supply without coverage or volume is a fault.

    Args:
        origin: what it is for.
        supply: None where the price list has none, which is told already.
        area: all coats together. [sq ft]
        entries: trade-book entries of the coats and of the coverage where the supply gives none.
        measure: trade book and shelf.
        more: further trade-book entries behind the area.
    """
    if supply is None:
        return
    coats, coverage = entries
    each = coverage_sqft(supply, Fraction(measure.book.value(coverage)))
    if each:
        named = (coats,) if supply.coverage_sqft is not None else (coats, coverage)
        yield demand(origin, supply, area / each, "waste.finish", (*named, *more))
    else:
        measure.shelf.tell_unusable(supply, origin.place, "Coverage")


def coverage_sqft(supply: Supply, sqft_per_gallon: Fraction) -> Fraction | None:
    """Area that one package unit covers: as the list gives it, else by its volume at so much a gallon; None without both.

    Source: trade book `finish.*-coverage` (U.S. Army TM 43-0139 Table 3-2).

    Returns:
        [sq ft]
    """
    if supply.coverage_sqft is not None:
        return Fraction(supply.coverage_sqft)
    volume = unit_volume(supply)
    return sqft_per_gallon * volume / GALLON if volume else None
