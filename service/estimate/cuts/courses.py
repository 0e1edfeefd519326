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

from service.units import SNAP, Length

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable


@dataclass(frozen=True, slots=True)
class Joinery:
    """How the pieces of a joined run are measured.

    Attributes:
        half: what a joint adds to each of its two pieces, half of the overlap. [Length]
        shortest, longest: lawful lengths of a piece. [Length]
        is_snapped: pieces are cut to the next 1/64", and it is then that their lengths must be lawful.
    """

    half: Length
    shortest: Length
    longest: Length
    is_snapped: bool = True

    def piece(self, start: Length, stop: Length) -> Length:
        """A piece between two points, as it is cut. [Length]"""
        return (stop - start).snapped() if self.is_snapped else stop - start


@dataclass(frozen=True, slots=True)
class Course:
    """One run with the positions its joints may take.

    Attributes:
        number: of the run.
        layer: joints of one layer may stand side by side.
        start, stop: its two ends on the wall. [Length]
        joinery: how its pieces are measured.
        at: allowed joint positions on the wall, rising. [Length]
        first: positions that the first joint may take, a range of indexes.
        after: for each position, the range that the next joint may take.
        last: positions that the last joint may take.
        on_plates: each joint gets a glue plate, for want of backing.
    """

    number: int
    layer: Hashable
    start: Length
    stop: Length
    joinery: Joinery
    at: tuple[Length, ...]
    first: range
    after: tuple[range, ...]
    last: range
    on_plates: bool = False


@dataclass(frozen=True, slots=True)
class Stretch:
    """A run as its courses see it: number, layer, and its two ends on the wall. [Length]"""

    number: int
    layer: Hashable
    start: Length
    stop: Length


def course(stretch: Stretch, at: Iterable[Length], joinery: Joinery, *, on_plates: bool = False) -> Course:
    """Course of a run through these positions; those outside the run are left out.

    Args:
        stretch: the run.
        at: positions on the wall, in any order. [Length]
        joinery: how its pieces are measured.
        on_plates: each joint gets a glue plate.
    """
    inside = tuple(sorted({position for position in at if stretch.start < position < stretch.stop}))
    inches = [position.inches for position in inside]
    reach = _Reach(inches, joinery)
    half = joinery.half
    reaches = (reach.ahead(position - half * 2) for position in inside)
    return Course(
        number=stretch.number,
        layer=stretch.layer,
        start=stretch.start,
        stop=stretch.stop,
        joinery=joinery,
        at=inside,
        first=reach.ahead(stretch.start - half),
        after=tuple(range(max(ahead.start, i + 1), ahead.stop) for i, ahead in enumerate(reaches)),
        last=reach.back(stretch.stop + half),
        on_plates=on_plates,
    )


class _Reach:
    """Positions at a lawful length from a point, ahead of it or behind."""

    def __init__(self, inches: list[Fraction], joinery: Joinery) -> None:
        self.inches = inches
        self.is_open = joinery.is_snapped
        least, most = joinery.shortest, joinery.longest
        self.least, self.most = snap_range(least, most) if joinery.is_snapped else (least, most)

    def ahead(self, start: Length) -> range:
        stop = bisect_left if self.is_open else bisect_right
        return range(
            bisect_left(self.inches, (start + self.least).inches), stop(self.inches, (start + self.most).inches)
        )

    def back(self, end: Length) -> range:
        start = bisect_right if self.is_open else bisect_left
        return range(start(self.inches, (end - self.most).inches), bisect_right(self.inches, (end - self.least).inches))


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
