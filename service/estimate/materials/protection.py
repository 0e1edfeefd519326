"""What protects a room meanwhile: tape along edges that are caulked or coated, a cover on the floor along its walls.

Each is bought where the price list holds a supply with its code, else it is not.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from service.estimate.figures import INCH, Figure, added, counted, over, times
from service.estimate.materials.geometry import in_feet, in_square_feet
from service.estimate.materials.measure import COVER_SOLD, TAPE_SOLD, Demand, Origin, demand
from service.estimate.materials.shelf import FLOOR_COVERING, MASKING_TAPE
from service.estimate.materials.sold import pack_of_area, pack_of_length
from service.estimate.takeoff.covered import covered_length
from service.firm import Position

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from service.estimate.materials.fastening import Fastened
    from service.estimate.materials.measure import Measure
    from service.estimate.materials.rules import ProtectionRules
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import Run

NO_EDGE = counted("edges to mask", ())


def protection_of(shape: RoomShape, items: Sequence[Fastened], measure: Measure) -> Iterator[Demand]:
    """Tape and floor covering of one room.

    Args:
        shape: the room; `items` what is fastened in it.
        measure: trade book and shelf.
    """
    origin = Origin(shape.number, shape.room.pointer, (shape.room.pointer,), shape.room.name)
    yield from _tape(origin, items, measure)
    yield from _cover(origin, shape, [item.run for item in items if item.run.is_along_wall], measure)


def masked_edges(items: Sequence[Fastened], room: str, rules: ProtectionRules) -> Figure:
    """Edges taped in a room: every caulked edge, and of a coated layer without one the trade book's number of edges.

    A crown between boards lies on trim with both edges, which is coated with it, so it is not masked.

    Source: assumption; trade book `protection.masked-edges`.

    Args:
        items: what is fastened in the room, named `room`.
        rules: trade book.

    Returns:
        [Length]
    """
    edges = [found for item in items if (found := _masked(item, rules)).value]
    return added(f"edges to mask in {room}", INCH, *edges)


def _masked(item: Fastened, rules: ProtectionRules) -> Figure:
    if _is_on_trim(item.run):
        return NO_EDGE
    if not _is_assumed(item):
        return item.caulked
    return times(f"edge to mask, {item.title}", INCH, item.run.length_figure, rules.masked_edges)


def _is_on_trim(run: Run) -> bool:
    return run.position is Position.CROWN and bool(run.over_wall_layer and run.under_ceiling_layer)


def _is_assumed(item: Fastened) -> bool:
    """True where no caulked edge tells what to mask of a coated layer."""
    return not item.caulked.value and item.figures.sanded_sqft is not None and not _is_on_trim(item.run)


def covered_floor(shape: RoomShape, runs: Sequence[Run], rules: ProtectionRules) -> Figure:
    """Floor covered in a room: the trimmed length of its walls × a width. Laps at corners count as cover. [sq ft]

    Source: assumption; trade book `protection.floor-width`.
    """
    on_wall: dict[str, list[Run]] = defaultdict(list)
    for run in runs:
        on_wall[run.wall].append(run)
    walls = [covered_length(on_wall[wall.name], wall) for wall in shape.room.walls if wall.name in on_wall]
    length = added(f"trimmed walls of {shape.room.name}", INCH, *walls)
    return in_square_feet(
        f"floor to cover in {shape.room.name}", times("length times width", "sq in", length, rules.floor_width)
    )


def _tape(origin: Origin, items: Sequence[Fastened], measure: Measure) -> Iterator[Demand]:
    tape = measure.shelf.listed(MASKING_TAPE)
    edges = masked_edges(items, origin.title, measure.rules.protection) if tape else None
    if tape is None or edges is None or not edges.value:
        return
    measured = pack_of_length(tape)
    if measured is None:
        measure.shelf.tell_uncounted(tape, origin.place, TAPE_SOLD)
        return
    pack, feet = measured
    amount = over(f"tape in {origin.title}", pack.unit, in_feet(edges.what, edges), feet)
    entries = ("protection.masked-edges",) if any(_is_assumed(item) for item in items) else ()
    yield demand(origin, tape, amount, "protection.tape-waste", entries, pack)


def _cover(origin: Origin, shape: RoomShape, runs: Sequence[Run], measure: Measure) -> Iterator[Demand]:
    cover = measure.shelf.listed(FLOOR_COVERING)
    area = covered_floor(shape, runs, measure.rules.protection) if cover else None
    if cover is None or area is None or not area.value:
        return
    measured = pack_of_area(cover)
    if measured is None:
        measure.shelf.tell_uncounted(cover, origin.place, COVER_SOLD)
        return
    pack, square_feet = measured
    amount = over(f"floor covering in {origin.title}", pack.unit, area, square_feet)
    yield demand(origin, cover, amount, "protection.floor-waste", ("protection.floor-width",), pack)
