"""What there is to do to trim: every driver of a task counted from the takeoff, the cut plan and the fastening."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.labor.stretches import covered_length
from service.estimate.takeoff.model import Joint
from service.estimate.takeoff.remarks import past_saw
from service.firm import Position
from service.survey import FinishOrder

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from service.estimate.cuts.model import Piece
    from service.estimate.materials.model import RunFastening
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import End, Run
    from service.firm import FirmSettings
    from service.units import Length

_CUTS = {
    Joint.SQUARE: "cut-square", Joint.BUTT: "cut-butt", Joint.MITER: "cut-miter", Joint.COPE: "cut-cope",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Work:
    """So much of one task.

    Attributes:
        task: published key; `quantity` in its unit.
        room: number of the room, None for the whole job.
        position: layer it is done on, None where it concerns none.
        sources: JSON Pointers of what it was counted from.
        is_long: done on a piece that takes two people.
    """

    task: str
    room: int | None
    quantity: Fraction
    sources: tuple[str, ...]
    position: Position | None = None
    is_long: bool = False


def room_work(shape: RoomShape, runs: Iterable[Run]) -> Iterator[Work]:
    """Set-up, layout, tear-out and clean-up of one room; nothing for a room without trim or ceiling feature.

    Framing is looked for behind what runs along a wall; trim around an opening follows its jamb.

    Args:
        shape: the room.
        runs: those of this room.
    """
    on_wall: dict[str, list[Run]] = defaultdict(list)
    is_worked_in = bool(shape.room.ceiling)
    for run in runs:
        is_worked_in = True
        if run.is_along_wall:
            on_wall[run.wall].append(run)
    if not is_worked_in:
        return
    yield Work("set-up", shape.number, Fraction(1), (shape.room.pointer,))
    for wall in shape.room.walls:
        if wall.name in on_wall:
            covered = covered_length(on_wall[wall.name], wall.length)
            yield Work("layout", shape.number, covered.feet, (wall.pointer,))
            yield from _torn_out(shape.number, on_wall[wall.name], wall.length)
    yield Work("clean-up", shape.number, Fraction(1), (shape.room.pointer,))


def _torn_out(room: int, runs: Iterable[Run], wall_length: Length) -> Iterator[Work]:
    """Old trim removed: the stretch that each order with Remove existing covers, its layers counted once."""
    by_order: dict[str, list[Run]] = defaultdict(list)
    for run in runs:
        if run.remove_existing:
            by_order[run.trim_pointer].append(run)
    for order, its_runs in by_order.items():
        length = covered_length(its_runs, wall_length)
        yield Work("tear-out", room, length.feet, (order, its_runs[0].wall_pointer))


def piece_work(piece: Piece, run: Run, long_above: Length, settings: FirmSettings) -> Iterator[Work]:
    """Cutting both ends of a piece and hanging it; a return is one piece of work.

    Args:
        piece: with its run.
        long_above: trade book `labor.long-piece`. [Length]
        settings: the saw's limits.
    """
    sources = (run.wall_pointer, run.trim_pointer)
    if piece.is_return:
        yield Work("return", piece.room, Fraction(1), sources, piece.position)
        return
    for end in (piece.left, piece.right):
        task = cut_task(end, settings)
        if task:
            yield Work(task, piece.room, Fraction(1), sources, piece.position)
    yield _hanging(piece, run, long_above, sources)


def _hanging(piece: Piece, run: Run, long_above: Length, sources: tuple[str, ...]) -> Work:
    """A plinth block is one piece of work, anything else so many feet; only what runs along a wall takes two people."""
    quantity = Fraction(1) if piece.position is Position.PLINTH else piece.long_point.feet
    is_long = run.is_along_wall and piece.long_point > long_above
    return Work(f"hang-{piece.position}", piece.room, quantity, sources, piece.position, is_long)


def cut_task(end: End, settings: FirmSettings) -> str | None:
    """Task of one end: by hand where no listed way is within the saw's limits, else by its joint.

    A scarf is counted with its splice and a return with its return piece: None.
    """
    task = _CUTS.get(end.joint)
    return "cut-by-hand" if task and is_by_hand(end, settings) else task


def is_by_hand(end: End, settings: FirmSettings) -> bool:
    """True when neither lying flat nor standing against the fence is within the saw's limits."""
    limit, nested = settings.saw_miter_limit_deg, end.nested_miter_deg
    return past_saw(end, settings) and (nested is None or (limit is not None and nested > limit))


def scarf_work(run: Run) -> Work:
    """One splice of a run."""
    return Work("scarf", run.room, Fraction(1), (run.wall_pointer, run.trim_pointer), run.position)


def fastening_work(fastening: RunFastening, run: Run) -> Iterator[Work]:
    """Blocks, glue plates, nailing, caulking, filling and finishing of one run; only what there is.

    Sanding is counted once for whatever finish follows, priming and painting a coat at a time.
    """
    finish = "stain" if fastening.finish is FinishOrder.STAIN else "paint"
    quantities = {
        "block": Fraction(fastening.blocks),
        "glue-plate": Fraction(fastening.glue_plates),
        "nailing": Fraction(fastening.nail_count),
        "caulk": fastening.caulked_length.feet,
        "fill": Fraction(fastening.hole_count),
        "sand": fastening.finished_area_sqft,
        "prime": fastening.primed_area_sqft * fastening.primer_coats,
        finish: fastening.painted_area_sqft * fastening.coats,
    }
    for task, quantity in quantities.items():
        if quantity:
            yield Work(task, run.room, quantity, (run.wall_pointer, run.trim_pointer), run.position)
