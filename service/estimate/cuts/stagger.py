"""Joints of layers stacked on one wall, kept a stagger apart.

For a given number of joints in each layer and a given order of all of them from left to right, every
rule only says how far apart two joints are at least or at most. Pushing each joint as far right as
the others allow then ends at the one arrangement in which every joint lies as far right as it can, or
shows that there is none. So only numbers and orders are searched, never positions.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass, replace
from itertools import chain, islice
from typing import TYPE_CHECKING

from service.estimate.cuts.courses import fewest, most_joints

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterator, Sequence

    from service.estimate.cuts.courses import Course
    from service.units import Length

    Joints = tuple[Length, ...]
    Counts = tuple[int, ...]
    Places = list[tuple[int, ...]]
    Slot = tuple[int, int]

TRIES_A_COUNT = 150


@dataclass(frozen=True, slots=True)
class _Track:
    """A course in whole units with a number of joints: where each of them lies at the earliest and latest.

    Layers keep their joints apart; stretches of one layer, beside an opening, do not.
    `earliest` and `latest` are indexes of `at`; `starts` and `stops` bound the next joint after each position.
    """

    layer: Hashable
    course: Course
    at: tuple[int, ...]
    starts: tuple[int, ...]
    stops: tuple[int, ...]
    earliest: tuple[int, ...] = ()
    latest: tuple[int, ...] = ()


def staggered(courses: Sequence[Course], stagger: Length, most_tries: int) -> tuple[Joints, ...] | None:
    """Joint positions for every course of a stack, None when no arrangement was found.

    Fewest joints in all, then fewest in the first layer and its longest first pieces, then the next
    layer's. Of very many orders of the joints only the first are tried.

    Args:
        courses: each with some plan by itself, in layer order.
        stagger: least distance between joints of different layers. [Length]
        most_tries: how many orders and dead ends are looked at before giving up.
    """
    best: Places | None = None
    best_counts: Counts | None = None
    scale = math.lcm(stagger.inches.denominator, *(at.inches.denominator for course in courses for at in course.at))
    blanks = [_blank(course, scale) for course in courses]
    gap = int(stagger.inches * scale)
    tries = chain.from_iterable(_tries(blanks, counts, gap) for counts in _counts(courses))
    for counts, found in islice(tries, most_tries):
        if best is not None and counts != best_counts:
            break
        if found is not None and (best is None or found > best):
            best, best_counts = found, counts
    if best is None:
        return None
    return tuple(tuple(course.at[i] for i in places) for course, places in zip(courses, best, strict=True))


def _counts(courses: Sequence[Course]) -> Iterator[Counts]:
    """Numbers of joints a course, the fewest in all first."""
    bounds = [(fewest(course) or 1, most_joints(course)) for course in courses]
    for total in range(sum(low for low, _ in bounds), sum(high for _, high in bounds) + 1):
        yield from shared(total, bounds)


def shared(total: int, bounds: Sequence[tuple[int, int]]) -> Iterator[Counts]:
    """Every way to make up a total of one number from each range, the first numbers small first."""
    if not bounds:
        if total == 0:
            yield ()
        return
    (low, high), *rest = bounds
    others = sum(least for least, _ in rest)
    for count in range(low, min(high, total - others) + 1):
        for more in shared(total - count, rest):
            yield (count, *more)


def _tries(blanks: Sequence[_Track], counts: Counts, gap: int) -> Iterator[tuple[Counts, Places | None]]:
    """What comes of every order of so many joints: places, or None at each dead end."""
    tracks = [_with_joints(blank, count) for blank, count in zip(blanks, counts, strict=True)]
    if any(_is_too_far_left(track, track.latest) for track in tracks):
        yield counts, None
        return
    for found in islice(_ordered(tracks, gap, ()), TRIES_A_COUNT):
        yield counts, found


def _blank(course: Course, scale: int) -> _Track:
    return _Track(
        layer=course.layer,
        course=course,
        at=tuple(int(position.inches * scale) for position in course.at),
        starts=tuple(reach.start for reach in course.after),
        stops=tuple(reach.stop for reach in course.after),
    )


def _with_joints(blank: _Track, joints: int) -> _Track:
    return replace(blank, earliest=tuple(_earliest(blank, joints)), latest=tuple(_latest(blank, joints)))


def _earliest(track: _Track, joints: int) -> list[int]:
    """Leftmost index of each joint of a course by itself: reach back from the last, then forth from the first."""
    places = [track.course.last.start]
    for _ in range(joints - 1):
        places.append(bisect_right(track.stops, places[-1]))
    places.reverse()
    places[0] = max(places[0], track.course.first.start)
    for joint in range(1, joints):
        before = min(places[joint - 1], len(track.at) - 1)
        places[joint] = max(places[joint], track.starts[before])
    return places


def _latest(track: _Track, joints: int) -> list[int]:
    """Rightmost index of each joint of a course by itself: reach forth from the first, then back from the last."""
    places = [track.course.first.stop - 1]
    for _ in range(joints - 1):
        places.append(track.stops[places[-1]] - 1 if places[-1] >= 0 else -1)
    places[-1] = min(places[-1], track.course.last.stop - 1)
    for joint in reversed(range(joints - 1)):
        places[joint] = min(places[joint], bisect_right(track.starts, places[joint + 1]) - 1)
    return places


def _ordered(tracks: Sequence[_Track], gap: int, order: tuple[int, ...]) -> Iterator[Places | None]:
    """Places for every order of all joints that begins like this; None where a beginning already has none.

    An order is told by the track whose next joint comes. Later layers come first, which leaves the first
    layer its longest first pieces.
    """
    places = _pushed_right(tracks, order, gap)
    if places is None or len(order) == sum(len(track.latest) for track in tracks):
        yield places
        return
    for one in reversed(range(len(tracks))):
        if order.count(one) < len(tracks[one].latest):
            yield from _ordered(tracks, gap, (*order, one))


def _pushed_right(tracks: Sequence[_Track], order: tuple[int, ...], gap: int) -> Places | None:
    """Index of each joint as far right as the rules allow; None when they do not allow any.

    Joints beyond the order are only known to come after it.
    """
    slots = [(one, order[:place].count(one)) for place, one in enumerate(order)]
    following = [(one, order.count(one)) for one, track in enumerate(tracks) if order.count(one) < len(track.latest)]
    places = [list(track.latest) for track in tracks]
    while True:
        before = [tuple(row) for row in places]
        for track, row in zip(tracks, places, strict=True):
            _push_pieces(track, row)
        _push_apart(tracks, slots, following, places, gap)
        if any(_is_too_far_left(track, row) for track, row in zip(tracks, places, strict=True)):
            return None
        if [tuple(row) for row in places] == before:
            return before


def _is_too_far_left(track: _Track, row: Sequence[int]) -> bool:
    return any(place < earliest for place, earliest in zip(row, track.earliest, strict=True))


def _push_pieces(track: _Track, row: list[int]) -> None:
    """Pull joints left until no piece of a run is too long or too short."""
    for joint in range(len(row) - 1):
        row[joint + 1] = min(row[joint + 1], track.stops[row[joint]] - 1)
    for joint in reversed(range(len(row) - 1)):
        row[joint] = min(row[joint], bisect_right(track.starts, row[joint + 1]) - 1)


def _push_apart(
    tracks: Sequence[_Track], slots: Sequence[Slot], following: Sequence[Slot], places: list[list[int]], gap: int
) -> None:
    """Pull joints left until they stand a stagger before every later one of another layer."""
    lowest: dict[Hashable, int] = {}
    for one, joint in following:
        at = tracks[one].at[places[one][joint]]
        lowest[tracks[one].layer] = min(at, lowest.get(tracks[one].layer, at))
    for one, joint in reversed(slots):
        track = tracks[one]
        at = track.at[places[one][joint]]
        ceiling = min((low - gap for layer, low in lowest.items() if layer != track.layer), default=at)
        if at > ceiling:
            places[one][joint] = bisect_right(track.at, ceiling) - 1
        lowest[track.layer] = min(at, ceiling, lowest.get(track.layer, at))
