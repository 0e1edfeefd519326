"""Where the joints of one run may fall, and every lawful choice among them.

Joint positions are points of a line; from each, the next joint may lie in one unbroken range of later
points, since a piece must be neither too short nor too long. Fewest joints and longest first pieces
then follow by dynamic programming from the right-hand end.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from itertools import accumulate, count
from typing import TYPE_CHECKING

from service.estimate.cuts.scarf import scarf_overlap
from service.survey import CornerKind
from service.units import ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings

PLATE_SPACING = Length.of(8)


@dataclass(frozen=True, slots=True)
class Course:
    """One run with the positions its joints may take.

    Attributes:
        run: the run.
        at: allowed joint positions in wall coordinates, rising. [Length]
        first: positions that the first joint may take, a range of indexes.
        after: for each position, the range that the next joint may take.
        last: for each position, whether the rest of the run is a lawful last piece.
        on_plates: each joint gets a glue plate, for want of backing.
    """

    run: Run
    at: tuple[Length, ...]
    first: range
    after: tuple[range, ...]
    last: tuple[bool, ...]
    on_plates: bool


def courses_of(run: Run, limit: Length, settings: FirmSettings) -> tuple[Course, ...]:
    """Courses of a run that has some plan by itself, the most wanted first.

    On backing and clear of the corners; on backing; on glue plates clear of the corners; on glue plates.

    Args:
        run: a run too long for one board.
        limit: the longest piece that a board holds. [Length]
        settings: shortest piece, stagger and scarf angle are read.
    """
    plates = plate_positions(run)
    tries = (
        (clear_of_corners(run, run.splice_at, settings.joint_stagger), False),
        (run.splice_at, False),
        (clear_of_corners(run, plates, settings.joint_stagger), True),
        (plates, True),
    )
    courses = (course(run, at, limit, settings, on_plates=on_plates) for at, on_plates in tries)
    return tuple(one for one in courses if fewest(one) is not None)


def plate_positions(run: Run) -> tuple[Length, ...]:
    """Positions every 8" from a run's left end, for joints that find no backing. [Length]"""
    steps = int(run.cut_length / PLATE_SPACING)
    return tuple(run.cut_start + PLATE_SPACING * step for step in range(1, steps + 1))


def clear_of_corners(run: Run, at: Sequence[Length], stagger: Length) -> tuple[Length, ...]:
    """Positions not nearer than the stagger to the corners that the run ends at. [Length]"""
    left, right = corners(run)
    return tuple(position for position in at if left + stagger <= position <= right - stagger)


def corners(run: Run) -> tuple[Length, Length]:
    """Wall coordinates of a run's two corners; past an outside corner the run goes on by its setback. [Length]"""
    left = run.left_setback if run.left.corner is CornerKind.OUTSIDE else ZERO
    right = run.right_setback if run.right.corner is CornerKind.OUTSIDE else ZERO
    return run.cut_start + left, run.cut_end - right


def course(run: Run, at: Sequence[Length], limit: Length, settings: FirmSettings, *, on_plates: bool) -> Course:
    """Course of a run through these positions; those outside the run are left out."""
    inside = tuple(sorted({position for position in at if run.cut_start < position < run.cut_end}))
    half = scarf_overlap(run.profile.thickness, settings.scarf_angle_deg) / 2
    shortest = settings.shortest_piece
    return Course(
        run=run,
        at=inside,
        first=_reach(inside, run.cut_start - half, shortest, limit),
        after=tuple(_reach(inside, position - half * 2, shortest, limit) for position in inside),
        last=tuple(shortest <= (run.cut_end - position + half).snapped() <= limit for position in inside),
        on_plates=on_plates,
    )


def _reach(at: Sequence[Length], start: Length, shortest: Length, longest: Length) -> range:
    def piece(position: Length) -> Length:
        return (position - start).snapped()

    return range(bisect_left(at, shortest, key=piece), bisect_right(at, longest, key=piece))


def fewest(course: Course) -> int | None:
    """Least number of joints with which the run can be spliced; None when it cannot."""
    free = (True,) * len(course.at)
    finish = list(course.last)
    for joints in count(1):
        if any(finish[i] for i in course.first):
            return joints
        if joints > len(course.at) or not any(finish):
            return None
        finish = _one_more(course, free, finish)
    return None


def plans(course: Course, free: Sequence[bool], joints: int) -> Iterator[tuple[Length, ...]]:
    """Every choice of exactly so many joints among the free positions, longest first pieces first. [Length]

    Each step is known to lead to a lawful end, so the next choice never takes more than a step a joint.
    """
    finish = [[ok and last for ok, last in zip(free, course.last, strict=True)]]
    for _ in range(joints - 1):
        finish.append(_one_more(course, free, finish[-1]))
    return _descending(course, finish, course.first, joints)


def _one_more(course: Course, free: Sequence[bool], finish: Sequence[bool]) -> list[bool]:
    before = [0, *accumulate(finish)]
    return [
        ok and before[max(window.stop, window.start)] > before[window.start]
        for ok, window in zip(free, course.after, strict=True)
    ]


def _descending(
    course: Course, finish: list[list[bool]], window: range, joints: int
) -> Iterator[tuple[Length, ...]]:
    for i in reversed(window):
        if not finish[joints - 1][i]:
            continue
        if joints == 1:
            yield (course.at[i],)
        else:
            for rest in _descending(course, finish, course.after[i], joints - 1):
                yield (course.at[i], *rest)
