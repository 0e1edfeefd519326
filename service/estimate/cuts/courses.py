"""Where the joints of one run may fall, and how few it needs.

Joint positions are points of a line; from each, the next joint may lie in one unbroken range of later
points, since a piece must be neither too short nor too long. The fewest joints then follow by dynamic
programming from the right-hand end.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from typing import TYPE_CHECKING

from service.estimate.cuts.scarf import scarf_overlap
from service.estimate.takeoff.model import Joint
from service.survey import CornerKind
from service.units import SNAP, ZERO, Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from service.estimate.takeoff.model import End, Run
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
        last: positions that the last joint may take.
        on_plates: each joint gets a glue plate, for want of backing.
    """

    run: Run
    at: tuple[Length, ...]
    first: range
    after: tuple[range, ...]
    last: range
    on_plates: bool


def courses_of(run: Run, limit: Length, settings: FirmSettings) -> Iterator[Course]:
    """Courses of a run that has some plan by itself, the most wanted first.

    On backing and clear of the corners; on backing; on glue plates clear of the corners; on glue plates.

    Args:
        run: a run too long for one board.
        limit: the longest piece that a board holds. [Length]
        settings: shortest piece, stagger and scarf angle are read.
    """
    for on_plates in (False, True):
        positions = plate_positions(run) if on_plates else run.splice_at
        for at in (clear_of_corners(run, positions, settings.joint_stagger), positions):
            one = course(run, at, limit, settings, on_plates=on_plates)
            if fewest(one) is not None:
                yield one


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
    left = run.cut_start + _past_corner(run.left, run.left_setback)
    right = run.cut_end - _past_corner(run.right, run.right_setback)
    return left, right


def _past_corner(end: End, setback: Length) -> Length:
    return setback if end.corner is CornerKind.OUTSIDE and end.joint is not Joint.RETURN else ZERO


def course(run: Run, at: Sequence[Length], limit: Length, settings: FirmSettings, *, on_plates: bool) -> Course:
    """Course of a run through these positions; those outside the run are left out."""
    inside = tuple(sorted({position for position in at if run.cut_start < position < run.cut_end}))
    half = scarf_overlap(run.profile.thickness, settings.scarf_angle_deg) / 2
    least, most = snap_range(settings.shortest_piece, limit)
    inches = [position.inches for position in inside]

    def reach(start: Length) -> range:
        return range(bisect_left(inches, (start + least).inches), bisect_left(inches, (start + most).inches))

    def reach_back(end: Length) -> range:
        return range(bisect_right(inches, (end - most).inches), bisect_right(inches, (end - least).inches))

    reaches = (reach(position - half * 2) for position in inside)
    return Course(
        run=run,
        at=inside,
        first=reach(run.cut_start - half),
        after=tuple(range(max(ahead.start, i + 1), ahead.stop) for i, ahead in enumerate(reaches)),
        last=reach_back(run.cut_end + half),
        on_plates=on_plates,
    )


def snap_range(shortest: Length, longest: Length) -> tuple[Length, Length]:
    """Exact lengths, from the first up to but not including the second, that snap to a piece of lawful length."""
    low = Fraction(2 * math.ceil(shortest.inches * SNAP) - 1, 2 * SNAP)
    high = Fraction(2 * math.floor(longest.inches * SNAP) + 1, 2 * SNAP)
    return Length(low), Length(high)


def fewest(course: Course) -> int | None:
    """Least number of joints with which the run can be spliced by itself; None when it cannot."""
    finish = [i in course.last for i in range(len(course.at))]
    for joints in range(1, len(course.at) + 1):
        if any(finish[i] for i in course.first):
            return joints
        before = [0, *accumulate(finish)]
        finish = [before[max(reach.stop, reach.start)] > before[reach.start] for reach in course.after]
    return None


def most_joints(course: Course) -> int:
    """More joints than these have no room: as many as the shortest pieces allow."""
    joints, place = 0, course.first.start
    while place < min(len(course.at), course.last.stop):
        joints += 1
        place = course.after[place].start
    return joints
