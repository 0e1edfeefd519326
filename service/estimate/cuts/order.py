"""Order in which runs are planned and pieces marked, and how a run is named to people."""

from __future__ import annotations

from typing import TYPE_CHECKING

from service.estimate.takeoff.model import Joint
from service.problems import Code
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from fractions import Fraction

    from service.estimate.cuts.shelf import Shelf
    from service.estimate.takeoff.model import Run
    from service.problems import Problems
    from service.units import Units


def in_room_order(runs: Iterable[Run]) -> tuple[Run, ...]:
    """Runs by room, wall, order, layer, then from left to right, however they were handed in."""
    return tuple(sorted(runs, key=_place))


def _place(run: Run) -> tuple[int, int, int, int, Fraction, int]:
    return (
        run.room, _position(run.wall_pointer), _position(run.trim_pointer),
        run.layer.number, run.cut_start.inches, run.number,
    )  # fmt: skip


def _position(pointer: str) -> int:
    last = pointer.rpartition("/")[2]
    return int(last) if last.isdecimal() else -1


def title(run: Run) -> str:
    """`Kitchen, wall A: Three-piece crown, layer 2 (wall)`."""
    return f"{run.room_name}, wall {run.wall}: {run.assembly}, layer {run.layer.number} ({run.position})"


def cuttable(runs: Iterable[Run], shelves: Mapping[str, Shelf], units: Units, problems: Problems) -> tuple[Run, ...]:
    """Runs that have stock and some length; one whose two ends would cross is a fault."""
    stocked = [run for run in runs if run.profile.name in shelves]
    for run in stocked:
        if _ends_cross(run):
            _tell_crossing(run, units, problems)
    return tuple(run for run in stocked if not _ends_cross(run))


def _ends_cross(run: Run) -> bool:
    if run.cut_length.snapped() <= ZERO:
        return True
    return run.left.long_edge is not None and run.left.long_edge is run.right.long_edge and run.cut_short < ZERO


def _tell_crossing(run: Run, units: Units, problems: Problems) -> None:
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        run.wall_pointer,
        f"{title(run)} is {run.cut_length.text(units)} long and its two ends would cross.",
        help="Leave this wall out of the Trim row, or choose a narrower profile.",
        found=run.cut_length.text(units),
    )


def returned_ends(run: Run) -> tuple[bool, bool]:
    """Whether the left and the right end take a return piece."""
    return run.left.joint is Joint.RETURN, run.right.joint is Joint.RETURN
