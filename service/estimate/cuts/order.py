"""Order in which runs are planned and pieces marked, and how a run is named to people."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from service.estimate.takeoff.model import Joint, Member
from service.problems import Code
from service.units import ZERO

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from service.estimate.cuts.shelf import Shelf
    from service.estimate.takeoff.model import Run
    from service.problems import Problems
    from service.units import Length, Units


def in_room_order(runs: Iterable[Run]) -> tuple[Run, ...]:
    """Runs by room and wall, however they were handed in.

    First the layers along the wall by order, layer, then from left to right; after them the trim around its
    openings, opening by opening and side by side, in the order the takeoff numbered it.
    """
    return tuple(sorted(runs, key=_place))


def _place(run: Run) -> tuple[int, int, bool, int, int, Fraction, int]:
    wall = run.room, _position(run.wall_pointer), not run.is_along_wall
    if run.is_along_wall:
        return *wall, _position(run.trim_pointer), run.layer.number, run.cut_start.inches, run.number
    return *wall, run.opening or 0, run.side, Fraction(0), run.number


def _position(pointer: str) -> int:
    last = pointer.rpartition("/")[2]
    return int(last) if last.isdecimal() else -1


def title(run: Run) -> str:
    """`Kitchen, wall A: Three-piece crown, layer 2 (wall)`, or `Kitchen, wall A: head casing of the door, opening 2`."""
    if run.is_along_wall:
        return f"{run.room_name}, wall {run.wall}: {run.assembly}, layer {run.layer.number} ({run.position})"
    side = ", side 2" if run.side > 1 else ""
    return f"{run.room_name}, wall {run.wall}: {member_title(run)}, opening {run.opening} ({run.assembly}{side})"


def member_title(run: Run) -> str:
    """A member of the trim around an opening: `head casing of the door`, `left plinth block of the cased opening`."""
    what = _MEMBER_WORDS.get(run.member, str(run.member))
    return f"{what} of the {run.opening_kind}" if run.opening_kind else what


_MEMBER_WORDS = {
    Member.LEFT_LEG: "left leg casing",
    Member.RIGHT_LEG: "right leg casing",
    Member.HEAD: "head casing",
    Member.SILL: "sill casing",
    Member.LEFT_PLINTH: "left plinth block",
    Member.RIGHT_PLINTH: "right plinth block",
}


def sheet_place(run: Run) -> str:
    """Member of the job document that a fault of a run belongs to: its wall, or the opening it goes around."""
    return run.wall_pointer if run.is_along_wall else run.trim_pointer


def cuttable(runs: Iterable[Run], shelves: Mapping[str, Shelf], units: Units, problems: Problems) -> tuple[Run, ...]:
    """Runs that have stock and some length.

    One whose two ends would cross is a fault, and so is trim around an opening longer than any board: it is
    never spliced. (Common practice.)
    """
    stocked = [run for run in runs if run.profile.name in shelves]
    for run in stocked:
        if _ends_cross(run):
            _tell_crossing(run, units, problems)
        elif _is_too_long(run, shelves):
            _tell_too_long(run, shelves[run.profile.name].longest, units, problems)
    return tuple(run for run in stocked if not _ends_cross(run) and not _is_too_long(run, shelves))


def _ends_cross(run: Run) -> bool:
    if run.cut_length.snapped() <= ZERO:
        return True
    return run.left.long_edge is not None and run.left.long_edge is run.right.long_edge and run.cut_short < ZERO


def _is_too_long(run: Run, shelves: Mapping[str, Shelf]) -> bool:
    return not run.is_along_wall and run.cut_length.snapped() > shelves[run.profile.name].longest


def _tell_too_long(run: Run, longest: Length, units: Units, problems: Problems) -> None:
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        run.trim_pointer,
        f"{title(run)} is {run.cut_length.text(units)} long, and a board of {run.profile.name} holds "
        f"{longest.text(units)} at most; trim around an opening is never spliced.",
        help="Offer a longer stock length of this profile, or check the opening's Width and Height.",
        found=run.cut_length.text(units),
    )


def _tell_crossing(run: Run, units: Units, problems: Problems) -> None:
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        sheet_place(run),
        f"{title(run)} is {run.cut_length.text(units)} long and its two ends would cross.",
        help=(
            "Leave this wall out of the Trim row, or choose a narrower profile."
            if run.is_along_wall
            else "Check the opening's Width and Height, or choose a narrower casing."
        ),
        found=run.cut_length.text(units),
    )


def returned_ends(run: Run) -> tuple[bool, bool]:
    """Whether the left and the right end take a return piece."""
    return run.left.joint is Joint.RETURN, run.right.joint is Joint.RETURN
