"""What there is to do to trim: every driver of a task counted from the takeoff, the cut plan and the fastening."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.estimate.figures import EACH, Figure, counted, given
from service.estimate.materials.geometry import in_feet
from service.estimate.takeoff.covered import covered_length
from service.estimate.takeoff.model import Joint
from service.estimate.takeoff.remarks import past_saw
from service.firm import Position
from service.survey import FinishOrder

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from service.estimate.cuts.model import Piece, Splice
    from service.estimate.materials.model import RunFastening
    from service.estimate.rooms import RoomShape
    from service.estimate.takeoff.model import End, Run
    from service.firm import FirmSettings
    from service.survey import Wall
    from service.units import Length

_CUTS = {
    Joint.SQUARE: "cut-square", Joint.BUTT: "cut-butt", Joint.MITER: "cut-miter", Joint.COPE: "cut-cope",
}  # fmt: skip
ENDS = {
    "cut-square": "ends cut square", "cut-butt": "butted ends", "cut-miter": "mitered ends", "cut-cope": "coped ends",
    "cut-by-hand": "ends cut by hand",
}  # fmt: skip


_BY_NAILS = frozenset({"nailing", "fill"})


@dataclass(frozen=True, slots=True)
class Work:
    """So much of one task.

    Attributes:
        task: published key; `quantity` in its unit.
        room: number of the room, None for the whole job.
        position: layer it is done on, None where it concerns none.
        sources: JSON Pointers of what it was counted from.
        is_long: done on a piece that takes two people.
        coats: coats of primer, paint or stain that the quantity holds, each of the same area.
        trade: trade-book entries that the quantity rests on.
    """

    task: str
    room: int | None
    quantity: Figure
    sources: tuple[str, ...]
    position: Position | None = None
    is_long: bool = False
    coats: int = 1
    trade: tuple[str, ...] = ()

    @property
    def basis(self) -> tuple[str, ...]:
        """Trade-book entries and places of the sheet that the quantity rests on."""
        return (*(f"trade:{entry}" for entry in self.trade), *(f"sheet:{source}" for source in self.sources))


def once(what: str) -> Figure:
    """Something that is done once for what the sheet names, such as cleaning up a room it lists."""
    return given(what, 1, EACH, "geometry:one")


def room_work(shape: RoomShape, runs: Iterable[Run]) -> Iterator[Work]:
    """Layout, tear-out and clean-up of one room; nothing for a room without trim or ceiling feature.

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
    for wall in shape.room.walls:
        if wall.name in on_wall:
            where = f"wall {wall.name} of {shape.room.name}"
            covered = in_feet(f"framing to find on {where}", covered_length(on_wall[wall.name], wall))
            yield Work("layout", shape.number, covered, (wall.pointer,))
            yield from _torn_out(shape.number, on_wall[wall.name], wall, where)
    yield Work("clean-up", shape.number, once(f"clean-up of {shape.room.name}"), (shape.room.pointer,))


def _torn_out(room: int, runs: Iterable[Run], wall: Wall, where: str) -> Iterator[Work]:
    """Old trim removed and hauled away: the stretch that each order with Remove existing covers, its layers once."""
    by_order: dict[str, list[Run]] = defaultdict(list)
    for run in runs:
        if run.remove_existing:
            by_order[run.trim_pointer].append(run)
    for order, its_runs in by_order.items():
        length = in_feet(f"old trim to take off on {where}", covered_length(its_runs, wall))
        for task in ("tear-out", "disposal"):
            yield Work(task, room, length, (order, its_runs[0].wall_pointer))


def run_work(
    run: Run, pieces: Sequence[Piece], splices: Sequence[Splice], long_above: Length, settings: FirmSettings
) -> Iterator[Work]:
    """Cutting both ends of each piece of a run, hanging it, its splices and its returns.

    Args:
        run: one layer along a wall, or one member around an opening; `pieces` and `splices` its own.
        long_above: trade book `labor.long-piece`. [Length]
        settings: the saw's limits.
    """
    sources = (run.wall_pointer, run.trim_pointer)
    hung = [piece for piece in pieces if not piece.is_return]
    for task, places in ends_by_task(hung, settings).items():
        count = counted(f"{ENDS[task]} of the {run.title}", places, (run.cut_start_figure, run.cut_figure))
        yield Work(task, run.room, count, sources, run.position, trade=run.joint_entries)
    where = run.splice_entries if splices else ()
    yield from (_hanging(piece, run, long_above, where) for piece in hung)
    for task, what, places in (
        ("return", "returned ends", tuple(piece.start for piece in pieces if piece.is_return)),
        ("scarf", "splices", tuple(splice.at for splice in splices)),
    ):
        if places:
            yield Work(task, run.room, counted(f"{what} of the {run.title}", places), sources, run.position)


def ends_by_task(pieces: Iterable[Piece], settings: FirmSettings) -> dict[str, tuple[Length, ...]]:
    """Where along the run the ends of each cutting task stand."""
    places: dict[str, tuple[Length, ...]] = {}
    for piece in pieces:
        for end, at in ((piece.left, piece.start), (piece.right, piece.start + piece.long_point)):
            task = cut_task(end, settings)
            if task:
                places[task] = (*places.get(task, ()), at)
    return places


def _hanging(piece: Piece, run: Run, long_above: Length, spliced_by: tuple[str, ...]) -> Work:
    """A plinth block is one piece of work, anything else so many feet; only what runs along a wall takes two people."""
    what = f"piece {piece.mark} of the {run.title}"
    is_plinth = piece.position is Position.PLINTH
    quantity = counted(what, (piece.start,)) if is_plinth else in_feet(what, piece.long_figure)
    is_long = run.is_along_wall and piece.long_point > long_above
    trade = ("labor.long-piece", *spliced_by) if run.is_along_wall else ()
    sources = (run.wall_pointer, run.trim_pointer)
    return Work(f"hang-{piece.position}", piece.room, quantity, sources, piece.position, is_long, trade=trade)


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


def fastening_work(fastening: RunFastening, run: Run) -> Iterator[Work]:
    """Blocks, glue plates, nailing, caulking, filling and finishing of one run; only what there is.

    Sanding is counted once for whatever finish follows, priming and painting a coat at a time.
    """
    finish = "stain" if fastening.finish is FinishOrder.STAIN else "paint"
    found = fastening.figures
    quantities = (
        ("block", found.blocks, 1), ("glue-plate", found.glue_plates, 1), ("nailing", found.nails, 1),
        ("caulk", found.caulked_ft, 1), ("fill", found.holes, 1), ("sand", found.sanded_sqft, 1),
        ("prime", found.primed_sqft, fastening.primer_coats), (finish, found.painted_sqft, fastening.coats),
    )  # fmt: skip
    for task, quantity, coats in quantities:
        if quantity is not None and quantity.value:
            trade = run.framing_entries if task in _BY_NAILS else ()
            sources = (run.wall_pointer, run.trim_pointer)
            yield Work(task, run.room, quantity, sources, run.position, coats=coats, trade=trade)
