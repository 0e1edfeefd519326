"""Splices of runs longer than a board: which layers are stacked, and where all their joints fall."""

from __future__ import annotations

from itertools import chain, groupby, islice, product
from typing import TYPE_CHECKING

from service.estimate.cuts.courses import corners, courses_of, fewest, plans
from service.estimate.cuts.model import Splice
from service.estimate.cuts.order import title
from service.firm import Position
from service.problems import Code

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from service.estimate.cuts.courses import Course
    from service.estimate.takeoff.model import Run
    from service.firm import FirmSettings
    from service.problems import Problems
    from service.units import Length

    Joints = tuple[Length, ...]
    Taken = tuple[tuple[Course, Joints], ...]

ZONE_OF = {
    Position.CEILING: "ceiling line",
    Position.WALL: "ceiling line",
    Position.CROWN: "ceiling line",
    Position.BASE: "floor line",
    Position.CAP: "floor line",
    Position.SHOE: "floor line",
}
DEAD_ENDS_A_COURSE = 400
DEAD_ENDS = 4_000


def spliced(
    runs: Sequence[Run], limits: Mapping[int, Length], settings: FirmSettings, problems: Problems
) -> dict[int, tuple[Splice, ...]]:
    """Splices of every run that no board holds whole, by run number.

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
        long = [run for run in stack if run.cut_length.snapped() > limits[run.number]]
        options = [courses_of(run, limits[run.number], settings) for run in long]
        for run, option in zip(long, options, strict=True):
            if not option:
                _tell_no_plan(run, limits[run.number], settings, problems)
        if all(options):
            splices |= _stack_splices(options, settings, problems)
    return splices


def stacks(runs: Sequence[Run]) -> Iterator[list[Run]]:
    """Runs whose joints must keep apart: one wall's layers along the ceiling, or along the floor; others alone."""
    for _, stack in groupby(sorted(runs, key=_stack_of), key=_stack_of):
        yield list(stack)


def _stack_of(run: Run) -> tuple[int, str, str, int]:
    zone = ZONE_OF.get(run.position)
    return (run.room, run.wall, zone, 0) if zone else (run.room, run.wall, "", run.number)


def _stack_splices(
    options: Sequence[tuple[Course, ...]], settings: FirmSettings, problems: Problems
) -> dict[int, tuple[Splice, ...]]:
    taken = arranged(options, settings.joint_stagger)
    if taken is None:
        _tell_no_stagger([option[0].run for option in options], settings, problems)
        return {}
    for course, joints in taken:
        _tell_given_up(course, joints, settings, problems)
    return {
        course.run.number: tuple(Splice(course.run.number, at, course.on_plates) for at in joints)
        for course, joints in taken
    }


def arranged(options: Sequence[tuple[Course, ...]], stagger: Length) -> Taken | None:
    """One course and its joints for every run of a stack, staggered; None when no arrangement was found.

    Courses are tried from the most wanted; within them fewest joints in all, then longest first pieces.
    The search turns back from every dead end; it gives up only after thousands of them.
    """
    wanted = sorted(product(*(range(len(option)) for option in options)), key=lambda levels: (sum(levels), levels))
    picks = ([option[level] for option, level in zip(options, levels, strict=True)] for levels in wanted)
    outcomes = chain.from_iterable(islice(_outcomes(pick, stagger), DEAD_ENDS_A_COURSE) for pick in picks)
    return next((taken for taken in islice(outcomes, DEAD_ENDS) if taken is not None), None)


def _outcomes(courses: Sequence[Course], stagger: Length) -> Iterator[Taken | None]:
    least = [fewest(course) or 0 for course in courses]
    most = sum(len(course.at) for course in courses)
    for spare in range(most - sum(least) + 1):
        yield from _choices(courses, least, spare, stagger, ())


def _choices(
    courses: Sequence[Course], least: Sequence[int], spare: int, stagger: Length, taken: Taken
) -> Iterator[Taken | None]:
    if not courses:
        yield taken
        return
    course, *rest = courses
    free = [_is_free(course, at, stagger, taken) for at in course.at]
    found = False
    for more in range(spare + 1):
        for joints in plans(course, free, least[0] + more):
            found = True
            yield from _choices(rest, least[1:], spare - more, stagger, (*taken, (course, joints)))
    if not found:
        yield None


def _is_free(course: Course, at: Length, stagger: Length, taken: Taken) -> bool:
    return all(
        abs(at - joint) >= stagger
        for other, joints in taken
        if _layer(other.run) != _layer(course.run)
        for joint in joints
    )


def _layer(run: Run) -> tuple[str, int]:
    return run.assembly, run.layer.number


def _tell_given_up(course: Course, joints: Joints, settings: FirmSettings, problems: Problems) -> None:
    run = course.run
    left, right = corners(run)
    near = [at for at in joints if min(at - left, right - at) < settings.joint_stagger]
    if near:
        problems.warning(
            Code.JOINT_NEAR_CORNER,
            run.wall_pointer,
            f"{title(run)}: a joint falls at {_texts(near)} from the wall's left end, nearer to a corner than "
            f"{settings.joint_stagger.text()}; there was no better place for it.",
            help="Offer a longer stock length, or give the studs or joists of this wall.",
        )
    if course.on_plates:
        problems.note(
            Code.JOINT_ON_GLUE_PLATE,
            run.wall_pointer,
            f"{title(run)}: no framing within reach of the joint at {_texts(joints)} from the wall's left end; "
            f"each such joint is backed by a glue plate.",
            help="Give the framing behind this run if there is any.",
        )


def _tell_no_plan(run: Run, limit: Length, settings: FirmSettings, problems: Problems) -> None:
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        run.wall_pointer,
        f"{title(run)} is {run.cut_length.text()} long; no joints divide it into pieces from "
        f"{settings.shortest_piece.text()} to {limit.text()}, the most that a board of {run.profile.name} holds.",
        help="Offer a longer stock length of this profile, or set a shorter Shortest piece.",
        found=run.cut_length.text(),
    )


def _tell_no_stagger(runs: Sequence[Run], settings: FirmSettings, problems: Problems) -> None:
    lengths = "; ".join(f"layer {run.layer.number} ({run.position}) {run.cut_length.text()}" for run in runs)
    problems.error(
        Code.PIECE_CANNOT_BE_CUT,
        runs[0].wall_pointer,
        f"{runs[0].room_name}, wall {runs[0].wall}: no arrangement of joints was found that keeps those of stacked "
        f"layers {settings.joint_stagger.text()} apart ({lengths}).",
        help="Offer longer stock lengths, or set a smaller Joint stagger.",
    )


def _texts(lengths: Iterable[Length]) -> str:
    return ", ".join(length.text() for length in lengths)
