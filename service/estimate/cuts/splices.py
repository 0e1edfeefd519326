"""Joints by the quick rule: of runs that no board holds whole, as few as can be, each as far along as a board reaches."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain, islice
from typing import TYPE_CHECKING, NamedTuple

from service.estimate.cuts.stagger import shared, staggered

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence

    from service.estimate.cuts.courses import Course
    from service.estimate.cuts.spans import Span
    from service.units import Length

MOST_PICKS = 24
TRIES = 1_000
TRIES_WHEN_RELAXED = 500


class Joined(NamedTuple):
    """The course that a run takes and where its joints fall. [Length]"""

    course: Course
    at: tuple[Length, ...]


@dataclass(frozen=True, slots=True)
class Spliced:
    """Joints of all runs that need some, by run number; runs without any plan, and stacks without a stagger."""

    joints: Mapping[int, Joined]
    without_plan: tuple[Span, ...]
    without_stagger: tuple[tuple[Span, ...], ...]

    @property
    def is_whole(self) -> bool:
        """True when every run has a plan."""
        return not self.without_plan and not self.without_stagger


def spliced(spans: Iterable[Span], limits: Mapping[int, Length], stagger: Length) -> Spliced:
    """Joints of every run that no board holds whole.

    Fewest joints over the layers stacked on one wall, then the longest first pieces. Joints land on
    backing, or each on a glue plate where a run finds none within reach; joints of stacked layers
    keep the stagger; none falls within a stagger of a corner unless a run has no plan otherwise.

    Args:
        spans: runs that may be joined, in room order.
        limits: the longest piece of each run, by run number. [Length]
        stagger: least distance between joints of stacked layers. [Length]
    """
    joints: dict[int, Joined] = {}
    without_plan: list[Span] = []
    without_stagger: list[tuple[Span, ...]] = []
    for stack in stacks(spans):
        long = tuple(span for span in stack if span.length > limits[span.number])
        options = [tuple(span.courses(limits[span.number])) for span in long]
        if not all(options):
            without_plan += [span for span, option in zip(long, options, strict=True) if not option]
            continue
        chosen = arranged(options, stagger)
        if chosen is None:
            without_stagger.append(long)
            continue
        joints |= {one.course.number: one for one in chosen}
    return Spliced(joints, tuple(without_plan), tuple(without_stagger))


def stacks(spans: Iterable[Span]) -> Iterator[list[Span]]:
    """Spans of one stack together, the stacks in the order of their first spans."""
    found: dict[Hashable, list[Span]] = {}
    for span in spans:
        found.setdefault(span.stack, []).append(span)
    yield from found.values()


def arranged(options: Sequence[tuple[Course, ...]], stagger: Length) -> tuple[Joined, ...] | None:
    """One course and its joints for every long run of a stack, staggered; None when no arrangement was found.

    Args:
        options: for each run that needs a joint its courses, the one that gives nothing up first.
        stagger: least distance between joints of different layers. [Length]
    """
    if not options:
        return ()
    for place, courses in enumerate(chain([[option[0] for option in options]], _relaxed(options))):
        joints = staggered(courses, stagger, TRIES_WHEN_RELAXED if place else TRIES)
        if joints is not None:
            return tuple(Joined(course, at) for course, at in zip(courses, joints, strict=True))
    return None


def _relaxed(options: Sequence[tuple[Course, ...]]) -> Iterator[list[Course]]:
    """Courses of all runs that give up one step between them, then two steps, and so on."""
    bounds = [(0, len(option) - 1) for option in options]
    steps = range(1, sum(high for _, high in bounds) + 1)
    picks = chain.from_iterable(shared(total, bounds) for total in steps)
    for pick in islice(picks, MOST_PICKS):
        yield [option[level] for option, level in zip(options, pick, strict=True)]
