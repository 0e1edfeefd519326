"""Splices of runs longer than a board: which layers are stacked, and where all their joints fall."""

from __future__ import annotations

from itertools import chain, groupby, islice
from typing import TYPE_CHECKING

from service.estimate.cuts.courses import corners, courses_of
from service.estimate.cuts.model import Splice
from service.estimate.cuts.order import title
from service.estimate.cuts.stagger import shared, staggered
from service.firm import Position
from service.problems import Code

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from service.estimate.cuts.courses import Course
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings
    from service.problems import Problems
    from service.units import Length, Units

    Joints = tuple[Length, ...]
    Chosen = tuple[Course, Joints]

ZONE_OF = {
    Position.CEILING: "ceiling line",
    Position.WALL: "ceiling line",
    Position.CROWN: "ceiling line",
    Position.BASE: "floor line",
    Position.CAP: "floor line",
    Position.SHOE: "floor line",
}


MOST_PICKS = 24
TRIES = 1_000
TRIES_WHEN_RELAXED = 500


def spliced(
    runs: Sequence[Run], limits: Mapping[int, Length], settings: FirmSettings, problems: Problems
) -> dict[int, tuple[Splice, ...]]:
    """Splices of every run along a wall that no board holds whole, by run number.

    Fewest joints over the layers stacked on one wall, then the longest first pieces. Joints land on
    backing, or each on a glue plate where a run finds none within reach; joints of stacked layers
    keep the firm's stagger; none falls within a stagger of a corner unless a run has no plan otherwise.

    Args:
        runs: in room order.
        limits: the longest piece of each run, by run number. [Length]
        settings: shortest piece, stagger and scarf angle are read.
        problems: takes piece-cannot-be-cut, and what a plan had to give up.
    """
    splices: dict[int, tuple[Splice, ...]] = {}
    for stack in stacks(runs):
        long = [run for run in stack if run.is_along_wall and run.cut_length.snapped() > limits[run.number]]
        if not long:
            continue
        wanted = [next(courses_of(run, limits[run.number], settings), None) for run in long]
        for run, course in zip(long, wanted, strict=True):
            if course is None:
                _tell_no_plan(run, limits[run.number], settings, problems)
        courses = [course for course in wanted if course is not None]
        if len(courses) == len(long):
            splices |= _stack_splices(courses, limits, settings, problems)
    return splices


def stacks(runs: Sequence[Run]) -> Iterator[list[Run]]:
    """Runs whose joints must keep apart: one wall's layers along the ceiling, or along the floor; others alone."""
    for _, stack in groupby(sorted(runs, key=_stack_of), key=_stack_of):
        yield list(stack)


def _stack_of(run: Run) -> tuple[int, str, str, int]:
    zone = ZONE_OF.get(run.position)
    return (run.room, run.wall, zone, 0) if zone else (run.room, run.wall, "", run.number)


def _stack_splices(
    wanted: Sequence[Course], limits: Mapping[int, Length], settings: FirmSettings, problems: Problems
) -> dict[int, tuple[Splice, ...]]:
    chosen = arranged(wanted, limits, settings)
    if chosen is None:
        _tell_no_stagger([course.run for course in wanted], settings, problems)
        return {}
    for course, joints in chosen:
        _tell_given_up(course, joints, settings, problems)
    return {
        course.run.number: tuple(Splice(course.run.number, at, course.on_plates) for at in joints)
        for course, joints in chosen
    }


def arranged(
    wanted: Sequence[Course], limits: Mapping[int, Length], settings: FirmSettings
) -> tuple[Chosen, ...] | None:
    """One course and its joints for every long run of a stack, staggered; None when no arrangement was found.

    Args:
        wanted: for each run that needs a splice, the course that gives nothing up; others follow where it must.
        limits: the longest piece of each run, by run number. [Length]
        settings: shortest piece, stagger and scarf angle are read.
    """
    joints = staggered(wanted, settings.joint_stagger, TRIES)
    if joints is not None:
        return tuple(zip(wanted, joints, strict=True))
    options = [tuple(courses_of(course.run, limits[course.run.number], settings)) for course in wanted]
    for courses in _relaxed(options):
        joints = staggered(courses, settings.joint_stagger, TRIES_WHEN_RELAXED)
        if joints is not None:
            return tuple(zip(courses, joints, strict=True))
    return None


def _relaxed(options: Sequence[tuple[Course, ...]]) -> Iterator[list[Course]]:
    """Courses of all runs that give up one step between them, then two steps, and so on."""
    bounds = [(0, len(option) - 1) for option in options]
    steps = range(1, sum(high for _, high in bounds) + 1)
    picks = chain.from_iterable(shared(total, bounds) for total in steps)
    for pick in islice(picks, MOST_PICKS):
        yield [option[level] for option, level in zip(options, pick, strict=True)]


def _tell_given_up(course: Course, joints: Joints, settings: FirmSettings, problems: Problems) -> None:
    run = course.run
    left, right = corners(run)
    near = [at for at in joints if min(at - left, right - at) < settings.joint_stagger]
    if near:
        problems.warning(
            Code.JOINT_NEAR_CORNER,
            run.wall_pointer,
            f"{title(run)}: a joint falls at {_texts(near, settings.units)} from the wall's left end, nearer to a corner than "
            f"{settings.joint_stagger.text(settings.units)}; there was no better place for it.",
            help="Offer a longer stock length, or give the studs or joists of this wall.",
        )
    if course.on_plates:
        problems.note(
            Code.JOINT_ON_GLUE_PLATE,
            run.wall_pointer,
            f"{title(run)}: no framing within reach of the joint at {_texts(joints, settings.units)} from the wall's left end; "
            f"each such joint is backed by a glue plate.",
            help="Give the framing behind this run if there is any.",
        )


def _tell_no_plan(run: Run, limit: Length, settings: FirmSettings, problems: Problems) -> None:
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        run.wall_pointer,
        f"{title(run)} is {run.cut_length.text(settings.units)} long; no joints divide it into pieces from "
        f"{settings.shortest_piece.text(settings.units)} to {limit.text(settings.units)}, the most that a board of {run.profile.name} holds.",
        help="Offer a longer stock length of this profile, or set a shorter Shortest piece.",
        found=run.cut_length.text(settings.units),
    )


def _tell_no_stagger(runs: Sequence[Run], settings: FirmSettings, problems: Problems) -> None:
    lengths = "; ".join(
        f"layer {run.layer.number} ({run.position}) {run.cut_length.text(settings.units)}" for run in runs
    )
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        runs[0].wall_pointer,
        f"{runs[0].room_name}, wall {runs[0].wall}: no arrangement of joints was found that keeps those of stacked "
        f"layers {settings.joint_stagger.text(settings.units)} apart ({lengths}).",
        help="Offer longer stock lengths, or set a smaller Joint stagger.",
    )


def _texts(lengths: Iterable[Length], units: Units) -> str:
    return ", ".join(length.text(units) for length in lengths)
