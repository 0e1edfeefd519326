"""Pieces and boards of some profiles as whole numbers: every piece that a run may be made of, and the engine's items."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from service.estimate.cuts.engine.network import Arc
from service.estimate.cuts.engine.work import Part, Work
from service.estimate.cuts.sawing import MOST_UNITS, coarse_grid
from service.units import SNAP, Length

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from fractions import Fraction

    from service.estimate.cuts.courses import Course
    from service.estimate.cuts.sawing import Ends
    from service.estimate.cuts.shelf import Choice
    from service.estimate.cuts.spans import Cuts, Span

SNAPPED = Length.of(1).inches / SNAP


@dataclass(frozen=True, slots=True)
class Track:
    """A run that may be joined: the course it takes, None where it must stay whole.

    `is_thinned`: not all of its positions are looked at, so that nothing is proven of them.
    """

    span: Span
    course: Course | None
    is_whole_allowed: bool
    is_thinned: bool = False


class _Part(NamedTuple):
    """A piece between two nodes of a run, node 0 its left end: length in exact units, widths of its cuts. [in]"""

    tail: int
    head: int
    length: int
    cuts: Cuts


@dataclass(frozen=True, slots=True)
class Scale:
    """Inches as whole numbers, for one profile.

    A piece is charged for the cut at one of its ends, always the same, as in the loose model of `sawing`.

    Attributes:
        exact: units an inch in which every length is whole.
        units: units an inch of the engine; as many where they stay few, else 64ths, rounded in a plan's favor.
        is_left: the cut at the left end is charged.
        most: the widest of these cuts. [exact units]
    """

    exact: int
    units: int
    is_left: bool
    most: int

    def whole(self, inches: Fraction) -> int:
        """Inches in exact units."""
        return inches.numerator * (self.exact // inches.denominator)

    def size(self, length: int, cuts: Cuts) -> int:
        """A piece and the cut it is charged for, in the engine's units."""
        return (length + self.whole(cuts[0 if self.is_left else 1])) * self.units // self.exact

    def hold(self, usable: Fraction) -> int:
        """What a board holds, in the engine's units."""
        return (self.whole(usable) + self.most) * self.units // self.exact


def scale_of(tracks: Sequence[Track], given: Sequence[Ends], usable: Sequence[Fraction]) -> Scale:
    """Units in which the runs, given pieces and boards of a profile are whole.

    Args:
        tracks: runs that may be joined.
        given: pieces that are the same in every plan.
        usable: of each board. [in]
    """
    cuts = [(ends.left, ends.right) for ends in given]
    cuts += [some for track in tracks for some in (track.span.cuts, track.span.scarfs)]
    is_left = sum(left for left, _ in cuts) >= sum(right for _, right in cuts)
    sides = [some[0 if is_left else 1] for some in cuts]
    numbers = [*usable, *sides, *(ends.length for ends in given), *(n for track in tracks for n in _lengths(track))]
    exact = math.lcm(*(number.denominator for number in numbers))
    units = exact if exact * max(usable) <= MOST_UNITS else coarse_grid(max(usable))
    most = max(sides)
    return Scale(exact, units, is_left, most.numerator * (exact // most.denominator))


def _lengths(track: Track) -> Iterator[Fraction]:
    yield track.span.length.inches
    yield track.span.overlap.inches
    if track.course:
        yield from (length.inches for length in (track.course.start, track.course.stop, track.course.joinery.half))
        yield from (position.inches for position in track.course.at)
        if track.course.joinery.is_snapped:
            yield SNAPPED


def _parts(track: Track, scale: Scale) -> Iterator[_Part]:
    """Every piece that a run may be made of."""
    span, course = track.span, track.course
    last = len(course.at) + 1 if course else 1
    if track.is_whole_allowed or course is None:
        yield _Part(0, last, scale.whole(span.length.inches), span.cuts)
    if course is None:
        return
    useful = _useful(course)
    half = scale.whole(course.joinery.half.inches)
    at = [scale.whole(position.inches) for position in course.at]
    start, stop = scale.whole(course.start.inches), scale.whole(course.stop.inches)
    snap = scale.exact // SNAP if course.joinery.is_snapped else 1
    for node, reach in [(0, course.first), *((i + 1, course.after[i]) for i in sorted(useful))]:
        left = at[node - 1] - half if node else start
        cut = span.scarfs[0] if node else span.cuts[0]
        for i in reach:
            if i in useful:
                yield _Part(node, i + 1, _snapped(at[i] + half - left, snap), (cut, span.scarfs[1]))
        if node and node - 1 in course.last:
            yield _Part(node, last, _snapped(stop - left, snap), (cut, span.cuts[1]))


def _snapped(length: int, snap: int) -> int:
    """The nearest multiple, halves up, as `Length.snapped`."""
    return (2 * length + snap) // (2 * snap) * snap


def _useful(course: Course) -> set[int]:
    """Positions that lie on some path from the first joint to the last."""
    reached = set(course.first)
    for i in range(len(course.at)):
        if i in reached:
            reached |= set(course.after[i])
    ending: set[int] = set()
    for i in reversed(range(len(course.at))):
        if i in course.last or not ending.isdisjoint(course.after[i]):
            ending.add(i)
    return reached & ending


class Numbering:
    """Items and boards, profile after profile; items from the longest to the shortest.

    Attributes:
        choices: profile and length of every board, by its number.
        arcs: of each run, by run number; the pieces it may be made of.
    """

    def __init__(self) -> None:
        """Start with nothing."""
        self.choices: list[tuple[str, Choice]] = []
        self.arcs: dict[int, tuple[Arc, ...]] = {}
        self._scales: dict[str, Scale] = {}
        self._item_of: dict[tuple[str, int], int] = {}
        self._sizes: list[int] = []
        self._demands: list[int] = []
        self._most: list[int] = []
        self._holds: list[int] = []
        self._parts: list[Part] = []

    def add(self, profile: str, tracks: Sequence[Track], given: Sequence[Ends], choices: Sequence[Choice]) -> None:
        """Number what belongs to one profile.

        Args:
            profile: its name.
            tracks: runs that may be joined.
            given: pieces that are the same in every plan.
            choices: boards.
        """
        usable = [choice.usable.inches for choice in choices]
        scale = self._scales[profile] = scale_of(tracks, given, usable)
        parts = {track.span.number: list(_parts(track, scale)) for track in tracks}
        wanted = Counter(scale.size(scale.whole(ends.length), (ends.left, ends.right)) for ends in given)
        often = wanted + self._often(tracks, parts, scale)
        distinct = sorted(often, reverse=True)
        first = len(self._sizes)
        self._item_of |= {(profile, size): first + place for place, size in enumerate(distinct)}
        for number, some in parts.items():
            self.arcs[number] = tuple(
                sorted(
                    Arc(one.tail, one.head, self._item_of[profile, scale.size(one.length, one.cuts)]) for one in some
                )
            )
        self._parts.append(
            Part(range(first, first + len(distinct)), range(len(self._holds), len(self._holds) + len(usable)))
        )
        self._sizes += distinct
        self._demands += [wanted[size] for size in distinct]
        self._most += [often[size] for size in distinct]
        self._holds += [scale.hold(size) for size in usable]
        self.choices += [(profile, choice) for choice in choices]

    def _often(self, tracks: Sequence[Track], parts: Mapping[int, Sequence[_Part]], scale: Scale) -> Counter[int]:
        """How often runs can take pieces of each size at the most."""
        often: Counter[int] = Counter()
        for track in tracks:
            run, overlap = scale.whole(track.span.length.inches), scale.whole(track.span.overlap.inches)
            times: dict[int, int] = {}
            for one in parts[track.span.number]:
                size = scale.size(one.length, one.cuts)
                is_inner = one.tail and one.length > overlap
                many = (run + overlap) // (one.length - overlap) + 1 if is_inner else 1
                times[size] = max(times.get(size, 0), many)
            often.update(times)
        return often

    def item(self, profile: str, ends: Ends) -> int:
        """Item of a piece; -1 when it is none of them."""
        scale = self._scales[profile]
        size = scale.size(scale.whole(ends.length), (ends.left, ends.right))
        return self._item_of.get((profile, size), -1)

    def work(self) -> Work:
        """All of it for the engine."""
        cents = tuple(int(choice.price * 100) for _, choice in self.choices)
        limits = tuple(choice.available for _, choice in self.choices)
        return Work(
            tuple(self._sizes),
            tuple(self._demands),
            tuple(self._most),
            tuple(self._holds),
            cents,
            limits,
            tuple(self._parts),
        )
