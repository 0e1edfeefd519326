"""What each run takes of each supply, in the supply's own unit, before waste."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.figures import CUBIC_INCH, times
from service.estimate.materials.glue import adhesive_volume
from service.estimate.materials.measure import Demand, Origin, by_area, by_count, by_volume, nails_by
from service.estimate.materials.shelf import GLUE_PLATE, STAIN
from service.estimate.materials.volumes import fillet_volume
from service.firm import AdhesiveUse, SupplyKind
from service.survey import FinishOrder

if TYPE_CHECKING:
    from collections.abc import Iterator

    from service.estimate.materials.fastening import Fastened
    from service.estimate.materials.measure import Measure


def demands_of(item: Fastened, measure: Measure) -> Iterator[Demand]:
    """Everything one run takes."""
    origin = Origin.of(item.run, item.title)
    for source in (_nails, _blocks, _glue_plates, _adhesive, _sealant, _filler, _primer, _top_coats):
        yield from source(item, origin, measure)


def _nails(item: Fastened, origin: Origin, measure: Measure) -> Iterator[Demand]:
    for use in item.uses:
        reach = ("fastening.penetration-diameters", "fastening.penetration-least")
        entries = (*use.group.basis, *reach, *item.run.framing_entries)
        yield from nails_by(origin, use.nail, use.group.figure, entries, measure)


def _blocks(item: Fastened, origin: Origin, measure: Measure) -> Iterator[Demand]:
    blocks = item.figures.blocks
    if blocks:
        supply = measure.shelf.of_kind(SupplyKind.BLOCK, origin.place)
        yield from by_count(origin, supply, blocks, "waste.blocks", ("fastening.block-from-end",), measure)


def _glue_plates(item: Fastened, origin: Origin, measure: Measure) -> Iterator[Demand]:
    plates = item.figures.glue_plates
    if plates:
        supply = measure.shelf.coded(GLUE_PLATE, origin.place)
        yield from by_count(origin, supply, plates, "waste.glue-plates", ("joints.glue-plate-spacing",), measure)


def _adhesive(item: Fastened, origin: Origin, measure: Measure) -> Iterator[Demand]:
    if item.beads.value or item.dabs.value:
        volume = adhesive_volume(item.run, item.beads, item.dabs, measure.rules.glue)
        dabs = ("adhesive.dab-volume",) if item.dabs.value else ()
        spaced = ("adhesive.dab-spacing",) if item.run.adhesive is AdhesiveUse.DABS else ()
        where = item.run.framing_entries if item.run.adhesive is not AdhesiveUse.BEAD else ()
        entries = (*dabs, *spaced, *where)
        yield from by_volume(origin, SupplyKind.ADHESIVE, volume, "waste.adhesive", entries, measure)


def _sealant(item: Fastened, origin: Origin, measure: Measure) -> Iterator[Demand]:
    if item.caulked.value:
        volume = fillet_volume(measure.rules.glue.fillet_leg, item.caulked)
        yield from by_volume(origin, SupplyKind.SEALANT, volume, "waste.sealant", ("adhesive.fillet-leg",), measure)


def _filler(item: Fastened, origin: Origin, measure: Measure) -> Iterator[Demand]:
    holes = item.figures.holes
    if holes:
        volume = times("filler in all holes", CUBIC_INCH, holes, measure.rules.finish.filler_per_hole)
        yield from by_volume(origin, SupplyKind.FILLER, volume, "waste.filler", item.run.framing_entries, measure)


def _primer(item: Fastened, origin: Origin, measure: Measure) -> Iterator[Demand]:
    area = item.figures.primed_sqft
    if area:
        supply = measure.shelf.of_kind(SupplyKind.PRIMER, origin.place)
        yield from by_area(origin, supply, area, "finish.primer-coverage", measure)


def _top_coats(item: Fastened, origin: Origin, measure: Measure) -> Iterator[Demand]:
    area, shelf = item.figures.painted_sqft, measure.shelf
    if area is None:
        return
    if item.fastening.finish is FinishOrder.STAIN:
        yield from by_area(origin, shelf.coded(STAIN, origin.place), area, "finish.stain-coverage", measure)
    else:
        supply = shelf.of_kind(SupplyKind.PAINT, origin.place)
        yield from by_area(origin, supply, area, "finish.paint-coverage", measure)
